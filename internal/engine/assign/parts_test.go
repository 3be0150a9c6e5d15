package assign

import (
	"context"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

// anyPrices draws a price for every row of a model: a bound has to hold at
// any prices, not only at good ones.
func anyPrices(t *rapid.T, m *model) dual {
	d := dual{lambda: make([]float64, len(m.have))}
	for r := range d.lambda {
		d.lambda[r] = float64(rapid.IntRange(0, 40).Draw(t, "price")) / 2
	}
	return d
}

// Every bound holds at any prices, with groups taken loosely or exactly.
func TestBoundsHoldAtAnyPrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		want := bruteForce(p)
		m := newModel(&p)
		d := anyPrices(t, m)
		loose := m.honestBound(d.lambda)
		m.exact = true
		exact := m.honestBound(d.lambda)
		if loose > exact || exact > want {
			t.Fatalf("loose %d, exact %d, the best plan %d", loose, exact, want)
		}
		if k := m.knapsackBound(context.Background(), d, want); k > want {
			t.Fatalf("the bound by knapsacks is %d, the best plan %d", k, want)
		}
	})
}

// The choice of a group is the cheapest there is, by trying every one.
func TestGroupChoiceAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Problem{Things: 3, Groups: 1, Families: 2}
		for range rapid.IntRange(2, 4).Draw(t, "members") {
			n := Need{Group: 0, Pin: None, Slots: []int{0}}
			for range rapid.IntRange(1, 4).Draw(t, "options") {
				n.Options = append(n.Options, Option{Cost: rapid.Int64Range(0, 30).Draw(t, "cost"),
					Thing: rapid.IntRange(None, 2).Draw(t, "thing"), Family: rapid.IntRange(None, 1).Draw(t, "family")})
			}
			n.Options = append(n.Options, Option{Cost: 50, Thing: None, Family: None})
			p.Needs = append(p.Needs, n)
		}
		m := newModel(&p)
		m.exact = true
		x := make([]int, len(p.Needs))
		got := m.groupChoice(0, m.cost, x)
		if want := float64(bruteForce(p)); got != want {
			t.Fatalf("the group costs %v, the best is %v", got, want)
		}
		exact := make([]*big.Int, len(m.cost))
		for o, c := range m.cost {
			exact[o] = big.NewInt(int64(c))
		}
		if whole := m.honestGroup(0, m.cost, exact); float64(whole.Int64()) != got {
			t.Fatalf("in whole numbers the group costs %v, else %v", whole, got)
		}
		plan := Plan{Cost: int64(got)}
		for i, o := range x {
			plan.Chosen = append(plan.Chosen, o-m.first[i])
		}
		if bad := Check(p, plan); len(bad) > 0 {
			t.Fatalf("the choice does not hold: %v", bad)
		}
	})
}

// Nothing that is part of an allowed plan is ruled out for want of room.
func TestPropagateKeepsEveryPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		m := newModel(&p)
		chosen := make([]int, len(p.Needs))
		cost := int64(0)
		for i, n := range p.Needs {
			chosen[i] = rapid.IntRange(0, len(n.Options)-1).Draw(t, "choice")
			cost += n.Options[chosen[i]].Cost
			for j := range n.Options { // some of the others are gone already
				m.alive[m.first[i]+j] = j == chosen[i] || rapid.Bool().Draw(t, "left")
			}
		}
		if len(Check(p, Plan{Chosen: chosen, Cost: cost})) > 0 {
			t.Skip("not a plan")
		}
		if !m.propagate() {
			t.Fatal("says there is no plan")
		}
		for i, j := range chosen {
			if !m.alive[m.first[i]+j] {
				t.Fatalf("need %d lost the option it has in a plan", i)
			}
		}
	})
}

// A cloth of 10 serves one piece of 6, not one and two thirds: the bound by
// knapsacks sees it, prices alone do not. from: hand calculation. Three needs, each 1 with cloth or 10 without; one
// is served, so 21. Shared by length, 10/6 would be served: 30 - 15 = 15.
func TestKnapsacksSeeWholePieces(t *testing.T) {
	p := Problem{Budgets: []int64{10}}
	for range 3 {
		p.Needs = append(p.Needs, Need{Group: None, Pin: None, Options: []Option{
			{Cost: 1, Thing: None, Family: None, Uses: []Use{{0, 6}}}, {Cost: 10, Thing: None, Family: None}}})
	}
	m := newModel(&p)
	d := dual{lambda: []float64{1.5 * m.scale[0]}}
	if got := m.honestBound(d.lambda); got != 15 {
		t.Errorf("by prices alone the bound is %d, by hand 15", got)
	}
	if got := m.knapsackBound(context.Background(), d, 21); got != 21 {
		t.Errorf("by knapsacks the bound is %d, by hand 21", got)
	}
}

