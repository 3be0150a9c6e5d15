package geom

import (
	"slices"

	"hemwright/internal/value/units"
)

// Overlap says whether the insides of two simple outlines have a point in
// common. Outlines that only touch, at a corner or along an edge, do not
// overlap.
//
// If no two edges cross, the borders meet in lattice points only, and each
// part of a border between two such points lies wholly inside, outside or on
// the other outline; its middle tells which.
func Overlap(a, b Outline) bool {
	if len(a) < 3 || len(b) < 3 || apart(a.Box(), b.Box(), 0) {
		return false
	}
	if cross(a, b) {
		return true
	}
	in, out := runs(a, b)
	if in {
		return true
	}
	if !out { // the whole border of a lies on that of b: the same outline
		return true
	}
	in, _ = runs(b, a)
	return in
}

// Within says whether the inner simple outline lies in the outer one, borders
// included.
func Within(inner, outer Outline) bool {
	bi, bo := inner.Box(), outer.Box()
	if bi.Min.X < bo.Min.X || bi.Min.Y < bo.Min.Y || bi.Max.X > bo.Max.X || bi.Max.Y > bo.Max.Y || cross(inner, outer) {
		return false
	}
	_, out := runs(inner, outer)
	return !out
}

// Nearer says whether the borders of two outlines come nearer to one another
// than gap. It is false for a gap of 0.
func Nearer(a, b Outline, gap units.Length) bool {
	if gap <= 0 || apart(a.Box(), b.Box(), gap) {
		return false
	}
	for i := range a {
		p, q := a.edge(i)
		for j := range b {
			if r, s := b.edge(j); segmentsNearer(p, q, r, s, gap) {
				return true
			}
		}
	}
	return false
}

// apart says whether two boxes lie at least gap apart along X or along Y.
func apart(a, b Box, gap units.Length) bool {
	return a.Max.X+gap <= b.Min.X || b.Max.X+gap <= a.Min.X || a.Max.Y+gap <= b.Min.Y || b.Max.Y+gap <= a.Min.Y
}

// cross says whether any edge of a passes through an edge of b.
func cross(a, b Outline) bool {
	for i := range a {
		p, q := a.edge(i)
		for j := range b {
			if r, s := b.edge(j); Meet(p, q, r, s) == Crossing {
				return true
			}
		}
	}
	return false
}

// runs splits the border of a where corners of b lie on it and says whether
// some part runs inside b, and whether some part runs outside. No edge of a
// may cross one of b.
func runs(a, b Outline) (in, out bool) {
	var stops []Point
	for i := range a {
		p, q := a.edge(i)
		stops = append(stops[:0], p, q)
		for _, c := range b {
			if between(p, q, c) && Orient(p, q, c) == 0 {
				stops = append(stops, c)
			}
		}
		slices.SortFunc(stops, func(u, v Point) int {
			if p.X != q.X {
				return sign(int64(u.X-v.X)) * sign(int64(q.X-p.X))
			}
			return sign(int64(u.Y-v.Y)) * sign(int64(q.Y-p.Y))
		})
		for k := 1; k < len(stops); k++ {
			if stops[k] == stops[k-1] {
				continue
			}
			switch where(b, stops[k-1].Plus(stops[k]), 2) { // the middle, on the lattice twice as fine
			case Inside:
				in = true
			case Outside:
				out = true
			}
		}
	}
	return in, out
}
