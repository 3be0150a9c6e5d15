package assign

import (
	"math"
	"slices"
)

// search holds one plan in the making and the best one found.
type search struct {
	m        *model
	chosen   []int // option of each need, or None while it is open
	used     []int64
	drawers  [][]int // needs that draw on each budget now, but for the broad ones
	takers   [][]int // needs using each thing
	cutters  [][]int // needs taking each thing to pieces
	famOf    []int   // family of each group, or None
	famCount []int   // members that committed it
	cost     int64
	best     []int
	bestCost int64
	steps    int64
	rank     []float64 // scratch: reduced costs in use
	open     []pick    // scratch of fill
	put1     []int     // scratch of tryFamily
	out      []int     // scratch: the needs taken out
	wanted   map[int]bool
}

func newSearch(m *model) *search {
	p := m.p
	s := &search{
		m: m, bestCost: math.MaxInt64, chosen: make([]int, len(p.Needs)), used: make([]int64, len(p.Budgets)),
		drawers: make([][]int, len(p.Budgets)), takers: make([][]int, p.Things), cutters: make([][]int, p.Things), famOf: make([]int, p.Groups), famCount: make([]int, p.Groups), wanted: map[int]bool{},
	}
	s.reset()
	s.rank = append([]float64{}, m.cost...)
	return s
}

func (s *search) reset() {
	for i := range s.chosen {
		s.chosen[i] = None
	}
	clear(s.used)
	for k := range s.drawers {
		s.drawers[k] = s.drawers[k][:0]
	}
	for k := range s.takers {
		s.takers[k], s.cutters[k] = s.takers[k][:0], s.cutters[k][:0]
	}
	clear(s.famCount)
	for g := range s.famOf {
		s.famOf[g] = None
	}
	s.cost = 0
}

// target is the cost the bound climbs towards.
func (s *search) target(value float64) float64 {
	if s.bestCost == math.MaxInt64 {
		return value + math.Abs(value)*0.1 + 100
	}
	return float64(s.bestCost)
}

// fits says whether need i can take option j beside all that is chosen.
func (s *search) fits(i, j int) bool {
	o := s.m.option(i, j)
	if !s.m.alive[s.m.first[i]+j] || o.Unlisted {
		return false
	}
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

// blocker is a need that holds a thing of the option's, or None.
func (s *search) blocker(i int, o *Option) int {
	for _, t := range o.Apart {
		if k := another(s.takers[t], i); k != None {
			return k
		}
	}
	if o.Thing == None {
		return None
	}
	if k := another(s.cutters[o.Thing], i); k != None {
		return k
	}
	for _, k := range s.takers[o.Thing] {
		if k != i && (o.Exclusive || s.m.option(k, s.chosen[k]).Exclusive || s.m.meet(i, k)) {
			return k
		}
	}
	return None
}

// another is a need of a list that is not i, or None.
func another(list []int, i int) int {
	for _, k := range list {
		if k != i {
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
		if u.Amount > 0 && !s.m.broad[u.Budget] {
			s.drawers[u.Budget] = append(s.drawers[u.Budget], i)
		}
	}
	if o.Thing != None {
		s.takers[o.Thing] = append(s.takers[o.Thing], i)
	}
	for _, t := range o.Apart {
		s.cutters[t] = append(s.cutters[t], i)
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
		if u.Amount > 0 && !s.m.broad[u.Budget] {
			s.drawers[u.Budget] = without(s.drawers[u.Budget], i)
		}
	}
	if o.Thing != None {
		s.takers[o.Thing] = without(s.takers[o.Thing], i)
	}
	for _, t := range o.Apart {
		s.cutters[t] = without(s.cutters[t], i)
	}
	if g := s.m.p.Needs[i].Group; g != None && o.Family != None {
		if s.famCount[g]--; s.famCount[g] == 0 {
			s.famOf[g] = None
		}
	}
}

// without takes one occurrence of i out of a list, in place.
func without(list []int, i int) []int {
	k := slices.Index(list, i)
	list[k] = list[len(list)-1]
	return list[:len(list)-1]
}

// start takes over an earlier choice as far as it still fits, the needs with
// one option left first, and fills the rest.
func (s *search) start(chosen []int) {
	s.reset()
	for i := range chosen {
		if j := s.m.only(i); j != None && s.fits(i, j) {
			s.put(i, j)
		}
	}
	for i, j := range chosen {
		if s.chosen[i] == None && j >= 0 && j < len(s.m.p.Needs[i].Options) && s.fits(i, j) {
			s.put(i, j)
		}
	}
	if s.fill(s.rank) {
		s.keep()
	}
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

// pick is the option an open need would take, and what waiting would cost.
type pick struct {
	need, opt int
	regret    float64
}

// fill gives every open need an option, the one first that would lose most by
// waiting. It returns false where some need is left with none.
func (s *search) fill(rank []float64) bool {
	open := s.open[:0]
	for i, j := range s.chosen {
		if j == None {
			opt, regret := s.bestTwo(i, rank)
			open = append(open, pick{i, opt, regret})
		}
	}
	s.open = open
	for len(open) > 0 {
		k := 0
		for q := range open {
			if open[q].regret > open[k].regret {
				k = q
			}
		}
		at := &open[k]
		if at.opt != None && !s.fits(at.need, at.opt) { // its place went since it was looked up
			at.opt, at.regret = s.bestTwo(at.need, rank)
			continue
		}
		if at.opt == None {
			return false
		}
		s.put(at.need, at.opt)
		open[k] = open[len(open)-1]
		open = open[:len(open)-1]
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
		s.best, s.bestCost = append(s.best[:0], s.chosen...), s.cost
	}
}