// show makes up a sharing-out of the size of a school show: money, hours,
// cloths, things with scenes.
func show(needs int) Problem {
	const cloths, things, slots = 20, 150, 24
	c := solve.Budget{}.Chance(1)
	p := Problem{Things: things, Budgets: []int64{int64(needs) * 8, int64(needs) * 6}}
	for range cloths {
		p.Budgets = append(p.Budgets, 150+c.Int64N(250))
	}
	for range needs {
		n := Need{Group: None, Pin: None}
		from := c.IntN(slots - 4)
		for s := range 4 {
			n.Slots = append(n.Slots, from+s)
		}
		for j := range 50 {
			o := Option{Cost: 5 + c.Int64N(60), Thing: None, Family: None}
			switch j % 4 {
			case 0:
				o.Uses = []Use{{0, 20 + c.Int64N(300)}}
			case 1:
				o.Uses = []Use{{1, 20 + c.Int64N(100)}, {2 + c.IntN(cloths), 80 + c.Int64N(200)}}
			default:
				o.Thing, o.Exclusive = c.IntN(things), c.IntN(3) == 0
				o.Uses = []Use{{1, c.Int64N(60)}}
			}
			n.Options = append(n.Options, o)
		}
		n.Options = append(n.Options, Option{Cost: 120 + c.Int64N(200), Thing: None, Family: None})
		p.Needs = append(p.Needs, n)
	}
	return p
}

func BenchmarkShow(b *testing.B) {
	p := show(200)
	b.ReportAllocs()
	gap, value := math.NaN(), math.NaN()
	for range b.N {
		plan, err := Solve(context.Background(), p, nil, solve.Budget{})
		if err != nil {
			b.Fatal(err)
		}
		if bad := Check(p, plan); len(bad) > 0 {
			b.Fatal(bad)
		}
		gap, value = plan.Outcome.Gap()*100, plan.Outcome.Value
	}
	b.ReportMetric(value, "cost")
	b.ReportMetric(gap, "gap-%")
}

// Two needs may share a thing taken to pieces, as far as it gives; nobody has
// it whole beside them. from: hand calculation. A gown of two panels: two
// needs take one each for 1 and 2, a third would wear it whole for 1, and
// without each costs 10. Cut: 1 + 2 + 10 = 13; whole: 10 + 10 + 1 = 21.
func TestThingInPieces(t *testing.T) {
	p := Problem{Things: 1, Budgets: []int64{2}}
	for cost := range int64(2) {
		p.Needs = append(p.Needs, Need{Group: None, Pin: None, Options: []Option{
			{Cost: 1 + cost, Thing: None, Family: None, Apart: []int{0}, Uses: []Use{{0, 1}}}, {Cost: 10, Thing: None, Family: None}}})
	}
	p.Needs = append(p.Needs, Need{Group: None, Pin: None, Options: []Option{{Cost: 1, Thing: 0, Family: None}, {Cost: 10, Thing: None, Family: None}}})
	solved := func() Plan {
		got, err := Solve(context.Background(), p, nil, solve.Budget{})
		if err != nil || got.Outcome.Proof != solve.Best {
			t.Fatalf("%+v, %v", got.Outcome, err)
		}
		return got
	}
	if got := solved(); got.Cost != 13 {
		t.Errorf("cut up it costs %d, by hand 13", got.Cost)
	}
	p.Budgets[0] = 1 // one panel: 1 + 10 + 10, or whole 10 + 10 + 1
	if got := solved(); got.Cost != 21 {
		t.Errorf("of one panel it costs %d, by hand 21", got.Cost)
	}
	both := Plan{Chosen: []int{0, 1, 0}, Cost: 12}
	if len(Check(p, both)) == 0 {
		t.Error("cut and worn whole is not seen")
	}
}
