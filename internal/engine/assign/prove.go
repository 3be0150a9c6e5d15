package assign

import (
	"context"
	"math"

	"hemwright/internal/value/solve"
)

// nodesAtMost bounds the branching; past it the gap stands as it is.
const nodesAtMost = 400

// prove drops every option that cannot be in a better plan and branches on
// what is left. It returns true when the best plan found is proved best.
func (m *model) prove(ctx context.Context, s *search, d dual, b solve.Budget) bool {
	all := append([]bool{}, m.alive...)
	defer func() { m.alive = all }()
	if m.fix(s, d) {
		return true
	}
	m.alive = append([]bool{}, m.alive...)
	nodes := 0
	return m.branch(ctx, s, d, b, &nodes, 0)
}

// fix rules out options by reduced cost: one whose cheapest plan is no better
// than the best found. It returns true when nothing better can be left.
func (m *model) fix(s *search, d dual) bool {
	if math.Ceil(d.value-1e-6) >= float64(s.bestCost) {
		return true
	}
	rc, x, v := make([]float64, len(m.cost)), make([]int, len(m.p.Needs)), make([]float64, len(m.have))
	value := m.evaluate(d.lambda, rc, x, v)
	alive := append([]bool{}, m.alive...)
	for _, i := range m.single {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if alive[o] && math.Ceil(value+rc[o]-rc[x[i]]-1e-6) >= float64(s.bestCost) {
				alive[o] = false
			}
		}
	}
	m.alive = alive
	return false
}

// branch splits on the need that is least decided: its likeliest option in,
// then out.
func (m *model) branch(ctx context.Context, s *search, d dual, b solve.Budget, nodes *int, depth int) bool {
	if *nodes++; *nodes > nodesAtMost || ctx.Err() != nil || depth > 60 {
		return false
	}
	d = m.ascendFrom(ctx, s, b, d, 60)
	if m.fix(s, d) {
		return true
	}
	i, o := m.leastDecided(d)
	if i == None {
		return m.settled(s)
	}
	here := m.alive
	m.alive = append([]bool{}, here...)
	for q := m.first[i]; q < m.first[i+1]; q++ {
		m.alive[q] = q == o
	}
	in := m.branch(ctx, s, d, b, nodes, depth+1)
	m.alive = append([]bool{}, here...)
	m.alive[o] = false
	out := in && (!m.anyAlive(i) || m.branch(ctx, s, d, b, nodes, depth+1))
	m.alive = here
	return in && out
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
// leaf is then done with either way.
func (m *model) settled(s *search) bool {
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
