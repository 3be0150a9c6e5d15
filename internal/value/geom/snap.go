package geom

import (
	"math/bits"
	"slices"

	"hemwright/internal/value/units"
)

// This file cuts segments where they meet: it finds the hot pixels, the unit
// squares round every end and every crossing, and leads each segment through
// the middles of those it passes. A pixel holds its left and lower borders and
// not the other two, so that each point of the plane lies in one. If every
// crossing is the middle of its pixel, nothing need be rounded, and each
// segment is cut only where a middle lies on it.

// snap is the hot pixels of some segments.
type snap struct {
	hot    []Point // middles, by X then Y
	exact  bool    // every crossing is one
	g      *grid
	pixels *grid // the same cells, with indices into hot in them
}

// segment is a directed edge of the operand of, 0 or 1.
type segment struct {
	a, b Point
	of   int
}

// segments are the edges of the outlines of both operands.
func segments(operands ...Region) []segment {
	var out []segment
	for of, r := range operands {
		for _, o := range r {
			for i := range o {
				if a, b := o.edge(i); a != b {
					out = append(out, segment{a, b, of})
				}
			}
		}
	}
	return out
}

// byXY orders points by X, then Y.
func byXY(p, q Point) int {
	if p.X != q.X {
		return sign(int64(p.X - q.X))
	}
	return sign(int64(p.Y - q.Y))
}

// newSnap finds the hot pixels.
func newSnap(segs []segment, g *grid) *snap {
	hot, exact := make([]Point, 0, 2*len(segs)), true
	for _, s := range segs {
		hot = append(hot, s.a, s.b)
	}
	near := g.ofSegments(segs)
	for c := range near.cells() {
		in := near.in(c)
		for i, k := range in {
			s := segs[k]
			for _, l := range in[:i] {
				if t := segs[l]; Meet(s.a, s.b, t.a, t.b) == Crossing {
					p := meet(s.a, s.b, t.a, t.b)
					hot = append(hot, p)
					exact = exact && Orient(s.a, s.b, p) == 0 && Orient(t.a, t.b, p) == 0
				}
			}
		}
	}
	slices.SortFunc(hot, byXY)
	hot = slices.Compact(hot)
	return &snap{hot: hot, exact: exact, g: g, pixels: g.ofPoints(hot)}
}

// meet is the pixel that holds the point where ab and cd, known to cross,
// meet.
func meet(a, b, c, d Point) Point {
	u, v, w := b.Minus(a), d.Minus(c), c.Minus(a)
	num := int64(w.X)*int64(v.Y) - int64(w.Y)*int64(v.X)
	den := int64(u.X)*int64(v.Y) - int64(u.Y)*int64(v.X)
	if den < 0 {
		num, den = -num, -den
	}
	return a.Plus(Point{part(num, den, u.X), part(num, den, u.Y)})
}

// part is u*num/den, with 0 <= num <= den < 2^62, rounded to the nearest whole
// number, halves up.
func part(num, den int64, u units.Length) units.Length {
	hi, lo := bits.Mul64(2*uint64(num), uint64(u.Abs()))
	add := uint64(den)
	if u < 0 {
		add-- // -floor((2n+den-1)/2den) is ceil((2n-den)/2den) with its sign changed
	}
	lo, carry := bits.Add64(lo, add, 0)
	q, _ := bits.Div64(hi+carry, lo, 2*uint64(den))
	if u < 0 {
		return -units.Length(q)
	}
	return units.Length(q)
}

// passes says whether the segment passes through the pixel of c.
//
// Everything is doubled and seen from c, which makes the pixel [-1, 1) by
// [-1, 1) and the ends of the segment even: none lies on a line that bounds
// the pixel. So the segment misses if its box does, or if the pixel lies on
// one side of its line; and touching counts at the lower left corner only.
func (s segment) passes(c Point) bool {
	a, b := s.a.Minus(c), s.b.Minus(c)
	if a.X > b.X {
		a, b = b, a
	}
	if a.X > 0 || b.X < 0 || min(a.Y, b.Y) > 0 || max(a.Y, b.Y) < 0 {
		return false
	}
	ux, uy := int64(b.X-a.X), int64(b.Y-a.Y)
	side := func(x, y int64) int64 { // of a corner: above 0 to the left of the segment
		return ux*(y-2*int64(a.Y)) - uy*(x-2*int64(a.X))
	}
	switch {
	case ux == 0 || uy == 0:
		return true
	case uy > 0:
		return side(-1, 1) > 0 && side(1, -1) < 0
	}
	return side(1, 1) > 0 && side(-1, -1) <= 0
}

// route is the pixels the segment passes, from its first end to its last, as
// indices into hot. Along a line pixels rise or fall in X and in Y alike, as
// the line does.
func (n *snap) route(s segment, into []int32) []int32 {
	into = into[:0]
	n.g.walk(s.a, s.b, func(c int) {
		for _, k := range n.pixels.in(c) {
			p := n.hot[k]
			if n.exact && between(s.a, s.b, p) && Orient(s.a, s.b, p) == 0 || !n.exact && s.passes(p) {
				into = append(into, k)
			}
		}
	})
	right, up := sign(int64(s.b.X-s.a.X)), sign(int64(s.b.Y-s.a.Y))
	slices.SortFunc(into, func(i, j int32) int {
		p, q := n.hot[i], n.hot[j]
		if p.X != q.X {
			return right * sign(int64(p.X-q.X))
		}
		return up * sign(int64(p.Y-q.Y))
	})
	return slices.Compact(into)
}
