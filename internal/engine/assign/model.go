package assign

import "sort"

// model is a problem laid flat: options numbered through, constraints as
// rows of <=, each scaled by its mean coefficient so that none drowns
// another.
type model struct {
	p        *Problem
	first    []int // option number of each need's option 0; one more at the end
	cost     []float64
	family   []int
	group    []int  // the group of each option's need, or None
	alive    []bool // false where a pin or a proof has ruled an option out
	rowOf    [][]entry
	have     []float64 // right-hand sides, scaled
	scale    []float64 // row = scaled row * scale
	names    []rowName
	groups   [][]int // needs of each group
	single   []int   // needs without a group
	slots    [][]uint64
	byCost   [][]int // options of each need that a plan may have, cheapest first
	broad    []bool  // budgets that most needs could draw on: money, hours
	together []bool  // groups whose members all meet: no thing serves two
	exact    bool    // groups are solved with each thing given once
	fam      families
}

// entry is one coefficient of an option.
type entry struct {
	row int
	a   float64
}

func newModel(p *Problem) *model {
	m := &model{p: p, groups: make([][]int, p.Groups)}
	words := 0
	for i, n := range p.Needs {
		m.first = append(m.first, len(m.cost))
		if n.Group == None {
			m.single = append(m.single, i)
		} else {
			m.groups[n.Group] = append(m.groups[n.Group], i)
		}
		for j, o := range n.Options {
			m.cost = append(m.cost, float64(o.Cost))
			m.family, m.group = append(m.family, o.Family), append(m.group, n.Group)
			m.alive = append(m.alive, n.Pin == None || n.Pin == j)
		}
		for _, s := range n.Slots {
			words = max(words, s/64+1)
		}
	}
	m.first = append(m.first, len(m.cost))
	m.slots = make([][]uint64, len(p.Needs))
	for i, n := range p.Needs {
		m.slots[i] = make([]uint64, words)
		for _, s := range n.Slots {
			m.slots[i][s/64] |= 1 << (s % 64)
		}
	}
	m.rowOf = make([][]entry, len(m.cost))
	m.budgetRows()
	m.thingRows()
	m.sortByCost()
	m.findBroad()
	m.findTogether()
	return m
}

func (m *model) sortByCost() {
	m.byCost = make([][]int, len(m.p.Needs))
	for i, n := range m.p.Needs {
		order := make([]int, 0, len(n.Options))
		for j := range n.Options {
			if !n.Options[j].Unlisted {
				order = append(order, j)
			}
		}
		sort.SliceStable(order, func(a, b int) bool { return n.Options[order[a]].Cost < n.Options[order[b]].Cost })
		m.byCost[i] = order
	}
}

// findBroad marks the budgets that more than half the needs could draw on.
func (m *model) findBroad() {
	m.broad = make([]bool, len(m.p.Budgets))
	last, count := make([]int, len(m.p.Budgets)), make([]int, len(m.p.Budgets))
	for i, n := range m.p.Needs {
		for _, o := range n.Options {
			for _, u := range o.Uses {
				if u.Amount > 0 && last[u.Budget] != i+1 {
					last[u.Budget] = i + 1
					count[u.Budget]++
				}
			}
		}
	}
	for k, c := range count {
		m.broad[k] = 2*c > len(m.p.Needs)
	}
}

func (m *model) findTogether() {
	m.together = make([]bool, len(m.groups))
	for g, members := range m.groups {
		m.together[g] = len(members) > 1
		for a, i := range members {
			for _, k := range members[:a] {
				m.together[g] = m.together[g] && m.meet(i, k)
			}
		}
	}
}

// meet says whether two needs are ever in use at the same time.
func (m *model) meet(i, j int) bool {
	for w, s := range m.slots[i] {
		if s&m.slots[j][w] != 0 {
			return true
		}
	}
	return false
}

// only is the one option a need has left, or None.
func (m *model) only(i int) int {
	left := None
	for o := m.first[i]; o < m.first[i+1]; o++ {
		if m.alive[o] {
			if left != None {
				return None
			}
			left = o - m.first[i]
		}
	}
	return left
}

func (m *model) option(i, j int) *Option { return &m.p.Needs[i].Options[j] }

// rowName tells a row of one problem in another near it: a budget, or a thing
// with the slot and the need that takes it to pieces. What is not of the row
// is None.
type rowName struct{ budget, thing, slot, cutter int }

func (m *model) addRow(name rowName, have float64, opts []int, a []float64) {
	mean := 0.0
	for _, v := range a {
		mean += v
	}
	mean /= float64(len(a))
	if mean <= 0 {
		return
	}
	r := len(m.have)
	m.have, m.scale, m.names = append(m.have, have/mean), append(m.scale, mean), append(m.names, name)
	for k, o := range opts {
		m.rowOf[o] = append(m.rowOf[o], entry{r, a[k] / mean})
	}
}

