package assign

import (
	"context"
	"math"
	"slices"

	"hemwright/internal/value/solve"
)

// prove drops every option that cannot be in a better plan, rebuilds the
// problem on what is left, its core, and branches there. It returns true when
// the best plan found is proved best; and always a cost no plan can lie below.
// work bounds the branching, in nodes times options; past it the gap stands.
func (m *model) prove(ctx context.Context, s *search, d dual, b solve.Budget, work int64) (bool, int64) {
	all := m.alive
	defer func() { m.alive = all }()
	if m.fix(s, d) {
		return true, s.bestCost
	}
	c, where := m.core()
	t := newSearch(c)
	t.bestCost = s.bestCost
	start := dual{lambda: m.pricesFor(c, d, where), value: math.Inf(-1)}
	start = c.ascendFrom(ctx, t, b, start, 1200)
	bound := c.honestBound(start.lambda)
	if bound < t.bestCost {
		bound = max(bound, c.knapsackBound(ctx, start, t.bestCost))
	}
	proved := bound >= t.bestCost
	if !proved {
		start, proved = c.probe(ctx, t, start, b, &work)
	}
	if !proved {
		bound = max(bound, c.honestBound(start.lambda))
		proved = bound >= t.bestCost || c.branch(ctx, t, start, b, &work)
	}
	if t.best != nil {
		s.best, s.bestCost = s.best[:0], t.bestCost
		for i, j := range t.best {
			s.best = append(s.best, where[i][j])
		}
	}
	return proved, min(bound, s.bestCost)
}

// core is the problem on the options still alive, with the number each of
// them had.
func (m *model) core() (*model, [][]int) {
	p := *m.p
	p.Needs = make([]Need, len(m.p.Needs))
	where := make([][]int, len(m.p.Needs))
	for i, n := range m.p.Needs {
		options := n.Options
		n.Options, n.Pin = nil, None
		for j, o := range options {
			if m.alive[m.first[i]+j] {
				n.Options, where[i] = append(n.Options, o), append(where[i], j)
			}
		}
		p.Needs[i] = n
	}
	c := newModel(&p)
	c.exact = m.exact
	return c, where
}

// pricesFor carries prices over to a core: budgets keep theirs, and the price
// of a thing's row goes to the core's row that holds all that is left of it.
func (m *model) pricesFor(c *model, d dual, where [][]int) []float64 {
	lambda := make([]float64, len(c.have))
	for k := range m.p.Budgets {
		lambda[k] = d.lambda[k] / m.scale[k] * c.scale[k]
	}
	left := make([][]int, len(m.have)) // the core's options in each row
	for i, js := range where {
		for q, j := range js {
			for _, e := range m.rowOf[m.first[i]+j] {
				if e.row >= len(m.p.Budgets) {
					left[e.row] = append(left[e.row], c.first[i]+q)
				}
			}
		}
	}
	for r, opts := range left {
		if len(opts) == 0 || d.lambda[r] == 0 {
			continue
		}
		for _, e := range c.rowOf[opts[0]] {
			all := e.row >= len(m.p.Budgets)
			for _, o := range opts {
				all = all && slices.ContainsFunc(c.rowOf[o], func(q entry) bool { return q.row == e.row })
			}
			if all {
				lambda[e.row] += d.lambda[r] / m.scale[r] * c.scale[e.row]
				break
			}
		}
	}
	return lambda
}

// fix rules out options by reduced cost: one whose cheapest plan is no better
// than the best found. It returns true when nothing better can be left.
func (m *model) fix(s *search, d dual) bool {
	best := float64(s.bestCost)
	if math.Ceil(d.value-1e-6) >= best {
		return true
	}
	rc, x, v := make([]float64, len(m.cost)), make([]int, len(m.p.Needs)), make([]float64, len(m.have))
	value := m.evaluate(d.lambda, rc, x, v)
	alive := append([]bool{}, m.alive...)
	for _, i := range m.single {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if alive[o] && math.Ceil(value+rc[o]-rc[x[i]]-1e-6) >= best {
				alive[o] = false
			}
		}
	}
	for g := range m.groups {
		m.fixGroup(g, value, best, rc, alive)
	}
	m.alive = alive
	for i := range m.p.Needs {
		if !m.anyAlive(i) {
			return true
		}
	}
	return false
}

