package nest

import (
	"context"
	"runtime"
	"slices"
	"testing"

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

// However the lanes part and begin anew, the outcome is legal, the best of
// what they end with, and the same on one core.
func TestNoLaneBeatsTheOutcome(t *testing.T) {
	p, steps := costume(12, true), int64(5*aloneFor)
	for _, restless := range []bool{false, true} {
		ends, apart := make([]score, lanes), make([]bool, lanes)
		run := func() *search {
			s := ready(p, solve.Budget{Seed: 5})
			s.race(steps, func(l *search) {
				if restless { // as if it had not got on for very long
					l.mark, l.marked = score{worth: l.whole}, -1_000_000
				}
				l.shorten()
				ends[l.lane], apart[l.lane] = l.bestAt, l.apart
			})
			return s
		}
		s := run()
		var best score
		for _, at := range ends {
			if at.better(best) {
				best = at
			}
		}
		if s.bestAt != best {
			t.Errorf("restless %v: the outcome is %v, the lanes have %v", restless, s.bestAt, ends)
		}
		if slices.Contains(apart, true) != restless {
			t.Errorf("restless %v: which lanes go their own way: %v", restless, apart)
		}
		for _, r := range Check(p, s.answer()) {
			t.Errorf("restless %v: %v", restless, r)
		}
		cores := runtime.GOMAXPROCS(1)
		again := run()
		runtime.GOMAXPROCS(cores)
		if !slices.Equal(again.best, s.best) || again.step != s.step || again.looked != s.looked {
			t.Errorf("restless %v: %v after %d steps on one core, %v after %d on %d", restless, again.bestAt, again.step, s.bestAt, s.step, cores)
		}
	}
}
