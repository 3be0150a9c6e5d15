package nest

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"testing"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

// bodice is a curved piece of about w by h.
func bodice(w, h units.Length) geom.Outline {
	o := geom.Outline{{}, {X: w}, {X: w, Y: h * 6 / 10}}
	scye := geom.Cubic(geom.Point{X: w, Y: h * 6 / 10}, geom.Point{X: w * 7 / 10, Y: h * 6 / 10}, geom.Point{X: w * 7 / 10, Y: h * 8 / 10}, geom.Point{X: w * 8 / 10, Y: h}, mm)
	o = append(o, scye[1:]...)
	neck := geom.Quadratic(geom.Point{X: w * 4 / 10, Y: h}, geom.Point{X: w * 3 / 10, Y: h * 8 / 10}, geom.Point{Y: h * 8 / 10}, mm)
	return append(o, neck...)
}

// remnant is a piece of cloth with a corner cut away and a slanted edge.
func remnant(w, h units.Length) geom.Outline {
	return geom.Outline{{}, {X: w}, {X: w * 9 / 10, Y: h * 7 / 10}, {X: w / 2, Y: h * 6 / 10}, {X: w / 2, Y: h}, {X: w / 20, Y: h}}
}

func someProblem(t *rapid.T) Problem {
	var p Problem
	size := rapid.Int64Range(80, 500)
	for i := range rapid.IntRange(1, 5).Draw(t, "pieces") {
		w, h := units.Length(size.Draw(t, "w"))*mm, units.Length(size.Draw(t, "h"))*mm
		q := Piece{ID: fmt.Sprint("p", i), Copies: rapid.IntRange(1, 3).Draw(t, "copies"), Hidden: rapid.Bool().Draw(t, "hidden"), Mirror: rapid.Bool().Draw(t, "mirror")}
		switch rapid.IntRange(0, 2).Draw(t, "form") {
		case 0:
			q.Outline = geom.Rect(w, h)
		case 1:
			q.Outline = bodice(w, h)
		default:
			q.Outline = geom.Outline{{}, {X: w}, {X: w / 3, Y: h / 3}, {Y: h}}
		}
		q.Turns = rapid.SampledFrom([][]int{{0}, {0, 180}, {0, 45, 90}, nil}).Draw(t, "turns")
		if rapid.Bool().Draw(t, "bound") {
			q.Cloths = []string{"odd"}
		}
		p.Pieces = append(p.Pieces, q)
	}
	odd := Cloth{ID: "odd", Outline: remnant(1200*mm, 900*mm)}
	if rapid.Bool().Draw(t, "flawed") {
		odd.Flaws = []geom.Outline{geom.Circle(geom.Point{X: 300 * mm, Y: 300 * mm}, 40*mm, mm)}
	}
	p.Cloths = []Cloth{odd, {ID: "roll", Outline: geom.Rect(3000*mm, 1400*mm), Strip: rapid.Bool().Draw(t, "strip")}}
	p.Gap = rapid.SampledFrom([]units.Length{0, 5 * mm}).Draw(t, "gap")
	p.EdgeGap = rapid.SampledFrom([]units.Length{0, 10 * mm}).Draw(t, "edge")
	return p
}

// Whatever the problem, the answer is legal, and the same seed and steps give
// the same answer.
func TestPackIsLegalAndRepeats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := someProblem(t)
		b := solve.Budget{Steps: int64(rapid.IntRange(1, 60).Draw(t, "steps")), Seed: uint64(rapid.IntRange(1, 9).Draw(t, "seed"))}
		l, err := Pack(context.Background(), p, b)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range Check(p, l) {
			t.Error(r.Sentence(units.Metric))
		}
		again, _ := Pack(context.Background(), p, b)
		if !reflect.DeepEqual(l, again) {
			t.Error("a second run gave another layout")
		}
		if l.Outcome.HasBound && len(l.Missing) == 0 && l.Outcome.Value < l.Outcome.Bound {
			t.Errorf("length %f is below its bound %f", l.Outcome.Value, l.Outcome.Bound)
		}
	})
}

// Stopped before it began, Pack still gives a legal layout and says that it
// was stopped.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p := Problem{
		Pieces: []Piece{{ID: "a", Outline: bodice(300*mm, 400*mm), Copies: 4, Turns: []int{0, 180}}},
		Cloths: []Cloth{{ID: "roll", Outline: geom.Rect(3000*mm, 900*mm), Strip: true}},
	}
	l, err := Pack(ctx, p, solve.Budget{})
	if err != nil || len(Check(p, l)) > 0 || len(l.Placed) != 4 || !l.Outcome.Stopped {
		t.Errorf("%v, %d placed, stopped %v, %v", err, len(l.Placed), l.Outcome.Stopped, Check(p, l))
	}
}

