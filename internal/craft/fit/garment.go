package fit

import (
	"slices"
	"sort"

	"hemwright/internal/engine/flow"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Nearest are the garments on offer that go for a piece with the least work and
// harm, so many at most.
func Nearest(h *show.House, p *show.Piece, most int) []answer.Fit {
	w := Wanted(h, p)
	type sum struct {
		x *Hung
		s Sum
	}
	var goes []sum
	for _, x := range NewRail(h.OnOffer()).Of(&w) {
		if s := Weigh(&w, x); s.Grade > why.No {
			goes = append(goes, sum{x, s})
		}
	}
	sort.SliceStable(goes, func(i, j int) bool { return goes[i].s.Minutes < goes[j].s.Minutes })
	var out []answer.Fit
	for _, g := range goes[:min(len(goes), most)] {
		out = append(out, Judge(w, *g.x.g))
	}
	return out
}

// OfGarment holds one garment against every piece of its kind: those it goes
// for first, the least work before, then those that wait for a number, then
// the rest with what stands against it.
func OfGarment(h *show.House, g *show.Garment) []answer.Fit {
	x := Hang(g)
	var out []answer.Fit
	for i := range h.Pieces {
		if h.Pieces[i].Category != g.Category {
			continue
		}
		if w := Wanted(h, &h.Pieces[i]); w.kind == x.kind {
			out = append(out, Judge(w, *g))
		}
	}
	rank := func(f answer.Fit) int {
		switch {
		case f.Verdict.Grade > why.No:
			return 0
		case f.Verdict.Grade == why.Unknown:
			return 1
		}
		return 2
	}
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := rank(out[i]), rank(out[j]); a != b {
			return a < b
		}
		return out[i].Minutes() < out[j].Minutes()
	})
	return out
}

// Swap is two garments of a set with free colours exchanged between the pieces
// they were thought of for: in the colour drawn, one does not go or both take
// more work. As drawn is 0 where one does not go.
type Swap struct {
	Piece, With     show.PieceID
	Garment, Other  show.GarmentID
	Swapped, AsWere units.Minutes
	Fits            [2]answer.Fit // of Garment for With, of Other for Piece
}

// SwapOf looks for the best exchange for a garment that stands for a piece of
// its own colour, among the others of the set; false where it goes well as it
// is drawn, or no exchange is better.
func SwapOf(h *show.House, g *show.Garment) (Swap, bool) {
	p := drawnFor(h, g)
	if p == nil {
		return Swap{}, false
	}
	set := h.Set(p.Set)
	best, found := Swap{}, false
	was := minutesOf(Judge(Wanted(h, p), *g))
	for _, id := range set.Pieces {
		q := h.Piece(id)
		if q == nil || id == p.ID || q.Category != p.Category {
			continue
		}
		for i := range h.Garments {
			o := &h.Garments[i]
			if o.ID == g.ID || o.Category != g.Category || o.Colour != q.Colour {
				continue
			}
			a, b := Judge(Wanted(h, q), *g), Judge(Wanted(h, p), *o)
			if a.Verdict.Grade <= why.No || b.Verdict.Grade <= why.No {
				continue
			}
			s := Swap{Piece: p.ID, With: id, Garment: g.ID, Other: o.ID, Swapped: a.Minutes() + b.Minutes(), Fits: [2]answer.Fit{a, b}}
			own := minutesOf(Judge(Wanted(h, q), *o))
			if was >= 0 && own >= 0 {
				s.AsWere = was + own
			}
			better := was < 0 || own < 0 || s.Swapped < s.AsWere
			if better && (!found || s.Swapped < best.Swapped) {
				best, found = s, true
			}
		}
	}
	return best, found
}

// drawnFor is the piece of a set with free colours that is drawn in the colour
// of a garment of its kind; nil where there is none.
func drawnFor(h *show.House, g *show.Garment) *show.Piece {
	x := Hang(g)
	for i := range h.Pieces {
		p := &h.Pieces[i]
		set := h.Set(p.Set)
		if set == nil || !set.FreeHues || p.Colour != g.Colour || p.Category != g.Category || kindOf(p.Category, p.Name) != x.kind {
			continue
		}
		if x.style == "" || styleOf(p.Name) == x.style {
			return p
		}
	}
	return nil
}

