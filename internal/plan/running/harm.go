package running

import (
	"slices"
	"sort"
)

// rounds is how many clashing sets are looked for in one cluster.
const rounds = 40

// leastHarm finds which jobs to leave alone so that those there can do the
// rest, with the least harm: it collects sets of jobs that cannot all be
// served, and leaves alone the cheapest choice that takes one from each. As
// long as every set is proved, the cost of that choice is a bound; when the
// rest can be served it is the least (J. Davies and F. Bacchus, "Solving
// MAXSAT by solving a sequence of simpler SAT instances", CP 2011).
func (t *Table) leastHarm(jobs []job, there int, s *served) {
	proved := true
	for range rounds {
		s.alone = cheapest(s.clashes, jobs)
		if proved {
			s.under = harmOf(jobs, s.alone)
		}
		rest := others(len(jobs), s.alone)
		way, p := t.serve(pick(jobs, rest), there, effort)
		if p == yes {
			s.way, s.harm = way, harmOf(jobs, s.alone)
			return
		}
		core, sure := t.core(jobs, rest, there, p)
		proved = proved && sure
		s.clashes = append(s.clashes, core)
	}
	t.leaveMore(jobs, there, s)
}

// leaveMore leaves one more alone, the least harm first, until the rest is
// served; what is found then is not proved the least.
func (t *Table) leaveMore(jobs []job, there int, s *served) {
	order := others(len(jobs), s.alone)
	sort.SliceStable(order, func(a, b int) bool { return jobs[order[a]].harm < jobs[order[b]].harm })
	for _, i := range order {
		s.alone = append(s.alone, i)
		sort.Ints(s.alone)
		way, p := t.serve(pick(jobs, others(len(jobs), s.alone)), there, effort/20)
		if p == yes {
			s.way, s.harm = way, harmOf(jobs, s.alone)
			return
		}
	}
	s.way, s.harm = nil, harmOf(jobs, s.alone)
}

// core makes a set that cannot be served so small that none of it can be left
// out; sure says that this was proved at every step.
func (t *Table) core(jobs []job, set []int, there int, known proof) (core []int, sure bool) {
	sure = known == no
	core = set
	for _, shown := range [][]int{t.clash(pick(jobs, set)).Changes, t.energy(pick(jobs, set), there).Changes} {
		var part []int
		for _, i := range shown {
			part = append(part, set[i])
		}
		if _, p := t.serve(pick(jobs, part), there, effort/20); p == no && len(part) < len(core) {
			core, sure = part, true
		}
	}
	for _, i := range slices.Clone(core) {
		fewer := slices.DeleteFunc(slices.Clone(core), func(k int) bool { return k == i })
		if _, p := t.serve(pick(jobs, fewer), there, effort/20); p == no {
			core, sure = fewer, true
		}
	}
	return core, sure
}

func pick(jobs []job, which []int) []job {
	out := make([]job, len(which))
	for n, i := range which {
		out[n] = jobs[i]
	}
	return out
}

func harmOf(jobs []job, which []int) int {
	sum := 0
	for _, i := range which {
		sum += jobs[i].harm
	}
	return sum
}

// cheapest takes at least one from every set at the least harm, by trying
// every one of the first set not hit yet and going back.
func cheapest(sets [][]int, jobs []job) []int {
	var best []int
	least := 1 << 30
	taken, barred := map[int]bool{}, map[int]bool{}
	var try func(cost int)
	try = func(cost int) {
		if cost >= least {
			return
		}
		open := -1
		for n, s := range sets {
			if !slices.ContainsFunc(s, func(i int) bool { return taken[i] }) && (open < 0 || len(s) < len(sets[open])) {
				open = n
			}
		}
		if open < 0 {
			least, best = cost, nil
			for i, in := range taken {
				if in {
					best = append(best, i)
				}
			}
			return
		}
		var shut []int
		for _, i := range sets[open] {
			if barred[i] {
				continue
			}
			taken[i] = true
			try(cost + jobs[i].harm)
			taken[i] = false
			barred[i] = true
			shut = append(shut, i)
		}
		for _, i := range shut {
			barred[i] = false
		}
	}
	try(0)
	sort.Ints(best)
	return best
}