// More steps never make the answer worse: a longer run begins like a shorter.
func TestMoreStepsAreNeverWorse(t *testing.T) {
	p := Problem{
		Pieces: []Piece{{ID: "a", Outline: bodice(300*mm, 400*mm), Copies: 3, Turns: []int{0, 180}}, {ID: "b", Outline: geom.Outline{{}, {X: 500 * mm}, {Y: 300 * mm}}, Copies: 4, Turns: []int{0, 180}}},
		Cloths: []Cloth{{ID: "roll", Outline: geom.Rect(4000*mm, 900*mm), Strip: true}},
	}
	last := 4000 * mm
	for _, steps := range []int64{1, 50, 400, 2000} {
		l := pack(t, p, solve.Budget{Steps: steps})
		if l.Length > last || len(l.Missing) > 0 {
			t.Errorf("%d steps: length %d after %d", steps, l.Length, last)
		}
		last = l.Length
	}
	// Two triangles make a rectangle of 500 by 300 mm: area 4 x 0.075 m2, and
	// the bodices no more than their boxes, so 900 mm is a hand-made layout.
	if last > 900*mm {
		t.Errorf("length %d, more than what a hand lays", last)
	}
}

// Lanes side by side give what they give one after the other on one core:
// where they get on, and where they gather on a cloth too tight to take
// everything.
func TestLanesRepeat(t *testing.T) {
	few := []Piece{
		{ID: "a", Outline: bodice(300*mm, 400*mm), Copies: 2, Turns: []int{0, 180}},
		{ID: "b", Outline: geom.Outline{{}, {X: 500 * mm}, {X: 90 * mm, Y: 300 * mm}}, Copies: 2, Turns: []int{0, 180}},
	}
	for name, c := range map[string]struct {
		pieces []Piece
		cloth  Cloth
		steps  int64
	}{
		"getting on": {costume(12, true).Pieces, costume(12, true).Cloths[0], 4 * aloneFor},
		"gathering":  {few, Cloth{Outline: geom.Rect(800*mm, 450*mm)}, 4 * aloneFor},
	} {
		p := Problem{Pieces: c.pieces, Cloths: []Cloth{c.cloth}}
		b := solve.Budget{Steps: c.steps, Seed: 5}
		l := pack(t, p, b)
		if l.Outcome.Proof == solve.Best || l.Outcome.Proof == solve.Impossible {
			t.Errorf("%s: too easy, %s", name, l.Outcome.Proof)
		}
		cores := runtime.GOMAXPROCS(1)
		again := pack(t, p, b)
		runtime.GOMAXPROCS(cores)
		if !reflect.DeepEqual(l, again) {
			t.Errorf("%s: %+v on one core, %+v on %d", name, again.Outcome, l.Outcome, cores)
		}
	}
}

func TestHiddenPieceLiesOverAFlaw(t *testing.T) {
	p := Problem{
		Pieces: []Piece{{ID: "facing", Outline: geom.Rect(100*mm, 100*mm), Copies: 1, Turns: []int{0}}},
		Cloths: []Cloth{{ID: "scrap", Outline: geom.Rect(100*mm, 100*mm), Flaws: []geom.Outline{geom.Rect(5*mm, 5*mm).Move(geom.Point{X: 50 * mm, Y: 50 * mm})}}},
	}
	if l := pack(t, p, quick(1)); len(l.Placed) != 0 {
		t.Error("laid over a flaw")
	}
	p.Pieces[0].Hidden = true
	if l := pack(t, p, quick(1)); len(l.Placed) != 1 {
		t.Error("a hidden piece may lie over a flaw")
	}
}

// What is worth least is left out.
func TestWorthDecides(t *testing.T) {
	sq := geom.Rect(100*mm, 100*mm)
	p := Problem{
		Pieces: []Piece{{ID: "front", Outline: sq, Copies: 1, Turns: []int{0}, Worth: 1}, {ID: "back", Outline: sq, Copies: 1, Turns: []int{0}, Worth: 9}},
		Cloths: []Cloth{{ID: "scrap", Outline: geom.Rect(150*mm, 100*mm)}},
	}
	l := pack(t, p, quick(1))
	if len(l.Placed) != 1 || l.Placed[0].Piece != "back" || l.Outcome.Proof != solve.Impossible {
		t.Errorf("%v, %s", l.Placed, l.Outcome.Proof)
	}
}

