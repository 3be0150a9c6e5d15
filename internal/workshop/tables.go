package workshop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/craft/pattern"
	"hemwright/internal/craft/period"
	"hemwright/internal/plan/fittings"
	"hemwright/internal/plan/needs"
	"hemwright/internal/plan/running"
	"hemwright/internal/plan/sourcing"
	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/why"
)

// Tables are the figures a person may write anew: a text NAME.txt beside the
// house is read in the place of the one that ships.
func Tables() []rows.Text {
	return slices.Concat(counted(), period.Texts)
}

// counted are the tables whose figures count in what is worked out.
func counted() []rows.Text {
	return append(slices.Clone(fit.Texts), sourcing.Text, pattern.Text, needs.Text, fittings.Text, running.Text)
}

// OwnTables names the tables that stand beside the house.
func (w *Workshop) OwnTables() (names []string, err error) {
	for _, t := range Tables() {
		_, found, err := w.beside(t.Name, t.Check)
		if err != nil {
			return nil, err
		}
		if found {
			names = append(names, t.Name)
		}
	}
	return names, nil
}

// house is the house with the person's own tables.
func (w *Workshop) house() (show.House, error) {
	h, err := w.store.House()
	if err != nil {
		return h, err
	}
	for _, t := range counted() {
		text, found, err := w.beside(t.Name, t.Check)
		if err != nil {
			return h, err
		}
		if !found {
			continue
		}
		if h.Tables == nil {
			h.Tables = map[string]string{}
		}
		h.Tables[t.Name] = text
	}
	return h, nil
}

// beside reads the text NAME.txt beside the house, if there is one, and lets
// it be checked.
func (w *Workshop) beside(name string, check func(text string) error) (text string, found bool, err error) {
	path := filepath.Join(filepath.Dir(w.store.Path()), name+".txt")
	b, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", false, nil
	case err != nil:
		return "", false, why.Bad(name, fmt.Sprintf("%s cannot be read.", path), "Look at who may read it.")
	}
	if err := check(string(b)); err != nil {
		return "", false, why.Bad(name, fmt.Sprintf("%s cannot be read: %v", path, err), "Correct the line, or move the file away: what ships is used then.")
	}
	return string(b), true, nil
}
