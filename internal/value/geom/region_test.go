package geom

import (
	"math/big"
	"slices"
	"testing"

	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

// op is one of the four set operations, with the sentence it must obey.
type op struct {
	name string
	do   func(r, s Region) Region
	in   func(a, b bool) bool
}

var ops = []op{
	{"union", Region.Union, func(a, b bool) bool { return a || b }},
	{"intersect", Region.Intersect, func(a, b bool) bool { return a && b }},
	{"minus", Region.Minus, func(a, b bool) bool { return a && !b }},
	{"xor", Region.Xor, func(a, b bool) bool { return a != b }},
}

// anyRegion draws outlines with every kind of fault, corners on a grid of
// side+1 by side+1 points a step apart.
func anyRegion(t *rapid.T, side, step int64, name string) Region {
	var r Region
	for range rapid.IntRange(0, 3).Draw(t, name+"outlines") {
		var o Outline
		for range rapid.IntRange(1, 7).Draw(t, name+"corners") {
			x, y := rapid.Int64Range(0, side).Draw(t, name+"x"), rapid.Int64Range(0, side).Draw(t, name+"y")
			o = append(o, Point{units.Length(x * step), units.Length(y * step)})
		}
		r = append(r, o)
	}
	return r
}

// winding counts how often r winds round p by adding up quarters: the judge's
// own way, with no ray. on says that p lies on the border.
func winding(r Region, p Point) (n int, on bool) {
	quarter := func(q Point) int {
		switch {
		case q.X > 0 && q.Y >= 0:
			return 0
		case q.X <= 0 && q.Y > 0:
			return 1
		case q.X < 0:
			return 2
		}
		return 3
	}
	sum := 0
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			a, b = a.Minus(p), b.Minus(p)
			cross := int64(a.X)*int64(b.Y) - int64(a.Y)*int64(b.X)
			if cross == 0 && a.X*b.X <= 0 && a.Y*b.Y <= 0 {
				return 0, true
			}
			d := (quarter(b) - quarter(a) + 4) % 4
			switch {
			case d == 3:
				sum--
			case d == 2 && cross < 0:
				sum -= 2
			default:
				sum += d
			}
		}
	}
	return sum / 4, false
}

// slabs is twice the exact area of what r and s wind round as in says, by
// vertical slabs between all ends and crossings in rational numbers: the
// judge's own way, with no graph.
func slabs(r, s Region, in func(a, b bool) bool) *big.Rat {
	segs := segments(r, s)
	var xs []*big.Rat
	for i, e := range segs {
		xs = append(xs, rat(int64(e.a.X)), rat(int64(e.b.X)))
		for _, f := range segs[:i] {
			u, v, w := e.b.Minus(e.a), f.b.Minus(f.a), f.a.Minus(e.a)
			if den := det(u.X, u.Y, v.X, v.Y); den.Sign() != 0 {
				k := new(big.Rat).Quo(det(w.X, w.Y, v.X, v.Y), den)
				xs = append(xs, k.Add(k.Mul(k, rat(int64(u.X))), rat(int64(e.a.X)))) // crossings of the whole lines: too many do no harm
			}
		}
	}
	slices.SortFunc(xs, (*big.Rat).Cmp)
	xs = slices.CompactFunc(xs, func(p, q *big.Rat) bool { return p.Cmp(q) == 0 })
	sum := new(big.Rat)
	for i := 1; i < len(xs); i++ {
		sum.Add(sum, slab(segs, xs[i-1], xs[i], in))
	}
	return sum
}

func slab(segs []segment, x0, x1 *big.Rat, in func(a, b bool) bool) *big.Rat {
	type bar struct {
		y   *big.Rat // at the middle of the slab
		of  int
		way int
	}
	mid := new(big.Rat).Add(x0, x1)
	mid.Quo(mid, rat(2))
	var bars []bar
	for _, e := range segs {
		way, a, b := 1, e.a, e.b
		if a.X > b.X {
			way, a, b = -1, b, a
		}
		if rat(int64(a.X)).Cmp(mid) < 0 && rat(int64(b.X)).Cmp(mid) > 0 {
			y := new(big.Rat).Sub(mid, rat(int64(a.X)))
			y.Mul(y, big.NewRat(int64(b.Y-a.Y), int64(b.X-a.X)))
			bars = append(bars, bar{y.Add(y, rat(int64(a.Y))), e.of, way})
		}
	}
	slices.SortFunc(bars, func(p, q bar) int { return p.y.Cmp(q.y) })
	high, w := new(big.Rat), [2]int{}
	for i, b := range bars {
		if i > 0 && in(w[0] != 0, w[1] != 0) {
			high.Add(high, new(big.Rat).Sub(b.y, bars[i-1].y))
		}
		w[b.of] += b.way
	}
	high.Mul(high, new(big.Rat).Sub(x1, x0))
	return high.Mul(high, rat(2))
}

