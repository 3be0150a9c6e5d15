package geom

import (
	"math"

	"hemwright/internal/value/units"
)

// This file is the only one that reckons with floats. Each coordinate is rounded to the
// lattice once, so a point lies at most 0.71 micrometres from where the
// formula puts it. The explicit conversions keep the compiler from fusing a
// product into a sum, which some machines do and others do not.

// Turn is the outline turned about the origin by whole degrees,
// counter-clockwise, each corner rounded to the lattice. Quarter turns are
// exact.
func (o Outline) Turn(degrees int) Outline {
	degrees = ((degrees % 360) + 360) % 360
	out := make(Outline, len(o))
	sin, cos := sincos(float64(degrees))
	for i, p := range o {
		switch degrees {
		case 0:
			out[i] = p
		case 90:
			out[i] = Point{-p.Y, p.X}
		case 180:
			out[i] = Point{-p.X, -p.Y}
		case 270:
			out[i] = Point{p.Y, -p.X}
		default:
			x, y := float64(p.X), float64(p.Y)
			out[i] = round(float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y))
		}
	}
	return out
}

func sincos(degrees float64) (sin, cos float64) { return math.Sincos(degrees * math.Pi / 180) }

func round(x, y float64) Point {
	return Point{units.Length(math.Round(x)), units.Length(math.Round(y))}
}

// Arc is the part of a circle from one angle to another, in degrees from X,
// counter-clockwise where to is the greater, as points on the circle, both
// ends included, so many that no chord lies further than err from the arc.
// err below one micrometre is taken as one.
func Arc(centre Point, r units.Length, from, to float64, err units.Length) Outline {
	share := min(float64(max(err, 1))/float64(max(r, 1)), 1)
	widest := 2 * math.Acos(1-share) * 180 / math.Pi // the chord's rise is r(1-cos(half the angle))
	n := max(int(math.Ceil(math.Abs(to-from)/widest)), 1)
	out := make(Outline, n+1)
	for i := range out {
		sin, cos := sincos(from + (to-from)*float64(i)/float64(n))
		out[i] = centre.Plus(round(float64(r)*cos, float64(r)*sin))
	}
	return out
}

// Circle is a circle as an outline with corners on it, at least 8, chords at
// most err inside.
func Circle(centre Point, r units.Length, err units.Length) Outline {
	var out Outline
	for q := 0; q < 360; q += 90 {
		a := Arc(centre, r, float64(q), float64(q+90), err)
		if len(a) == 2 {
			a = Arc(centre, r, float64(q), float64(q+90), r/10)
		}
		out = append(out, a[:len(a)-1]...)
	}
	return out
}

// Quadratic is the Bézier curve from a to c with control point b, both ends
// included, chords at most err from the curve.
func Quadratic(a, b, c Point, err units.Length) Outline {
	n := chords(bend(a, b, c)/4, err)
	return flatten(n, func(t, s float64) (float64, float64) {
		p, q, r := s*s, 2*s*t, t*t
		return mix3(p, q, r, a.X, b.X, c.X), mix3(p, q, r, a.Y, b.Y, c.Y)
	})
}

// Cubic is the Bézier curve from a to d with control points b and c, both
// ends included, chords at most err from the curve.
func Cubic(a, b, c, d Point, err units.Length) Outline {
	n := chords(0.75*max(bend(a, b, c), bend(b, c, d)), err)
	return flatten(n, func(t, s float64) (float64, float64) {
		p, q, r, u := s*s*s, 3*s*s*t, 3*s*t*t, t*t*t
		return mix3(p, q, r, a.X, b.X, c.X) + float64(u*float64(d.X)), mix3(p, q, r, a.Y, b.Y, c.Y) + float64(u*float64(d.Y))
	})
}

// bend is the length of the second difference of three control points.
func bend(a, b, c Point) float64 {
	return math.Hypot(float64(a.X-2*b.X+c.X), float64(a.Y-2*b.Y+c.Y))
}

// chords is how many equal steps keep the chord error, which is at most an
// eighth of the squared step times the greatest second derivative.
func chords(atOne float64, err units.Length) int {
	return max(int(math.Ceil(math.Sqrt(atOne/float64(max(err, 1))))), 1)
}

func flatten(n int, at func(t, s float64) (float64, float64)) Outline {
	out := make(Outline, n+1)
	for i := range out {
		out[i] = round(at(float64(i)/float64(n), float64(n-i)/float64(n)))
	}
	return out
}

func mix3(p, q, r float64, a, b, c units.Length) float64 {
	return float64(float64(p*float64(a))+float64(q*float64(b))) + float64(r*float64(c))
}

// crossing is the lattice point nearest to where the ray from p through a
// meets the ray from q through b, if it does so within Reach.
func crossing(p, a, q, b Point) (Point, bool) {
	ux, uy := float64(a.X-p.X), float64(a.Y-p.Y)
	vx, vy := float64(b.X-q.X), float64(b.Y-q.Y)
	wx, wy := float64(q.X-p.X), float64(q.Y-p.Y)
	den := float64(ux*vy) - float64(uy*vx)
	t := (float64(wx*vy) - float64(wy*vx)) / den
	if !(den < 0) || !(t > 0) || t*max(math.Abs(ux), math.Abs(uy)) > float64(Reach) {
		return Point{}, false
	}
	return p.Plus(round(float64(t*ux), float64(t*uy))), true
}

// outward is the way of length d square to the right of the edge from a to b.
func outward(a, b Point, d units.Length) Point {
	x, y := float64(b.Y-a.Y), float64(a.X-b.X)
	k := float64(d) / math.Hypot(x, y)
	return round(x*k, y*k)
}

// between are the corners of the join at b, from outward(a, b, d) to
// outward(b, c, d), both left out, seen from b.
func (j Join) between(a, b, c Point, d units.Length) Outline {
	if j.kind == bevelled {
		return nil
	}
	ux, uy := float64(b.X-a.X), float64(b.Y-a.Y)
	vx, vy := float64(c.X-b.X), float64(c.Y-b.Y)
	turn := math.Atan2(float64(ux*vy)-float64(uy*vx), float64(ux*vx)+float64(uy*vy))
	n, r := 1, float64(d.Abs())
	switch most := math.Acos(r/(r+float64(j.err))) * 2; {
	case j.kind == rounded:
		n = max(int(math.Ceil(math.Abs(turn)/most)), 1)
	case !(math.Cos(turn/2)*j.limit >= 1):
		return nil
	}
	// Chords that touch the circle at both ends and in between: the tips stand
	// half a step from where they touch, and further out.
	step := turn / float64(n)
	tip := float64(d) / math.Cos(step/2) / math.Hypot(ux, uy)
	var out Outline
	for i := range n {
		sin, cos := math.Sincos((float64(i) + 0.5) * step)
		x, y := uy*tip, -ux*tip
		out = append(out, round(float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y)))
	}
	return out
}
