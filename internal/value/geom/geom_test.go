package geom

import (
	"math"
	"math/big"
	"testing"

	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

func point(t *rapid.T, reach int64, name string) Point {
	g := rapid.Int64Range(-reach, reach)
	return Point{units.Length(g.Draw(t, name+"x")), units.Length(g.Draw(t, name+"y"))}
}

// star draws a simple outline: corners round the origin, at rising angles of
// the 16 winds, so that it may be hollow but never crosses itself.
func star(t *rapid.T, reach int64, name string) Outline {
	winds := [...]Point{{4, 0}, {4, 2}, {3, 3}, {2, 4}, {0, 4}, {-2, 4}, {-3, 3}, {-4, 2}, {-4, 0}, {-4, -2}, {-3, -3}, {-2, -4}, {0, -4}, {2, -4}, {3, -3}, {4, -2}}
	var o Outline
	for _, w := range winds {
		r := units.Length(rapid.Int64Range(1, reach).Draw(t, name))
		o = append(o, Point{w.X * r, w.Y * r})
	}
	return o
}

// Oracle: the determinant in big integers.
func TestOrientIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{3, 1000, 1 << 28, 1 << 61}).Draw(t, "reach")
		a, b, c := point(t, reach, "a"), point(t, reach, "b"), point(t, reach, "c")
		n := func(l units.Length) *big.Int { return big.NewInt(int64(l)) }
		sub := func(p, q units.Length) *big.Int { return new(big.Int).Sub(n(p), n(q)) }
		u := new(big.Int).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
		v := new(big.Int).Mul(sub(b.Y, a.Y), sub(c.X, a.X))
		if want := u.Cmp(v); Orient(a, b, c) != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, c, Orient(a, b, c), want)
		}
	})
}

// Oracle: the crossing point and the distance in rational numbers.
func TestSegments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{2, 4, 1 << 28}).Draw(t, "reach")
		a, b, c, d := point(t, reach, "a"), point(t, reach, "b"), point(t, reach, "c"), point(t, reach, "d")
		if a == b || c == d {
			t.Skip("no segment")
		}
		if m, want := Meet(a, b, c, d), meetRat(a, b, c, d); m != want {
			t.Fatalf("Meet(%v %v, %v %v) = %d, want %d", a, b, c, d, m, want)
		}
		gap := units.Length(rapid.Int64Range(1, 2*reach).Draw(t, "gap"))
		want := meetRat(a, b, c, d) != Apart
		for _, q := range [][3]Point{{a, c, d}, {b, c, d}, {c, a, b}, {d, a, b}} {
			want = want || dist2(q[0], q[1], q[2]).Cmp(rat(int64(gap)*int64(gap))) < 0
		}
		if got := segmentsNearer(a, b, c, d, gap); got != want {
			t.Fatalf("nearer %v %v, %v %v, %d: %v", a, b, c, d, gap, got)
		}
	})
}

func rat(v int64) *big.Rat { return new(big.Rat).SetInt64(v) }

func det(ax, ay, bx, by units.Length) *big.Rat {
	p := new(big.Rat).Mul(rat(int64(ax)), rat(int64(by)))
	return p.Sub(p, new(big.Rat).Mul(rat(int64(ay)), rat(int64(bx))))
}

// meetRat solves a + s(b-a) = c + t(d-c).
func meetRat(a, b, c, d Point) Meeting {
	u, v, w := b.Minus(a), d.Minus(c), c.Minus(a)
	den := det(u.X, u.Y, v.X, v.Y)
	zero, one := rat(0), rat(1)
	if den.Sign() == 0 {
		if dist2(a, c, d).Sign() == 0 || dist2(b, c, d).Sign() == 0 || dist2(c, a, b).Sign() == 0 {
			return Touching
		}
		return Apart
	}
	s := new(big.Rat).Quo(det(w.X, w.Y, v.X, v.Y), den)
	r := new(big.Rat).Quo(det(w.X, w.Y, u.X, u.Y), den)
	switch {
	case s.Cmp(zero) < 0 || s.Cmp(one) > 0 || r.Cmp(zero) < 0 || r.Cmp(one) > 0:
		return Apart
	case s.Cmp(zero) > 0 && s.Cmp(one) < 0 && r.Cmp(zero) > 0 && r.Cmp(one) < 0:
		return Crossing
	}
	return Touching
}

