package nest

import (
	"math"
	"slices"

	"hemwright/internal/value/geom"
)

// growPart is the share of its area by which a piece may be simplified for
// the search, one part in a thousand.
const growPart = 1000

// box is an upright rectangle on the lattice.
type box struct{ x0, y0, x1, y1 int64 }

func boxOf(b geom.Box) box {
	return box{int64(b.Min.X), int64(b.Min.Y), int64(b.Max.X), int64(b.Max.Y)}
}

func (b box) at(x, y int64) box { return box{b.x0 + x, b.y0 + y, b.x1 + x, b.y1 + y} }

// ring is an outline laid out for the inner loops.
type ring struct{ x, y []int64 }

func ringOf(o geom.Outline, dx int64) ring {
	r := ring{make([]int64, len(o)), make([]int64, len(o))}
	for i, p := range o {
		r.x[i], r.y[i] = int64(p.X)+dx, int64(p.Y)
	}
	return r
}

// shape is an outline with what the search wants to know of it: the ring,
// never smaller than the outline and with the same box, and inscribed circles
// for the measure of overlap.
type shape struct {
	ring
	box   box
	poles []pole
	light []light // the same poles for the inner loop
	radii float32 // the sum of their radii
	diam  float64 // farthest pair of corners
	root  float64 // fourth root of the area of the convex hull
}

// pose is one way in which a piece may lie.
type pose struct {
	shape
	turn   int
	mirror bool
	out    geom.Outline // the true outline, checked and printed
}

// kind is a piece with its poses, made when first asked for.
type kind struct {
	Piece
	turns  []int // per pose
	flips  []bool
	poses  []*pose
	grown  geom.Outline
	poles  []pole
	area   float64
	hull   float64
	diam   float64
	small  int64 // lesser side of the box
	allows []bool
	worth  int64
}

func newKind(q Piece, cloths []Cloth) *kind {
	k := &kind{Piece: q, worth: q.worth(), area: float64(q.Outline.Area())}
	k.grown = geom.Grow(q.Outline, q.Outline.Area()/growPart)
	k.diam, k.hull = diameter(k.grown), float64(k.grown.Hull().Area())
	b := q.Outline.Box()
	k.small = int64(min(b.Width(), b.Height()))
	for _, c := range cloths {
		k.allows = append(k.allows, q.Cloths == nil || slices.Contains(q.Cloths, c.ID))
	}
	k.listPoses()
	return k
}

// listPoses lists the allowed ways to lie, without those that look the same.
func (k *kind) listPoses() {
	turns := slices.Clone(k.Turns)
	if k.Turns == nil {
		for d := range 360 {
			turns = append(turns, d)
		}
	}
	var seen []geom.Outline
	add := func(turn int, flip bool) {
		turn = ((turn % 360) + 360) % 360
		for i := range k.turns {
			if k.turns[i] == turn && k.flips[i] == flip {
				return
			}
		}
		if k.Turns != nil {
			o := standard(k.lay(k.Outline, turn, flip))
			if slices.ContainsFunc(seen, func(s geom.Outline) bool { return slices.Equal(s, o) }) {
				return
			}
			seen = append(seen, o)
		}
		k.turns, k.flips = append(k.turns, turn), append(k.flips, flip)
	}
	for _, d := range turns {
		add(d, false)
		if k.Mirror {
			add(d, true)
		}
	}
	k.poses = make([]*pose, len(k.turns))
}

// standard moves an outline to the origin and starts it at its least corner,
// so that outlines that look the same are equal.
func standard(o geom.Outline) geom.Outline {
	b := o.Box()
	o = o.CounterClockwise().Move(geom.Point{X: -b.Min.X, Y: -b.Min.Y})
	first := 0
	for i, p := range o {
		if p.X < o[first].X || p.X == o[first].X && p.Y < o[first].Y {
			first = i
		}
	}
	return append(slices.Clone(o[first:]), o[:first]...)
}

func (k *kind) lay(o geom.Outline, turn int, flip bool) geom.Outline {
	if flip {
		o = o.Mirror()
	}
	return o.Turn(turn)
}

