package nest

import (
	"math"
	"testing"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

// comb draws an outline of columns standing on y = 0, on a coarse grid, so
// that borders often touch, bent out of the grid now and then.
func comb(t *rapid.T, name string) geom.Outline {
	h := rapid.SliceOfN(rapid.Int64Range(1, 4), 1, 5).Draw(t, name)
	unit := units.Length(1000)
	o := geom.Outline{{}, {X: units.Length(len(h)) * unit}}
	for i := len(h) - 1; i >= 0; i-- {
		lean := units.Length(rapid.SampledFrom([]int64{0, 0, 500}).Draw(t, name+" leans"))
		y := units.Length(h[i]) * unit
		o = append(o, geom.Point{X: units.Length(i+1) * unit, Y: y + lean}, geom.Point{X: units.Length(i) * unit, Y: y})
	}
	return o
}

func shapeOf(o geom.Outline) *shape {
	return &shape{ring: ringOf(o.CounterClockwise(), 0), box: boxOf(o.Box())}
}

// Oracle: the exact predicates of package geom, which share no code with the
// collider of the search.
func TestColliderAgainstGeom(t *testing.T) {
	var c collider
	rapid.Check(t, func(t *rapid.T) {
		a, b := comb(t, "a"), comb(t, "b")
		if a.Fault() != "" || b.Fault() != "" {
			t.Skip("not simple")
		}
		a = a.Turn(90 * rapid.IntRange(0, 3).Draw(t, "turn"))
		step := rapid.SampledFrom([]int64{1000, 500, 77}).Draw(t, "step")
		dx, dy := step*rapid.Int64Range(-8, 8).Draw(t, "dx"), step*rapid.Int64Range(-8, 8).Draw(t, "dy")
		moved := a.Move(geom.Point{X: units.Length(dx), Y: units.Length(dy)})
		gap := rapid.SampledFrom([]int64{0, 0, 500, 999, 1000}).Draw(t, "gap")
		sa, sb := shapeOf(a), shapeOf(b)
		got := meet(sa.box.at(dx, dy), sb.box, gap) && c.collide(sa, dx, dy, sb, 0, 0, gap)
		want := geom.Overlap(moved, b) || geom.Nearer(moved, b, units.Length(gap))
		if got != want {
			t.Fatalf("%v and %v, gap %d: collide %v, want %v", moved, b, gap, got, want)
		}
		m, o := sa.box.at(dx, dy), sb.box
		in := m.x0 >= o.x0 && m.y0 >= o.y0 && m.x1 <= o.x1 && m.y1 <= o.y1 && c.inside(sa, dx, dy, sb, gap)
		if want := geom.Within(moved, b) && !geom.Nearer(moved, b, units.Length(gap)); in != want {
			t.Fatalf("%v in %v, gap %d: inside %v, want %v", moved, b, gap, in, want)
		}
	})
}

// The measure is above 0 for shapes that collide, and falls as they are drawn
// apart.
func TestLossFallsWithDistance(t *testing.T) {
	k := newKind(Piece{ID: "a", Copies: 1, Turns: []int{0}, Outline: geom.Outline{{}, {X: 300 * mm}, {X: 250 * mm, Y: 200 * mm}, {X: 40 * mm, Y: 220 * mm}}}, nil)
	k.ready()
	s, last := &k.pose(0).shape, 1e300
	for x := int64(0); x < 250_000; x += 10_000 {
		v := lossOf(s, x, 0, s, 0, 0, 0, math.Inf(1))
		if v <= 0 || v >= last {
			t.Errorf("at %d the measure is %g after %g", x, v, last)
		}
		last = v
	}
}

// Poles lie inside their outline and do not overlap.
func TestPolesAreInside(t *testing.T) {
	o := geom.Outline{{}, {X: 300 * mm}, {X: 250 * mm, Y: 200 * mm}, {X: 140 * mm, Y: 60 * mm}, {X: 40 * mm, Y: 220 * mm}}
	ps := polesOf(o)
	for i, p := range ps {
		if d := signedDistance(o, p.x, p.y); d < p.r-1 {
			t.Errorf("circle %d of radius %f has its centre %f from the border", i, p.r, d)
		}
		if i > 0 && p.r > ps[i-1].r*1.01 {
			t.Errorf("circle %d is greater than the one before", i)
		}
	}
	// By hand: the greatest circle in a square of 200 mm has radius 100 mm.
	if p := polesOf(geom.Rect(200*mm, 200*mm))[0]; p.r < 99.9*1000 || p.r > 100*1000 {
		t.Errorf("radius in a square of 200 mm: %f", p.r)
	}
}

func BenchmarkCollide(b *testing.B) {
	k := newKind(Piece{ID: "a", Copies: 1, Turns: []int{0}, Outline: geom.Circle(geom.Point{}, 200*mm, 2*mm)}, nil)
	s := &k.pose(0).shape
	var c collider
	b.ReportAllocs()
	for b.Loop() {
		c.collide(s, 399_000, 20_000, s, 0, 0, 0)
	}
}
