package fit

import (
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Done is a garment after its alterations: what it measures now, and what its
// seams and hem still hold. What was let out or down is listed, for the next
// who looks for it there; a hem turned up uncut holds as much more.
func Done(h *show.House, g show.Garment, work []answer.Alteration, day units.Date) (show.Garment, []show.LetDown) {
	var remembered []show.LetDown
	f := figuresOf(h)
	note := func(a answer.Alteration, left *units.Maybe[units.Length]) {
		if left.Known {
			left.V = max(0, left.V-a.By)
		}
		remembered = append(remembered, show.LetDown{Garment: g.ID, By: a.By, Left: *left, Day: day, Words: a.Op + ", " + a.Where})
	}
	for _, a := range work {
		o := f.named(a.Op, a.Where)
		if o == nil || a.By == 0 {
			continue
		}
		less := strings.Contains(o.Gives, a.Where+"-")
		by := a.By
		if less {
			by = -by
		}
		for pl, at := range map[place]*units.Span{chest: &g.Chest, waist: &g.Waist, hip: &g.Hip, sleeve: &g.Sleeve, length: &g.Length, head: &g.Head} {
			if placeNames[pl] == a.Where && (less || strings.Contains(o.Gives, a.Where+"+")) {
				*at = changed(*at, pl, by)
			}
		}
		switch {
		case strings.Contains(o.Gives, a.Where+"+spare"):
			note(a, &g.LetOut)
		case strings.Contains(o.Gives, a.Where+"+hem"):
			note(a, &g.LetDown)
		case a.Where == "length" && less && o.Undo == "yes" && g.LetDown.Known && o.edge:
			g.LetDown.V += a.By
		}
	}
	return g, remembered
}
