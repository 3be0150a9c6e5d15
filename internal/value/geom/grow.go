package geom

import (
	"slices"

	"hemwright/internal/value/units"
)

// Grow is a simple outline with fewer corners that holds o and reaches no
// further than its box; the area grows by at most slack. The corners run
// counter-clockwise. A layout that is legal for the grown outline is legal
// for o.
//
// One corner goes at a time, always where the area grows least: a hollow or
// straight corner is dropped, two neighbouring bulging corners give way to
// the point where the edges beside them meet.
func Grow(o Outline, slack units.Area) Outline {
	return simplify(o.CounterClockwise(), o.Box(), slack)
}

// Shrink is a simple outline with fewer corners that lies within o; the area
// shrinks by at most slack. The corners run counter-clockwise. It is for
// cloth: a layout that is legal on the shrunk cloth is legal on o.
//
// It is Grow for what lies outside: a bulging or straight corner is dropped,
// two neighbouring hollow corners give way to the point where the edges beside
// them meet.
func Shrink(o Outline, slack units.Area) Outline {
	out := o.CounterClockwise()
	slices.Reverse(out)
	out = simplify(out, o.Box(), slack)
	slices.Reverse(out)
	return out
}

// simplify moves the border to its right only, by at most slack.
func simplify(cur Outline, box Box, slack units.Area) Outline {
	left := 2 * int64(slack)
	for len(cur) > 3 {
		best, cost := Outline(nil), left+1
		for i := range cur {
			if next, c, ok := without(cur, i, box, cost); ok {
				best, cost = next, c
			}
		}
		if best == nil {
			return cur
		}
		cur, left = best, left-cost
	}
	return cur
}

// without removes corner i, at a cost in twice the area below limit.
func without(o Outline, i int, box Box, limit int64) (Outline, int64, bool) {
	n := len(o)
	p, a, b, q := o[(i+n-1)%n], o[i], o[(i+1)%n], o[(i+2)%n]
	if Orient(p, a, b) <= 0 {
		c := Outline{p, b, a}.Twice()
		if c >= limit || !clear(o, i, i, p, b) {
			return nil, 0, false
		}
		return slices.Delete(slices.Clone(o), i, i+1), c, true
	}
	if n < 4 || Orient(a, b, q) <= 0 {
		return nil, 0, false
	}
	x, ok := corner(p, a, b, q, box)
	if !ok {
		return nil, 0, false
	}
	c := Outline{p, x, q, b, a}.Twice()
	if c <= 0 || c >= limit || !clear(o, i, i+1, p, x) || !clear(o, i, i+1, x, q) {
		return nil, 0, false
	}
	out := slices.Clone(o)
	out[i] = x
	j := (i + 1) % n
	return slices.Delete(out, j, j+1), c, true
}

// corner is a lattice point in the box at or just outside the point where the
// edge pa, carried on, meets the edge qb, carried on.
func corner(p, a, b, q Point, box Box) (Point, bool) {
	base, ok := crossing(p, a, q, b)
	if !ok {
		return Point{}, false // the edges run apart
	}
	for _, d := range [...]Point{{0, 0}, {1, 0}, {0, 1}, {-1, 0}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		x := base.Plus(d)
		in := x.X >= box.Min.X && x.X <= box.Max.X && x.Y >= box.Min.Y && x.Y <= box.Max.Y
		if in && Orient(p, a, x) <= 0 && Orient(b, q, x) <= 0 && Orient(a, b, x) < 0 {
			return x, true
		}
	}
	return Point{}, false
}

// clear says whether the segment uv, which takes the place of the border from
// corner first-1 to corner last+1, keeps off every other edge.
func clear(o Outline, first, last int, u, v Point) bool {
	n := len(o)
	for k := last + 1; k < first-1+n; k++ {
		a, b := o[k%n], o[(k+1)%n]
		m := Meet(u, v, a, b)
		if m == Crossing {
			return false
		}
		if m == Touching && !(k == last+1 && v == a && !doubled(u, v, b)) && !(k == first-2+n && u == b && !doubled(v, u, a)) {
			return false
		}
	}
	return true
}

// doubled says whether the way from u to v and on to w turns straight back.
func doubled(u, v, w Point) bool {
	return Orient(u, v, w) == 0 && (between(u, v, w) || between(v, w, u))
}
