package nest

import (
	"context"
	"runtime"
	"slices"
	"testing"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
)

// ready is a search that has its first layout.
func ready(p Problem, b solve.Budget) *search {
	s := newSearch(context.Background(), &p, b)
	s.start()
	s.ready()
	return s
}

// Lanes that follow a script, each finding some length at some step: after
// each meeting every lane knows the least found by any until then, and the
// race ends with the least of all. Lanes that are held up change nothing.
func TestLanesHandOverTheBest(t *testing.T) {
	type find struct{ step, length int64 }
	script := make([][]find, lanes)
	script[0] = []find{{5, 90_000}, {meetFor + 1, 60_000}, {3 * meetFor, 50_000}}
	script[1] = []find{{meetFor, 80_000}, {2*meetFor - 1, 70_000}, {4*meetFor + 3, 40_000}}
	// By hand: the least after the meetings at 1, 2, 3, 4 times meetFor.
	after := []int64{80_000, 60_000, 50_000, 50_000}

	for held := range lanes {
		s := ready(costume(6, true), solve.Budget{})
		s.race(aloneFor+lanes*(4*meetFor+10), func(l *search) {
			if l.meeting == nil {
				l.step = l.steps
				return
			}
			began, round := l.step, 0
			for !l.over() {
				l.step++
				for _, f := range script[l.lane] {
					if f.step == l.step-began {
						l.bestAt.length = min(l.bestAt.length, f.length)
					}
				}
				for i := 0; l.lane == held && i < 5; i++ {
					runtime.Gosched()
				}
				before := l.meetAt
				if l.meet(); l.meetAt == before {
					continue
				}
				if l.bestAt.length != after[round] {
					t.Errorf("lane %d held up, lane %d knows %d after meeting %d, want %d", held, l.lane, l.bestAt.length, round+1, after[round])
				}
				round++
			}
		})
		if s.bestAt.length != 40_000 {
			t.Errorf("lane %d held up: the race ends with %d, want 40000", held, s.bestAt.length)
		}
	}
}

// However the lanes part and begin anew, the outcome is legal and the best of
// what they end with.
func TestNoLaneBeatsTheOutcome(t *testing.T) {
	few := Problem{
		Pieces: []Piece{
			{ID: "a", Outline: bodice(300*mm, 400*mm), Copies: 2, Turns: []int{0, 180}},
			{ID: "b", Outline: geom.Outline{{}, {X: 500 * mm}, {X: 90 * mm, Y: 300 * mm}}, Copies: 2, Turns: []int{0, 180}},
		},
		Cloths: []Cloth{{Outline: geom.Rect(4000*mm, 450*mm), Strip: true}},
	}
	for name, c := range map[string]struct {
		p     Problem
		steps int64
	}{"together": {costume(12, true), 4 * aloneFor}, "apart": {few, 54 * aloneFor}} {
		s := ready(c.p, solve.Budget{Seed: 5})
		ends, apart := make([]score, lanes), make([]bool, lanes)
		s.race(c.steps, func(l *search) {
			l.shorten()
			ends[l.lane], apart[l.lane] = l.bestAt, l.apart
		})
		var best score
		for _, at := range ends {
			if at.better(best) {
				best = at
			}
		}
		if s.bestAt != best {
			t.Errorf("%s: the outcome is %v, the lanes have %v", name, s.bestAt, ends)
		}
		if slices.Contains(apart, true) != (name == "apart") {
			t.Errorf("%s: which lanes go their own way: %v", name, apart)
		}
		for _, r := range Check(c.p, s.answer()) {
			t.Errorf("%s: %v", name, r)
		}
	}
}
