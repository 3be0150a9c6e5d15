package sourcing

import (
	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Errands lists what the plan still buys, and what it has no source for, as a
// shopping list in garment numbers: no name, no body.
func Errands(h *show.House, plan answer.Plan) []answer.Errand {
	var out []answer.Errand
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if p == nil || c.Money == 0 && c.Source != answer.Buy && c.Source != answer.GoWithout {
			continue
		}
		e := answer.Errand{Piece: p.ID, What: p.Name, Colour: p.Colour, Closure: p.Closure, Price: c.Money, Limit: units.Some(c.Money), Pencil: c.Pencil}
		if c.Source == answer.Make {
			for _, part := range c.Parts {
				e.Cloth += part.Length
			}
			e.What, e.Closure = "cloth for "+p.Name, ""
		} else {
			e.Windows = windows(h, p)
		}
		if c.Source == answer.GoWithout {
			e.Limit, e.Without = p.PriceLimit, true
		}
		out = append(out, e)
	}
	return out
}

func windows(h *show.House, p *show.Piece) []answer.Asked {
	var out []answer.Asked
	for _, w := range fit.Wanted(h, p).Finished {
		if w.Sits.Known { // from what goes as it hangs to what can still be taken in
			out = append(out, answer.Asked{Where: w.Where, Span: units.Between(w.Sits.Lo, max(w.Sits.Hi, w.Most)), Open: w.Open})
		}
	}
	return out
}
