package assign

import (
	"context"
	"math"
	"slices"

	"hemwright/internal/value/solve"
)

// improve is a large-neighbourhood search (Shaw 1998): take some needs out,
// put them back by regret on shaken prices, keep what is not much worse. It
// ends early where the bound is reached.
func (s *search) improve(ctx context.Context, d dual, b solve.Budget, rounds int64) {
	if s.best == nil {
		return
	}
	rc, x, v := make([]float64, len(s.m.cost)), make([]int, len(s.m.p.Needs)), make([]float64, len(s.m.have))
	s.m.evaluate(d.lambda, rc, x, v)
	s.load(s.best)
	before, lastBest := make([]int, len(s.chosen)), s.bestCost
	for n, since := int64(0), 0; n < rounds && !b.Over(ctx) && math.Ceil(d.value-1e-6) < float64(s.bestCost); n++ {
		s.steps++
		chance := b.Chance(s.steps)
		if since++; since == 3000 {
			s.load(s.best)
			since = 0
		}
		copy(before, s.chosen)
		cost := s.cost
		ok := s.rebuild(s.neighbourhood(chance), rc, chance)
		if ok {
			s.keep()
		}
		cool := 1 - done(b, n, rounds)
		heat := float64(cost) * 0.004 * cool * cool
		if !ok || float64(s.cost-cost) > heat*chance.Float64() {
			s.restore(before)
		}
		if s.bestCost < lastBest {
			since = 0
		}
		if s.bestCost < lastBest || n%50 == 0 {
			lastBest = s.bestCost
			b.Tell(solve.Progress{Step: s.steps, Steps: rounds, Value: float64(s.bestCost), Bound: d.value, HasBound: true, Words: "looking for a better plan"})
		}
	}
}

// done is the share of the search that is over, by rounds or by time.
func done(b solve.Budget, n, rounds int64) float64 {
	share := float64(n) / float64(rounds)
	if b.Spent != nil {
		share = max(share, min(b.Spent(), 1))
	}
	return share
}

// rebuild takes needs out and puts them back by regret on shaken prices; false
// where one finds no place.
func (s *search) rebuild(out []int, rc []float64, chance *solve.Chance) bool {
	shake := 0.3 * chance.Float64()
	for _, i := range out {
		if s.chosen[i] == None {
			continue // named twice
		}
		s.take(i)
		for o := s.m.first[i]; o < s.m.first[i+1]; o++ {
			s.rank[o] = rc[o] * (1 + shake*chance.Float64())
		}
	}
	var held []int
	for _, i := range out {
		if g := s.m.p.Needs[i].Group; g != None && s.famCount[g] == 0 {
			if f := s.chooseFamily(g, chance.Float64); f != None {
				s.hold(g, f)
				held = append(held, g)
			}
		}
	}
	ok := s.fill(s.rank)
	for _, g := range held {
		s.release(g)
	}
	if ok {
		s.settle(out)
	}
	return ok
}

// load takes over a choice.
func (s *search) load(chosen []int) {
	s.reset()
	for i, j := range chosen {
		if j != None {
			s.put(i, j)
		}
	}
}

// restore goes back to an earlier choice.
func (s *search) restore(before []int) {
	for i, j := range before {
		if s.chosen[i] != j && s.chosen[i] != None {
			s.take(i)
		}
	}
	for i, j := range before {
		if s.chosen[i] != j {
			s.put(i, j)
		}
	}
}

// neighbourhood picks the needs to take out: a group, or some needs at
// random, those that could use one thing, or those that draw on one scarce
// amount.
func (s *search) neighbourhood(chance *solve.Chance) []int {
	n := len(s.m.p.Needs)
	seed := chance.IntN(n)
	s.out = s.out[:0]
	if g := s.m.p.Needs[seed].Group; g != None && chance.IntN(2) == 0 {
		s.out = append(s.out, s.m.groups[g]...)
		for more := s.m.p.Groups - 1; more > 0 && chance.IntN(2) == 0; more-- {
			s.out = append(s.out, s.m.groups[chance.IntN(s.m.p.Groups)]...)
		}
		for range chance.IntN(1 + n/4) {
			s.out = append(s.out, chance.IntN(n))
		}
		return s.out
	}
	size := min(3+chance.IntN(14), n)
	s.out = append(s.out, seed)
	switch chance.IntN(4) {
	case 0:
		for range size {
			s.out = append(s.out, chance.IntN(n))
		}
	case 1:
		clear(s.wanted)
		for _, o := range s.m.p.Needs[seed].Options {
			if o.Thing != None {
				s.wanted[o.Thing] = true
			}
			for _, t := range o.Apart {
				s.wanted[t] = true
			}
		}
		from := chance.IntN(n)
		for k := 0; k < n && len(s.out) < size; k++ {
			if i := (from + k) % n; i != seed && s.couldWant(i) {
				s.out = append(s.out, i)
			}
		}
	default:
		s.drawTogether(seed, size, chance)
	}
	return s.out
}

// couldWant says whether a need has an option that takes a wanted thing.
func (s *search) couldWant(i int) bool {
	for j := range s.m.p.Needs[i].Options {
		o := s.m.option(i, j)
		if o.Thing != None && s.wanted[o.Thing] || slices.ContainsFunc(o.Apart, func(t int) bool { return s.wanted[t] }) {
			return true
		}
	}
	return false
}

// drawTogether adds needs that draw on the scarce amounts the first need
// could use, such as a cloth.
func (s *search) drawTogether(seed, size int, chance *solve.Chance) {
	order := s.m.byCost[seed]
	found := 0
	for _, j := range order[:min(6+chance.IntN(10), len(order))] {
		for _, u := range s.m.option(seed, j).Uses {
			if s.m.broad[u.Budget] || u.Amount == 0 {
				continue
			}
			found++
			for _, k := range s.drawers[u.Budget] {
				if len(s.out) < size && !slices.Contains(s.out, k) {
					s.out = append(s.out, k)
				}
			}
		}
		if found >= 3 {
			break
		}
	}
	for range chance.IntN(4) {
		s.out = append(s.out, chance.IntN(len(s.chosen)))
	}
}
