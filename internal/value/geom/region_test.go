package geom

import (
	"math/big"
	"math/rand/v2"
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
				if k.Sign() >= 0 && k.Cmp(rat(1)) <= 0 { // on e, and perhaps not on f: too many do no harm
					xs = append(xs, k.Add(k.Mul(k, rat(int64(u.X))), rat(int64(e.a.X))))
				}
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

func TestBooleanByHand(t *testing.T) {
	sq := func(x, y, side units.Length) Outline { return Rect(side, side).Move(Point{x, y}) }
	u := units.Length(100)
	frame := Region{sq(0, 0, 9*u)}.Minus(Region{sq(3*u, 3*u, 3*u)})
	corners := Fill(sq(0, 0, u), sq(u, u, u))
	for _, c := range []struct {
		name  string
		got   Region
		parts int
		twice int64 // by hand, in squares of u
	}{
		{"nothing", Region{}.Union(nil), 0, 0},
		{"too few corners", Fill(Outline{}, Outline{{1, 1}}, Outline{{1, 1}, {5, 9}}), 0, 0},
		{"clockwise", Fill(Outline{{0, 0}, {0, u}, {u, u}, {u, 0}}), 1, 2},
		{"bow tie", Fill(Outline{{0, 0}, {2 * u, 2 * u}, {2 * u, 0}, {0, 2 * u}}), 2, 4},
		{"twice round", Fill(Outline{{0, 0}, {u, 0}, {u, u}, {0, u}, {0, 0}, {u, 0}, {u, u}, {0, u}}), 1, 2},
		{"there and back", Fill(Outline{{0, 0}, {u, 0}, {u, u}, {0, u}, {0, 0}, {0, u}, {u, u}, {u, 0}}), 0, 0},
		{"a spike", Fill(Outline{{0, 0}, {2 * u, 0}, {u, 0}, {u, u}, {0, u}}), 1, 2},
		{"side by side", Region{sq(0, 0, u)}.Union(Region{sq(u, 0, u)}), 1, 4},
		{"side by side, in common", Region{sq(0, 0, u)}.Intersect(Region{sq(u, 0, u)}), 0, 0},
		{"corner to corner", corners, 2, 4},
		{"the two other corners", Region{sq(0, 0, 2*u)}.Minus(corners), 2, 4},
		{"frame", frame, 2, 2 * 72},
		{"frame, filled", frame.Union(Region{sq(3*u, 3*u, 3*u)}), 1, 2 * 81},
		{"island in the hole", frame.Union(Region{sq(4*u, 4*u, u)}), 3, 2 * 73},
		{"hole touching outside in a corner", Region{sq(0, 0, 4*u)}.Minus(Region{{{2 * u, 0}, {3 * u, u}, {2 * u, 2 * u}, {u, u}}}), 2, 2 * 14},
		{"held together by corners", Region{sq(0, 0, 2*u)}.Minus(Region{{{u, 0}, {2 * u, u}, {u, u}}}).Minus(Region{{{0, u}, {u, u}, {u, 2 * u}}}), 4, 6},
		{"holes touching", Region{sq(0, 0, 4*u)}.Minus(Region{sq(u, u, u), sq(2*u, 2*u, u)}), 3, 2 * 14},
		{"two halves", frame.Minus(Region{Rect(9*u, 3*u).Move(Point{0, 3 * u})}), 2, 2 * 54},
		{"xor of the same", frame.Xor(frame), 0, 0},
		{"xor of turned holes", frame.Xor(Region{sq(0, 0, 9*u)}), 1, 18},
	} {
		if len(c.got) != c.parts || c.got.Twice() != c.twice*int64(u*u) {
			t.Errorf("%s: %v", c.name, c.got)
		}
		if why := inOrder(c.got); why != "" {
			t.Errorf("%s: %v %s", c.name, c.got, why)
		}
	}
	// A wedge that rounding would close: where edges cross on the lattice only,
	// nothing is rounded.
	thin := Region{{{0, 0}, {9, 28}, {0, 20}}, {{9, 28}, {15, 33}, {60, 70}, {14, 33}, {10, 30}}}
	if got := Fill(thin...); !same(got, thin) {
		t.Errorf("the thin wedge: %v", got)
	}
	plus := Region{Rect(30, 10).Move(Point{100, 10}), Rect(10, 30).Move(Point{110, 0})} // 500
	if got := thin.Union(plus); got.Twice() != thin.Twice()+1000 {
		t.Errorf("the thin wedge beside crossings on the lattice: %v", got)
	}
	if frame.Where(Point{4 * u, 4 * u}) != Outside || frame.Where(Point{u, u}) != Inside || frame.Where(Point{3 * u, 4 * u}) != On || frame.Area() != units.Area(72*u*u) || frame.Box() != sq(0, 0, 9*u).Box() {
		t.Error("the frame, its hole, its border, its area or its box")
	}
}

// from: products of whole numbers. A comb of n teeth laid across another, the
// area of the squares where teeth cross; and a rectangle put together from
// pieces that overlap.
func TestBooleanCombs(t *testing.T) {
	n := units.Length(40)
	var teeth Region
	for i := range n {
		teeth = append(teeth, Rect(3000, 10*n*1000).Move(Point{i * 10000, 0}))
	}
	comb := teeth.Union(Region{Rect(10*n*1000, 1000).Move(Point{0, -1000})})
	if len(comb) != 1 || comb.Twice() != 2*int64(n*3000*10*n*1000+10*n*1000*1000) {
		t.Fatalf("the comb: %d outlines, %d", len(comb), comb.Twice())
	}
	across := Region{comb[0].Turn(90).Move(Point{10 * n * 1000, 0})}
	both := comb.Intersect(across)
	if why := inOrder(both); why != "" || both.Twice() < 2*int64(n*n*3000*3000) {
		t.Errorf("teeth across teeth: %s, %d", why, both.Twice())
	}
	if want := slabs(comb, across, ops[1].in); rat(both.Twice()).Cmp(want) != 0 {
		t.Errorf("teeth across teeth: %d, want %s", both.Twice(), want)
	}
	if lattice := comb.Union(across); len(lattice) < int((n-1)*(n-1)) {
		t.Errorf("a lattice of %d outlines", len(lattice))
	}
	var rect Region
	for i := range units.Length(100) {
		rect = rect.Union(Region{Rect(1500, 7000+i*10).Move(Point{i * 1000, -i * 10})})
	}
	if got := rect.Intersect(Region{Rect(100e3, 7000)}); !same(got, Region{Rect(100e3, 7000)}) {
		t.Errorf("a rectangle in pieces: %v", got)
	}
}

// Many cells of the grid: the judge's winding at places all over, and what no
// two edges of a region may do.
func TestBooleanLarge(t *testing.T) {
	d := dice{rand.New(rand.NewPCG(7, 8))}
	holdsLarge := func(a, b Region, places int) {
		holdsBooleans(t, d, a, b, false)
		for _, op := range ops {
			got := op.do(a, b)
			for range places {
				p := Point{units.Length(d.Int64N(1200e3)) - 600e3, units.Length(d.Int64N(1200e3)) - 600e3}
				na, _ := winding(a, p)
				nb, _ := winding(b, p)
				if n, _ := winding(got, p); n != 0 != op.in(na != 0, nb != 0) && !close2(a, p) && !close2(b, p) {
					t.Fatalf("%s is wrong at %v", op.name, p)
				}
			}
		}
	}
	holdsLarge(Region{wavy(1200, 1)}, Region{wavy(1000, 2).Move(Point{100e3, 50e3})}, 200)
	var dust Region // many parts, each inside or beside others
	for range 300 {
		o := wavy(3+d.IntN(5), d.Uint64N(9))
		for i := range o {
			o[i] = Point{o[i].X / 20, o[i].Y / 20}
		}
		dust = append(dust, o.Move(Point{units.Length(d.Int64N(1000e3)) - 500e3, units.Length(d.Int64N(1000e3)) - 500e3}))
	}
	holdsLarge(dust, Region{wavy(200, 3)}, 200)
}

// Shapes moved by a micrometre, and wedges thinner than one: the answer must
// be in order and its area within the bound of the sentence of Region. from:
// the slabs, exact.
func TestBooleanNearlyTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := star(t, rapid.SampledFrom([]int64{10, 1000, 1e7}).Draw(t, "reach"), "r")
		var b Region
		if rapid.Bool().Draw(t, "wedge") {
			p, q := point(t, 1e8, "p"), point(t, 1e8, "q")
			b = Region{{p, q, q.Plus(point(t, 2, "d"))}}
		} else {
			b = Region{o.Move(point(t, 1, "d"))}
			b[0][3] = b[0][3].Plus(point(t, 1, "e"))
		}
		a, op := Region{o}, rapid.SampledFrom(ops).Draw(t, "op")
		got := op.do(a, b)
		if why := inOrder(got); why != "" {
			t.Fatalf("%s of %v and %v: %v %s", op.name, a, b, got, why)
		}
		off := new(big.Rat).Sub(rat(got.Twice()), slabs(a, b, op.in))
		if off.Abs(off).Cmp(rat(2*int64(rim(a)+rim(b)))) > 0 {
			t.Fatalf("%s of %v and %v: %v, twice the area is %s off", op.name, a, b, got, off)
		}
	})
}

