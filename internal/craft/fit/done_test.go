package fit

import (
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// A garment judged again after its work is done goes as it is, whatever the
// work was; what was let out is remembered and not held any more.
func TestDoneGoesAsItIs(t *testing.T) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	for name, g := range map[string]show.Garment{
		"in and up":  satin(94, 67, 94, 138),
		"out":        satin(81, 67, 94, 135),
		"hem down":   satin(84, 67, 94, 131),
		"in, waist":  satin(90, 74, 94, 136),
		"out and up": satin(82, 66, 94, 139),
	} {
		f := Judge(w, g)
		if f.Verdict.Grade != why.Work {
			t.Errorf("%s: %s to begin with", name, f.Verdict.Grade)
			continue
		}
		now, kept := Done(h, g, f.Alterations, 900)
		if again := Judge(w, now); again.Verdict.Grade != why.Yes {
			t.Errorf("%s: after the work %s, %v", name, again.Verdict.Grade, again.Alterations)
		}
		if name == "out" && (len(kept) != 1 || kept[0].By != units.Cm(3) || now.LetOut.V != g.LetOut.V-units.Cm(3) || kept[0].Left != now.LetOut) {
			t.Errorf("%s: %v, seams hold %v", name, kept, now.LetOut)
		}
		if name == "in and up" && (len(kept) != 0 || now.LetDown.V <= g.LetDown.V) {
			t.Errorf("%s: %v, the hem holds %v", name, kept, now.LetDown)
		}
	}
}
