package trace

import (
	"math"

	"hemwright/internal/value/units"
)

// Spot is a place in a picture, in pixels from its upper left corner; the
// middle of the first pixel is (0.5, 0.5). The zero value is that corner.
type Spot struct{ X, Y float64 }

func (p Spot) minus(q Spot) Spot    { return Spot{p.X - q.X, p.Y - q.Y} }
func (p Spot) plus(q Spot) Spot     { return Spot{p.X + q.X, p.Y + q.Y} }
func (p Spot) by(k float64) Spot    { return Spot{p.X * k, p.Y * k} }
func (p Spot) cross(q Spot) float64 { return p.X*q.Y - p.Y*q.X }
func (p Spot) long() float64        { return math.Hypot(p.X, p.Y) }
func (p Spot) apart(q Spot) float64 { return p.minus(q).long() }
func turn(a, b, c Spot) float64     { return b.minus(a).cross(c.minus(b)) }

// Sheet is a sheet of paper of known size. The zero value has none.
type Sheet struct {
	Name        string
	Short, Long units.Length
}

// Sheets are the sheets one has at hand. from: ISO 216 (A4); ANSI/ASME Y14.1
// (Letter, 8.5 by 11 inches).
var Sheets = []Sheet{{"A4", 210_000, 297_000}, {"Letter", 215_900, 279_400}}

// homography maps a plane onto a plane, straight lines onto straight lines:
// a matrix by rows, for places with a third coordinate 1.
type homography [9]float64

func (h homography) of(p Spot) Spot {
	w := h[6]*p.X + h[7]*p.Y + h[8]
	return Spot{(h[0]*p.X + h[1]*p.Y + h[2]) / w, (h[3]*p.X + h[4]*p.Y + h[5]) / w}
}

// depth is above 0 on the side of the horizon where the sheet lies.
func (h homography) depth(p Spot) float64 { return h[6]*p.X + h[7]*p.Y + h[8] }

// through is the homography that takes four corners to four others, by the
// direct linear transform: eight equations, linear in the matrix, whose last
// number is set to 1; ok is false where three corners lie on a line. (R.
// Hartley and A. Zisserman, Multiple View Geometry, 2004, chapter 4; from
// memory.) Last number 0 would take the middle of the first four corners,
// which is where they are moved to first, to infinity: no sheet that is seen
// whole does that.
func through(from, to [4]Spot) (h homography, ok bool) {
	var mid Spot
	for _, p := range from {
		mid = mid.plus(p.by(0.25))
	}
	size := 0.0
	for _, p := range from {
		size = max(size, p.apart(mid))
	}
	if size == 0 || onLine(from) || onLine(to) {
		return h, false
	}
	var m [8][9]float64
	for i := range from {
		p, q := from[i].minus(mid).by(1/size), to[i]
		m[2*i] = [9]float64{p.X, p.Y, 1, 0, 0, 0, -p.X * q.X, -p.Y * q.X, q.X}
		m[2*i+1] = [9]float64{0, 0, 0, p.X, p.Y, 1, -p.X * q.Y, -p.Y * q.Y, q.Y}
	}
	v, ok := solve(m)
	if !ok {
		return h, false
	}
	n := homography{v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], 1}
	for r := range 3 { // undo the moving of the first corners
		a, b := n[3*r]/size, n[3*r+1]/size
		h[3*r], h[3*r+1], h[3*r+2] = a, b, n[3*r+2]-a*mid.X-b*mid.Y
	}
	return h, true
}

// onLine says whether three of four corners lie on a line, or nearly.
func onLine(c [4]Spot) bool {
	for i := range c {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if !(math.Abs(turn(a, b, d)) > 1e-6*a.apart(b)*b.apart(d)) {
			return true
		}
	}
	return false
}

// solve solves eight equations by elimination with row exchange.
func solve(m [8][9]float64) (v [8]float64, ok bool) {
	for c := range 8 {
		best := c
		for r := c; r < 8; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		m[c], m[best] = m[best], m[c]
		if math.Abs(m[c][c]) < 1e-9 {
			return v, false
		}
		for r := range 8 {
			if r == c {
				continue
			}
			k := m[r][c] / m[c][c]
			for j := c; j < 9; j++ {
				m[r][j] -= k * m[c][j]
			}
		}
	}
	for c := range 8 {
		v[c] = m[c][8] / m[c][c]
	}
	return v, true
}

// around puts four corners in order, clockwise as one sees them, beginning
// with the one nearest the upper left; ok is false where they are not the
// corners of a bulging quadrilateral.
func around(c [4]Spot) (out [4]Spot, ok bool) {
	var mid Spot
	for _, p := range c {
		mid = mid.plus(p.by(0.25))
	}
	angle := func(p Spot) float64 { return math.Atan2(p.Y-mid.Y, p.X-mid.X) }
	for i := range c {
		for j := i; j > 0 && angle(c[j]) < angle(c[j-1]); j-- {
			c[j], c[j-1] = c[j-1], c[j]
		}
	}
	first := 0
	for i, p := range c {
		if p.X+p.Y < c[first].X+c[first].Y {
			first = i
		}
	}
	for i := range c {
		out[i] = c[(first+i)%4]
	}
	for i := range out {
		if turn(out[i], out[(i+1)%4], out[(i+2)%4]) <= 0 {
			return out, false
		}
	}
	return out, true
}

// lie is how a sheet lies in a picture: its corners in the picture, clockwise,
// and where they are on the floor, in micrometres, Y along its long edge.
// upright says that Y runs down the picture rather than up.
func lie(c [4]Spot, s Sheet, w, h int) (seen, floor [4]Spot) {
	short, long := float64(s.Short), float64(s.Long)
	floor = [4]Spot{{0, 0}, {short, 0}, {short, long}, {0, long}}
	best := -1.0
	var at [4]Spot
	for k := range 2 { // the first side is the short one, or the second
		for i := range c {
			at[i] = c[(i+k)%4]
		}
		if odd := strange(at, floor, w, h); best < 0 || odd < best {
			best, seen = odd, at
		}
	}
	if down := seen[3].Y + seen[2].Y - seen[0].Y - seen[1].Y; down < 0 {
		seen = [4]Spot{seen[2], seen[3], seen[0], seen[1]}
	}
	return seen, floor
}

// strange is how far a picture of a sheet with these corners is from anything
// a camera takes: 0 for a camera with square pixels whose axis meets the middle
// of the picture, at the best focal length between 0.5 and 4 of the longer
// side. The two columns of the matrix that takes the floor into the picture
// are, seen through the camera, equally long and at right angles (Z. Zhang, A
// flexible new technique for camera calibration, IEEE PAMI 22, 2000; from
// memory).
func strange(seen, floor [4]Spot, w, h int) float64 {
	var c [4]Spot
	long := float64(max(w, h))
	for i, p := range seen {
		c[i] = Spot{(p.X - float64(w)/2) / long, (p.Y - float64(h)/2) / long}
	}
	m, ok := through(floor, c)
	if !ok {
		return math.Inf(1)
	}
	best := math.Inf(1)
	for f := 0.5; f <= 4; f *= 1.1 {
		a, b := [3]float64{m[0] / f, m[3] / f, m[6]}, [3]float64{m[1] / f, m[4] / f, m[7]}
		aa, bb, ab := dot(a, a), dot(b, b), dot(a, b)
		best = min(best, math.Abs(math.Log(aa/bb))/2+math.Abs(ab)/math.Sqrt(aa*bb))
	}
	return best
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
