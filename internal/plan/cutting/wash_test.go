package cutting

import (
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// from: to finish 36 in of what shrinks by 10 in 100, 40 in are cut; tests of
// unbleached light cotton sheeting found 8.3 to 10.2 in 100. Linen and viscose
// at 5 in 100: 180 cm are 171.
func TestShrinking(t *testing.T) {
	c := asWashed(show.Cloth{Name: "calico", Fibre: "cotton", Washed: "no", Width: 140 * units.Centimetre, Length: 40 * units.Inch,
		Outline: [][2]units.Length{{0, 0}, {units.Cm(140), 0}, {0, 40 * units.Inch}}, Flaws: []show.Flaw{{Y: 20 * units.Inch, W: units.Cm(10), H: 10 * units.Inch}}})
	if c.Length != 36*units.Inch || c.Outline[2][1] != 36*units.Inch || c.Outline[1][0] != units.Cm(140) || c.Flaws[0].Y != 18*units.Inch || c.Flaws[0].H != 9*units.Inch {
		t.Errorf("%+v", c)
	}
	for _, x := range []struct {
		fibre, washed string
		want          float64
	}{{"viscose-linen", "no", 171}, {"viscose-linen", "yes", 180}, {"polyester satin", "no", 178.2}, {"wool", "wipe only", 180}, {"", "", 180}} {
		if got := asWashed(show.Cloth{Fibre: x.fibre, Washed: x.washed, Length: units.Cm(180)}).Length; got != units.Cm(x.want) {
			t.Errorf("%s, washed %q: %v", x.fibre, x.washed, got)
		}
	}
}