// Sets obey these whatever they are.
func TestBooleanLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := Fill(anyRegion(t, 3, exactStep, "a")...), Fill(anyRegion(t, 3, exactStep, "b")...), Fill(anyRegion(t, 3, exactStep, "c")...)
		box := Region{Rect(3*exactStep, 3*exactStep)}
		not := func(r Region) Region { return box.Minus(r) }
		move := func(r Region, d Point) Region {
			out := Region{}
			for _, o := range r {
				out = append(out, o.Move(d))
			}
			return out
		}
		turn := func(r Region) Region {
			out := Region{}
			for _, o := range r {
				out = append(out, o.Turn(90))
			}
			return out
		}
		d := point(t, 1e8, "d")
		for _, law := range []struct {
			name string
			l, r Region
		}{
			{"A = A or A", a, a.Union(a)},
			{"A or B = B or A", a.Union(b), b.Union(a)},
			{"A xor B = B xor A", a.Xor(b), b.Xor(a)},
			{"(A-B) or (A and B) = A", a.Minus(b).Union(a.Intersect(b)), a},
			{"A xor B = (A or B) - (A and B)", a.Xor(b), a.Union(b).Minus(a.Intersect(b))},
			{"not (A or B) = not A and not B", not(a.Union(b)), not(a).Intersect(not(b))},
			{"not not A = A", not(not(a)), a},
			{"moved", move(a.Xor(b), d), move(a, d).Xor(move(b, d))},
			{"turned", Fill(turn(a.Minus(b))...), turn(a).Minus(turn(b))},
		} {
			if !same(law.l, law.r) {
				t.Fatalf("%s: %v and %v give %v and %v", law.name, a, b, law.l, law.r)
			}
		}
		// Three sets may cross off the lattice.
		l, r := a.Union(b).Intersect(c), a.Intersect(c).Union(b.Intersect(c))
		if off := l.Twice() - r.Twice(); off > 4*int64(rim(a)+rim(b)+rim(c)) || -off > 4*int64(rim(a)+rim(b)+rim(c)) {
			t.Fatalf("(A or B) and C: %v and %v", l, r)
		}
		// Rounding moves with the lattice.
		s := Region{star(t, 1000, "s"), star(t, 700, "s").Move(Point{333, 77})}
		if !same(move(Fill(s...), d), Fill(move(s, d)...)) {
			t.Fatalf("%v moved by %v", s, d)
		}
	})
}