// dist2 is the squared distance of p from the segment ab.
func dist2(p, a, b Point) *big.Rat {
	u, v := b.Minus(a), p.Minus(a)
	dot := func(p, q Point) *big.Rat {
		s := new(big.Rat).Mul(rat(int64(p.X)), rat(int64(q.X)))
		return s.Add(s, new(big.Rat).Mul(rat(int64(p.Y)), rat(int64(q.Y))))
	}
	t := new(big.Rat).Quo(dot(u, v), dot(u, u))
	if t.Sign() < 0 {
		t.SetInt64(0)
	} else if t.Cmp(rat(1)) > 0 {
		t.SetInt64(1)
	}
	x := new(big.Rat).Sub(rat(int64(v.X)), new(big.Rat).Mul(t, rat(int64(u.X))))
	y := new(big.Rat).Sub(rat(int64(v.Y)), new(big.Rat).Mul(t, rat(int64(u.Y))))
	x.Mul(x, x)
	return x.Add(x, y.Mul(y, y))
}

func TestWhere(t *testing.T) {
	// A square with a notch cut from the right to its middle.
	o := Outline{{0, 0}, {8, 0}, {8, 3}, {4, 4}, {8, 5}, {8, 8}, {0, 8}}
	for _, c := range []struct {
		p    Point
		want Side
	}{
		{Point{1, 1}, Inside}, {Point{3, 4}, Inside}, {Point{4, 4}, On}, {Point{5, 4}, Outside}, {Point{8, 4}, Outside},
		{Point{8, 1}, On}, {Point{0, 0}, On}, {Point{6, 3}, Inside}, {Point{9, 0}, Outside}, {Point{-1, 8}, Outside}, {Point{4, 0}, On},
	} {
		if got := o.Where(c.p); got != c.want {
			t.Errorf("%v: %d, want %d", c.p, got, c.want)
		}
	}
}

// cell is a picture of small outlines on a grid: brute force for Overlap and
// Within on outlines of grid squares.
func TestOverlapOfCombs(t *testing.T) {
	// comb is a row of columns of given heights standing on y = 0.
	comb := func(h []int64, at Point) Outline {
		o := Outline{{0, 0}}
		o = append(o, Point{units.Length(len(h)), 0})
		for i := len(h) - 1; i >= 0; i-- {
			o = append(o, Point{units.Length(i + 1), units.Length(h[i])}, Point{units.Length(i), units.Length(h[i])})
		}
		return o.Move(at)
	}
	heights := rapid.SliceOfN(rapid.Int64Range(1, 4), 1, 5)
	rapid.Check(t, func(t *rapid.T) {
		ha, hb := heights.Draw(t, "a"), heights.Draw(t, "b")
		at := point(t, 5, "at")
		a, b := comb(ha, Point{}), comb(hb, at)
		in := func(h []int64, x, y int64) bool { return x >= 0 && x < int64(len(h)) && y >= 0 && y < h[x] }
		both, onlyB := false, false
		for x := int64(-6); x < 12; x++ {
			for y := int64(-6); y < 12; y++ {
				inA, inB := in(ha, x, y), in(hb, x-int64(at.X), y-int64(at.Y))
				both, onlyB = both || inA && inB, onlyB || inB && !inA
			}
		}
		if Overlap(a, b) != both || Overlap(b, a) != both {
			t.Fatalf("overlap %v %v: want %v", a, b, both)
		}
		if Within(b, a) != !onlyB {
			t.Fatalf("within %v %v: want %v", b, a, !onlyB)
		}
	})
}

