package nest

import (
	"context"
	"math"
	"slices"
	"testing"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"

	"pgregory.net/rapid"
)

// An exchange lessens the weighted overlap of the whole layout by more than it
// was told to, or changes nothing. Oracle: everything measured anew.
func TestExchangeLessens(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		p := someProblem(t)
		seed, crowded := rapid.Uint64Range(1, 1<<40).Draw(t, "seed"), rapid.Bool().Draw(t, "crowded")
		s := newSearch(context.Background(), &p, solve.Budget{Steps: 1, Seed: seed})
		s.ready()
		s.resetWeights()
		d := diceFor(s.budget, 0)
		for i := range s.items {
			if at, ok := s.anywhere(i, d); ok {
				if crowded { // all near one corner
					span, _ := s.islands[at.isl].span(s.items[i].k.pose(at.pose))
					at.x, at.y = span.x0+(at.x-span.x0)/8, span.y0+(at.y-span.y0)/8
				}
				s.put(i, at)
			}
		}
		for i := range s.items {
			s.clothWeight[i] = 1 + 3*d.share()
			for j := range i {
				w := 1 + 3*d.share()
				s.weight[i*len(s.items)+j], s.weight[j*len(s.items)+i] = w, w
			}
		}
		s.refreshAll()
		for i := range s.items {
			if !s.items[i].on {
				continue
			}
			before, places := s.weighted(), s.save(nil)
			gain := 0.5 * d.share() * s.lossAt(i, true)
			s.near.ready(s.boxes, i)
			changed := s.exchange(i, gain, d)
			after := s.weighted()
			s.mustBeMeasured(t)
			switch {
			case changed && after > before-gain+1e-4*before:
				t.Fatalf("the overlap went from %v to %v, not down by %v", before, after, gain)
			case !changed && !slices.Equal(places, s.save(nil)):
				t.Fatal("something moved although nothing was exchanged")
			case changed:
				done++
			}
		}
	})
	if done == 0 {
		t.Fatal("nothing was ever exchanged")
	}
}

// weighted is the overlap of the whole layout with its weights.
func (s *search) weighted() float64 {
	sum := 0.0
	for i := range s.items {
		for j := range i {
			sum += s.weight[i*len(s.items)+j] * s.loss[i*len(s.items)+j]
		}
		sum += s.clothWeight[i] * s.clothLosses[i]
	}
	return sum
}

// Pushed together, a legal layout stays legal, with everything on it, and is
// no longer than before. Oracle: Check.
func TestCompactStaysLegal(t *testing.T) {
	shorter := 0
	rapid.Check(t, func(t *rapid.T) {
		p := someProblem(t)
		p.Cloths[1].Strip = true
		s := newSearch(context.Background(), &p, solve.Budget{Steps: 1})
		d := diceFor(s.budget, 0)
		for i := range s.items { // lay what fits at random, loosely
			for range 20 {
				if at, ok := s.anywhere(i, d); ok && s.free(i, at) {
					s.put(i, at)
					break
				}
			}
		}
		before := s.score()
		s.compact()
		after := s.score()
		if after.worth != before.worth || after.length > before.length {
			t.Fatalf("%v became %v", before, after)
		}
		if bad := Check(p, s.layout(s.never)); len(bad) > 0 {
			t.Fatal(bad)
		}
		if after.length < before.length {
			shorter++
		}
	})
	if shorter == 0 {
		t.Fatal("nothing ever became shorter")
	}
}

// mustBeMeasured checks the overlaps kept against those of the layout. What
// lossOf gives depends a little on the order in which two shapes are named.
func (s *search) mustBeMeasured(t *rapid.T) {
	for i := range s.items {
		for j := range s.items {
			if a, b := s.measured(i, j), s.measured(j, i); j != i && s.loss[i*len(s.items)+j] != a && s.loss[i*len(s.items)+j] != b {
				t.Fatalf("the overlap of %d and %d is kept as %v, and is %v or %v", i, j, s.loss[i*len(s.items)+j], a, b)
			}
		}
		if it := &s.items[i]; it.on && s.clothLosses[i] != s.clothLoss(it.k, it.k.pose(it.pose), it.place) {
			t.Fatalf("the overlap of %d with its cloth is not %v", i, s.clothLosses[i])
		}
	}
}

