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

// thin leaves out what lies within off of the line without it (U. Ramer 1972,
// D. Douglas and T. Peucker 1973).
func thin(s []Spot, off float64) []Spot {
	far := 0
	for i := range s {
		if s[i].apart(s[0]) > s[far].apart(s[0]) {
			far = i
		}
	}
	if far == 0 {
		return s
	}
	closed := append(append([]Spot{}, s...), s[0])
	return append(between(closed[:far+1], off), between(closed[far:], off)...)
}

// between is a line thinned, without its last place.
func between(s []Spot, off float64) []Spot {
	a, b := s[0], s[len(s)-1]
	far, most := 0, off
	for i := 1; i < len(s)-1; i++ {
		if d := toSegment(s[i], a, b); d > most {
			far, most = i, d
		}
	}
	if far == 0 {
		return []Spot{a}
	}
	return append(between(s[:far+1], off), between(s[far:], off)...)
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
