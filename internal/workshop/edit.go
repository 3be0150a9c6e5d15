package workshop

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// errFaulty stops an act whose row has faults.
var errFaulty = errors.New("faults beside the fields")

// SaveRow keeps what was typed into a row. Where something cannot be taken
// nothing is: the row comes back with a fault beside the field, and ok false.
func (w *Workshop) SaveRow(ctx context.Context, kind, code string, values map[string]string) (row intake.Row, ok bool, err error) {
	words := fmt.Sprintf("%s %s written", kind, code)
	if code == "" {
		words = "A new " + kind
	}
	err = w.act(ctx, words, func(h *show.House) error {
		saved, r, err := intake.SaveRow(*h, kind, code, values)
		row = r
		if err != nil {
			return err
		}
		for _, f := range r.Fields {
			if f.Fault != "" {
				return errFaulty
			}
		}
		*h = saved
		return nil
	})
	if errors.Is(err, errFaulty) {
		return row, false, nil
	}
	return row, err == nil, err
}

// RemoveRow takes a row out of its list.
func (w *Workshop) RemoveRow(ctx context.Context, kind, code string) error {
	return w.act(ctx, fmt.Sprintf("%s %s taken out", kind, code), func(h *show.House) error {
		out, err := intake.RemoveRow(*h, kind, code)
		*h = out
		return err
	})
}

// Everything is the whole house as one XLSX workbook.
func (w *Workshop) Everything() ([]byte, error) {
	h, err := w.store.House()
	if err != nil {
		return nil, err
	}
	return intake.Workbook(h)
}

// Export writes everything of the house to a path: one workbook where it ends
// in .xlsx, else a folder of CSV files, and says how many files. A file that
// is there already is a Conflict.
func (w *Workshop) Export(path string) (int, error) {
	h, err := w.store.House()
	if err != nil {
		return 0, err
	}
	if strings.EqualFold(filepath.Ext(path), ".xlsx") {
		book, err := intake.Workbook(h)
		if err != nil {
			return 0, err
		}
		return 1, writeNew(path, book)
	}
	files, err := intake.CSV(h)
	if err != nil {
		return 0, err
	}
	if err := os.MkdirAll(path, 0o700); err != nil {
		return 0, why.Bad("path", fmt.Sprintf("The folder %s cannot be made.", path), "Choose one you may write in.")
	}
	for _, f := range files {
		if err := writeNew(filepath.Join(path, f.Name), f.Data); err != nil {
			return 0, err
		}
	}
	return len(files), nil
}

// writeNew writes a file that only its owner may read; it holds people's
// measurements.
func writeNew(path string, body []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, os.ErrExist) {
		return &why.Error{Kind: why.Conflict, Field: "path", What: fmt.Sprintf("%s is there already.", path), Try: "Choose another name."}
	}
	if err != nil {
		return why.Bad("path", fmt.Sprintf("%s cannot be written.", path), "Choose a folder you may write in.")
	}
	_, err = f.Write(body)
	return errors.Join(err, f.Close())
}
