package remake

import (
	"sort"

	"hemwright/internal/engine/flow"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Wanted is a shape to be cut, X along the grain, so many times.
type Wanted struct {
	Name    string
	Outline geom.Outline
	Count   int
	AnyWay  bool // may be cut across the grain as well
}

// Giving lists the garments whose parts hold shapes that are wanted, those
// that hold most first. Each shape lies on a part of its own: two may fit on
// one part all the same, and a shape may lie where it was not tried, so what
// is not listed is not proved away. Nothing asks here whether a garment may
// be cut.
func Giving(rail []show.Garment, want []Wanted) []answer.Giver {
	var out []answer.Giver
	for i := range rail {
		h, ok := Harvest(&rail[i])
		if !ok {
			continue
		}
		if g := Holds(h, want); g.Held > 0 {
			g.Garment = rail[i].ID
			out = append(out, g)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Held != out[j].Held {
			return out[i].Held > out[j].Held
		}
		return out[i].Grade > out[j].Grade
	})
	return out
}

// Holds pairs wanted shapes with parts, as many as there can be pairs: first
// on what the parts are at least, and if that is not all, on what they may be.
func Holds(h answer.Harvest, want []Wanted) answer.Giver {
	var g answer.Giver
	for _, sure := range []bool{true, false} {
		try := pairUp(h, want, sure)
		if sure || try.Held > g.Held {
			g = try
		}
		if g.Held == g.Wanted {
			break
		}
	}
	return g
}

func pairUp(h answer.Harvest, want []Wanted, sure bool) answer.Giver {
	var wanted []int // of each copy, which shape
	for w := range want {
		for range want[w].Count {
			wanted = append(wanted, w)
		}
	}
	var parts []int
	for p := range h.Parts {
		n := h.Parts[p].Count
		if !sure {
			n = h.Parts[p].UpTo
		}
		for range n {
			parts = append(parts, p)
		}
	}
	fits := make([][]bool, len(want)) // by shape and part
	for w := range want {
		fits[w] = make([]bool, len(h.Parts))
		for p := range h.Parts {
			_, fits[w][p] = Place(h.Parts[p], want[w], sure, h.OneWay)
		}
	}
	edges := make([][]int, len(wanted))
	for i, w := range wanted {
		for k, p := range parts {
			if fits[w][p] {
				edges[i] = append(edges[i], k)
			}
		}
	}
	m := flow.Match(len(wanted), len(parts), edges)
	g := answer.Giver{Held: m.Size, Wanted: len(wanted), Grade: why.Work}
	for i, k := range m.Left {
		if k >= 0 {
			g.Holds = append(g.Holds, answer.Holding{Wanted: want[wanted[i]].Name, Part: h.Parts[parts[k]].Name, Of: parts[k], Shape: wanted[i], Likely: !sure})
		}
	}
	if m.Size == len(wanted) {
		g.Grade = why.Yes
		if !sure {
			g.Grade = why.Likely
		}
	}
	return g
}

// Place is where a shape lies on a part, as large as that is at least or, not
// sure, as it may be: with the grain, and across it where it may; with a nap
// all one way up. not ok where no place was found.
func Place(p answer.GivenPart, w Wanted, sure, oneWay bool) (at geom.Outline, ok bool) {
	room := p.Most
	if sure {
		room = p.Least
	}
	if !p.Known || sure && p.Guess {
		return nil, false
	}
	turns := []int{0, 180, 90, 270}
	switch {
	case oneWay:
		turns = turns[:1]
	case !w.AnyWay && !p.Bias:
		turns = turns[:2]
	}
	for _, t := range turns {
		if at, ok := spot(w.Outline.Turn(t), room); ok {
			return at, true
		}
	}
	return nil, false
}

// lies says whether a shape finds a place on a panel as it is turned.
func lies(shape, room geom.Outline) bool {
	_, ok := spot(shape, room)
	return ok
}

// spot tries a shape at 25 by 25 places on a panel, both ends and the middle
// of each way among them.
func spot(shape, room geom.Outline) (at geom.Outline, ok bool) {
	const steps = 24
	in, out := shape.Box(), room.Box()
	dx, dy := out.Width()-in.Width(), out.Height()-in.Height()
	if dx < 0 || dy < 0 || shape.Area() > room.Area() {
		return nil, false
	}
	by := func(i, j int64) geom.Point {
		return geom.Point{X: out.Min.X - in.Min.X + dx.Times(i, steps), Y: out.Min.Y - in.Min.Y + dy.Times(j, steps)}
	}
	for i := int64(0); i <= steps; i++ {
		for j := int64(0); j <= steps; j++ {
			if at := shape.Move(by(i, j)); geom.Within(at, room) {
				return at, true
			}
			if dy < units.Micrometre*steps {
				break
			}
		}
		if dx < units.Micrometre*steps {
			break
		}
	}
	return nil, false
}
