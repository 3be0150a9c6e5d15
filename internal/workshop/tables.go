package workshop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"hemwright/internal/craft/fit"
	"hemwright/internal/plan/running"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// ownTables are the tables a person may write anew: a text NAME.txt beside the
// house is read in the place of the one that ships.
var ownTables = []string{"ease", "operations", "seconds"}

// house is the house with the person's own tables.
func (w *Workshop) house() (show.House, error) {
	h, err := w.store.House()
	if err != nil {
		return h, err
	}
	for _, name := range ownTables {
		text, found, err := w.beside(name, func(text string) error { return checkTable(name, text) })
		if err != nil {
			return h, err
		}
		if !found {
			continue
		}
		if h.Tables == nil {
			h.Tables = map[string]string{}
		}
		h.Tables[name] = text
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

func checkTable(name, text string) error {
	if name == "seconds" {
		_, err := running.ReadTable(text)
		return err
	}
	return fit.CheckTables(name, text)
}
