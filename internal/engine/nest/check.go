package nest

import (
	"fmt"
	"slices"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// The rules a layout is checked by.
var (
	ruleUnknown  = why.Declare("nest.unknown", "{piece} is not asked for, or not from {cloth}.", why.Exact)
	ruleTwice    = why.Declare("nest.twice", "Copy {copy} of {piece} is counted twice, or there is no such copy.", why.Exact)
	ruleLost     = why.Declare("nest.lost", "Copy {copy} of {piece} is neither laid nor listed as missing.", why.Exact)
	ruleTurned   = why.Declare("nest.turned", "{piece} lies in a way it may not: {how}.", why.Exact)
	ruleMoved    = why.Declare("nest.moved", "The outline drawn for {piece} is not its own outline turned and moved.", why.Exact)
	ruleOutside  = why.Declare("nest.outside", "{piece} reaches over the edge of {cloth}.", why.Exact)
	ruleEdge     = why.Declare("nest.edge", "{piece} comes nearer than {gap} to the edge of {cloth}.", why.Exact)
	ruleFlaw     = why.Declare("nest.flaw", "{piece} lies over flaw {flaw} of {cloth}.", why.Exact)
	ruleOverlap  = why.Declare("nest.overlap", "{piece} and {other} lie over one another.", why.Exact)
	ruleTooNear  = why.Declare("nest.near", "{piece} and {other} are nearer than {gap} to one another.", why.Exact)
	ruleTooShort = why.Declare("nest.length", "The length used is {used}, not {length}.", why.Exact)
)

// Check says what is wrong with a layout, and nothing where it is legal: every
// copy accounted for once, each turned, mirrored and placed as allowed, its
// outline as stated, inside its cloth, off the flaws, clear of the others. It
// is exact, on the true outlines. It shares no code with Pack but the exact
// predicates and the turning of package geom.
func Check(p Problem, l Layout) []why.Reason {
	c := checker{pieces: map[string]Piece{}, cloths: map[string]Cloth{}}
	for _, q := range p.Pieces {
		c.pieces[q.ID] = q
	}
	for _, t := range p.Cloths {
		c.cloths[t.ID] = t
	}
	c.count(p, l)
	var reach units.Length
	for i, a := range l.Placed {
		if !c.alone(p, a) {
			continue
		}
		if c.cloths[a.Cloth].Strip {
			reach = max(reach, a.Outline.Box().Max.X)
		}
		for _, b := range l.Placed[:i] {
			if a.Cloth == b.Cloth {
				c.pair(p, b, a)
			}
		}
	}
	if reach != l.Length {
		c.say(ruleTooShort, why.Of("used", reach), why.Of("length", l.Length))
	}
	return c.found
}

type checker struct {
	pieces map[string]Piece
	cloths map[string]Cloth
	found  []why.Reason
}

func (c *checker) say(r why.Rule, facts ...why.Fact) {
	c.found = append(c.found, r.Because(why.No, facts...))
}

func ref(kind, code string) why.Ref { return why.Ref{Kind: kind, Code: code} }

// count checks that every copy is laid or missing, once.
func (c *checker) count(p Problem, l Layout) {
	type unit struct {
		piece string
		copy  int
	}
	seen := map[unit]int{}
	for _, a := range l.Placed {
		seen[unit{a.Piece, a.Copy}]++
	}
	for _, m := range l.Missing {
		seen[unit{m.Piece, m.Copy}]++
	}
	for _, q := range p.Pieces {
		for k := 1; k <= q.Copies; k++ {
			if n := seen[unit{q.ID, k}]; n == 0 {
				c.say(ruleLost, why.Of("piece", ref("part", q.ID)), why.Of("copy", k))
			} else if n > 1 {
				c.say(ruleTwice, why.Of("piece", ref("part", q.ID)), why.Of("copy", k))
			}
		}
	}
	for _, a := range l.Placed {
		if q, ok := c.pieces[a.Piece]; ok && (a.Copy < 1 || a.Copy > q.Copies) {
			c.say(ruleTwice, why.Of("piece", ref("part", a.Piece)), why.Of("copy", a.Copy))
		}
	}
}

// alone checks one placed copy against its piece and its cloth, and says
// whether it can be compared with others.
func (c *checker) alone(p Problem, a Placed) bool {
	q, known := c.pieces[a.Piece]
	t, here := c.cloths[a.Cloth]
	piece, cloth := why.Of("piece", ref("part", a.Piece)), why.Of("cloth", ref("cloth", a.Cloth))
	if !known || !here || q.Cloths != nil && !slices.Contains(q.Cloths, a.Cloth) {
		c.say(ruleUnknown, piece, cloth)
		return false
	}
	if a.Mirror && !q.Mirror {
		c.say(ruleTurned, piece, why.Of("how", "face down"))
	}
	if q.Turns != nil && !slices.ContainsFunc(q.Turns, func(d int) bool { return (d-a.Turn)%360 == 0 }) {
		c.say(ruleTurned, piece, why.Of("how", fmt.Sprintf("turned by %d degrees", a.Turn)))
	}
	o := q.Outline
	if a.Mirror {
		o = o.Mirror()
	}
	if !slices.Equal(o.Turn(a.Turn).Move(a.At), a.Outline) {
		c.say(ruleMoved, piece)
		return false
	}
	switch {
	case !geom.Within(a.Outline, t.Outline):
		c.say(ruleOutside, piece, cloth)
	case geom.Nearer(a.Outline, t.Outline, p.EdgeGap):
		c.say(ruleEdge, piece, cloth, why.Of("gap", p.EdgeGap))
	}
	for i, f := range t.Flaws {
		if !q.Hidden && geom.Overlap(a.Outline, f) {
			c.say(ruleFlaw, piece, cloth, why.Of("flaw", i+1))
		}
	}
	return true
}

// pair checks two copies on one cloth.
func (c *checker) pair(p Problem, a, b Placed) {
	piece, other := why.Of("piece", ref("part", a.Piece)), why.Of("other", ref("part", b.Piece))
	switch {
	case geom.Overlap(a.Outline, b.Outline):
		c.say(ruleOverlap, piece, other)
	case geom.Nearer(a.Outline, b.Outline, p.Gap):
		c.say(ruleTooNear, piece, other, why.Of("gap", p.Gap))
	}
}
