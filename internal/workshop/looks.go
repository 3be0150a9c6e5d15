package workshop

import (
	"context"
	"fmt"

	"hemwright/internal/craft/period"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Templates are the looks one can give: those of a file looks.txt beside the
// house, else those that ship.
func (w *Workshop) Templates() ([]period.Template, error) {
	all := period.Templates()
	_, _, err := w.beside("looks", func(text string) (err error) {
		all, err = period.ReadTemplates(text)
		return err
	})
	return all, err
}

// GiveLook gives a template to a role or a group: to each role whose first
// look has no pieces yet. colours are shared out in turn.
func (w *Workshop) GiveLook(ctx context.Context, template, who, colours string) (period.Given, error) {
	var given period.Given
	all, err := w.Templates()
	if err != nil {
		return given, err
	}
	for _, t := range all {
		if t.Name() != template {
			continue
		}
		err := w.act(ctx, fmt.Sprintf("The look %s for %s", template, who), func(h *show.House) error {
			roles, err := intake.StageRoles(h, who)
			if err != nil {
				return err
			}
			*h, given = period.Give(*h, t, roles, colours, w.Day(h.Show), intake.NextCode)
			if given.Looks == 0 {
				return &why.Error{Kind: why.Conflict, Field: "who", What: fmt.Sprintf("%s has pieces already; nothing was given.", who), Try: "Change its pieces one by one, or take them out first."}
			}
			return nil
		})
		return given, err
	}
	return given, why.NotFound("look", template)
}
