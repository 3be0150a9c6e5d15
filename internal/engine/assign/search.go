package assign

import (
	"context"
	"math"
	"slices"

	"hemwright/internal/value/solve"
)

// search holds one plan in the making and the best one found.
type search struct {
	m        *model
	chosen   []int // option of each need, or None while it is open
	used     []int64
	drawn    []int   // how many needs draw on each budget now
	takers   [][]int // needs using each thing
	famOf    []int   // family of each group, or None
	famCount []int   // members that committed it
	cost     int64
	best     []int
	bestCost int64
	steps    int64
	rank     []float64 // scratch: reduced costs in use
}

func newSearch(m *model) *search {
	s := &search{m: m, bestCost: math.MaxInt64}
	s.reset()
	s.rank = append([]float64{}, m.cost...)
	return s
}

func (s *search) reset() {
	p := s.m.p
	s.chosen = make([]int, len(p.Needs))
	for i := range s.chosen {
		s.chosen[i] = None
	}
	s.used, s.drawn, s.takers = make([]int64, len(p.Budgets)), make([]int, len(p.Budgets)), make([][]int, p.Things)
	s.famOf, s.famCount = make([]int, p.Groups), make([]int, p.Groups)
	for g := range s.famOf {
		s.famOf[g] = None
	}
	s.cost = 0
}

// target is the cost the bound climbs towards.
func (s *search) target(value float64) float64 {
	if s.best == nil {
		return value + math.Abs(value)*0.1 + 100
	}
	return float64(s.bestCost)
}

// fits says whether need i can take option j beside all that is chosen.
func (s *search) fits(i, j int) bool {
	if !s.m.alive[s.m.first[i]+j] {
		return false
	}
	o := s.m.option(i, j)
	for _, u := range o.Uses {
		if s.used[u.Budget]+u.Amount > s.m.p.Budgets[u.Budget] {
			return false
		}
	}
	if g := s.m.p.Needs[i].Group; g != None && o.Family != None && s.famOf[g] != None && s.famOf[g] != o.Family {
		return false
	}
	return s.blocker(i, o) == None
}

// blocker is a need that holds the option's thing, or None.
func (s *search) blocker(i int, o *Option) int {
	if o.Thing == None {
		return None
	}
	for _, k := range s.takers[o.Thing] {
		if k != i && (o.Exclusive || s.m.option(k, s.chosen[k]).Exclusive || s.m.meet(i, k)) {
			return k
		}
	}
	return None
}

func (s *search) put(i, j int) {
	o := s.m.option(i, j)
	s.chosen[i] = j
	s.cost += o.Cost
	for _, u := range o.Uses {
		s.used[u.Budget] += u.Amount
		s.drawn[u.Budget]++
	}
	if o.Thing != None {
		s.takers[o.Thing] = append(s.takers[o.Thing], i)
	}
	if g := s.m.p.Needs[i].Group; g != None && o.Family != None {
		s.famOf[g] = o.Family
		s.famCount[g]++
	}
}

func (s *search) take(i int) {
	j := s.chosen[i]
	o := s.m.option(i, j)
	s.chosen[i] = None
	s.cost -= o.Cost
	for _, u := range o.Uses {
		s.used[u.Budget] -= u.Amount
		s.drawn[u.Budget]--
	}
	if o.Thing != None {
		k := slices.Index(s.takers[o.Thing], i)
		s.takers[o.Thing] = slices.Delete(s.takers[o.Thing], k, k+1)
	}
	if g := s.m.p.Needs[i].Group; g != None && o.Family != None {
		if s.famCount[g]--; s.famCount[g] == 0 {
			s.famOf[g] = None
		}
	}
}

// start takes over an earlier choice as far as it still fits and fills the
// rest.
func (s *search) start(chosen []int) {
	s.reset()
	for i, j := range chosen {
		if j >= 0 && j < len(s.m.p.Needs[i].Options) && s.fits(i, j) {
			s.put(i, j)
		}
	}
	s.fill(s.rank)
	s.keep()
}

// construct builds a plan from scratch by regret on reduced costs.
func (s *search) construct(rc []float64) {
	s.reset()
	if rc == nil {
		rc = s.m.cost
	}
	copy(s.rank, rc)
	if s.fill(s.rank) {
		s.descend()
		s.keep()
	}
}

// fill gives every open need an option, the one first that would lose most by
// waiting. It returns false where some need is left with none.
func (s *search) fill(rank []float64) bool {
	var open []int
	for i, j := range s.chosen {
		if j == None {
			open = append(open, i)
		}
	}
	type pick struct {
		opt    int
		regret float64
	}
	picks := make([]pick, len(open))
	for k, i := range open {
		picks[k].opt, picks[k].regret = s.bestTwo(i, rank)
	}
	for len(open) > 0 {
		k := 0
		for q := range open {
			if picks[q].regret > picks[k].regret {
				k = q
			}
		}
		i := open[k]
		if picks[k].opt != None && !s.fits(i, picks[k].opt) { // its place went since it was looked up
			picks[k].opt, picks[k].regret = s.bestTwo(i, rank)
			continue
		}
		if picks[k].opt == None {
			return false
		}
		s.put(i, picks[k].opt)
		last := len(open) - 1
		open[k], picks[k] = open[last], picks[last]
		open, picks = open[:last], picks[:last]
	}
	return true
}

// bestTwo is the best fitting option of a need and how much worse the second
// would be.
func (s *search) bestTwo(i int, rank []float64) (int, float64) {
	best, first, second := None, math.Inf(1), math.Inf(1)
	for j := range s.m.p.Needs[i].Options {
		if r := rank[s.m.first[i]+j]; r < second && s.fits(i, j) {
			if r < first {
				best, first, second = j, r, first
			} else {
				second = r
			}
		}
	}
	if math.IsInf(second, 1) {
		return best, never
	}
	return best, second - first
}

