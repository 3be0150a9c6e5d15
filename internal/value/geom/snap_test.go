package geom

import (
	"math/big"
	"testing"

	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

// Oracle: crossings in rational numbers, rounded half up.
func TestMeetAtHotPixel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{4, 1000, 1 << 28, 1 << 29}).Draw(t, "reach")
		a, b, c, d := point(t, reach, "a"), point(t, reach, "b"), point(t, reach, "c"), point(t, reach, "d")
		if Meet(a, b, c, d) != Crossing {
			t.Skip("apart")
		}
		u, v, w := b.Minus(a), d.Minus(c), c.Minus(a)
		k := new(big.Rat).Quo(det(w.X, w.Y, v.X, v.Y), det(u.X, u.Y, v.X, v.Y))
		p := meet(a, b, c, d)
		for _, e := range [][3]units.Length{{a.X, u.X, p.X}, {a.Y, u.Y, p.Y}} {
			x := new(big.Rat).Add(rat(int64(e[0])), new(big.Rat).Mul(k, rat(int64(e[1]))))
			off := x.Sub(x, rat(int64(e[2]))) // in [-1/2, 1/2)
			if off.Cmp(big.NewRat(-1, 2)) < 0 || off.Cmp(big.NewRat(1, 2)) >= 0 {
				t.Fatalf("%v %v and %v %v meet at %v, %s off", a, b, c, d, p, off)
			}
		}
		if s, r := (segment{a: a, b: b}), (segment{a: c, b: d}); !s.passes(p) || !r.passes(p) {
			t.Fatalf("%v %v and %v %v miss the pixel %v where they meet", a, b, c, d, p)
		}
	})
}

// Oracle: the segment clipped to the pixel in rational numbers.
func TestPassesPixel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{2, 5, 1000, 1 << 29}).Draw(t, "reach")
		a, b := point(t, reach, "a"), point(t, reach, "b")
		c := point(t, min(reach, 5), "c")
		if reach > 5 { // near the segment
			c = c.Plus(Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2})
		}
		if a == b {
			t.Skip("no segment")
		}
		if got, want := (segment{a: a, b: b}).passes(c), clips(a, b, c); got != want {
			t.Fatalf("%v %v passes %v: %v", a, b, c, got)
		}
	})
	for k := range 7 * 7 * 7 * 7 { // all segments near one pixel
		at := func(n int) Point { return Point{units.Length(n%7 - 3), units.Length(n/7%7 - 3)} }
		a, b := at(k), at(k/49)
		if got := (segment{a: a, b: b}).passes(Point{}); a != b && got != clips(a, b, Point{}) {
			t.Fatalf("%v %v passes the origin: %v", a, b, got)
		}
	}
}

// clips narrows k in a + k(b-a) to where -1/2 <= x < 1/2, and y the same.
func clips(a, b, c Point) bool {
	lo, hi, loIn, hiIn := rat(0), rat(1), true, true
	half := big.NewRat(1, 2)
	for _, e := range [][2]units.Length{{a.X - c.X, b.X - a.X}, {a.Y - c.Y, b.Y - a.Y}} {
		from, u := rat(int64(e[0])), rat(int64(e[1]))
		if u.Sign() == 0 {
			if from.Cmp(new(big.Rat).Neg(half)) < 0 || from.Cmp(half) >= 0 {
				return false
			}
			continue
		}
		k0 := new(big.Rat).Quo(new(big.Rat).Sub(new(big.Rat).Neg(half), from), u) // at the border that belongs
		k1 := new(big.Rat).Quo(new(big.Rat).Sub(half, from), u)                   // at the one that does not
		in0, in1 := true, false
		if u.Sign() < 0 {
			k0, k1, in0, in1 = k1, k0, in1, in0
		}
		if d := k0.Cmp(lo); d > 0 || d == 0 && !in0 {
			lo, loIn = k0, in0
		}
		if d := k1.Cmp(hi); d < 0 || d == 0 && !in1 {
			hi, hiIn = k1, in1
		}
	}
	d := lo.Cmp(hi)
	return d < 0 || d == 0 && loIn && hiIn
}