// prices names the prices of the rows, each for one unit.
func (m *model) prices(lambda []float64) map[rowName]float64 {
	out := make(map[rowName]float64, len(lambda))
	for r, l := range lambda {
		if l > 0 {
			out[m.names[r]] = l / m.scale[r]
		}
	}
	return out
}

// at takes over prices by name; a row without one costs nothing.
func (m *model) at(prices map[rowName]float64) []float64 {
	lambda := make([]float64, len(m.have))
	for r, name := range m.names {
		lambda[r] = prices[name] * m.scale[r]
	}
	return lambda
}

// budgetRows makes one row a budget, in order; a budget nobody uses gets a
// row that never binds.
func (m *model) budgetRows() {
	opts, as := make([][]int, len(m.p.Budgets)), make([][]float64, len(m.p.Budgets))
	for i, n := range m.p.Needs {
		for j, o := range n.Options {
			for _, u := range o.Uses {
				if u.Amount > 0 {
					opts[u.Budget] = append(opts[u.Budget], m.first[i]+j)
					as[u.Budget] = append(as[u.Budget], float64(u.Amount))
				}
			}
		}
	}
	for k, have := range m.p.Budgets {
		if len(opts[k]) == 0 {
			m.have, m.scale, m.names = append(m.have, 1), append(m.scale, 1), append(m.names, rowName{k, None, None, None})
			continue
		}
		m.addRow(rowName{k, None, None, None}, float64(have), opts[k], as[k])
	}
}

// thingRows says, for each thing and slot, that its uses in the slot and its
// exclusive uses anywhere are at most one, and the same with the uses of each
// need that takes it to pieces. Rows that cannot bind, or lie inside another
// row of the same thing, are left out.
func (m *model) thingRows() {
	type user struct{ need, opt int }
	users := make([][]user, m.p.Things)
	cutters := make([]map[int][]int, m.p.Things) // options that take it apart, by need
	for i, n := range m.p.Needs {
		for j, o := range n.Options {
			if o.Thing != None {
				users[o.Thing] = append(users[o.Thing], user{i, j})
			}
			for _, t := range o.Apart {
				if cutters[t] == nil {
					cutters[t] = map[int][]int{}
				}
				cutters[t][i] = append(cutters[t][i], m.first[i]+j)
			}
		}
	}
	for t, us := range users {
		slots := map[int][]int{}
		var exclusive []int
		owner := map[int]int{}
		for _, u := range us {
			o := m.first[u.need] + u.opt
			owner[o] = u.need
			if m.option(u.need, u.opt).Exclusive {
				exclusive = append(exclusive, o)
				continue
			}
			for _, s := range m.p.Needs[u.need].Slots {
				slots[s] = append(slots[s], o)
			}
		}
		slots[-1] = nil // the exclusive uses alone
		// a user without slots still clashes with an exclusive one
		for _, u := range us {
			if o := m.first[u.need] + u.opt; len(m.p.Needs[u.need].Slots) == 0 && !m.option(u.need, u.opt).Exclusive {
				slots[-2-u.need] = append(slots[-2-u.need], o)
			}
		}
		m.keepLargest(t, slots, exclusive, cutters[t], owner)
	}
}

func (m *model) keepLargest(thing int, slots map[int][]int, exclusive []int, cutters map[int][]int, owner map[int]int) {
	type named struct {
		name rowName
		opts []int
	}
	var rows []named
	for _, s := range sorted(slots) {
		row := append(append([]int{}, slots[s]...), exclusive...)
		sort.Ints(row)
		needs := map[int]bool{}
		for _, o := range row {
			needs[owner[o]] = true
		}
		if len(needs) > 1 {
			rows = append(rows, named{rowName{None, thing, s, None}, row})
		}
		for _, k := range sorted(cutters) {
			if with := append(append([]int{}, row...), cutters[k]...); len(row) > 0 && (len(needs) > 1 || !needs[k]) {
				sort.Ints(with)
				rows = append(rows, named{rowName{None, thing, s, k}, with})
			}
		}
	}
	sort.SliceStable(rows, func(i, j int) bool { return len(rows[i].opts) > len(rows[j].opts) })
	var kept [][]int
	for _, r := range rows {
		inside := false
		for _, k := range kept {
			inside = inside || subset(r.opts, k)
		}
		if !inside {
			kept = append(kept, r.opts)
			ones := make([]float64, len(r.opts))
			for i := range ones {
				ones[i] = 1
			}
			m.addRow(r.name, 1, r.opts, ones)
		}
	}
}

// sorted are the keys of a map in order.
func sorted(m map[int][]int) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Ints(keys)
	return keys
}

// subset says whether all of sorted a lies in sorted b.
func subset(a, b []int) bool {
	k := 0
	for _, x := range a {
		for k < len(b) && b[k] < x {
			k++
		}
		if k == len(b) || b[k] != x {
			return false
		}
	}
	return true
}

// never is the cost of what cannot be.
const never = 1e30
