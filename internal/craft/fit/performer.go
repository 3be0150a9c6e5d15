package fit

import (
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Choices is what there is for one piece: garments that go, the best first,
// and the measures that would settle the rest.
type Choices struct {
	Piece   show.PieceID
	Goes    []answer.Fit
	Open    int // garments of its kind not judged for want of a number
	Settles []answer.Question
}

// OfPerformer judges every garment on offer for every piece of a performer, by
// the numbers as they are now.
func OfPerformer(h *show.House, id show.PerformerID) []Choices {
	var out []Choices
	offer := h.OnOffer()
	for i := range h.Pieces {
		q := &h.Pieces[i]
		if !wears(h, q, id) {
			continue
		}
		v := Choices{Piece: q.ID}
		wanted := Wanted(h, q)
		asked := map[answer.Question]bool{}
		for _, g := range offer {
			if g.Category != q.Category {
				continue
			}
			f := Judge(wanted, g)
			switch {
			case f.Verdict.Grade >= why.Work:
				v.Goes = append(v.Goes, f)
			case f.Verdict.Grade == why.Unknown:
				v.Open++
			}
			for _, s := range f.Settles {
				if !asked[s] && s.Performer == id {
					asked[s] = true
					v.Settles = append(v.Settles, s)
				}
			}
		}
		sort.SliceStable(v.Goes, func(i, j int) bool { return v.Goes[i].Minutes() < v.Goes[j].Minutes() })
		out = append(out, v)
	}
	return out
}

func wears(h *show.House, q *show.Piece, id show.PerformerID) bool {
	for _, who := range h.Wearers(q) {
		if who == id {
			return true
		}
	}
	return false
}