// pose makes pose i, or returns it where it is made.
func (k *kind) pose(i int) *pose {
	if k.poses[i] != nil {
		return k.poses[i]
	}
	p := &pose{turn: k.turns[i], mirror: k.flips[i]}
	p.out = k.lay(k.Outline, p.turn, p.mirror)
	// Rounding may bring a corner of the true outline out of the turned
	// simple one; then the turned true one is simplified instead.
	simple := k.lay(k.grown, p.turn, p.mirror)
	if p.turn%90 != 0 && (simple.Box() != p.out.Box() || simple.Fault() != "" || !geom.Within(p.out, simple)) {
		simple = geom.Grow(p.out, p.out.Area()/growPart)
	}
	p.ring, p.box = ringOf(simple.CounterClockwise(), 0), boxOf(p.out.Box())
	p.diam, p.root = k.diam, math.Sqrt(math.Sqrt(k.hull))
	k.turnPoles(p)
	k.poses[i] = p
	return p
}

// ready finds the circles, which the first layout does not need.
func (k *kind) ready() {
	if k.poles != nil {
		return
	}
	k.poles = polesOf(k.grown)
	for _, p := range k.poses {
		if p != nil {
			k.turnPoles(p)
		}
	}
}

func (k *kind) turnPoles(p *pose) {
	sin, cos := math.Sincos(float64(p.turn) * math.Pi / 180)
	for _, q := range k.poles {
		if p.mirror {
			q.y = -q.y
		}
		p.poles = append(p.poles, pole{float64(cos*q.x) - float64(sin*q.y), float64(sin*q.x) + float64(cos*q.y), q.r})
	}
	p.light, p.radii = lighten(p.poles)
}

func diameter(o geom.Outline) float64 {
	far, h := 0.0, o.Hull()
	for i, p := range h {
		for _, q := range h[:i] {
			far = max(far, math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y)))
		}
	}
	return far
}

// mostPoles is how many circles stand for a shape. More see overlaps better
// but cost time by their square; 16 gave no denser layouts at the same number
// of steps, and 5 looser ones.
const mostPoles = 8

// pole is an inscribed circle.
type pole struct{ x, y, r float64 }

// polesOf finds circles inside an outline, each the greatest that avoids
// those before it: the poles of
// inaccessibility of arXiv 2509.13329, found by halving squares.
func polesOf(o geom.Outline) []pole {
	var poles []pole
	for len(poles) < mostPoles {
		p := nextPole(o, poles)
		if p.r <= 0 {
			break
		}
		poles = append(poles, p)
	}
	return poles
}

// nextPole halves the squares that might hold a greater circle than the best
// so far, ten times at most.
func nextPole(o geom.Outline, have []pole) pole {
	type square struct{ x, y, half, r float64 }
	b := o.Box()
	side := float64(max(b.Width(), b.Height()))
	best := pole{}
	look := func(x, y, half float64) square {
		s := square{x, y, half, room(o, have, x, y)}
		if s.r > best.r {
			best = pole{x, y, s.r}
		}
		return s
	}
	row := []square{look(float64(b.Min.X)+side/2, float64(b.Min.Y)+side/2, side/2)}
	for level := 0; level < 10 && len(row) > 0; level++ {
		var next []square
		for _, s := range row {
			if s.r+s.half*math.Sqrt2 <= best.r*1.001 {
				continue
			}
			h := s.half / 2
			next = append(next, look(s.x-h, s.y-h, h), look(s.x+h, s.y-h, h), look(s.x-h, s.y+h, h), look(s.x+h, s.y+h, h))
		}
		row = next
	}
	return best
}

// room is the distance from a point to the border or the nearest circle,
// below 0 outside.
func room(o geom.Outline, have []pole, x, y float64) float64 {
	d := signedDistance(o, x, y)
	for _, p := range have {
		d = min(d, math.Hypot(p.x-x, p.y-y)-p.r)
	}
	return d
}

// signedDistance is the distance of a point from the border of an outline,
// above 0 inside. It guides and never decides.
func signedDistance(o geom.Outline, x, y float64) float64 {
	in, least := false, math.Inf(1)
	a := o[len(o)-1]
	for _, b := range o {
		ax, ay, bx, by := float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)
		ux, uy, vx, vy := bx-ax, by-ay, x-ax, y-ay
		t := min(max((ux*vx+uy*vy)/(ux*ux+uy*uy), 0), 1)
		dx, dy := vx-t*ux, vy-t*uy
		least = min(least, dx*dx+dy*dy)
		if (ay > y) != (by > y) && x < ax+(y-ay)*(bx-ax)/(by-ay) {
			in = !in
		}
		a = b
	}
	if in {
		return math.Sqrt(least)
	}
	return -math.Sqrt(least)
}

// light is a pole in single precision.
type light struct{ x, y, r float32 }

func lighten(ps []pole) (out []light, radii float32) {
	for _, p := range ps {
		radii += float32(p.r)
		out = append(out, light{float32(p.x), float32(p.y), float32(p.r)})
	}
	return out, radii
}
