// Package assign gives every need exactly one of its options, at least cost,
// under budgets, with things that can be in one place at a time, things used
// up for good, and groups whose members must agree on a family. It finds a
// plan and a bound: Lagrangian relaxation by the volume algorithm (Barahona
// and Anbil 2000) with groups solved exactly inside it; a second bound by
// knapsacks; repair, ejection moves and large-neighbourhood search (Shaw
// 1998); reduced-cost fixing, and depth-first branching on the core.
package assign

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// None stands for no thing, no group, no family, no pin.
const None = -1

// Problem is complete and plain. Amounts are whole and not negative.
type Problem struct {
	Needs    []Need
	Budgets  []int64 // how much there is of each scarce amount
	Things   int     // things are numbered from 0
	Groups   int     // groups are numbered from 0
	Families int     // families are numbered from 0
}

// Need takes exactly one of its options.
type Need struct {
	Options []Option
	Slots   []int // when it is in use; two needs sharing a slot cannot share a thing
	Group   int   // None where it stands alone
	Pin     int   // the option a person chose, or None
}

// Option is one way to meet a need.
type Option struct {
	Cost      int64
	Uses      []Use
	Thing     int  // the thing it takes, or None
	Exclusive bool // nothing else may use the thing, at any time
	Family    int  // the family it commits its group to, or None
	// Apart are things it takes to pieces: with others that do, and with nobody
	// who uses the thing whole. How much each thing gives is for budgets to say.
	Apart []int
	// Unlisted options stand for others that nobody looked at closely: each costs
	// and uses no more than any it stands for, and takes no thing. No plan has
	// one; the bound reckons with them, and so holds for the others as well.
	Unlisted bool
}

// Use is an amount of one budget.
type Use struct {
	Budget int
	Amount int64
}

// Plan is an answer: the option of each need.
type Plan struct {
	Chosen  []int
	Cost    int64
	Worth   []float64 // what one more unit of each budget would save
	Reduced [][]int64 // cost of each option beyond its need's best at the bound's prices, rounded down
	Outcome solve.Outcome

	prices map[rowName]float64 // for a problem near this one; nil where there are none
}

// wellFormed says what is wrong with a problem, if anything.
func (p *Problem) wellFormed() error {
	for i, n := range p.Needs {
		if len(n.Options) == 0 {
			return fmt.Errorf("need %d has no option", i)
		}
		if n.Pin < None || n.Pin >= len(n.Options) || n.Group < None || n.Group >= p.Groups {
			return fmt.Errorf("need %d has a pin or a group that does not exist", i)
		}
		if !slices.ContainsFunc(n.Options, func(o Option) bool { return !o.Unlisted }) {
			return fmt.Errorf("need %d has no option that a plan could have", i)
		}
		for j, o := range n.Options {
			if o.Unlisted && (o.Thing != None || len(o.Apart) > 0 || n.Pin == j) {
				return fmt.Errorf("need %d, option %d is not listed and takes a thing, or is pinned", i, j)
			}
			if o.Thing < None || o.Thing >= p.Things || o.Family < None || o.Family >= p.Families || o.Cost < 0 {
				return fmt.Errorf("need %d, option %d names a thing or family that does not exist, or costs less than nothing", i, j)
			}
			for _, t := range o.Apart {
				if t < 0 || t >= p.Things || t == o.Thing {
					return fmt.Errorf("need %d, option %d takes a thing apart that does not exist, or that it uses whole", i, j)
				}
			}
			for _, u := range o.Uses {
				if u.Budget < 0 || u.Budget >= len(p.Budgets) || u.Amount < 0 {
					return fmt.Errorf("need %d, option %d uses a budget that does not exist, or less than nothing", i, j)
				}
			}
		}
	}
	return nil
}

// Solve looks for the cheapest plan. warm, if not nil, is an earlier plan's
// choice to start from. An error means the problem is malformed.
//
// Steps counted are rounds of the large-neighbourhood search.
func Solve(ctx context.Context, p Problem, warm []int, b solve.Budget) (Plan, error) {
	return From(ctx, p, Plan{Chosen: warm}, b)
}

