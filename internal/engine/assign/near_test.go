package assign

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

// changed draws a problem near another: a budget raised, a pin set or taken
// out.
func changed(t *rapid.T, p Problem) Problem {
	q := p
	q.Budgets, q.Needs = append([]int64{}, p.Budgets...), append([]Need{}, p.Needs...)
	i := rapid.IntRange(0, len(p.Needs)-1).Draw(t, "need")
	q.Needs[i].Pin = rapid.IntRange(None, len(p.Needs[i].Options)-1).Draw(t, "pin")
	if len(p.Budgets) > 0 {
		q.Budgets[rapid.IntRange(0, len(p.Budgets)-1).Draw(t, "budget")] += rapid.Int64Range(0, 20).Draw(t, "more")
	}
	return q
}

// From a plan nearby, the answer is the best there is or the bound says how
// far it may be off, as by trying every plan.
func TestFromAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		base, err := Solve(context.Background(), p, nil, solve.Budget{Steps: 60})
		if err != nil {
			t.Fatal(err)
		}
		q := changed(t, p)
		want := bruteForce(q)
		got, err := From(context.Background(), q, base, solve.Budget{Steps: 60})
		if err != nil {
			t.Fatal(err)
		}
		if want == math.MaxInt64 {
			if got.Chosen != nil {
				t.Fatal("a plan where there is none")
			}
			return
		}
		if got.Chosen == nil {
			t.Skip("nothing found, nothing said")
		}
		if bad := Check(q, got); len(bad) > 0 {
			t.Fatalf("not a plan: %v", bad)
		}
		if int64(got.Outcome.Bound) > want || got.Cost < want || got.Outcome.Proof == solve.Best && got.Cost != want {
			t.Fatalf("cost %d, bound %v (%s), the best is %d", got.Cost, got.Outcome.Bound, got.Outcome.Proof, want)
		}
	})
}

// fewest tries every plan of the least cost for the one that changes fewest
// needs.
func fewest(p Problem, base []int, cost int64) int {
	best := len(p.Needs) + 1
	chosen := make([]int, len(p.Needs))
	var try func(i int, left int64, moved int)
	try = func(i int, left int64, moved int) {
		if left < 0 || moved >= best {
			return
		}
		if i == len(p.Needs) {
			if left == 0 && len(Check(p, Plan{Chosen: chosen, Cost: cost})) == 0 {
				best = moved
			}
			return
		}
		for j, o := range p.Needs[i].Options {
			chosen[i] = j
			m := moved
			if j != base[i] {
				m++
			}
			try(i+1, left-o.Cost, m)
		}
	}
	try(0, cost, 0)
	return best
}

// A plan brought near another stays a plan, costs no more, and changes no
// more needs than before; on small problems as few as trying all finds.
func TestNearestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		base, _ := Solve(context.Background(), p, nil, solve.Budget{Steps: 60})
		q := changed(t, p)
		got, err := From(context.Background(), q, base, solve.Budget{Steps: 60})
		if err != nil || got.Chosen == nil || got.Outcome.Proof != solve.Best || base.Outcome.Proof != solve.Best {
			t.Skip("no proved plan")
		}
		near := Nearest(p, base.Chosen, q, got)
		if bad := Check(q, near); len(bad) > 0 {
			t.Fatalf("not a plan: %v", bad)
		}
		moved := 0
		for i, j := range near.Chosen {
			if j != base.Chosen[i] {
				moved++
			}
		}
		if want := fewest(q, base.Chosen, got.Cost); near.Cost != got.Cost || moved != want {
			t.Fatalf("cost %d with %d changes; the best costs %d with %d", near.Cost, moved, got.Cost, want)
		}
	})
}

// A plan is priced as it stands, the bound below every plan.
func TestPricedAsItStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		chosen, cost := make([]int, len(p.Needs)), int64(0)
		for i, n := range p.Needs {
			chosen[i] = rapid.IntRange(0, len(n.Options)-1).Draw(t, "choice")
			cost += n.Options[chosen[i]].Cost
		}
		holds := len(Check(p, Plan{Chosen: chosen, Cost: cost})) == 0
		got, err := Priced(context.Background(), p, Plan{Chosen: chosen}, solve.Budget{})
		if (err == nil) != holds {
			t.Fatalf("the plan holds: %v, and priced: %v", holds, err)
		}
		if err != nil {
			return
		}
		best := bruteForce(p)
		if !slices.Equal(got.Chosen, chosen) || got.Cost != cost || int64(got.Outcome.Bound) > best || got.Outcome.Proof == solve.Best && cost != best {
			t.Fatalf("%v at %d became %v at %d, bound %v (%s); the best is %d", chosen, cost, got.Chosen, got.Cost, got.Outcome.Bound, got.Outcome.Proof, best)
		}
	})
}
