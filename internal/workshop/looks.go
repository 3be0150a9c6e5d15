package workshop

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"hemwright/internal/craft/period"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Templates are the looks one can give: those of a file looks.txt beside the
// house, else those that ship.
func (w *Workshop) Templates() ([]period.Template, error) {
	path := filepath.Join(filepath.Dir(w.store.Path()), "looks.txt")
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return period.Templates(), nil
	}
	if err != nil {
		return nil, why.Bad("looks", fmt.Sprintf("%s cannot be read.", path), "Look at who may read it.")
	}
	all, err := period.ReadTemplates(string(text))
	if err != nil {
		return nil, why.Bad("looks", fmt.Sprintf("%s cannot be read: %v.", path, err), "Correct the line, or move the file away: the looks that ship are used then.")
	}
	return all, nil
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