// From is Solve for a problem near one solved before: one with the same needs
// in the same order, and the same numbers for the things and budgets it still
// has. It starts from that plan's choice and, where it has them, its prices, and
// then looks less long. Which plan it starts from has no say in what is true of
// the answer.
func From(ctx context.Context, p Problem, near Plan, b solve.Budget) (Plan, error) {
	if err := p.wellFormed(); err != nil {
		return Plan{}, err
	}
	if len(p.Needs) == 0 {
		return Plan{Chosen: []int{}, Worth: make([]float64, len(p.Budgets)), Outcome: solve.Outcome{Proof: solve.Best, HasBound: true, Seed: b.SeedOr1()}}, nil
	}
	m := newModel(&p)
	s := newSearch(m)
	if len(near.Chosen) == len(p.Needs) {
		s.start(near.Chosen)
	}
	if near.prices != nil {
		return m.again(ctx, s, near, b), nil
	}
	s.construct(nil)
	d := m.ascend(ctx, s, b, 12000)
	if slices.Contains(m.together, true) {
		m.exact = true
		d = m.ascendFrom(ctx, s, b, d, 1500)
	}
	proved, bound := m.finish(ctx, s, &d, b, b.StepsFor(2500, firstRounds, 6*firstRounds))
	return m.answer(ctx, s, d, proved, bound, b), nil
}

// Priced is the choice of a plan as it stands, with the prices and the bound of
// p: something to start From. It begins at the plan's prices, where it has some
// of a problem nearby. An error means the problem is malformed or the plan is
// none of it.
func Priced(ctx context.Context, p Problem, plan Plan, b solve.Budget) (Plan, error) {
	chosen, near := plan.Chosen, plan.prices
	plan = Plan{Chosen: chosen}
	if err := p.wellFormed(); err != nil {
		return plan, err
	}
	if len(chosen) != len(p.Needs) {
		return plan, fmt.Errorf("%d choices for %d needs", len(chosen), len(p.Needs))
	}
	for i, j := range chosen {
		if j < 0 || j >= len(p.Needs[i].Options) {
			return plan, fmt.Errorf("need %d has no option %d", i, j)
		}
		plan.Cost += p.Needs[i].Options[j].Cost
	}
	if bad := Check(p, plan); len(bad) > 0 {
		return plan, fmt.Errorf("not a plan: %s", bad[0].Sentence(0))
	}
	if len(p.Needs) == 0 {
		plan.Outcome.Proof = solve.Best
		return plan, nil
	}
	m := newModel(&p)
	s := newSearch(m)
	s.best, s.bestCost = slices.Clone(chosen), plan.Cost
	rounds := pricedRounds
	if near != nil {
		rounds = nearPricedRounds
	}
	d := m.ascendFrom(ctx, s, b, dual{lambda: m.at(near), value: math.Inf(-1)}, rounds)
	s.best, s.bestCost = chosen, plan.Cost // the search beside it may have found better; the plan stands
	m.exact = slices.Contains(m.together, true)
	bound := max(m.honestBound(d.lambda), m.knapsackBound(ctx, d, plan.Cost))
	return m.answer(ctx, s, d, bound >= plan.Cost, min(bound, plan.Cost), b), nil
}

// again searches from the prices of a plan nearby. Where that plan was proved
// best, this one is to be proved as well; else the prices give what bound they
// do.
func (m *model) again(ctx context.Context, s *search, near Plan, b solve.Budget) Plan {
	if s.best == nil {
		s.construct(nil)
	}
	m.exact = slices.Contains(m.together, true)
	d := dual{lambda: m.at(near.prices), value: math.Inf(-1)}
	rounds := b.StepsFor(nearRounds/2, nearRounds, firstRounds)
	if near.Outcome.Proof == solve.Best {
		d = m.ascendFrom(ctx, s, b, d, 800)
		proved, bound := m.finish(ctx, s, &d, b, rounds)
		return m.answer(ctx, s, d, proved, bound, b)
	}
	s.improve(ctx, d, b, rounds)
	return m.answer(ctx, s, d, false, m.honestBound(d.lambda), b)
}

// finish searches and proves, for as many rounds of the search. It returns
// whether the best plan is proved, and the best bound.
func (m *model) finish(ctx context.Context, s *search, d *dual, b solve.Budget, rounds int64) (bool, int64) {
	s.improve(ctx, *d, b, min(rounds, firstRounds))
	proved, bound := m.close(ctx, s, d, b, firstWork)
	if !proved && rounds > firstRounds {
		half := b
		if b.Spent != nil {
			half.Spent = func() float64 { return 2 * b.Spent() }
		}
		s.improve(ctx, *d, half, rounds-firstRounds)
		var more int64
		proved, more = m.close(ctx, s, d, b, firstWork*min(rounds/firstRounds, 1000))
		bound = max(bound, more)
	}
	return proved, bound
}

