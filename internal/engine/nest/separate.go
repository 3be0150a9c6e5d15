package nest

import "math"

// Separation drives the overlaps of a layout to zero by moving one piece at a
// time, with weights on pairs that stay in one another (guided local search;
// arXiv 2509.13329, sections 7 and 8).

const (
	weightUp     = 1.2 // the least growth of the weight of a colliding pair
	weightUpMost = 2.0 // the greatest
	weightDown   = 0.95
	worthwhile   = 0.98 // an improvement counts from 2 per cent
)

// resetWeights sets all weights to 1.
func (s *search) resetWeights() {
	for i := range s.weight {
		s.weight[i] = 1
	}
	for i := range s.clothWeight {
		s.clothWeight[i] = 1
	}
}

// refresh computes the overlaps of item i anew.
func (s *search) refresh(i int) {
	n, it := len(s.items), &s.items[i]
	row := s.loss[i*n:][:n]
	if !it.on {
		s.clothLosses[i] = 0
		for j := range row {
			row[j], s.loss[j*n+i] = 0, 0
		}
		return
	}
	p := it.k.pose(it.pose)
	s.clothLosses[i] = s.clothLoss(it.k, p, it.place)
	for j := range row {
		v := 0.0
		if o := &s.items[j]; j != i && meet(s.boxes[i], s.boxes[j], s.gap) {
			q := &o.k.poses[o.pose].shape
			if s.hit.collide(&p.shape, it.x, it.y, q, o.x, o.y, s.gap) {
				v = lossOf(&p.shape, it.x, it.y, q, o.x, o.y, float64(s.gap), math.Inf(1))
			}
		}
		row[j], s.loss[j*n+i] = v, v
	}
}

func (s *search) refreshAll() {
	for i := range s.items {
		s.refresh(i)
	}
}

// total is the sum of all overlaps, unweighted.
func (s *search) total() float64 {
	n, sum := len(s.items), 0.0
	for i := range n {
		sum += s.clothLosses[i]
		for j := range i {
			sum += s.loss[i*n+j]
		}
	}
	return sum
}

// lossAt is the overlap of item i with everything, weighted or not.
func (s *search) lossAt(i int, weighted bool) float64 {
	n := len(s.items)
	row, w := s.loss[i*n:][:n], s.weight[i*n:][:n]
	sum := s.clothLosses[i]
	if weighted {
		sum *= s.clothWeight[i]
	}
	for j, v := range row {
		if v > 0 {
			if weighted {
				v *= w[j]
			}
			sum += v
		}
	}
	return sum
}

// pass moves every colliding item once, in random order, and raises the
// weights of what still collides.
func (s *search) pass() {
	s.queue = s.queue[:0]
	for i := range s.items {
		if s.items[i].on && s.lossAt(i, false) > 0 {
			s.queue = append(s.queue, i)
		}
	}
	diceFor(s.budget, ^s.step).shuffle(s.queue)
	for _, i := range s.queue {
		if s.over() {
			return
		}
		if s.lossAt(i, false) > 0 {
			s.relocate(i)
		}
	}
	s.reweigh()
}

func (s *search) reweigh() {
	n, most := len(s.items), 0.0
	for i := range n {
		most = max(most, s.clothLosses[i])
		for j := range i {
			most = max(most, s.loss[i*n+j])
		}
	}
	if most == 0 {
		return
	}
	next := func(w, e float64) float64 {
		if e > 0 {
			return w * (weightUp + (weightUpMost-weightUp)*e/most)
		}
		return max(1, w*weightDown)
	}
	for i := range n {
		s.clothWeight[i] = next(s.clothWeight[i], s.clothLosses[i])
		for j := range i {
			w := next(s.weight[i*n+j], s.loss[i*n+j])
			s.weight[i*n+j], s.weight[j*n+i] = w, w
		}
	}
}

// separate tries to free the layout on the board of overlaps. An attempt ends
// after idle passes without a worthwhile improvement; so many attempts in a
// row without one end the whole. Each attempt starts from the best layout so
// far but keeps the weights. Afterwards the board holds the best layout: legal
// where it returns true. It gives up where another lane has reached the goal,
// see overtaken.
func (s *search) separate(idle, strikes int) bool {
	s.refreshAll()
	best, least := s.save(nil), s.total()
	if least == 0 {
		return true
	}
	for strike := 0; strike < strikes && !s.over(); {
		before := least
		for quiet := 0; quiet < idle && !s.over(); quiet++ {
			s.pass()
			now := s.total()
			if now == 0 {
				return true
			}
			if s.meet() {
				return false
			}
			if now < least {
				if now < worthwhile*least {
					quiet = -1
				}
				best, least = s.save(best), now
			}
		}
		s.load(best)
		s.refreshAll()
		strike++
		if least < worthwhile*before {
			strike = 0
		}
	}
	s.lastLoss = least
	return false
}
