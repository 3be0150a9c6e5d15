package nest

import (
	"slices"
	"sync"
	"sync/atomic"
)

// The search runs in lanes, one to a core, which differ only in their chance.
// They meet after every so many steps and go on from the best layout any of
// them has found. The number of lanes is fixed and they are compared in their
// order, so that the answer does not depend on the machine.

const (
	lanes    = 2
	aloneFor = 1000 // steps before the lanes part: small problems are done by then
	meetFor  = 400  // steps of one lane between two meetings
)

// meeting is where the lanes wait for one another.
type meeting struct {
	sync.Mutex
	wake    sync.Cond
	all     []*search
	running int // lanes that have not finished
	waiting int
	round   int
	began   int64   // the step at which the lanes parted
	best    []place // the best of all lanes at the last meeting
	bestAt  score
	ended   atomic.Bool // the first lane has seen the time run out
}

// race runs a part of the search up to a step: first alone, then in lanes.
// The part starts from the best layout and ends when it has what it looks for
// or its steps are spent.
func (s *search) race(until int64, part func(*search)) {
	all := s.steps
	defer func() { s.steps = all }()
	s.steps = min(until, s.step+aloneFor)
	part(s)
	if s.step < s.steps || s.step >= until || s.over() && s.budget.Over(s.ctx) {
		return
	}
	began, left := s.step, until-s.step
	m := &meeting{running: lanes, began: began, best: slices.Clone(s.best), bestAt: s.bestAt}
	m.wake.L = m
	for n := range lanes {
		lane := s
		if n > 0 {
			lane = s.clone(n)
		}
		lane.meeting, lane.meetAt = m, began+meetFor
		lane.steps = began + left/lanes
		if int64(n) < left%lanes {
			lane.steps++
		}
		m.all = append(m.all, lane)
	}
	var wait sync.WaitGroup
	for _, lane := range m.all {
		wait.Go(func() {
			part(lane)
			lane.leave()
		})
	}
	wait.Wait()
	s.meeting = nil
	for _, lane := range m.all[1:] { // each began at the same step
		s.step, s.looked = s.step+lane.step-began, s.looked+lane.looked
	}
	s.best, s.bestAt = m.best, m.bestAt
}

// clone is a search that goes on from the same best layout with chance of its
// own. What the lanes change is copied, the rest shared.
func (s *search) clone(lane int) *search {
	b := *s.board
	b.hit = collider{}
	b.items, b.boxes, b.islands = slices.Clone(b.items), slices.Clone(b.boxes), slices.Clone(b.islands)
	for i, isl := range b.islands {
		own := *isl
		b.islands[i] = &own
	}
	kinds := map[*kind]*kind{}
	for i := range b.items {
		k := b.items[i].k
		if kinds[k] == nil {
			own := *k
			own.poses = slices.Clone(k.poses) // more are made when first asked for
			kinds[k] = &own
		}
		b.items[i].k = kinds[k]
	}
	t := &search{board: &b, ctx: s.ctx, budget: s.budget, step: s.step, never: s.never, best: slices.Clone(s.best),
		bestAt: s.bestAt, whole: s.whole, explored: s.explored, squeezed: s.squeezed, bound: s.bound, lane: lane}
	t.budget.Seed = s.budget.SeedOr1() + uint64(lane)<<32
	t.makeRoom()
	return t
}

// meet waits for the other lanes and takes over the best layout of all. It
// says whether that layout is as good as what this lane is after. At the end
// of the time it does not wait.
func (s *search) meet() (overtaken bool) {
	m := s.meeting
	if m == nil || s.step < s.meetAt || s.over() {
		return false
	}
	s.meetAt = s.step + meetFor
	m.Lock()
	defer m.Unlock()
	m.waiting++
	for round := m.round; m.round == round; {
		if m.waiting == m.running {
			m.compare()
			break
		}
		m.wake.Wait()
	}
	if m.bestAt.better(s.bestAt) {
		s.best, s.bestAt = append(s.best[:0], m.best...), m.bestAt
	}
	return s.overtaken()
}

// overtaken says whether the best layout is as good as the goal.
func (s *search) overtaken() bool { return !s.goal.better(s.bestAt) }

// leave takes a lane out that has finished.
func (s *search) leave() {
	m := s.meeting
	m.Lock()
	defer m.Unlock()
	if s.lane == 0 && s.budget.Over(s.ctx) {
		m.ended.Store(true)
	}
	m.running--
	if m.waiting == m.running {
		m.compare()
	}
}

// compare ends a round: the best of all lanes is told and handed to each.
func (m *meeting) compare() {
	m.round++
	m.waiting = 0
	better, steps := false, (1-lanes)*m.began
	for _, lane := range m.all {
		steps += lane.step
		if lane.bestAt.better(m.bestAt) {
			m.best, m.bestAt, better = append(m.best[:0], lane.best...), lane.bestAt, true
		}
	}
	m.wake.Broadcast()
	if better {
		m.all[0].tell(steps, m.best, m.bestAt)
	}
}
