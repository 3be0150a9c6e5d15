package geom

import (
	"container/heap"
	"math/bits"

	"hemwright/internal/value/units"
)

// Pole is the middle of the largest circle that lies in a region in order, and
// its radius, rounded down: a circle of that radius fits, and none larger by
// precision or more fits anywhere. A precision below 5 micrometres is taken as
// 5. The radius is 0 for an empty region. Coordinates must lie within Reach.
//
// The squares of a quadtree are looked through, the most promising first; one
// whose middle lies r from the border and whose corners lie c from its middle
// holds no middle of a circle larger than r+c (branch and bound, a known way to
// the pole of inaccessibility). Middles and bounds are whole micrometres,
// distances exact integers. The time grows as the number of corners, times some
// hundred squares, more for long thin parts.
func (r Region) Pole(precision units.Length) (centre Point, radius units.Length) {
	box := r.Box()
	side := units.Length(1)
	for side < max(box.Width(), box.Height()) {
		side *= 2
	}
	// No circle is wider than the region.
	most := (min(box.Width(), box.Height()) + 1) / 2
	precision = max(precision, 5)
	first := r.square(box.Min, side)
	first.bound = most
	todo := squares{first}
	centre = first.middle()
	for len(todo) > 0 {
		q := heap.Pop(&todo).(square)
		if q.inside && q.deep > radius {
			centre, radius = q.middle(), q.deep
		}
		if q.bound < radius+precision || q.side < 2 {
			continue
		}
		half := q.side / 2
		for _, d := range [...]Point{{}, {half, 0}, {0, half}, {half, half}} {
			sub := r.square(q.min.Plus(d), half)
			if sub.bound = min(sub.bound, q.bound); sub.bound >= radius+precision {
				heap.Push(&todo, sub)
			}
		}
	}
	return centre, radius
}

// square is a part of the plane where a middle may lie.
type square struct {
	min    Point
	side   units.Length // a power of two
	inside bool         // its middle lies in the region
	deep   units.Length // how far from the border, rounded down
	bound  units.Length // no circle with its middle here is larger
}

func (q square) middle() Point { return q.min.Plus(Point{q.side / 2, q.side / 2}) }

func (r Region) square(least Point, side units.Length) square {
	q := square{min: least, side: side}
	q.inside = r.Where(q.middle()) == Inside
	q.deep = r.depth(q.middle())
	// From the middle to a corner is 0.7072 sides at most, one more for
	// the middle of a side of 1 and one for rounding down.
	q.bound = q.deep + side*7072/10000 + 2
	if !q.inside {
		q.bound = side*7072/10000 + 2 - q.deep
	}
	return q
}

// depth is how far p lies from the border, rounded down.
func (r Region) depth(p Point) units.Length {
	best := int64(1) << 62
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			best = min(best, apart2(p, a, b))
		}
	}
	return root(best)
}

// apart2 is the squared distance of p from the segment ab, rounded down.
func apart2(p, a, b Point) int64 {
	ux, uy := int64(b.X-a.X), int64(b.Y-a.Y)
	vx, vy := int64(p.X-a.X), int64(p.Y-a.Y)
	along, long := ux*vx+uy*vy, ux*ux+uy*uy
	switch {
	case along <= 0:
		return vx*vx + vy*vy
	case along >= long:
		wx, wy := int64(p.X-b.X), int64(p.Y-b.Y)
		return wx*wx + wy*wy
	}
	off := ux*vy - uy*vx
	if off < 0 {
		off = -off
	}
	hi, lo := bits.Mul64(uint64(off), uint64(off))
	q, _ := bits.Div64(hi, lo, uint64(long)) // off/|ab| is at most |v|, so this fits
	return int64(q)
}

// root is the square root, rounded down.
func root(v int64) units.Length {
	var r int64
	for bit := int64(1) << 30; bit > 0; bit >>= 1 {
		if s := r + bit; s*s <= v {
			r = s
		}
	}
	return units.Length(r)
}

// squares is a heap, the highest bound first.
type squares []square

func (s squares) Len() int           { return len(s) }
func (s squares) Less(i, j int) bool { return s[i].bound > s[j].bound }
func (s squares) Swap(i, j int)      { s[i], s[j] = s[j], s[i] }
func (s *squares) Push(x any)        { *s = append(*s, x.(square)) }
func (s *squares) Pop() any {
	old := *s
	q := old[len(old)-1]
	*s = old[:len(old)-1]
	return q
}
