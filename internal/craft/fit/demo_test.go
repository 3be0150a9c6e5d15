package fit

import (
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/show"
)

// demo is the invented show as it is imported.
func demo(t testing.TB) *show.House {
	h := demotest.House(t)
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
