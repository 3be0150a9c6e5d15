package geom

import "hemwright/internal/value/units"

// Region is a part of the plane: what its outlines wind round, in sum, any
// number of times but 0. So an outline that runs clockwise inside one that
// runs counter-clockwise is a hole, two that overlap are one area, and an
// outline may cross itself. Outlines of fewer than three corners hold nothing.
// The zero value is empty.
//
// Every function here that returns a region returns it in order: outlines are
// simple and have their area to the left (the outer ones run counter-clockwise,
// the holes clockwise), they meet in single points at most, none has a corner
// on a straight run, each begins at its least corner by X then Y, and they
// stand in the order of these corners.
//
// Union, Intersect, Minus, Xor and Fill are exact where edges cross in lattice
// points only; so filling a region in order changes nothing. Elsewhere each
// crossing moves to the nearest lattice point, and every edge that passes
// through the unit square round a corner or a crossing is led through its
// middle. All of this is done once for all the edges given, so nothing creeps.
// A border moves by at most 0.71 micrometres, parts thinner than twice that
// may close or fall away, and areas change by no more than a micrometre times
// the length of all borders. Which side of what a point lies on is decided in
// integers throughout. Coordinates may lie within twice Reach.
//
// The method (from memory): J. D. Hobby, Practical segment intersection with
// finite precision output, Computational Geometry 13, 1999; L. J. Guibas and
// D. H. Marimont, Rounding arrangements dynamically, International Journal of
// Computational Geometry and Applications 8, 1998. Between a hundred and a few
// thousand edges the time grows about as their number and that of their
// crossings.
type Region []Outline

// Fill is the region the outlines wind round: it mends an outline that has a
// Fault, and it puts any region in order.
func Fill(outlines ...Outline) Region {
	return overlay(outlines, nil, func(w winds) bool { return w[0] != 0 })
}

// Union is what lies in r or in s.
func (r Region) Union(s Region) Region {
	return overlay(r, s, func(w winds) bool { return w[0] != 0 || w[1] != 0 })
}

// Intersect is what lies in both r and s.
func (r Region) Intersect(s Region) Region {
	return overlay(r, s, func(w winds) bool { return w[0] != 0 && w[1] != 0 })
}

// Minus is what lies in r and not in s.
func (r Region) Minus(s Region) Region {
	return overlay(r, s, func(w winds) bool { return w[0] != 0 && w[1] == 0 })
}

// Xor is what lies in one of r and s only.
func (r Region) Xor(s Region) Region {
	return overlay(r, s, func(w winds) bool { return (w[0] != 0) != (w[1] != 0) })
}

// Twice is twice the area of a region in order, in square micrometres.
func (r Region) Twice() int64 {
	var sum int64
	for _, o := range r {
		sum += o.Twice()
	}
	return sum
}

// Area is the area of a region in order, rounded down to a whole square
// micrometre.
func (r Region) Area() units.Area { return units.Area(r.Twice() / 2) }

// Box is the least upright rectangle that holds the region; the zero value
// for an empty one.
func (r Region) Box() Box {
	var all Outline
	for _, o := range r {
		if len(o) > 0 {
			b := o.Box()
			all = append(all, b.Min, b.Max)
		}
	}
	return all.Box()
}

// Where says on which side of the border of a region in order p lies.
func (r Region) Where(p Point) Side {
	in := false
	for _, o := range r {
		switch o.Where(p) {
		case On:
			return On
		case Inside:
			in = !in
		}
	}
	if in {
		return Inside
	}
	return Outside
}