// measured is the overlap of two items as they lie.
func (s *search) measured(i, j int) float64 {
	a, b := &s.items[i], &s.items[j]
	if !a.on || !b.on || !s.hit.collide(&a.k.pose(a.pose).shape, a.x, a.y, &b.k.pose(b.pose).shape, b.x, b.y, s.gap) {
		return 0
	}
	return lossOf(&a.k.pose(a.pose).shape, a.x, a.y, &b.k.pose(b.pose).shape, b.x, b.y, float64(s.gap), math.Inf(1))
}

// What the search has freed of overlaps lies close: no rectangle of a layout
// it has shortened can be pushed towards the start of the strip. Oracle: Check,
// of the same layout with one piece pushed by the least step.
func TestNothingLiesLoose(t *testing.T) {
	p := costume(30, true)
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q Piece) bool { return len(q.Outline) > 4 })
	for seed := range uint64(5) {
		l, err := Pack(context.Background(), p, solve.Budget{Steps: 800, Seed: seed + 1})
		if err != nil {
			t.Fatal(err)
		}
		for i := range l.Placed {
			pushed := l
			pushed.Placed = slices.Clone(l.Placed)
			q := &pushed.Placed[i]
			q.At.X--
			q.Outline = q.Outline.Move(geom.Point{X: -1})
			pushed.Length = 0
			for _, a := range pushed.Placed {
				pushed.Length = max(pushed.Length, a.Outline.Box().Max.X)
			}
			if len(Check(p, pushed)) == 0 {
				t.Fatalf("seed %d: %s can be pushed", seed+1, q.Piece)
			}
		}
	}
}

// anywhere is a place of item i on one of its cloths, even over its edge.
func (s *search) anywhere(i int, d *dice) (place, bool) {
	k := s.items[i].k
	at := place{on: true, isl: s.drawIsland(k, d), pose: d.below(len(k.poses))}
	span, ok := s.islands[at.isl].span(k.pose(at.pose))
	if !ok {
		return at, false
	}
	at.x, at.y = d.between(span.x0, span.x1), d.between(span.y0, span.y1)
	return at, true
}

// Two pieces that each lie in the gap the other needs change places: a strip
// of two gaps, 300 and 400 long, between walls, where neither can pass.
func TestExchangeFindsTheSwap(t *testing.T) {
	p := Problem{Cloths: []Cloth{{ID: "roll", Outline: geom.Rect(2000*mm, 500*mm), Strip: true}}}
	p.Pieces = []Piece{
		{ID: "wide", Copies: 1, Turns: []int{0}, Outline: geom.Rect(400*mm, 300*mm)},
		{ID: "slim", Copies: 1, Turns: []int{0}, Outline: geom.Rect(300*mm, 300*mm)},
		{ID: "wall", Copies: 2, Turns: []int{0}, Outline: geom.Rect(100*mm, 500*mm)},
	}
	s := newSearch(context.Background(), &p, solve.Budget{Steps: 1})
	s.ready()
	s.resetWeights()
	s.cut(900 * int64(mm))
	at := func(x int64) place { return place{x: x * int64(mm)} }
	s.put(0, at(0))   // 400 long where 300 are free: reaches 100 into the wall
	s.put(1, at(400)) // 300 long where 400 are free
	s.put(2, at(300))
	s.put(3, at(800))
	s.refreshAll()
	s.near.ready(s.boxes, 0)
	if s.total() == 0 || !s.exchange(0, 0, diceFor(s.budget, 1)) || math.Abs(s.total()) > 0 {
		t.Fatalf("left with an overlap of %v", s.total())
	}
}
