package workroom

import (
	"cmp"
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// overlocked is what one long hem saves when it is overlocked and not turned:
// a hem of 3.3 m by machine takes 30 minutes, overlocked 5. House figures.
const overlocked units.Minutes = 25

// worthLetting is the least a saving is listed for.
const worthLetting units.Minutes = 30

// mostSeen is how much worse a piece may look, in hundredths, to be listed.
const mostSeen = 15

// savings lists what could be let go with least harm: the next best way to
// come by a piece where it takes less and looks little worse, put together by
// set, and long hems that need not be turned. It counts only pieces of this
// plan.
func savings(h *show.House, plan answer.Plan) []answer.Saving {
	var out []answer.Saving
	at := map[string]int{}
	put := func(key, what, seen string, p show.PieceID, m units.Minutes) {
		k, ok := at[key]
		if !ok {
			k = len(out)
			at[key] = k
			out = append(out, answer.Saving{What: what, Seen: seen})
		}
		out[k].Pieces, out[k].Minutes = append(out[k].Pieces, p), out[k].Minutes+m
	}
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if c.Pinned || !works(h, c) {
			continue
		}
		name := p.Name
		if s := h.Set(p.Set); s != nil {
			name = s.Name
		}
		if next, m := simpler(c); m > 0 {
			put(string(next)+name, name+": "+instead(c.Source, next), "little", c.Piece, m)
		} else if c.Source == answer.Make && p.Category == show.Skirt && p.Fit != "fitted" && (p.LengthTo == "floor" || p.LengthTo == "ankle") {
			put("hems"+name, name+": hems overlocked, not turned", "no", c.Piece, overlocked)
		}
	}
	out = slices.DeleteFunc(out, func(s answer.Saving) bool { return s.Minutes < worthLetting })
	slices.SortStableFunc(out, func(a, b answer.Saving) int { return cmp.Compare(b.Minutes, a.Minutes) })
	return out
}

// simpler finds the other way that saves most and is hardly seen, at no more
// money.
func simpler(c answer.Choice) (answer.Source, units.Minutes) {
	var source answer.Source
	var most units.Minutes
	for _, o := range c.Next {
		if o.Source == answer.GoWithout || o.Look > c.Look+mostSeen || o.Money > c.Money || o.Garment != c.Garment {
			continue
		}
		if m := c.Minutes() - o.Minutes(); m > most {
			source, most = o.Source, m
		}
	}
	return source, most
}

func instead(was, next answer.Source) string {
	if was == next {
		return "made simpler"
	}
	return string(next) + ", not " + string(was)
}
