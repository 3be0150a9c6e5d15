package assign

import (
	"math"
	"math/big"
)

// families is scratch for the choice of a group: for each member and family
// the cheapest option of that family or of none. Family number Families
// stands for "no family".
type families struct {
	rc   []float64 // member * (Families+1) + family
	opt  []int
	sum  []float64 // each family's value, as far as it was worked out
	seat seating
}

// cheapestOf fills the scratch for the members of a group.
func (m *model) cheapestOf(members []int, rc []float64) {
	w := m.p.Families + 1
	if need := len(members) * w; len(m.fam.rc) < need {
		m.fam.rc, m.fam.opt = make([]float64, need), make([]int, need)
	}
	if len(m.fam.sum) < w {
		m.fam.sum = make([]float64, w)
	}
	for k, i := range members {
		least, which := m.fam.rc[k*w:(k+1)*w], m.fam.opt[k*w:(k+1)*w]
		for f := range least {
			least[f], which[f] = never, None
		}
		for o := m.first[i]; o < m.first[i+1]; o++ {
			f := m.family[o]
			if f == None {
				f = w - 1
			}
			if rc[o] < least[f] {
				least[f], which[f] = rc[o], o
			}
		}
		for f := range w - 1 {
			if least[w-1] <= least[f] {
				least[f], which[f] = least[w-1], which[w-1]
			}
		}
	}
	for f := range w {
		m.fam.sum[f] = 0
		for k := range members {
			m.fam.sum[f] += m.fam.rc[k*w+f]
		}
	}
}

// groupChoice gives the members of a group their options at reduced costs rc
// and returns what they sum to: the best family, and where the model is exact
// and the members all meet, each thing given to one member only.
func (m *model) groupChoice(g int, rc []float64, x []int) float64 {
	members := m.groups[g]
	if len(members) == 0 {
		return 0
	}
	m.cheapestOf(members, rc)
	w := m.p.Families + 1
	bestSum := math.Inf(1)
	for {
		f := 0
		for q := range w {
			if m.fam.sum[q] < m.fam.sum[f] {
				f = q
			}
		}
		if m.fam.sum[f] >= bestSum {
			break
		}
		sum := m.fam.sum[f]
		if m.exact && m.together[g] && m.sharesThing(members, f) {
			sum = max(sum, m.seatMembers(members, f, rc))
		}
		m.fam.sum[f] = math.Inf(1) // looked at
		if sum < bestSum {
			bestSum = sum
			m.takeFamily(g, f, x)
		}
	}
	if bestSum >= never { // nothing is left to some member
		for _, i := range members {
			x[i] = m.first[i]
		}
	}
	return bestSum
}

// takeFamily writes the members' options of the family last looked at.
func (m *model) takeFamily(g, f int, x []int) {
	w := m.p.Families + 1
	seated := m.exact && m.together[g] && m.sharesThing(m.groups[g], f)
	for k, i := range m.groups[g] {
		x[i] = m.fam.opt[k*w+f]
		if seated {
			x[i] = m.fam.seat.option(k)
		}
		if x[i] == None {
			x[i] = m.first[i]
		}
	}
}

// sharesThing says whether two members' cheapest options of a family want the
// same thing.
func (m *model) sharesThing(members []int, f int) bool {
	w := m.p.Families + 1
	for k, i := range members {
		a := m.thing(i, m.fam.opt[k*w+f])
		for q, j := range members[:k] {
			if a != None && a == m.thing(j, m.fam.opt[q*w+f]) {
				return true
			}
		}
	}
	return false
}

func (m *model) thing(i, o int) int {
	if o == None {
		return None
	}
	return m.p.Needs[i].Options[o-m.first[i]].Thing
}

// seating is an assignment of members to things at least cost, with one
// column of its own for each member's best option that takes no thing:
// shortest augmenting paths with potentials (Kuhn 1955, Munkres 1957,
// Edmonds and Karp 1972). Rows and columns count from 1; 0 is the source.
type seating struct {
	rows, cols int
	cost       []float64
	opt        []int
	things     []int // the thing of each column
	column     map[int]int
	u, v, dist []float64
	at, way    []int
	done       []bool
}

const absent = 1e28 // below never, above every sum of costs

// seatMembers solves one family of a group and returns its value: members to
// things, each thing once.
func (m *model) seatMembers(members []int, f int, rc []float64) float64 {
	s := &m.fam.seat
	s.columns(m, members, f, rc)
	for k, i := range members {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if rc[o] >= never || m.family[o] != None && m.family[o] != f {
				continue
			}
			c := k
			if t := m.thing(i, o); t != None {
				c = s.column[t]
			}
			if at := k*s.cols + c; rc[o] < s.cost[at] {
				s.cost[at], s.opt[at] = rc[o], o
			}
		}
	}
	return s.solve()
}

