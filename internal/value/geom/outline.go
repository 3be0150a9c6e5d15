package geom

import (
	"fmt"
	"slices"

	"hemwright/internal/value/units"
)

// Outline is a simple polygon, not closed (the last corner is joined to the
// first), either turn. The zero value has no corner and no area.
type Outline []Point

// Box is an upright rectangle, borders included. The zero value is the origin
// alone.
type Box struct{ Min, Max Point }

// Width and Height of the box, along X and Y.
func (b Box) Width() units.Length { return b.Max.X - b.Min.X }

// Height is the size along Y.
func (b Box) Height() units.Length { return b.Max.Y - b.Min.Y }

// Outline is the box as an outline, counter-clockwise from its least corner.
func (b Box) Outline() Outline {
	return Outline{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

// Rect is the rectangle from the origin to (w, h), counter-clockwise.
func Rect(w, h units.Length) Outline { return Box{Max: Point{w, h}}.Outline() }

// Twice is twice the signed area in square micrometres, above 0 where the
// corners run counter-clockwise. Sums may pass the ends of an int64 on the way
// and come back: the result is exact wherever it fits.
func (o Outline) Twice() int64 {
	var sum int64
	for i := 2; i < len(o); i++ {
		u, v := o[i-1].Minus(o[0]), o[i].Minus(o[0])
		sum += int64(u.X)*int64(v.Y) - int64(u.Y)*int64(v.X)
	}
	return sum
}

// Area is the area, whichever way the corners run, rounded down to a whole
// square micrometre.
func (o Outline) Area() units.Area {
	t := o.Twice()
	if t < 0 {
		t = -t
	}
	return units.Area(t / 2)
}

// Box is the least upright rectangle that holds the outline.
func (o Outline) Box() Box {
	if len(o) == 0 {
		return Box{}
	}
	b := Box{o[0], o[0]}
	for _, p := range o[1:] {
		b.Min = Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
		b.Max = Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
	}
	return b
}

// Move is the outline moved by d.
func (o Outline) Move(d Point) Outline {
	out := make(Outline, len(o))
	for i, p := range o {
		out[i] = p.Plus(d)
	}
	return out
}

// Mirror is the outline mirrored in the X axis (Y changes sign): the piece
// turned face down with the grain running the same way.
func (o Outline) Mirror() Outline {
	out := make(Outline, len(o))
	for i, p := range o {
		out[i] = Point{p.X, -p.Y}
	}
	return out
}

// CounterClockwise is the outline with its corners in that order.
func (o Outline) CounterClockwise() Outline {
	out := slices.Clone(o)
	if o.Twice() < 0 {
		slices.Reverse(out)
	}
	return out
}

// edge is the i-th edge.
func (o Outline) edge(i int) (Point, Point) {
	if i+1 == len(o) {
		return o[i], o[0]
	}
	return o[i], o[i+1]
}

// Side says where a point lies.
type Side int

// Sides. The zero value is Outside.
const (
	Outside Side = iota
	On           // on the border, exactly
	Inside
)

// Where says on which side of the outline p lies.
func (o Outline) Where(p Point) Side { return where(o, p, 1) }

// where is Where for the outline scaled by k.
func where(o Outline, p Point, k units.Length) Side {
	in := false
	for i := range o {
		a, b := o.edge(i)
		a, b = Point{a.X * k, a.Y * k}, Point{b.X * k, b.Y * k}
		if max(a.Y, b.Y) < p.Y || min(a.Y, b.Y) > p.Y || max(a.X, b.X) < p.X {
			continue
		}
		side := Orient(a, b, p)
		if side == 0 && between(a, b, p) {
			return On
		}
		// A ray to the right: count edges that go over it, the lower end
		// included and the upper not.
		if (a.Y > p.Y) != (b.Y > p.Y) && (side > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	if in {
		return Inside
	}
	return Outside
}

// Fault says in words what keeps the outline from being a simple polygon
// within Reach, and "" where nothing does: too few corners, no area, a corner
// beyond Reach, a border that touches or crosses itself. Fill mends any of them
// but the third.
func (o Outline) Fault() string {
	if len(o) < 3 {
		return fmt.Sprintf("has %d corners, fewer than 3", len(o))
	}
	for i, p := range o {
		if p.X.Abs() > Reach || p.Y.Abs() > Reach {
			return fmt.Sprintf("has corner %d more than 268 m from the origin", i+1)
		}
	}
	if len(o.Hull()) < 3 {
		return "has no area"
	}
	for i := range o {
		a, b := o.edge(i)
		if a == b {
			return fmt.Sprintf("has corner %d twice", i+1)
		}
		c := o[(i+2)%len(o)]
		if Orient(a, b, c) == 0 && (between(a, b, c) || between(b, c, a)) {
			return fmt.Sprintf("doubles back on itself at corner %d", (i+1)%len(o)+1)
		}
		for j := i + 2; j < len(o); j++ {
			if i == 0 && j == len(o)-1 {
				continue
			}
			if c, d := o.edge(j); Meet(a, b, c, d) != Apart {
				return fmt.Sprintf("touches or crosses itself at edges %d and %d", i+1, j+1)
			}
		}
	}
	return ""
}

// Hull is the convex hull, counter-clockwise, without corners on straight
// runs (Andrew's monotone chain, 1979).
func (o Outline) Hull() Outline {
	ps := slices.Clone(o)
	slices.SortFunc(ps, func(a, b Point) int {
		if a.X != b.X {
			return sign(int64(a.X - b.X))
		}
		return sign(int64(a.Y - b.Y))
	})
	ps = slices.Compact(ps)
	if len(ps) < 3 {
		return ps
	}
	var hull Outline
	for range 2 {
		base := len(hull)
		for _, p := range ps {
			for len(hull) >= base+2 && Orient(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(ps)
	}
	return hull
}
