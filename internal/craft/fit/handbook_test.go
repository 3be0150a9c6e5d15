package fit

import (
	"testing"

	"hemwright/internal/value/units"
)

// The least ease of every kind the table says is the handbook's lies within
// what the handbook prints, in inches, to the millimetre of rounding.
//
// from: Ease in Clothing, costume text chapter 16, Central Washington
// University: bodice chest 1 1/2 to 2, dress waist 3/4 to 1, skirts and pants
// waist 1/2 to 3/4, all hips 2 to 2 3/4, fitted shirt chest 1 1/2 to 2 1/2,
// standard shirt up to 3, pants seat 1 1/2 to 2.
func TestEaseOfTheHandbook(t *testing.T) {
	in := func(lo, hi float64) [2]float64 { return [2]float64{lo, hi} }
	for kind, want := range map[string][3][2]float64{
		"dress fitted":    {in(1.5, 2), in(.75, 1), in(2, 2.75)},
		"dress easy":      {in(1.5, 2), in(.75, 1), in(2, 2.75)},
		"skirt fitted":    {{}, in(.5, .75), in(2, 2.75)},
		"skirt easy":      {{}, in(.5, .75), in(2, 2.75)},
		"shirt fitted":    {in(1.5, 2.5), {}, {}},
		"shirt easy":      {in(1.5, 3), {}, {}},
		"trousers fitted": {{}, in(.5, .75), in(1.5, 2)},
		"trousers easy":   {{}, in(.5, .75), in(1.5, 2)},
		"bodice fitted":   {in(1.5, 2), in(.75, 1), {}},
	} {
		for i, w := range want {
			if w[1] == 0 {
				continue
			}
			e := shipped.eases[kind][i]
			if lo, hi := units.In(w[0])-mm, units.In(w[1])+mm; !e.on || e.lo < lo || e.lo > hi {
				t.Errorf("%s, %s: least ease %v, the handbook %v to %v in", kind, placeNames[i], e.lo, w[0], w[1])
			}
		}
	}
}
