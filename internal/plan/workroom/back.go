package workroom

import (
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Taking a seam out again takes two fifths of sewing it, and a garment is
// pressed before it goes home (house).
const (
	undoNum, undoDen               = 2, 5
	pressBack        units.Minutes = 8
)

// putBack lists what has to be undone on what is borrowed, before it goes back,
// by the day it is due.
func putBack(h *show.House, plan answer.Plan) []answer.PutBack {
	var out []answer.PutBack
	for _, c := range plan.Choices {
		g := h.Garment(c.Garment)
		if g == nil || len(c.Alterations) == 0 {
			continue
		}
		loan := h.LoanOf(g.ID)
		if loan == nil && g.ReturnBy == 0 {
			continue
		}
		b := answer.PutBack{Garment: g.ID, Piece: c.Piece, To: g.Owner, Due: g.ReturnBy, Minutes: pressBack}
		if loan != nil {
			b.To = loan.Whom
			if loan.Due != 0 {
				b.Due = loan.Due
			}
		}
		for _, a := range c.Alterations {
			if a.Where != "all over" && (len(b.Do) == 0 || b.Do[len(b.Do)-1] != a.Op) {
				b.Do = append(b.Do, a.Op)
			}
			if a.Where != "all over" {
				b.Minutes += a.Minutes.Times(undoNum, undoDen)
			}
		}
		out = append(out, b)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Due != 0 && (out[j].Due == 0 || out[i].Due < out[j].Due) })
	return out
}
