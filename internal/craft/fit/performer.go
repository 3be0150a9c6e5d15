package fit

import (
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
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

// MeasureAgain is the day by which a performer's height and waist to floor want
// the tape again, because a hem to the floor or the ankle hangs on them and may
// have moved by a centimetre since; 0 where none does before the opening.
func MeasureAgain(h *show.House, id show.PerformerID) units.Date {
	p := h.Performer(id)
	if p == nil || p.Held() {
		return 0
	}
	m, tall := p.Body[body.WaistToFloor], p.Body[body.Height].Span
	age, ok := body.AgeOf(p.BirthMonth, p.Age, m.Day)
	if !m.Span.Known || m.Day == 0 || !tall.Known || !ok || !hangs(h, id) {
		return 0
	}
	day := body.GrownBy(tall.Mid(), age, p.GrowthSex, m.Day, 10*mm)
	if opening := h.Opening(); day == 0 || opening != 0 && day >= opening {
		return 0
	}
	return day
}

// hangs says whether a hem of somebody's hangs on the way from the waist to
// the floor.
func hangs(h *show.House, id show.PerformerID) bool {
	for i := range h.Pieces {
		q := &h.Pieces[i]
		if (q.LengthTo == "floor" || q.LengthTo == "ankle") && wears(h, q, id) {
			return true
		}
	}
	return false
}

func wears(h *show.House, q *show.Piece, id show.PerformerID) bool {
	for _, who := range h.Wearers(q) {
		if who == id {
			return true
		}
	}
	return false
}