func TestOverlapByHand(t *testing.T) {
	sq := Rect(10, 10)
	diamond := Outline{{5, 0}, {10, 5}, {5, 10}, {0, 5}}
	for _, c := range []struct {
		name            string
		a, b            Outline
		overlap, within bool // within: a in b
	}{
		{"the same", sq, sq, true, true},
		{"the same, other turn", sq, Outline{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, true, true},
		{"corners on the border only", diamond, sq, true, true},
		{"side by side", sq, sq.Move(Point{10, 0}), false, false},
		{"side by side, shifted", sq, sq.Move(Point{10, 3}), false, false},
		{"corner to corner", sq, sq.Move(Point{10, 10}), false, false},
		{"by one micrometre", sq, sq.Move(Point{9, 0}), true, false},
		{"through corners only", diamond, diamond.Move(Point{5, 0}), true, false},
		{"filling a notch", Outline{{4, 10}, {5, 6}, {6, 10}}, Outline{{0, 0}, {10, 0}, {10, 10}, {6, 10}, {5, 6}, {4, 10}, {0, 10}}, false, false},
		{"a bridge over a notch", Outline{{4, 10}, {5, 8}, {6, 10}, {6, 11}, {4, 11}}, Outline{{0, 0}, {10, 0}, {10, 10}, {6, 10}, {5, 6}, {4, 10}, {0, 10}}, false, false},
	} {
		if got := Overlap(c.a, c.b); got != c.overlap {
			t.Errorf("%s: overlap %v", c.name, got)
		}
		if got := Overlap(c.b, c.a); got != c.overlap {
			t.Errorf("%s: overlap, the other way, %v", c.name, got)
		}
		if got := Within(c.a, c.b); got != c.within {
			t.Errorf("%s: within %v", c.name, got)
		}
	}
	if Nearer(sq, sq.Move(Point{15, 0}), 5) || !Nearer(sq, sq.Move(Point{15, 0}), 6) {
		t.Error("5 apart is not nearer than 5, and is nearer than 6")
	}
	if Nearer(sq, sq.Move(Point{13, 14}), 5) || !Nearer(sq, sq.Move(Point{13, 13}), 5) {
		t.Error("corners 3 and 4 apart are exactly 5 apart")
	}
}

func TestAreaBoxHull(t *testing.T) {
	o := Outline{{0, 0}, {4, 0}, {4, 4}, {2, 1}, {0, 4}}
	// by hand: 16 less a triangle of base 4 and height 3
	if o.Twice() != 20 || o.Mirror().Twice() != -20 || o.Area() != 10 {
		t.Errorf("area %d", o.Twice())
	}
	if got := o.Hull(); got.Twice() != 32 || len(got) != 4 {
		t.Errorf("hull %v", got)
	}
	wide := Rect(Reach, Reach).Move(Point{-Reach, 0})
	if wide.Twice() != 1<<57 {
		t.Errorf("area at reach: %d", wide.Twice())
	}
	if b := o.Move(Point{3, -1}).Box(); b != (Box{Point{3, -1}, Point{7, 3}}) || b.Width() != 4 || b.Height() != 4 {
		t.Errorf("box %v", b)
	}
}

func TestFault(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Outline
		good bool
	}{
		{"square", Rect(2, 2), true}, {"zero value", nil, false}, {"bow tie", Outline{{0, 0}, {2, 2}, {2, 0}, {0, 3}}, false}, {"even bow tie", Outline{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, false},
		{"spike", Outline{{0, 0}, {4, 0}, {2, 0}, {2, 3}}, false}, {"point twice", Outline{{0, 0}, {0, 0}, {4, 0}, {2, 3}}, false},
		{"touching itself", Outline{{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}, false}, {"flat", Outline{{0, 0}, {4, 0}, {8, 0}}, false},
		{"straight corner", Outline{{0, 0}, {1, 0}, {2, 0}, {2, 2}}, true}, {"too far", Rect(Reach+1, 1), false},
	} {
		if got := c.o.Fault(); (got == "") != c.good {
			t.Errorf("%s: %q", c.name, got)
		}
		if c.name == "too far" {
			continue
		}
		for _, o := range Fill(c.o) { // mended
			if why := o.Fault(); why != "" {
				t.Errorf("%s, filled, %s", c.name, why)
			}
		}
	}
}

func TestTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := point(t, int64(Reach/2), "p")
		o := Outline{p}
		if got := o.Turn(90).Turn(90).Turn(180); got[0] != p {
			t.Fatalf("four quarters: %v", got)
		}
		if o.Turn(-90)[0] != o.Turn(270)[0] || o.Turn(360)[0] != p {
			t.Fatal("turns are not taken round the circle")
		}
		d := rapid.IntRange(0, 359).Draw(t, "d")
		q := o.Turn(d)[0]
		// Rounding moves each coordinate by half a micrometre at most, so the
		// distance from the origin by no more than 0.71.
		if r, s := math.Hypot(float64(p.X), float64(p.Y)), math.Hypot(float64(q.X), float64(q.Y)); math.Abs(r-s) > 0.72 {
			t.Fatalf("radius %f became %f", r, s)
		}
	})
	// sin 30 degrees is a half, exactly.
	if got := (Outline{{2000000, 0}}).Turn(30)[0]; got != (Point{1732051, 1000000}) {
		t.Errorf("30 degrees: %v", got)
	}
}

