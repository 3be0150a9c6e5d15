package assign

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

// everyBest tries every plan for those that cost as given.
func everyBest(p Problem, cost int64) [][]int {
	var out [][]int
	chosen := make([]int, len(p.Needs))
	var try func(i int, left int64)
	try = func(i int, left int64) {
		if i == len(p.Needs) {
			if left == 0 && len(Check(p, Plan{Chosen: chosen, Cost: cost})) == 0 {
				out = append(out, slices.Clone(chosen))
			}
			return
		}
		for j, o := range p.Needs[i].Options {
			chosen[i] = j
			try(i+1, left-o.Cost)
		}
	}
	try(0, cost)
	return out
}

// Probing rules out nothing that is part of a plan better than the best known,
// at any prices.
func TestProbeKeepsBetterPlans(t *testing.T) {
	ruledOut := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		want := bruteForce(p)
		m := newModel(&p)
		m.exact = rapid.Bool().Draw(t, "exact")
		s := newSearch(m)
		s.bestCost = want + 1 // one that costs a point more is known
		work := int64(1 << 30)
		all := m.left()
		d := anyPrices(t, m)
		d.value, d.xbar = math.Inf(-1), make([]float64, len(m.cost))
		if _, none := m.probe(context.Background(), s, d, solve.Budget{}, &work); none && s.bestCost > want {
			t.Fatalf("nothing better than %d is left, it says; the best plan costs %d", want+1, want)
		}
		ruledOut += all - m.left()
		if s.bestCost == want {
			return // it found the best on its way: that may be ruled out
		}
		for _, chosen := range everyBest(p, want) {
			for i, j := range chosen {
				if !m.alive[m.first[i]+j] {
					t.Fatalf("need %d lost option %d, which it has in a plan at %d", i, j, want)
				}
			}
		}
	})
	if ruledOut == 0 {
		t.Error("nothing was ruled out")
	}
}