// A layout handed back as Previous is kept where it is as good as any.
func TestPreviousIsKept(t *testing.T) {
	p := Problem{
		Pieces: []Piece{{ID: "a", Outline: bodice(300*mm, 400*mm), Copies: 2, Turns: []int{0, 180}}},
		Cloths: []Cloth{{ID: "scrap", Outline: geom.Rect(900*mm, 900*mm)}},
	}
	l := pack(t, p, quick(1))
	p.Previous = nil
	for _, q := range l.Placed {
		q.At = q.At.Plus(geom.Point{X: 7 * mm, Y: 7 * mm})
		q.Outline = q.Outline.Move(geom.Point{X: 7 * mm, Y: 7 * mm})
		p.Previous = append(p.Previous, q)
	}
	if again := pack(t, p, quick(3)); !reflect.DeepEqual(again.Placed, p.Previous) {
		t.Errorf("%v became %v", p.Previous, again.Placed)
	}
}

// costume is what a workroom lays: n pieces, half of them curved, on a roll
// and some odd remnants.
func costume(n int, roll bool) Problem {
	var p Problem
	for i := range n {
		w, h := units.Length(200+37*i%150)*mm, units.Length(250+53*i%300)*mm
		q := Piece{ID: fmt.Sprint("p", i), Copies: 1, Turns: []int{0, 180}, Outline: geom.Rect(w, h)}
		if i%2 == 0 {
			q.Outline = bodice(w, h)
		}
		p.Pieces = append(p.Pieces, q)
	}
	if roll {
		p.Cloths = []Cloth{{ID: "roll", Outline: geom.Rect(9000*mm, 1400*mm), Strip: true}}
		return p
	}
	for i := range 7 {
		c := Cloth{ID: fmt.Sprint("c", i), Outline: remnant(units.Length(900+100*i)*mm, 800*mm)}
		c.Flaws = []geom.Outline{geom.Circle(geom.Point{X: 300 * mm, Y: 300 * mm}, 30*mm, mm)}
		p.Cloths = append(p.Cloths, c)
	}
	return p
}

// BenchmarkQuick is the time of one quick layout; laid is the share of the
// strip's area that is used, or of the pieces that are laid, in per cent.
func BenchmarkQuick(b *testing.B) {
	for _, roll := range []bool{true, false} {
		for _, n := range []int{3, 10, 30} {
			b.Run(fmt.Sprintf("roll=%v/pieces=%d", roll, n), func(b *testing.B) {
				p, area, laid := costume(n, roll), 0.0, 0.0
				for _, q := range p.Pieces {
					area += float64(q.Outline.Area())
				}
				b.ReportAllocs()
				for b.Loop() {
					l, err := Pack(context.Background(), p, solve.Budget{Effort: solve.Quick})
					if err != nil {
						b.Fatal(err)
					}
					laid = 100 * float64(len(l.Placed)) / float64(n)
					if roll {
						laid = 100 * area / float64(l.Length.By(1400*mm))
					}
				}
				b.ReportMetric(laid, "laid_%")
			})
		}
	}
}

// BenchmarkSoon is how dense a costume of 30 pieces lies on a roll after the
// steps of about 3 and 60 seconds on two idle cores.
func BenchmarkSoon(b *testing.B) {
	p, area := costume(30, true), 0.0
	for _, q := range p.Pieces {
		area += float64(q.Outline.Area())
	}
	for _, steps := range []int64{soonSteps, 20 * soonSteps} {
		b.Run(fmt.Sprint("steps=", steps), func(b *testing.B) {
			laid := 0.0
			for b.Loop() {
				l, err := Pack(context.Background(), p, solve.Budget{Steps: steps})
				if err != nil {
					b.Fatal(err)
				}
				laid = 100 * area / float64(l.Length.By(1400*mm))
			}
			b.ReportMetric(laid, "laid_%")
		})
	}
}

// soonSteps is what two idle cores take in about 3 seconds.
const soonSteps = 110_000

// BenchmarkRelocate is one step of the search: it allocates no more than the
// two objects of its stream of chance.
func BenchmarkRelocate(b *testing.B) {
	p := costume(30, true)
	s := newSearch(context.Background(), &p, solve.Budget{})
	s.start()
	s.ready()
	if !s.shrink(0.05, 0.5) {
		b.Fatal("cannot be shorter")
	}
	s.refreshAll()
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s.relocate(i % len(s.items))
	}
	b.ReportMetric(float64(s.looked)/float64(b.N), "places/op")
}
