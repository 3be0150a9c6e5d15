package fit

import (
	"io/fs"
	"testing"

	files "hemwright/internal/demo"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
)

// demo is the invented show as it is imported.
func demo(t testing.TB) *show.House {
	var in []intake.File
	names, err := fs.Glob(files.Files(), "*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		data, err := fs.ReadFile(files.Files(), n)
		if err != nil {
			t.Fatal(err)
		}
		in = append(in, intake.File{Name: n, Data: data})
	}
	h, _, err := intake.Take(show.House{}, in)
	if err != nil {
		t.Fatal(err)
	}
	return &h
}

// all lists the garments there are to choose from: the rail and what was
// bought.
func all(h *show.House) []show.Garment {
	gs := append([]show.Garment{}, h.Garments...)
	for _, f := range h.Finds {
		if f.Decision == "bought" {
			gs = append(gs, f.Garment)
		}
	}
	return gs
}
