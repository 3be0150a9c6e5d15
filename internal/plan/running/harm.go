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
func (t *table) leastHarm(jobs []job, there int, s *served) {
	proved, begun := true, s.looked
	var sets [][]int
	for range rounds {
		alone, sure := cheapest(sets, jobs)
		if s.alone, proved = alone, proved && sure; proved {
			s.under = harmOf(jobs, s.alone)
		}
		rest := others(len(jobs), s.alone)
		way, p := t.serve(pick(jobs, rest), there, effort, &s.looked)
		if p == yes {
			s.way, s.harm = way, harmOf(jobs, s.alone)
			return
		}
		if s.looked-begun > harmEffort {
			break
		}
		core, sure, least := t.core(jobs, rest, there, p, &s.looked)
		proved = proved && sure
		sets = append(sets, core)
		if sure && least {
			set := clashing{jobs: core}
			if len(s.clashes) == 0 { // of the whole cluster, nothing left out yet
				set.jobs, set.smallest = t.smallest(jobs, rest, core, there, &s.looked)
			}
			s.clashes = append(s.clashes, set)
		}
	}
	t.addUp(jobs, there, s)
}

// addUp takes on one job after the other, the most harm first, as long as they
// can be served by a quick look; what is left alone is not proved the least.
func (t *table) addUp(jobs []job, there int, s *served) {
	order := whole(len(jobs))
	sort.SliceStable(order, func(a, b int) bool { return jobs[order[a]].harm > jobs[order[b]].harm })
	var kept []int
	s.way = nil
	for _, i := range order {
		more := append(slices.Clone(kept), i)
		sort.Ints(more)
		if way, p := t.serve(pick(jobs, more), there, quickLook, &s.looked); p == yes {
			kept, s.way = more, way
		}
	}
	s.alone = others(len(jobs), kept)
	s.harm = harmOf(jobs, s.alone)
}

// core makes a set that cannot be served smaller; sure says that it is proved
// that it cannot be, least that each of its jobs was shown to be needed.
func (t *table) core(jobs []job, set []int, there int, known proof, looked *int) (core []int, sure, least bool) {
	sure, least = known == no, true
	core = set
	for _, shown := range [][]int{t.clash(pick(jobs, set)).Changes, t.energy(pick(jobs, set), there).Changes} {
		var part []int
		for _, i := range shown {
			part = append(part, set[i])
		}
		if _, p := t.serve(pick(jobs, part), there, quickLook*4, looked); p == no && len(part) < len(core) {
			core, sure = part, true
		}
	}
	for _, i := range slices.Clone(core) {
		fewer := slices.DeleteFunc(slices.Clone(core), func(k int) bool { return k == i })
		switch _, p := t.serve(pick(jobs, fewer), there, quickLook*4, looked); p {
		case no:
			core, sure = fewer, true
		case gaveUp:
			least = false
		}
	}
	return core, sure, least
}

// clashing is a set of jobs that cannot all be served, each of them needed for
// that; smallest where no set of fewer jobs was left that cannot be served.
type clashing struct {
	jobs     []int
	smallest bool
}

// subsets is how many smaller sets are tried for a smallest one.
const subsets = 4000

// smallest looks for a set of fewer jobs than the core that cannot be served,
// the fewest first. Where everybody may dress everybody, a set whose hands are
// no more than there are is not tried: each takes one. It is proved where all
// others were.
func (t *table) smallest(jobs []job, set, core []int, there int, looked *int) ([]int, bool) {
	left, free := subsets, true
	for _, i := range set {
		free = free && jobs[i].may&everybody(there) == everybody(there)
	}
	for size := 1; size < len(core); size++ {
		var now []int
		var found []int
		sure := true
		var try func(from, hands int)
		try = func(from, hands int) {
			switch {
			case found != nil || left <= 0:
				return
			case len(now) == size:
				if free && hands <= there {
					return
				}
				left--
				switch _, p := t.serve(pick(jobs, now), there, quickLook, looked); p {
				case no:
					found = slices.Clone(now)
				case gaveUp:
					sure = false
				}
				return
			}
			for k := from; k < len(set); k++ {
				now = append(now, set[k])
				try(k+1, hands+jobs[set[k]].hands)
				now = now[:len(now)-1]
			}
		}
		try(0, 0)
		if found != nil {
			return found, sure
		}
		if left <= 0 || !sure {
			return core, false
		}
	}
	return core, true
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

// tries is how many choices are looked through for the cheapest.
const tries = 20_000

// chooser looks for the cheapest choice of jobs that takes one from each set.
type chooser struct {
	sets          [][]int
	jobs          []job
	taken, barred []bool
	best          []int
	least, tries  int
}

// cheapest takes at least one from every set at the least harm, by trying
// every one of a set not hit yet and going back; sure where all was tried.
func cheapest(sets [][]int, jobs []job) (best []int, sure bool) {
	c := &chooser{sets: sets, jobs: jobs, taken: make([]bool, len(jobs)), barred: make([]bool, len(jobs)), least: 1 << 30, tries: tries}
	c.try(0)
	sort.Ints(c.best)
	return c.best, c.tries > 0
}

func (c *chooser) try(cost int) {
	if c.tries--; c.tries <= 0 && c.best != nil {
		return
	}
	open, more := c.open()
	if cost+more >= c.least {
		return
	}
	if open < 0 {
		c.least, c.best = cost, []int{}
		for i, in := range c.taken {
			if in {
				c.best = append(c.best, i)
			}
		}
		return
	}
	var shut []int
	for _, i := range c.sets[open] {
		if c.barred[i] {
			continue
		}
		c.taken[i] = true
		c.try(cost + c.jobs[i].harm)
		c.taken[i], c.barred[i] = false, true
		shut = append(shut, i)
	}
	for _, i := range shut {
		c.barred[i] = false
	}
}

// open is the smallest set not hit yet, -1 for none, and what hitting all of
// them costs at least: the cheapest of each of some that share nothing.
func (c *chooser) open() (smallest, atLeast int) {
	smallest = -1
	used := make([]bool, len(c.jobs))
	for n, s := range c.sets {
		hit, apart, least := false, true, 1<<20
		for _, i := range s {
			hit = hit || c.taken[i]
			apart = apart && !used[i]
			if !c.barred[i] {
				least = min(least, c.jobs[i].harm)
			}
		}
		if hit {
			continue
		}
		if smallest < 0 || len(s) < len(c.sets[smallest]) {
			smallest = n
		}
		if apart {
			atLeast += least
			for _, i := range s {
				used[i] = true
			}
		}
	}
	return smallest, atLeast
}