// fixGroup rules out options of a group's members: what the group would cost
// in each family, with the member held to the option, against the group's
// cheapest.
func (m *model) fixGroup(g int, value, best float64, rc []float64, alive []bool) {
	members := m.groups[g]
	if len(members) == 0 {
		return
	}
	rest := value - m.groupChoice(g, rc, make([]int, len(m.p.Needs)))
	m.cheapestOf(members, rc)
	w := m.p.Families + 1
	sum := append([]float64{}, m.fam.sum[:w]...)
	least := append([]float64{}, sum...)
	for f := range w {
		if m.exact && m.together[g] && sum[f] < never && m.sharesThing(members, f) {
			least[f] = max(sum[f], m.seatMembers(members, f, rc))
		}
	}
	for k, i := range members {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			low := math.Inf(1)
			for f := range w {
				if m.family[o] == None || m.family[o] == f {
					low = min(low, max(least[f], sum[f]-m.fam.rc[k*w+f]+rc[o]))
				}
			}
			if math.Ceil(rest+low-1e-6) >= best {
				alive[o] = false
			}
		}
	}
}

// branch splits on the family of the group that is least decided, then on the
// need that is: the likeliest answer in, then out.
func (m *model) branch(ctx context.Context, s *search, d dual, b solve.Budget, work *int64) bool {
	if *work -= int64(len(m.cost)); *work < 0 || b.Over(ctx) {
		return false
	}
	d = m.ascendFrom(ctx, s, b, d, 60)
	here := m.alive
	defer func() { m.alive = here }()
	if m.fix(s, d) || !m.propagate() {
		return true
	}
	var in func(o int) bool // which options the first half keeps
	var out func(o int) bool
	if g, f := m.openGroup(d); g != None {
		ours := func(o int) bool { return m.group[o] == g && m.family[o] != None }
		in = func(o int) bool { return !ours(o) || m.family[o] == f }
		out = func(o int) bool { return !ours(o) || m.family[o] != f }
	} else if i, best := m.leastDecided(d); i != None {
		in = func(o int) bool { return o == best || o < m.first[i] || o >= m.first[i+1] }
		out = func(o int) bool { return o != best }
	} else {
		return m.settled(s)
	}
	left := m.alive
	for _, half := range []func(int) bool{in, out} {
		m.alive = make([]bool, len(left))
		for o := range left {
			m.alive[o] = left[o] && half(o)
		}
		if !m.branch(ctx, s, d, b, work) {
			return false
		}
	}
	return true
}

// openGroup is the group whose likeliest family is least likely, of those
// with more than one family left, with that family.
func (m *model) openGroup(d dual) (int, int) {
	group, family, least := None, None, math.Inf(1)
	share := make([]float64, m.p.Families)
	left := make([]bool, m.p.Families)
	for g, members := range m.groups {
		clear(share)
		clear(left)
		for _, i := range members {
			for o := m.first[i]; o < m.first[i+1]; o++ {
				if f := m.family[o]; f != None && m.alive[o] {
					left[f] = true
					share[f] += d.xbar[o] / float64(len(members))
				}
			}
		}
		count, top := 0, None
		for f := range left {
			if left[f] {
				count++
				if top == None || share[f] > share[top] {
					top = f
				}
			}
		}
		if count > 1 && share[top] < least {
			group, family, least = g, top, share[top]
		}
	}
	return group, family
}

// leastDecided is the need whose most likely option is least likely, with
// that option; None where every need has one option left.
func (m *model) leastDecided(d dual) (int, int) {
	need, opt, least := None, None, math.Inf(1)
	for i := range m.p.Needs {
		left, top, share := 0, None, -1.0
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if m.alive[o] {
				left++
				if d.xbar[o] > share {
					top, share = o, d.xbar[o]
				}
			}
		}
		if left > 1 && share < least {
			need, opt, least = i, top, share
		}
	}
	return need, opt
}

// settled handles a leaf: one option left everywhere. The plan is tried; the
// leaf is then done with either way, unless an option in it is not listed:
// what that stands for may make a better plan.
func (m *model) settled(s *search) bool {
	for i, n := range m.p.Needs {
		if n.Options[m.only(i)].Unlisted {
			return false
		}
	}
	s.reset()
	if s.fill(s.rank) {
		s.keep()
	}
	return true
}

func (m *model) anyAlive(i int) bool {
	for o := m.first[i]; o < m.first[i+1]; o++ {
		if m.alive[o] {
			return true
		}
	}
	return false
}