// columns numbers the things the members could take and clears the table.
func (s *seating) columns(m *model, members []int, f int, rc []float64) {
	if s.column == nil {
		s.column = map[int]int{}
	}
	clear(s.column)
	s.rows, s.cols = len(members), len(members)
	s.things = s.things[:0]
	for range members {
		s.things = append(s.things, None)
	}
	for _, i := range members {
		for o := m.first[i]; o < m.first[i+1]; o++ {
			t := m.thing(i, o)
			if t == None || rc[o] >= never || m.family[o] != None && m.family[o] != f {
				continue
			}
			if _, had := s.column[t]; !had {
				s.column[t] = s.cols
				s.things = append(s.things, t)
				s.cols++
			}
		}
	}
	if n := s.rows * s.cols; len(s.cost) < n {
		s.cost, s.opt = make([]float64, n), make([]int, n)
	}
	for k := range s.rows * s.cols {
		s.cost[k], s.opt[k] = absent, None
	}
	if len(s.v) < s.cols+1 {
		s.v, s.dist, s.at, s.way, s.done = make([]float64, s.cols+1), make([]float64, s.cols+1), make([]int, s.cols+1), make([]int, s.cols+1), make([]bool, s.cols+1)
	}
	if len(s.u) < s.rows+1 {
		s.u = make([]float64, s.rows+1)
	}
	clear(s.u)
	clear(s.v)
	clear(s.at)
}

func (s *seating) solve() float64 {
	for r := 1; r <= s.rows; r++ {
		s.augment(r)
	}
	sum := 0.0
	for c := 1; c <= s.cols; c++ {
		if r := s.at[c]; r > 0 {
			sum += s.cost[(r-1)*s.cols+c-1]
		}
	}
	if sum >= absent/2 {
		return never
	}
	return sum
}

// augment seats one more row.
func (s *seating) augment(r int) {
	s.at[0] = r
	c := 0
	for k := range s.cols + 1 {
		s.dist[k], s.done[k] = math.Inf(1), false
	}
	for s.at[c] != 0 {
		s.done[c] = true
		row, next, delta := s.at[c], 0, math.Inf(1)
		for k := 1; k <= s.cols; k++ {
			if s.done[k] {
				continue
			}
			if d := s.cost[(row-1)*s.cols+k-1] - s.u[row] - s.v[k]; d < s.dist[k] {
				s.dist[k], s.way[k] = d, c
			}
			if s.dist[k] < delta {
				delta, next = s.dist[k], k
			}
		}
		for k := range s.cols + 1 {
			if s.done[k] {
				s.u[s.at[k]] += delta
				s.v[k] -= delta
			} else {
				s.dist[k] -= delta
			}
		}
		c = next
	}
	for c != 0 {
		s.at[c] = s.at[s.way[c]]
		c = s.way[c]
	}
}

// option is the option number of member k.
func (s *seating) option(k int) int {
	for c := 1; c <= s.cols; c++ {
		if s.at[c] == k+1 {
			return s.opt[k*s.cols+c-1]
		}
	}
	return None
}

// honestGroup is a value no choice of a group can lie below, in whole
// numbers. Any charges on things will do: if every thing goes to one member
// at most, the members' options with the charges added, less all the charges,
// cost no more than without. The floats of the seating only propose charges.
func (m *model) honestGroup(g int, rc []float64, exact []*big.Int) *big.Int {
	members := m.groups[g]
	best := (*big.Int)(nil)
	for f := None; f < m.p.Families; f++ {
		sum := m.honestFamily(members, f, exact, nil)
		if sum != nil && m.exact && m.together[g] {
			if m.seatMembers(members, f, rc) >= never {
				continue
			}
			charge := map[int]*big.Int{}
			for c := 1; c <= m.fam.seat.cols; c++ {
				if t := m.fam.seat.things[c-1]; t != None && m.fam.seat.v[c] < 0 {
					charge[t], _ = big.NewFloat(math.Round(-m.fam.seat.v[c])).Int(nil)
				}
			}
			if with := m.honestFamily(members, f, exact, charge); with.Cmp(sum) > 0 {
				sum = with
			}
		}
		if sum != nil && (best == nil || sum.Cmp(best) < 0) {
			best = sum
		}
	}
	if best == nil {
		return new(big.Int)
	}
	return best
}

// honestFamily adds up the members' cheapest options of a family with charges
// on things, less the charges; nil where a member has none.
func (m *model) honestFamily(members []int, f int, exact []*big.Int, charge map[int]*big.Int) *big.Int {
	total, here := new(big.Int), new(big.Int)
	for _, i := range members {
		least := (*big.Int)(nil)
		for o := m.first[i]; o < m.first[i+1]; o++ {
			if !m.alive[o] || m.family[o] != None && m.family[o] != f {
				continue
			}
			here.Set(exact[o])
			if c := charge[m.thing(i, o)]; c != nil {
				here.Add(here, c)
			}
			if least == nil || here.Cmp(least) < 0 {
				least = new(big.Int).Set(here)
			}
		}
		if least == nil {
			return nil
		}
		total.Add(total, least)
	}
	for _, c := range charge { // a sum: the order is of no account
		total.Sub(total, c)
	}
	return total
}
