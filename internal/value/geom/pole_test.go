package geom

import (
	"math"
	"testing"

	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

// from: closed forms. The circle in a triangle has twice its area over its
// perimeter as radius; between a square and a hole in its middle with sides
// parallel, the circle that touches two outer sides and the corner of the hole
// has r(1+sqrt2) = sqrt2 times the gap.
func TestPoleClosedForms(t *testing.T) {
	side, gap := 400*mm, 100*mm
	hole := Rect(side-2*gap, side-2*gap).Move(Point{gap, gap})
	l := 300 * mm
	for _, c := range []struct {
		name string
		r    Region
		want float64
	}{
		{"empty", nil, 0},
		{"strip", Region{Rect(2*units.Metre, 50*mm)}, 25e3},
		{"square", Region{Rect(side, side)}, 200e3},
		{"frame", Region{Rect(side, side)}.Minus(Region{hole}), 1e5 * math.Sqrt2 / (1 + math.Sqrt2)},
		{"triangle 3 4 5", Region{{{0, 0}, {4 * l, 0}, {0, 3 * l}}}, float64(l)},
		{"circle", Region{Circle(Point{3, -8}, 100*mm, 1)}, 100e3},
		{"ring", Region{Circle(Point{}, 100*mm, 1)}.Minus(Region{Circle(Point{10 * mm, 0}, 40*mm, 1)}), 35e3},
		{"ell", Region{{{0, 0}, {3 * l, 0}, {3 * l, l}, {l, l}, {l, 3 * l}, {0, 3 * l}}}, float64(l) * math.Sqrt2 / (1 + math.Sqrt2)},
		{"sliver", Region{{{0, 0}, {2e6, 1e6}, {2e6, 1e6 + 40}}}, 17.88}, // by hand: 2*4e7/(2*sqrt5*1e6+40+18), halved
	} {
		for _, precision := range []units.Length{1, 10, 1000} {
			p, got := c.r.Pole(precision)
			if off := c.want - float64(got); off > float64(max(precision, 5)) || off < -2 {
				t.Errorf("%s to %d: %d at %v, want %f", c.name, precision, got, p, c.want)
			}
			if got > 0 && (c.r.Where(p) != Inside || distance(c.r, p) < float64(got)-1e-3) {
				t.Errorf("%s to %d: a circle of %d at %v does not fit", c.name, precision, got, p)
			}
		}
	}
}

// The judge looks at every lattice point of small regions; a middle off the
// lattice can be no more than 0.71 better.
func TestPoleByBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Fill(anyRegion(t, 7, 8, "r")...)
		best := 0.0
		for x := range units.Length(57) {
			for y := range units.Length(57) {
				if n, on := winding(r, Point{x, y}); n != 0 && !on {
					best = max(best, distance(r, Point{x, y}))
				}
			}
		}
		p, got := r.Pole(5)
		if n, _ := winding(r, p); got > 0 && (n == 0 || distance(r, p) < float64(got)-1e-9) {
			t.Fatalf("%v: a circle of %d at %v does not fit", r, got, p)
		}
		if float64(got) <= best-5 {
			t.Fatalf("%v: %d at %v, but %f fits", r, got, p, best)
		}
	})
}

func TestShrinkLiesWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{5, 1000, 1 << 25}).Draw(t, "reach")
		o := star(t, reach, "r")
		if o.Fault() != "" {
			t.Skip("not simple")
		}
		slack := o.Area() / units.Area(rapid.Int64Range(1, 1000).Draw(t, "part"))
		s := Shrink(o, slack)
		switch {
		case s.Fault() != "":
			t.Fatalf("%v became %v, which %s", o, s, s.Fault())
		case !Within(s, o):
			t.Fatalf("%v became %v, which leaves it", o, s)
		case s.Twice() < o.Twice()-2*int64(slack) || s.Twice() <= 0:
			t.Fatalf("shrank by %d, more than %d", o.Area()-s.Area(), slack)
		}
		if lost := (Region{s}).Minus(Region{o}); lost.Area() > 0 {
			t.Fatalf("%v less %v leaves %v", s, o, lost)
		}
	})
	c := Circle(Point{}, 100*mm, 10)
	// A regular n-gon in a circle is smaller than it by 2 pi^2/3n^2: 82 corners
	// for one part in a thousand.
	if s := Shrink(c, c.Area()/1000); len(s) > 100 || len(s) < 60 {
		t.Errorf("a circle of %d corners keeps %d for one part in 1000", len(c), len(s))
	}
	// by hand: a notch of 10 by 1 mm from a straight edge is kept or widened,
	// never filled; a tooth goes.
	notch := Outline{{0, 0}, {100, 0}, {100, 50}, {55, 50}, {55, 40}, {54, 40}, {54, 50}, {0, 50}}
	if s := Shrink(notch, 40); s.Where(Point{54, 45}) == Inside || s.Area() < notch.Area()-40 {
		t.Errorf("the notch: %v", s)
	}
	tooth := Outline{{0, 0}, {100, 0}, {100, 50}, {55, 50}, {54, 60}, {53, 50}, {0, 50}}
	if s := Shrink(tooth, 10); len(s) != 4 || s.Area() != 5000 {
		t.Errorf("the tooth: %v", s)
	}
}
