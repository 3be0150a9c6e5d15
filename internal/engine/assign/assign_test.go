package assign

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

// anyProblem draws a small problem that always has an answer: the last option
// of each need uses nothing. Some have no groups but cloths: budgets of which
// an option draws on one at most.
func anyProblem(t *rapid.T) Problem {
	p := Problem{Things: 3, Groups: 2, Families: 2}
	cloths := rapid.IntRange(0, 2).Draw(t, "cloths")
	if cloths > 0 {
		p.Groups = 0
	}
	for k := range rapid.IntRange(0, 2).Draw(t, "budgets") {
		p.Budgets = append(p.Budgets, rapid.Int64Range(0, 30).Draw(t, "have")+int64(k))
	}
	first := len(p.Budgets)
	for range cloths {
		p.Budgets = append(p.Budgets, rapid.Int64Range(0, 25).Draw(t, "length"))
	}
	for range rapid.IntRange(1, 6).Draw(t, "needs") {
		n := Need{Group: rapid.IntRange(None, p.Groups-1).Draw(t, "group"), Pin: None}
		for s := range 3 {
			if rapid.Bool().Draw(t, "slot") {
				n.Slots = append(n.Slots, s)
			}
		}
		for range rapid.IntRange(0, 3).Draw(t, "options") {
			o := Option{
				Cost: rapid.Int64Range(0, 40).Draw(t, "cost"), Thing: rapid.IntRange(None, 2).Draw(t, "thing"),
				Exclusive: rapid.Bool().Draw(t, "exclusive"), Family: rapid.IntRange(None, 1).Draw(t, "family"),
			}
			for thing := range p.Things {
				if thing != o.Thing && rapid.IntRange(0, 5).Draw(t, "apart") == 0 {
					o.Apart = append(o.Apart, thing)
				}
			}
			if cloths > 0 {
				o.Uses = append(o.Uses, Use{first + rapid.IntRange(0, cloths-1).Draw(t, "cloth"), rapid.Int64Range(1, 20).Draw(t, "cut")})
			}
			for k := range first {
				o.Uses = append(o.Uses, Use{k, rapid.Int64Range(0, 15).Draw(t, "amount")})
			}
			n.Options = append(n.Options, o)
		}
		n.Options = append(n.Options, Option{Cost: rapid.Int64Range(30, 90).Draw(t, "without"), Thing: None, Family: None})
		p.Needs = append(p.Needs, n)
	}
	return p
}

// bruteForce tries every choice; Check alone decides what is allowed.
func bruteForce(p Problem) int64 {
	best := int64(math.MaxInt64)
	chosen := make([]int, len(p.Needs))
	var try func(i int, cost int64)
	try = func(i int, cost int64) {
		if i == len(p.Needs) {
			if cost < best && len(Check(p, Plan{Chosen: chosen, Cost: cost})) == 0 {
				best = cost
			}
			return
		}
		for j, o := range p.Needs[i].Options {
			chosen[i] = j
			try(i+1, cost+o.Cost)
		}
	}
	try(0, 0)
	return best
}

func TestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		want := bruteForce(p)
		got, err := Solve(context.Background(), p, nil, solve.Budget{Steps: 60})
		if err != nil {
			t.Fatal(err)
		}
		if bad := Check(p, got); len(bad) > 0 {
			t.Fatalf("not a plan: %v", bad)
		}
		if int64(got.Outcome.Bound) > want {
			t.Fatalf("bound %v above the best, %d", got.Outcome.Bound, want)
		}
		if got.Cost < want || got.Outcome.Proof == solve.Best && got.Cost != want {
			t.Fatalf("cost %d (%s), the best is %d", got.Cost, got.Outcome.Proof, want)
		}
	})
}

func TestPinsAreHard(t *testing.T) {
	p := Problem{Needs: []Need{{Group: None, Pin: 1, Options: []Option{
		{Cost: 1, Thing: None, Family: None}, {Cost: 50, Thing: None, Family: None}}}}}
	got, err := Solve(context.Background(), p, nil, solve.Budget{})
	if err != nil || got.Cost != 50 || got.Outcome.Proof != solve.Best {
		t.Errorf("got %+v, %v; want the pinned option at 50, proved", got, err)
	}
}

func TestMalformed(t *testing.T) {
	for name, p := range map[string]Problem{
		"no option":    {Needs: []Need{{Group: None, Pin: None}}},
		"no such pin":  {Needs: []Need{{Group: None, Pin: 3, Options: []Option{{Thing: None, Family: None}}}}},
		"no such cost": {Needs: []Need{{Group: None, Pin: None, Options: []Option{{Cost: -1, Thing: None, Family: None}}}}},
	} {
		if _, err := Solve(context.Background(), p, nil, solve.Budget{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestStoppedKeepsAnAnswer(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	rapid.Check(t, func(rt *rapid.T) {
		p := anyProblem(rt)
		got, err := Solve(ctx, p, nil, solve.Budget{})
		if err != nil || len(Check(p, got)) > 0 || !got.Outcome.Stopped {
			rt.Fatalf("stopped at once: %+v, %v", got, err)
		}
	})
}

func TestSameSeedSameAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		a, _ := Solve(context.Background(), p, nil, solve.Budget{Steps: 40, Seed: 7})
		b, _ := Solve(context.Background(), p, nil, solve.Budget{Steps: 40, Seed: 7})
		for i := range a.Chosen {
			if a.Chosen[i] != b.Chosen[i] {
				t.Fatalf("need %d: %d and %d", i, a.Chosen[i], b.Chosen[i])
			}
		}
	})
}
