package cutting

import (
	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// partLays says how each piece that comes from the parts of garments is cut
// from them: every shape of its draft on a part of its own.
func partLays(h *show.House, d *drafter, plan answer.Plan) []answer.PartLay {
	var out []answer.PartLay
	y := newYard(d)
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if p == nil || len(c.Apart) == 0 {
			continue
		}
		var all []*heap
		for _, id := range c.Apart {
			if g := h.Garment(id); g != nil {
				if hp := y.heap(g); hp != nil {
					all = append(all, hp)
				}
			}
		}
		if len(all) == 0 {
			continue
		}
		hp := together(all...)
		m, _ := d.measures(p)
		name, parts, _ := d.seams.Draft(kindOf(p), m, hp.drawnFor())
		want, _ := hp.wanted(parts)
		lay := answer.PartLay{Piece: p.ID, Draft: name, Shapes: hp.shapes(want)}
		for _, q := range parts {
			lay.Wanted += q.Copies
		}
		out = append(out, lay)
	}
	return out
}

// drawnFor is the width a draft is drawn for: the widest part, in steps of 5
// cm.
func (hp *heap) drawnFor() units.Length {
	return hp.width / (5 * units.Centimetre) * (5 * units.Centimetre)
}

// shapes lays what is wanted on the parts.
func (hp *heap) shapes(want []remake.Wanted) []answer.OnPart {
	var out []answer.OnPart
	for _, x := range remake.Holds(hp.h, want).Holds {
		part := hp.h.Parts[x.Of]
		if at, ok := remake.Place(part, want[x.Shape], !x.Likely, hp.h.OneWay); ok {
			out = append(out, answer.OnPart{Shape: x.Wanted, Outline: at, Garment: hp.of[hp.whose[x.Of]].ID, Part: part, Likely: x.Likely})
		}
	}
	return out
}

// checkParts looks again at what is cut from the parts of garments: every
// shape is there and within its part, and no part is used more often than its
// garment gives it.
func checkParts(h *show.House, c answer.Cutting, wrong func(format string, args ...any)) {
	used := map[[2]string]int{}
	for _, lay := range c.Apart {
		if len(lay.Shapes) != lay.Wanted {
			wrong("%d of %d shapes of %s lie on a part", len(lay.Shapes), lay.Wanted, lay.Piece)
		}
		for _, x := range lay.Shapes {
			room := x.Part.Least
			if x.Likely {
				room = x.Part.Most
			}
			if !geom.Within(x.Outline, room) {
				wrong("%s %s does not lie on the %s of %s", lay.Piece, x.Shape, x.Part.Name, x.Garment)
			}
			g := h.Garment(x.Garment)
			if g == nil {
				wrong("%s does not exist", x.Garment)
				continue
			}
			key := [2]string{string(x.Garment), x.Part.Name}
			gives := 0
			given, _ := remake.Harvest(g)
			for _, q := range given.Parts {
				if q.Name == x.Part.Name {
					gives += q.UpTo
				}
			}
			if used[key]++; used[key] > gives {
				wrong("%s gives %d of its %s, and %d are cut", x.Garment, gives, x.Part.Name, used[key])
			}
		}
	}
}
