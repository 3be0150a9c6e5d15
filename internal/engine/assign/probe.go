package assign

import (
	"context"

	"hemwright/internal/value/solve"
)

// probe holds the problem to one family of a group, and to one option of a
// need, at a time: what then proves dearer than the best plan is ruled out.
// It goes on until little is ruled out, and takes at most half of the work. It
// returns the prices for what is left, and true where nothing better can be
// left.
func (m *model) probe(ctx context.Context, s *search, d dual, b solve.Budget, work *int64) (dual, bool) {
	least := *work / 2
	for {
		before, gone := m.left(), 0
		for n, try := range m.undecided() {
			if *work -= int64(len(m.cost)); *work < least || b.Over(ctx) || n >= fairTry && gone*20 < n {
				return d, false
			}
			if m.rulesOut(ctx, s, d, b, try) {
				m.drop(try)
				gone++
			}
		}
		d = m.ascendFrom(ctx, s, b, d, 400)
		if m.fix(s, d) || !m.propagate() {
			return d, true
		}
		if now := m.left(); now*20 > before*19 {
			return d, false
		}
	}
}

// fairTry is how often it is tried before little is too little.
const fairTry = 60

// trial is a family of a group, or an option of a need.
type trial struct{ group, family, need, opt int }

// undecided lists what a group or a need could still be held to, where there
// is more than one.
func (m *model) undecided() []trial {
	var out []trial
	for g, members := range m.groups {
		var of []trial
		for f := range m.p.Families {
			if m.has(members, f) {
				of = append(of, trial{g, f, None, None})
			}
		}
		if len(of) > 1 {
			out = append(out, of...)
		}
	}
	for i := range m.p.Needs {
		if m.only(i) != None {
			continue
		}
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if m.alive[o] {
				out = append(out, trial{None, None, i, o})
			}
		}
	}
	return out
}

// has says whether some member of a group could still take a family.
func (m *model) has(members []int, f int) bool {
	for _, i := range members {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if m.alive[o] && m.family[o] == f {
				return true
			}
		}
	}
	return false
}

// rulesOut says whether no better plan can have what is tried.
func (m *model) rulesOut(ctx context.Context, s *search, d dual, b solve.Budget, t trial) bool {
	all := m.alive
	defer func() { m.alive = all }()
	if t.need != None && !all[t.opt] {
		return false // gone since
	}
	m.alive = append([]bool{}, all...)
	for o := range m.alive {
		if t.need != None && o != t.opt && o >= m.first[t.need] && o < m.first[t.need+1] ||
			t.group != None && m.group[o] == t.group && m.family[o] != None && m.family[o] != t.family {
			m.alive[o] = false
		}
	}
	if !m.propagate() {
		return true
	}
	d = m.ascendFrom(ctx, s, b, d, 60)
	return m.fix(s, d) || !m.propagate()
}

// drop rules out what was tried.
func (m *model) drop(t trial) {
	if t.need != None {
		m.alive[t.opt] = false
		return
	}
	for o := range m.alive {
		if m.group[o] == t.group && m.family[o] == t.family {
			m.alive[o] = false
		}
	}
}

// left counts the options still alive.
func (m *model) left() int {
	n := 0
	for _, a := range m.alive {
		if a {
			n++
		}
	}
	return n
}
