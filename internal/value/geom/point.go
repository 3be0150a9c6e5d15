// Package geom holds points, outlines and curves on the lattice of whole
// micrometres. Every question that decides something (which side, inside, do
// they overlap, are they too near) is answered exactly with integers; floats
// are used only to turn outlines and to flatten curves, in curve.go, and are
// rounded to the lattice once.
//
// X runs along the grain of a piece or the length of a cloth, Y across it;
// angles count counter-clockwise from X in degrees.
//
// Coordinates must stay within Reach. Values are immutable: every function
// returns a new outline.
package geom

import (
	"math/bits"

	"hemwright/internal/value/units"
)

// Reach is the greatest absolute value of a coordinate for which every
// function here is exact: 2^28 micrometres, 268 metres.
const Reach units.Length = 1 << 28

// Point is a point of the lattice. The zero value is the origin.
type Point struct {
	X units.Length `json:"x_um"`
	Y units.Length `json:"y_um"`
}

// Plus is p moved by q.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus is the way from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Orient is 1 where c lies left of the line from a to b, -1 where it lies
// right of it, 0 where the three lie on one line. It is exact for every
// lattice point, beyond Reach too.
func Orient(a, b, c Point) int {
	ux, uy := int64(b.X-a.X), int64(b.Y-a.Y)
	vx, vy := int64(c.X-a.X), int64(c.Y-a.Y)
	if small(ux) && small(uy) && small(vx) && small(vy) {
		return sign(ux*vy - uy*vx)
	}
	return mul(ux, vy).cmp(mul(uy, vx))
}

// small says whether two products of such numbers may be added in an int64.
func small(v int64) bool { return -1<<30 <= v && v <= 1<<30 }

func sign(v int64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// wide is a signed number of 128 bits.
type wide struct {
	hi int64
	lo uint64
}

// mul is the exact product.
func mul(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if a < 0 {
		hi -= uint64(b)
	}
	if b < 0 {
		hi -= uint64(a)
	}
	return wide{int64(hi), lo}
}

func (a wide) cmp(b wide) int {
	switch {
	case a.hi > b.hi || a.hi == b.hi && a.lo > b.lo:
		return 1
	case a == b:
		return 0
	}
	return -1
}

// Meeting says what two segments have in common.
type Meeting int

// Meetings. The zero value is Apart.
const (
	Apart    Meeting = iota // no point in common
	Touching                // a point in common, but neither runs from one side of the other to the other side
	Crossing                // one point, inside both, where they pass through one another
)

// Meet says what the closed segments ab and cd have in common.
func Meet(a, b, c, d Point) Meeting {
	if max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) ||
		max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
		return Apart
	}
	p, q := Orient(a, b, c), Orient(a, b, d)
	if p*q > 0 {
		return Apart
	}
	r, s := Orient(c, d, a), Orient(c, d, b)
	switch {
	case r*s > 0:
		return Apart
	case p*q < 0 && r*s < 0:
		return Crossing
	case p == 0 && between(a, b, c), q == 0 && between(a, b, d), r == 0 && between(c, d, a), s == 0 && between(c, d, b):
		return Touching
	}
	return Apart
}

// between says whether p, known to lie on the line through a and b, lies on
// the closed segment.
func between(a, b, p Point) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// nearer says whether p lies less than gap from the closed segment ab.
func nearer(p, a, b Point, gap units.Length) bool {
	ux, uy := int64(b.X-a.X), int64(b.Y-a.Y)
	vx, vy := int64(p.X-a.X), int64(p.Y-a.Y)
	along, long, gap2 := ux*vx+uy*vy, ux*ux+uy*uy, int64(gap)*int64(gap)
	switch {
	case along <= 0:
		return vx*vx+vy*vy < gap2
	case along >= long:
		wx, wy := int64(p.X-b.X), int64(p.Y-b.Y)
		return wx*wx+wy*wy < gap2
	}
	off := ux*vy - uy*vx // off/|ab| is the distance from the line
	return mul(off, off).cmp(mul(gap2, long)) < 0
}

// segmentsNearer says whether the closed segments ab and cd come nearer than
// gap, which is above 0.
func segmentsNearer(a, b, c, d Point, gap units.Length) bool {
	if max(a.X, b.X)+gap <= min(c.X, d.X) || max(c.X, d.X)+gap <= min(a.X, b.X) ||
		max(a.Y, b.Y)+gap <= min(c.Y, d.Y) || max(c.Y, d.Y)+gap <= min(a.Y, b.Y) {
		return false
	}
	return Meet(a, b, c, d) != Apart || nearer(a, c, d, gap) || nearer(b, c, d, gap) ||
		nearer(c, a, b, gap) || nearer(d, a, b, gap)
}