// inOrder says what keeps a region from being in order, by brute force.
func inOrder(r Region) string {
	for i, o := range r {
		if f := o.Fault(); f != "" {
			return f
		}
		for k, p := range o {
			a, b := o[(k+len(o)-1)%len(o)], o[(k+1)%len(o)]
			if Orient(a, p, b) == 0 {
				return "has a corner on a straight run"
			}
			if k > 0 && byXY(o[0], p) >= 0 {
				return "does not begin at its least corner"
			}
		}
		if i > 0 && byXY(r[i-1][0], o[0]) > 0 {
			return "has outlines out of order"
		}
		for _, p := range r[:i] {
			if why := crossOrShare(o, p); why != "" {
				return why
			}
		}
	}
	return sides(r)
}

func crossOrShare(o, p Outline) string {
	for i := range o {
		a, b := o.edge(i)
		for j := range p {
			c, d := p.edge(j)
			if Meet(a, b, c, d) == Crossing {
				return "has outlines that cross"
			}
			if alongside(a, b, c, d) {
				return "has outlines that run along one another"
			}
		}
	}
	return ""
}

// alongside says whether ab and cd share more than a point.
func alongside(a, b, c, d Point) bool {
	if Orient(a, b, c) != 0 || Orient(a, b, d) != 0 {
		return false
	}
	u := b.Minus(a)
	f := func(q Point) int64 { q = q.Minus(a); return int64(q.X)*int64(u.X) + int64(q.Y)*int64(u.Y) }
	return min(max(f(a), f(b)), max(f(c), f(d))) > max(min(f(a), f(b)), min(f(c), f(d)))
}

// sides holds every outline's turn against how many others hold it.
func sides(r Region) string {
	for i, o := range r {
		depth := 0
		for j, p := range r {
			if i == j {
				continue
			}
			for k := range o { // the first corner or middle of an edge that is off p tells
				a, b := o.edge(k)
				s := where(p, Point{2 * a.X, 2 * a.Y}, 2)
				if s == On {
					s = where(p, a.Plus(b), 2)
				}
				if s == Inside {
					depth++
				}
				if s != On {
					break
				}
			}
		}
		if (o.Twice() > 0) != (depth%2 == 0) {
			return "has an outline that runs the wrong way"
		}
	}
	return ""
}

// On a grid of 4 by 4 points two lines cross at a point whose denominator
// divides a number up to 18, so with steps of their least common multiple all
// crossings are lattice points: nothing may be rounded, every area and every
// point must be right to the last digit.
const exactStep = 12252240 // lcm(1..18)

func TestBooleanExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyRegion(t, 3, exactStep, "a"), anyRegion(t, 3, exactStep, "b")
		for _, op := range ops {
			got := op.do(a, b)
			if why := inOrder(got); why != "" {
				t.Fatalf("%s of %v and %v is %v, which %s", op.name, a, b, got, why)
			}
			if want := slabs(a, b, op.in); rat(got.Twice()).Cmp(want) != 0 {
				t.Fatalf("%s of %v and %v: %v, area %d/2, want %s/2", op.name, a, b, got, got.Twice(), want)
			}
			for range 20 {
				p := point(t, 2*exactStep, "p").Plus(Point{3 * exactStep / 2, 3 * exactStep / 2})
				na, onA := winding(a, p)
				nb, onB := winding(b, p)
				n, on := winding(got, p)
				if !onA && !onB && (on || (n != 0) != op.in(na != 0, nb != 0) || (n != 0) != (got.Where(p) == Inside)) {
					t.Fatalf("%s of %v and %v: %v is wrong at %v (%d, %d)", op.name, a, b, got, p, na, nb)
				}
			}
			if again := Fill(got...); !same(again, got) {
				t.Fatalf("filling %v gives %v", got, again)
			}
		}
	})
}

func same(r, s Region) bool { return slices.EqualFunc(r, s, slices.Equal) }
