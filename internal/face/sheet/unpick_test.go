package sheet

import (
	"testing"

	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// By hand: least whole centimetres down, most to the nearest; a trapeze with
// both ends; what has no outline says so and prints no nought.
func TestPartSize(t *testing.T) {
	cm := units.Cm
	trapeze := func(top, bottom, long float64) geom.Outline {
		a := cm(bottom-top) / 2
		return geom.Outline{{X: 0, Y: a}, {X: cm(long)}, {X: cm(long), Y: cm(bottom)}, {X: 0, Y: a + cm(top)}}
	}
	for _, c := range []struct {
		q             answer.GivenPart
		across, along string
	}{
		{answer.GivenPart{Known: true, Least: trapeze(16.7, 75, 90.9), Most: trapeze(16.7, 75, 98.3)}, "17 above, 75 below", "90 to 98"},
		{answer.GivenPart{Known: true, Least: geom.Rect(cm(70), cm(55)), Most: geom.Rect(cm(70), cm(55))}, "55", "70"},
		{answer.GivenPart{Whole: true}, "whole", ""},
		{answer.GivenPart{}, "not known", "not known"},
	} {
		if across, along := PartSize(units.Metric, c.q); across != c.across || along != c.along {
			t.Errorf("%q %q, by hand %q %q", across, along, c.across, c.along)
		}
	}
}

// By hand: up is up, so the grain runs down the page; the least hangs from the
// same top as the most, in the middle.
func TestPartDrawing(t *testing.T) {
	q := answer.GivenPart{Known: true, Least: geom.Rect(80, 40), Most: geom.Rect(100, 60)}
	d := PartDrawing(q)
	if d.W != 60 || d.H != 100 || len(d.Strokes) != 3 {
		t.Fatalf("%v wide, %v high, %d strokes", d.W, d.H, len(d.Strokes))
	}
	for _, p := range d.Strokes[1].Points {
		if p.X != 10 && p.X != 50 || p.Y != 0 && p.Y != 80 {
			t.Errorf("a corner of the least at %v", p)
		}
	}
	q.Bias = true
	if d := PartDrawing(q); d.W != 100 || d.H != 60 || len(d.Strokes) != 2 {
		t.Errorf("on the bias %v wide, %v high, %d strokes", d.W, d.H, len(d.Strokes))
	}
}

// Every drawing keeps to the paper: 17 cm wide, 15 high.
func TestHarvestDrawingKeepsToPaper(t *testing.T) {
	for _, size := range [][2]float64{{3, 180}, {75, 100}, {290, 75}, {400, 45}, {20, 18}} {
		for n := 1; n < 6; n++ {
			var h answer.Harvest
			for range n {
				o := geom.Rect(units.Cm(size[1]), units.Cm(size[0]))
				h.Parts = append(h.Parts, answer.GivenPart{Name: "front with a long name", Count: 2, UpTo: 2, Known: true, Least: o, Most: o})
			}
			d := HarvestDrawing(units.Metric, h)
			if w, high := d.W.Cm()/float64(d.Scale), d.H.Cm()/float64(d.Scale); w > 17 || high > 15 {
				t.Errorf("%d of %v: %.1f x %.1f cm of paper", n, size, w, high)
			}
		}
	}
	if HarvestDrawing(units.Metric, answer.Harvest{Parts: []answer.GivenPart{{Whole: true}}}) != nil {
		t.Error("something is drawn of nothing")
	}
}
