package nest

import (
	"slices"
	"sync"
	"sync/atomic"
)

// The search runs in lanes side by side, which differ only in their chance.
// They meet after every so many steps and go on from the best layout any of
// them has found: how long it takes to find a shorter one varies widely, and
// the luckiest lane decides. The number of lanes is fixed and they are compared
// in their order, so that the answer does not depend on the machine.

const (
	lanes    = 4
	aloneFor = 1000 // steps before the lanes part: small problems are done by then
	meetFor  = 400  // steps of one lane between two meetings

	// Every second lane begins anew after so many steps, and so many for each
	// piece, without a layout shorter by so much.
	patienceFor, patiencePiece = 10_000, 500
	gotOn                      = 0.9995
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
		bestAt: s.bestAt, whole: s.whole, explored: s.explored, squeezed: s.squeezed, bound: s.bound, lane: lane, near: newNearby()}
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
	if !m.bestAt.better(s.bestAt) {
		s.apart = false // ahead of the others, or with them
	} else if !s.apart {
		s.best, s.bestAt = append(s.best[:0], m.best...), m.bestAt
	}
	s.despair()
	return s.overtaken()
}

// despair lets every second lane that has not got on for long go its own way
// from a layout built anew, and then again, until it is ahead of all. The
// others stay with the best. How dense a lay becomes depends much on how it
// happens to begin.
func (s *search) despair() {
	if at := s.bestAt; at.worth != s.mark.worth || float64(at.length) < gotOn*float64(s.mark.length) {
		s.mark, s.marked = at, s.step
	}
	patience := int64(patienceFor + patiencePiece*len(s.items))
	if s.lane%2 == 1 && s.step-s.marked > patience && s.bestAt.worth == s.whole && s.strip >= 0 {
		s.apart, s.anew = true, true
	}
}

// begin starts a lane anew from a layout built by chance, or where that does
// not take everything, from the best of all.
func (s *search) begin() {
	s.anew, s.mark, s.marked = false, score{}, s.step
	d := diceFor(s.budget, ^s.step)
	s.uncut()
	for i := range s.items {
		s.take(i)
	}
	s.fill(s.orderBy(fillOrders, d), d)
	if at := s.score(); at.worth == s.whole {
		s.best, s.bestAt = s.save(s.best), at
		return
	}
	s.apart = false
	s.meeting.Lock()
	defer s.meeting.Unlock()
	s.best, s.bestAt = append(s.best[:0], s.meeting.best...), s.meeting.bestAt
}

// overtaken says whether the separation at hand has become needless: the best
// layout is as good as the goal, or the lane begins anew.
func (s *search) overtaken() bool { return s.anew || !s.goal.better(s.bestAt) }

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
