package intake

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"

	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// holds fails where a house taken in has something no row may have.
func holds(t *testing.T, h show.House) {
	t.Helper()
	for _, g := range h.Garments {
		for _, s := range []units.Span{g.Chest, g.Waist, g.Hip, g.Length} {
			if s.Known && (s.Lo < 0 || s.Lo > s.Hi || s.Hi > 2*tooLong) {
				t.Fatalf("a garment of %d to %d", s.Lo, s.Hi)
			}
		}
	}
	for _, c := range h.Cloths {
		if len(c.Outline) == 0 {
			continue
		}
		o := make(geom.Outline, len(c.Outline))
		for i, p := range c.Outline {
			o[i] = geom.Point{X: p[0], Y: p[1]}
		}
		if what := o.Fault(); what != "" {
			t.Fatalf("an outline that %s was taken", what)
		}
	}
	for _, s := range h.Scenes {
		if s.Running < 0 {
			t.Fatalf("a scene of %s", s.Running)
		}
	}
}

func FuzzWorkbookCell(f *testing.F) {
	for _, s := range []string{"88", "=1+1", "5'4\"", "36 flat", "-3", "1e9", "2027-03-14"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		book := excelize.NewFile()
		defer book.Close()
		book.SetSheetRow("Sheet1", "A1", &[]any{"stock_id", "garment", "chest_cm", "length_in", "return_by"})
		book.SetSheetRow("Sheet1", "A2", &[]any{"S1", "gown", a, b, a})
		var out bytes.Buffer
		if book.Write(&out) != nil {
			return
		}
		h, _, err := Take(show.House{}, []File{{"f.xlsx", out.Bytes()}})
		if err == nil {
			holds(t, h)
		}
	})
}

func FuzzOutline(f *testing.F) {
	for _, s := range []string{"0,0;150,0;150,120", "circle d=228", "1,1;1,1", "0,0 | 5,5 | 0,5", ";;,;"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, _, err := SaveRow(show.House{}, "cloth", "", map[string]string{"cloth": "x", "width": "300", "length": "300", "outline": s})
		if err == nil {
			holds(t, h)
		}
	})
}