func TestCircleAgainstClosedForm(t *testing.T) {
	for _, r := range []units.Length{10 * units.Millimetre, 105040, 2 * units.Metre} {
		for _, err := range []units.Length{10, 100, units.Millimetre} {
			o := Circle(Point{5, 7}, r, err)
			for i := range o {
				a, b := o.edge(i)
				if d := math.Hypot(float64(a.X-5), float64(a.Y-7)); math.Abs(d-float64(r)) > 0.72 {
					t.Fatalf("corner %v is %f from the centre", a, d)
				}
				rise := float64(r) - math.Hypot(float64(a.X+b.X)/2-5, float64(a.Y+b.Y)/2-7)
				if rise > float64(err)+0.72 {
					t.Fatalf("r %d: chord lies %f inside, more than %d", r, rise, err)
				}
			}
			full := math.Pi * float64(r) * float64(r)
			if got := float64(o.Area()); got > full || got < full*(1-2*float64(err)/float64(r))-4*float64(r) {
				t.Errorf("r %d err %d: area %f of %f", r, err, got, full)
			}
		}
	}
}

// The chord error is measured on a curve sampled far more finely.
func TestBezierChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p [4]Point
		for i := range p {
			p[i] = point(t, 2e6, "p")
		}
		err := units.Length(rapid.Int64Range(50, 5000).Draw(t, "err"))
		for _, cs := range [][2]Outline{
			{Cubic(p[0], p[1], p[2], p[3], err), Cubic(p[0], p[1], p[2], p[3], 1)},
			{Quadratic(p[0], p[1], p[2], err), Quadratic(p[0], p[1], p[2], 1)},
		} {
			coarse, fine := cs[0], cs[1]
			if coarse[0] != p[0] || coarse[len(coarse)-1] != fine[len(fine)-1] {
				t.Fatal("the ends moved")
			}
			for _, q := range fine {
				near := false
				for i := 1; i < len(coarse) && !near; i++ {
					near = coarse[i] == coarse[i-1] || nearer(q, coarse[i-1], coarse[i], err+3)
				}
				if !near {
					t.Fatalf("%v lies further than %d from the chords", q, err)
				}
			}
		}
	})
}

func TestGrowHoldsTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{5, 1000, 1 << 25}).Draw(t, "reach")
		o := star(t, reach, "r")
		if o.Fault() != "" {
			t.Skip("not simple")
		}
		slack := o.Area() / units.Area(rapid.Int64Range(1, 1000).Draw(t, "part"))
		g := Grow(o, slack)
		switch {
		case g.Fault() != "":
			t.Fatalf("%v became %v, which %s", o, g, g.Fault())
		case !Within(o, g):
			t.Fatalf("%v became %v, which does not hold it", o, g)
		case g.Twice() > o.Twice()+2*int64(slack):
			t.Fatalf("grew by %d, more than %d", g.Area()-o.Area(), slack)
		case g.Box() != o.Box():
			t.Fatalf("box %v became %v", o.Box(), g.Box())
		}
	})
	c := Circle(Point{}, 100*units.Millimetre, 10)
	// A regular n-gon round a circle is larger than it by pi^2/3n^2: 58 corners
	// for one part in a thousand.
	if g := Grow(c, c.Area()/1000); len(g) > 70 || len(g) < 58 {
		t.Errorf("a circle of %d corners keeps %d for one part in 1000", len(c), len(g))
	}
}

func BenchmarkOverlap(b *testing.B) {
	o := Circle(Point{}, 200*units.Millimetre, 100)
	p := o.Move(Point{400 * units.Millimetre, 10})
	b.ReportAllocs()
	for b.Loop() {
		Overlap(o, p)
	}
}
