package nest

import "math"

// gather looks for a layout with everything on the cloths, and failing that,
// with as much worth as it can.
func (s *search) gather() {
	if !s.impossible() {
		s.race(s.steps/2, (*search).gatherAll)
	}
	for s.bestAt.worth < s.whole && !s.over() {
		if !s.gatherOne() {
			return
		}
	}
}

// gatherAll drops the missing pieces anywhere and separates; where that fails
// it keeps what is legal of it and starts again from a disturbed draft.
func (s *search) gatherAll() {
	d := diceFor(s.budget, ^s.step)
	s.goal = score{s.whole, math.MaxInt64}
	s.load(s.best)
	s.scatter(d, func(int) bool { return true })
	s.resetWeights()
	var pool []draft
	for !s.over() {
		if s.separate(s.idle(), exploreStrikes) {
			s.keep()
			return
		}
		if s.overtaken() {
			return
		}
		pool = s.stock(pool)
		s.salvage()
		s.pick(pool)
	}
}

// scatter lays the wanted missing items at random.
func (s *search) scatter(d *dice, wanted func(i int) bool) {
	for i := range s.items {
		if s.items[i].on || s.never[i] || !wanted(i) {
			continue
		}
		for range 100 {
			if at, ok := s.sample(i, false, d); ok {
				s.put(i, at)
				break
			}
		}
	}
}

// salvage takes off the worst overlapping pieces, one by one, until the layout
// is legal, lays what it can again, and keeps the result if it is the best.
func (s *search) salvage() {
	s.refreshAll()
	for {
		worst, most := -1, 0.0
		for i := range s.items {
			if !s.items[i].on {
				continue
			}
			if v := s.lossAt(i, true) / float64(s.items[i].k.worth); v > most {
				worst, most = i, v
			}
		}
		if worst < 0 {
			break
		}
		s.take(worst)
		s.refreshAll()
	}
	s.fill(s.order(), diceFor(s.budget, ^s.step))
	s.keep()
}

// gatherOne tries to add one missing piece to the best layout, letting
// cheaper ones go; it returns false where none is left to add.
func (s *search) gatherOne() bool {
	d := diceFor(s.budget, ^s.step)
	s.load(s.best)
	var missing []int
	for i := range s.items {
		if !s.items[i].on && !s.never[i] {
			missing = append(missing, i)
		}
	}
	if len(missing) == 0 {
		return false
	}
	pick := missing[d.below(len(missing))]
	s.scatter(d, func(i int) bool { return i == pick })
	s.resetWeights()
	s.step++ // so that a try always costs something
	if s.separate(hastyIdle*2, 1) {
		s.keep()
		return true
	}
	s.salvage()
	return true
}
