package trace

import (
	"math"
	"slices"
)

// follow is the border of the cloth as one closed line, to a part of a pixel,
// clockwise as one sees it. It goes from pixel side to pixel side with the
// cloth at the right hand, pixels that meet in a corner only being apart
// (border following; S. Suzuki and K. Abe, Topological structural analysis of
// digitized binary images by border following, CVGIP 30, 1985; from memory),
// and lays each place where the score between the two pixels passes 0. blur is
// over how many pixels the score passes from one colour to the other.
func (p *parted) follow() (border []Spot, blur float64) {
	in := func(x, y int) bool { return x >= 0 && y >= 0 && x < p.w && y < p.h && p.in[y*p.w+x] }
	first := 0
	for !p.in[first] {
		first++
	}
	x0, y0 := first%p.w, first/p.w
	x, y, dx, dy := x0, y0, 1, 0
	var steep []float64
	for {
		ix, iy := x+(dx-dy-1)/2, y+(dx+dy-1)/2 // the pixel at the right of this side
		ox, oy := ix+dy, iy-dx                 // and at its left
		t, slope := p.passes(ix, iy, ox, oy)
		if slope > 0 {
			steep = append(steep, slope)
		}
		m := middle(ix, iy)
		border = append(border, Spot{m.X + t*float64(dy), m.Y - t*float64(dx)})
		x, y = x+dx, y+dy
		switch { // ahead at the right, then ahead at the left
		case !in(ix+dx, iy+dy):
			dx, dy = -dy, dx
		case in(ox+dx, oy+dy):
			dx, dy = dy, -dx
		}
		if x == x0 && y == y0 && dx == 1 && dy == 0 {
			break
		}
	}
	blur = 2
	if len(steep) > 0 {
		blur = max(1, 2*p.contrast/median(steep))
	}
	return even(border), blur
}

// passes is where between an inner and an outer pixel the score passes 0, and
// how steeply.
func (p *parted) passes(ix, iy, ox, oy int) (t, slope float64) {
	if ox < 0 || oy < 0 || ox >= p.w || oy >= p.h {
		return 0.5, 0
	}
	a, b := float64(p.score[iy*p.w+ix]), float64(p.score[oy*p.w+ox])
	if a <= 0 || b >= 0 {
		return 0.5, 0
	}
	return a / (a - b), a - b
}

// even takes each place with its two neighbours.
func even(s []Spot) []Spot {
	out := make([]Spot, len(s))
	for i := range s {
		out[i] = s[(i+len(s)-1)%len(s)].plus(s[i].by(2)).plus(s[(i+1)%len(s)]).by(0.25)
	}
	return out
}

// thin is which places are left when what lies within off of the line without
// it is left out (U. Ramer 1972, D. Douglas and T. Peucker 1973).
func thin(s []Spot, off float64) []int {
	far := 0
	for i := range s {
		if s[i].apart(s[0]) > s[far].apart(s[0]) {
			far = i
		}
	}
	if far == 0 {
		return []int{0}
	}
	return append(between(s, 0, far, off), between(s, far, len(s), off)...)
}

// between thins from a to b, where b stands for the first place when it is the
// number of all; b itself is left out.
func between(s []Spot, a, b int, off float64) []int {
	far, most := a, off
	for i := a + 1; i < b; i++ {
		if d := toSegment(s[i], s[a], s[b%len(s)]); d > most {
			far, most = i, d
		}
	}
	if far == a {
		return []int{a}
	}
	return append(between(s, a, far, off), between(s, far, b, off)...)
}

// corners thins the border and makes its corners sharp again: a border between
// blurred colours cuts them. Where two straight runs with a bend between them
// meet close to where they end, the corner is where the lines through them
// meet.
func corners(s []Spot, off float64) []Spot {
	const straight, short, near = 12, 7, 5 // pixels
	at := thin(s, off)
	var runs []run
	for k, a := range at {
		b := at[(k+1)%len(at)]
		if b <= a {
			b += len(s)
		}
		runs = append(runs, fitted(s, a, b, straight))
	}
	var out []Spot
	for k := 0; k < len(runs); k++ {
		r := runs[k]
		before := runs[(k+len(runs)-1)%len(runs)]
		after := runs[(k+1)%len(runs)]
		switch {
		case r.long && before.long:
			out = append(out, sharp(before.line, r.line, r.from, near))
		case !r.long && before.long && after.long && r.size < short:
			p := sharp(before.line, after.line, r.from.plus(after.from).by(0.5), near)
			if p.apart(r.from) < near {
				out = append(out, p)
				continue
			}
			out = append(out, r.from)
		case r.long && !before.long && before.size < short && len(runs) > 2 && runs[(k+len(runs)-2)%len(runs)].long:
			if p := sharp(runs[(k+len(runs)-2)%len(runs)].line, r.line, before.from.plus(r.from).by(0.5), near); p.apart(before.from) >= near {
				out = append(out, r.from)
			}
		default:
			out = append(out, r.from)
		}
	}
	return out
}

// run is what lies between two corners of a thinned border.
type run struct {
	from Spot
	size float64
	line line // through its middle part, where it is long
	long bool
}

func fitted(s []Spot, a, b int, straight float64) run {
	n := len(s)
	r := run{from: s[a%n], size: s[a%n].apart(s[b%n])}
	if r.size < straight {
		return r
	}
	var inner []Spot
	for i := a; i <= b; i++ {
		if p := s[i%n]; p.apart(s[a%n]) > 4 && p.apart(s[b%n]) > 4 {
			inner = append(inner, p)
		}
	}
	if len(inner) < 4 {
		return r
	}
	way := s[b%n].minus(s[a%n]).by(1 / r.size)
	l, _, m := leastSquares(line{s[a%n], way}, inner)
	r.line, r.long = l, m >= 4
	return r
}

// sharp is where two lines meet, if they bend by 20 degrees or more and meet
// near enough to p; else p.
func sharp(a, b line, p Spot, near float64) Spot {
	if math.Abs(a.way.cross(b.way)) < 0.34 {
		return p
	}
	if q, ok := a.meet(b); ok && q.apart(p) < near {
		return q
	}
	return p
}

func toSegment(p, a, b Spot) float64 {
	u, v := b.minus(a), p.minus(a)
	uu := u.X*u.X + u.Y*u.Y
	if uu == 0 {
		return v.long()
	}
	t := min(max((u.X*v.X+u.Y*v.Y)/uu, 0), 1)
	return math.Hypot(v.X-t*u.X, v.Y-t*u.Y)
}

func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}
