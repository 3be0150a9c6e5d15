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
		path := filepath.Join(filepath.Dir(w.store.Path()), name+".txt")
		text, err := os.ReadFile(path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return h, why.Bad(name, fmt.Sprintf("%s cannot be read.", path), "Look at who may read it.")
		}
		if err := checkTable(name, string(text)); err != nil {
			return h, why.Bad(name, fmt.Sprintf("%s: %v", path, err), "Correct the line, or move the file away: the table that ships is used then.")
		}
		if h.Tables == nil {
			h.Tables = map[string]string{}
		}
		h.Tables[name] = string(text)
	}
	return h, nil
}

func checkTable(name, text string) error {
	if name == "seconds" {
		_, err := running.ReadTable(text)
		return err
	}
	return fit.CheckTables(name, text)
}