// keep remembers the plan in hand if it is the best.
func (s *search) keep() {
	if s.cost < s.bestCost && !slices.Contains(s.chosen, None) {
		s.best, s.bestCost = append([]int{}, s.chosen...), s.cost
	}
}

// descend makes every single improvement there is, pushing one blocker aside
// where that pays.
func (s *search) descend() {
	for better := true; better; {
		better = false
		for i := range s.m.p.Needs {
			better = s.improveOne(i) || better
		}
	}
}

func (s *search) improveOne(i int) bool {
	was := s.chosen[i]
	old := s.m.option(i, was).Cost
	s.take(i)
	best, gain := was, int64(0)
	pushed, pushedTo := None, None
	for j := range s.m.p.Needs[i].Options {
		o := s.m.option(i, j)
		if old-o.Cost <= gain || !s.m.alive[s.m.first[i]+j] {
			continue
		}
		if s.fits(i, j) {
			best, gain, pushed = j, old-o.Cost, None
			continue
		}
		if k := s.blocker(i, o); k != None {
			if to, g := s.push(i, j, k); old-o.Cost+g > gain && to != None {
				best, gain, pushed, pushedTo = j, old-o.Cost+g, k, to
			}
		}
	}
	if pushed != None {
		s.take(pushed)
	}
	s.put(i, best)
	if pushed != None {
		s.put(pushed, pushedTo)
	}
	return gain > 0
}

// push tries to move blocker k out of the way of option j of need i, and says
// where to and what that gains (mostly less than nothing).
func (s *search) push(i, j, k int) (int, int64) {
	was := s.chosen[k]
	s.take(k)
	to, cost := None, int64(math.MaxInt64)
	if s.fits(i, j) {
		s.put(i, j)
		for q := range s.m.p.Needs[k].Options {
			if c := s.m.option(k, q).Cost; c < cost && s.fits(k, q) {
				to, cost = q, c
			}
		}
		s.take(i)
	}
	s.put(k, was)
	if to == None {
		return None, 0
	}
	return to, s.m.option(k, was).Cost - cost
}

// improve is a large-neighbourhood search (Shaw 1998): take some needs out,
// put them back by regret on shaken prices, keep what is not much worse.
func (s *search) improve(ctx context.Context, d dual, b solve.Budget, rounds int64) {
	if s.best == nil {
		return
	}
	rc, x, v := make([]float64, len(s.m.cost)), make([]int, len(s.m.p.Needs)), make([]float64, len(s.m.have))
	s.m.evaluate(d.lambda, rc, x, v)
	s.load(s.best)
	for n := int64(0); n < rounds && !b.Over(ctx); n++ {
		s.steps++
		chance := b.Chance(s.steps)
		shake := 0.3 * chance.Float64()
		if n%500 == 499 {
			s.load(s.best)
		}
		before, cost := append([]int{}, s.chosen...), s.cost
		for _, i := range s.neighbourhood(chance) {
			if s.chosen[i] != None {
				s.take(i)
			}
		}
		for o := range rc {
			s.rank[o] = rc[o] * (1 + shake*chance.Float64())
		}
		ok := s.fill(s.rank)
		if ok {
			s.descend()
			s.keep()
		}
		heat := float64(cost) * 0.002 * (1 - float64(n)/float64(rounds))
		if !ok || float64(s.cost-cost) > heat*chance.Float64() {
			s.load(before)
		}
		if n%50 == 0 {
			b.Tell(solve.Progress{Step: s.steps, Steps: rounds, Value: float64(s.bestCost), Bound: d.value, HasBound: true, Words: "looking for a better plan"})
		}
	}
}

func (s *search) load(chosen []int) {
	s.reset()
	for i, j := range chosen {
		if j != None {
			s.put(i, j)
		}
	}
}

// neighbourhood picks the needs to take out: at random, a group, those that
// could use one thing, or those that draw on one scarce amount.
func (s *search) neighbourhood(chance *solve.Chance) []int {
	n := len(s.m.p.Needs)
	seed := chance.IntN(n)
	if g := s.m.p.Needs[seed].Group; g != None && chance.IntN(2) == 0 {
		return s.m.groups[g]
	}
	size := min(3+chance.IntN(14), n)
	out := []int{seed}
	var near func(i int) bool
	switch chance.IntN(4) {
	case 0:
		for range size {
			out = append(out, chance.IntN(n))
		}
		return out
	case 1:
		things := map[int]bool{}
		for _, o := range s.m.p.Needs[seed].Options {
			things[o.Thing] = o.Thing != None
		}
		near = func(i int) bool {
			return slices.ContainsFunc(s.m.p.Needs[i].Options, func(o Option) bool { return things[o.Thing] })
		}
	default:
		scarce := map[int]bool{}
		for _, o := range s.m.p.Needs[seed].Options[:min(6, len(s.m.p.Needs[seed].Options))] {
			for _, u := range o.Uses {
				if len(scarce) < 3 && s.drawn[u.Budget]*5 <= n { // a cloth, not the money or the hours
					scarce[u.Budget] = true
				}
			}
		}
		near = func(i int) bool {
			return s.chosen[i] != None && slices.ContainsFunc(s.m.option(i, s.chosen[i]).Uses, func(u Use) bool { return scarce[u.Budget] })
		}
	}
	from := chance.IntN(n)
	for k := 0; k < n && len(out) < size; k++ {
		if i := (from + k) % n; i != seed && near(i) {
			out = append(out, i)
		}
	}
	return out
}