// minutesOf is the work of a fit, -1 where it does not go.
func minutesOf(f answer.Fit) units.Minutes {
	if f.Verdict.Grade <= why.No {
		return -1
	}
	return f.Minutes()
}

// Grid is garments against the pieces of a set.
type Grid struct {
	Pieces   []show.PieceID
	Garments []show.GarmentID
	Sums     [][]Sum          // [garment][piece]
	Best     []show.GarmentID // for each piece, where all are shared out with the least work; empty where none is left
	Others   int              // garments that go for some piece too, and are not in the grid
}

// GridOf holds every garment on offer against every piece of a set, and shares
// the garments out so that as many pieces as can be have one, with the least
// work: among pieces of one set, by exchanging until nothing gets better.
func GridOf(h *show.House, pieces []show.PieceID) Grid {
	var out Grid
	rail := NewRail(h.OnOffer())
	rows := map[show.GarmentID][]Sum{}
	for _, id := range pieces {
		if p := h.Piece(id); p != nil {
			out.Pieces = append(out.Pieces, id)
		}
	}
	for k, id := range out.Pieces {
		w := Wanted(h, h.Piece(id))
		for _, x := range rail.Of(&w) {
			if rows[x.g.ID] == nil {
				rows[x.g.ID] = make([]Sum, len(out.Pieces))
				for i := range rows[x.g.ID] {
					rows[x.g.ID][i].Grade = why.No
				}
				out.Garments = append(out.Garments, x.g.ID)
			}
			rows[x.g.ID][k] = Weigh(&w, x)
		}
	}
	out.Garments = slices.DeleteFunc(out.Garments, func(id show.GarmentID) bool {
		return !slices.ContainsFunc(rows[id], func(s Sum) bool { return s.Grade != why.No })
	})
	out.nearest(rows)
	slices.Sort(out.Garments)
	for _, id := range out.Garments {
		out.Sums = append(out.Sums, rows[id])
	}
	out.share()
	return out
}

// shownEach is how many garments a grid shows for each piece.
const shownEach = 16

// nearest keeps the garments that take the least work for some piece: for each
// as many as there are pieces at least, which is all a best sharing can want.
func (g *Grid) nearest(rows map[show.GarmentID][]Sum) {
	keep := map[show.GarmentID]bool{}
	for k := range g.Pieces {
		slices.SortStableFunc(g.Garments, func(a, b show.GarmentID) int { return weight(rows[a][k]) - weight(rows[b][k]) })
		for _, id := range g.Garments[:min(len(g.Garments), max(shownEach, len(g.Pieces)))] {
			keep[id] = keep[id] || rows[id][k].Grade != why.No
		}
	}
	all := len(g.Garments)
	g.Garments = slices.DeleteFunc(g.Garments, func(id show.GarmentID) bool { return !keep[id] })
	g.Others = all - len(g.Garments)
}

// weight orders garments for a piece: the least work and harm first, those that
// wait for a number after all that go, those that do not last.
func weight(s Sum) int {
	switch {
	case s.Grade > why.No:
		return int(s.Minutes) + lookMinutes*s.Look
	case s.Grade == why.Unknown:
		return 1 << 20
	}
	return 1 << 21
}

// share gives each piece a garment of its own: as many as can be, with the
// least work and harm to the look (a cheapest flow).
func (g *Grid) share() {
	pieces, garments := len(g.Pieces), len(g.Garments)
	source, sink := pieces+garments, pieces+garments+1
	net := flow.New(sink + 1)
	arc := map[int][2]int{}
	for k := range g.Pieces {
		net.Add(source, k, 1, 0)
		for i := range g.Garments {
			if s := g.Sums[i][k]; s.Grade > why.No {
				arc[net.Add(k, pieces+i, 1, int64(weight(s)))] = [2]int{k, i}
			}
		}
	}
	for i := range g.Garments {
		net.Add(pieces+i, sink, 1, 0)
	}
	net.Cheapest(source, sink, int64(pieces))
	g.Best = make([]show.GarmentID, pieces)
	for a, at := range arc {
		if net.Flow(a) > 0 {
			g.Best[at[0]] = g.Garments[at[1]]
		}
	}
}
