package assign

import "math"

// propagate rules out options that leave too little of a row for the least
// the other needs must take of it. It returns false where some need is left
// with no option. It writes to alive in place.
func (m *model) propagate() bool {
	least := make([]float64, len(m.have)) // what all needs must take of each row
	mine := make([]float64, len(m.have))
	for again := true; again; {
		again = false
		clear(least)
		for i := range m.p.Needs {
			for _, e := range m.must(i, mine) {
				least[e.row] += e.a
			}
		}
		for r, a := range least {
			if over(a, m.have[r]) {
				return false
			}
		}
		for i := range m.p.Needs {
			must := m.must(i, mine)
			for _, e := range must {
				mine[e.row] = e.a
			}
			for o := m.first[i]; o < m.first[i+1]; o++ {
				for _, e := range m.rowOf[o] {
					if m.alive[o] && over(least[e.row]-mine[e.row]+e.a, m.have[e.row]) {
						m.alive[o], again = false, true
					}
				}
			}
			for _, e := range must {
				mine[e.row] = 0
			}
			if !m.anyAlive(i) {
				return false
			}
		}
	}
	return true
}

// over leaves room for rounding, so that nothing allowed is ruled out.
func over(a, have float64) bool { return a > have+1e-7*(1+math.Abs(have)) }

// must is the least a need takes of each row whatever its option: of its
// shortest option's rows, those that every other option has too. zero is a
// row of noughts, given back as such.
func (m *model) must(i int, zero []float64) []entry {
	few := None
	for o := m.first[i]; o < m.first[i+1]; o++ {
		if m.alive[o] && (few == None || len(m.rowOf[o]) < len(m.rowOf[few])) {
			few = o
		}
	}
	if few == None || len(m.rowOf[few]) == 0 {
		return nil
	}
	out := append([]entry{}, m.rowOf[few]...)
	for o := m.first[i]; o < m.first[i+1] && len(out) > 0; o++ {
		if !m.alive[o] || o == few {
			continue
		}
		for _, e := range m.rowOf[o] {
			zero[e.row] = e.a
		}
		kept := out[:0]
		for _, e := range out {
			if a := zero[e.row]; a > 0 {
				kept = append(kept, entry{e.row, min(a, e.a)})
			}
		}
		out = kept
		for _, e := range m.rowOf[o] {
			zero[e.row] = 0
		}
	}
	return out
}