// answer is what was found, with what it proves.
func (m *model) answer(ctx context.Context, s *search, d dual, proved bool, bound int64, b solve.Budget) Plan {
	out := Plan{Outcome: solve.Outcome{Seed: b.SeedOr1(), Steps: s.steps, Stopped: ctx.Err() != nil, Proof: solve.NotKnown}}
	if s.best == nil {
		return out
	}
	out.Chosen, out.Cost = s.best, s.bestCost
	out.Outcome.Proof = solve.Found
	if proved || bound >= s.bestCost {
		bound, out.Outcome.Proof = s.bestCost, solve.Best
	}
	out.Outcome.Value, out.Outcome.Bound, out.Outcome.HasBound = float64(s.bestCost), float64(bound), true
	out.Worth, out.Reduced, out.prices = m.worth(d), m.reduced(d), m.prices(d.lambda)
	return out
}

// pricedRounds is how long the prices of a plan are looked for,
// nearPricedRounds the same from prices there are.
const (
	pricedRounds     = 3000
	nearPricedRounds = 250
)

// firstRounds is how long the search looks before it first tries to prove,
// nearRounds the same beside a plan there is already, firstWork how much work
// that may be, in nodes times options.
const (
	firstRounds = 20_000
	nearRounds  = 3_000
	firstWork   = 1_000_000
)

// close raises the bound to the best plan found and tries to prove that plan
// best. It returns the best bound it came to.
func (m *model) close(ctx context.Context, s *search, d *dual, b solve.Budget, work int64) (bool, int64) {
	if s.best == nil {
		return false, m.honestBound(d.lambda)
	}
	*d = m.ascendFrom(ctx, s, b, *d, 400)
	bound := m.honestBound(d.lambda)
	if bound >= s.bestCost {
		return true, s.bestCost
	}
	bound = max(bound, m.knapsackBound(ctx, *d, s.bestCost))
	proved, core := m.prove(ctx, s, *d, b, work)
	return proved, max(bound, core)
}

// Check recomputes everything a plan claims, knowing nothing of the search:
// one option each, pins, budgets, things, families, cost.
func Check(p Problem, plan Plan) []why.Reason {
	var bad []why.Reason
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleCheck.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	if len(plan.Chosen) != len(p.Needs) {
		wrong("%d choices for %d needs", len(plan.Chosen), len(p.Needs))
		return bad
	}
	cost, used := int64(0), make([]int64, len(p.Budgets))
	users, cutters := map[int][]int{}, map[int][]int{}
	family := map[int]int{}
	for i, n := range p.Needs {
		c := plan.Chosen[i]
		if c < 0 || c >= len(n.Options) {
			wrong("need %d has no such option", i)
			return bad
		}
		if n.Pin != None && n.Pin != c {
			wrong("need %d is pinned to %d and got %d", i, n.Pin, c)
		}
		o := n.Options[c]
		if o.Unlisted {
			wrong("need %d has an option that is not listed", i)
		}
		cost += o.Cost
		for _, u := range o.Uses {
			used[u.Budget] += u.Amount
		}
		if o.Thing != None {
			users[o.Thing] = append(users[o.Thing], i)
		}
		for _, t := range o.Apart {
			cutters[t] = append(cutters[t], i)
		}
		if n.Group != None && o.Family != None {
			if f, ok := family[n.Group]; ok && f != o.Family {
				wrong("group %d takes two families", n.Group)
			}
			family[n.Group] = o.Family
		}
	}
	for k, u := range used {
		if u > p.Budgets[k] {
			wrong("budget %d: %d used of %d", k, u, p.Budgets[k])
		}
	}
	things := make([]int, 0, len(users))
	for t := range users {
		things = append(things, t)
	}
	sort.Ints(things)
	for _, t := range things {
		when := map[int]int{}
		if len(cutters[t]) > 0 {
			wrong("thing %d is taken to pieces by need %d and used whole by need %d", t, cutters[t][0], users[t][0])
		}
		for _, i := range users[t] {
			if p.Needs[i].Options[plan.Chosen[i]].Exclusive && len(users[t]) > 1 {
				wrong("thing %d is used up by need %d and used again", t, i)
			}
			for _, s := range p.Needs[i].Slots {
				if j, taken := when[s]; taken && j != i {
					wrong("thing %d is in two places in slot %d", t, s)
				}
				when[s] = i
			}
		}
	}
	if cost != plan.Cost {
		wrong("the cost adds up to %d, not %d", cost, plan.Cost)
	}
	return bad
}

var ruleCheck = why.Declare("assign.check", "The sharing-out does not hold: {what}.", why.Exact)
