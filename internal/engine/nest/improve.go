package nest

import (
	"cmp"
	"math"
	"slices"
)

// The search above the separation: shorten the strip while it can be freed of
// overlaps, and where it cannot, swap large pieces and try again (exploration
// and compression of arXiv 2509.13329, sections 9 and 10); on cloth of fixed
// size, get everything in.

const (
	leastIdle, idlePieces         = 12, 3 // see idle
	exploreStrikes                = 3
	compressIdle, compressStrikes = 50, 3
	exploreShrink                 = 0.001
	firstShrink                   = 0.02
	hastyIdle                     = 15
)

func (s *search) improve() {
	if s.done() || s.over() || len(s.items) == 0 {
		return
	}
	s.ready()
	if s.bestAt.worth < s.whole {
		s.gather()
	}
	if s.bestAt.worth == s.whole && s.strip >= 0 && !s.over() {
		s.race(s.steps, (*search).shorten)
	}
}

// shorten looks for ever shorter layouts on the strip.
func (s *search) shorten() {
	s.hurry()
	for !s.done() && !s.over() && s.explore() {
		if s.anew {
			s.begin()
			s.hurry()
		}
	}
}

// hurry shortens in large steps while that goes easily.
func (s *search) hurry() {
	for rate := firstShrink; rate > exploreShrink && !s.anew && !s.done() && !s.over(); {
		if !s.shrink(rate, 0.5) {
			return
		}
		if !s.gain(hastyIdle, 1) && !s.overtaken() {
			rate /= 2
		}
	}
}

// idle is after how many passes without gain an attempt is broken off: many
// pieces take more of them to come apart.
func (s *search) idle() int { return max(leastIdle, len(s.items)/idlePieces) }

// gain frees the shortened layout of overlaps and keeps it, pushed together;
// it says whether that has succeeded and is the best so far.
func (s *search) gain(idle, strikes int) bool {
	if !s.separate(idle, strikes) {
		return false
	}
	s.compact()
	return s.keep()
}

// compact pushes everything on the strip towards its start, the nearest to it
// first: a layout just freed is seldom as short as it could be.
func (s *search) compact() {
	list := make([]int, 0, len(s.items))
	for i := range s.items {
		if s.items[i].on && s.items[i].isl == s.strip {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(s.boxes[a].x0, s.boxes[b].x0) })
	for _, i := range list {
		at := s.items[i].place
		span, _ := s.islands[s.strip].span(s.items[i].k.pose(at.pose))
		s.push(i, &at.x, span.x0, &at)
		s.put(i, at)
	}
}

// shrink loads the best layout and cuts the strip by a share of its length,
// at a place given as a share of it: what lies beyond moves left. It returns
// false where some piece would have no room at all. It costs a step, so that
// no loop of shrinking is endless.
func (s *search) shrink(rate, at float64) bool {
	s.step++
	s.load(s.best)
	s.resetWeights()
	isl := s.islands[s.strip]
	length := max(min(s.bestAt.length-1, int64(float64(s.bestAt.length)*(1-rate))), s.bound)
	by, middle := s.bestAt.length-length, isl.dx+int64(at*float64(s.bestAt.length))
	s.goal = score{s.whole, length}
	s.cut(length)
	for i := range s.items {
		if it := &s.items[i]; it.on && it.isl == s.strip {
			if (s.boxes[i].x0+s.boxes[i].x1)/2 > middle {
				it.x -= by
			}
			if !s.settle(i, it.place) {
				return false
			}
		}
	}
	return true
}

// settle lays item i as near to a place as its cloth allows, in another pose
// or on another cloth where it must.
func (s *search) settle(i int, at place) bool {
	k := s.items[i].k
	for c := range s.islands {
		to := at
		to.isl = (at.isl + c) % len(s.islands)
		for n := range k.poses {
			to.pose = (at.pose + n) % len(k.poses)
			if span, ok := s.islands[to.isl].span(k.pose(to.pose)); ok && k.allows[to.isl] {
				to.x, to.y = clamp(to.x, span.x0, span.x1), clamp(to.y, span.y0, span.y1)
				s.put(i, to)
				return true
			}
		}
	}
	return false
}

// draft is a layout with overlaps, kept to start again from.
type draft struct {
	loss   float64
	places []place
}

// explore shortens by small steps; where the overlaps cannot be driven out it
// disturbs one of the better drafts and tries again, until the strip is
// shorter or the budget spent. Every so often it squeezes the best layout. It
// returns false where the strip cannot be shorter.
func (s *search) explore() bool {
	if !s.shrink(exploreShrink, 0.5) {
		return false
	}
	var pool []draft
	for length := s.islands[s.strip].length(); !s.over(); {
		began := s.step
		if s.gain(s.idle(), exploreStrikes) || s.overtaken() {
			return true
		}
		pool = s.stock(pool)
		if s.explored += s.step - began; s.squeezed < s.explored/4 {
			if s.squeeze(s.explored/4 - s.squeezed) {
				return true
			}
			s.goal.length = length
			s.cut(length)
		}
		s.pick(pool)
	}
	return true
}

// length is how much of a strip may be used at the moment.
func (isl *island) length() int64 { return isl.usable.x1 - isl.dx }

// stock adds the layout on the board to the pool, the best first.
func (s *search) stock(pool []draft) []draft {
	pool = append(pool, draft{s.lastLoss, s.save(nil)})
	slices.SortStableFunc(pool, func(a, b draft) int { return cmp.Compare(a.loss, b.loss) })
	return pool
}

// pick loads one of the better drafts and disturbs it.
func (s *search) pick(pool []draft) {
	d := diceFor(s.budget, ^s.step)
	n := min(int(math.Abs(0.25*d.normal())*float64(len(pool))), len(pool)-1)
	s.load(pool[n].places)
	s.disturb(d)
	s.resetWeights()
}

// disturb swaps two large pieces that differ and moves the small ones they
// come to cover into the gap left.
func (s *search) disturb(d *dice) {
	large := s.large()
	for range 50 {
		i, j := large[d.below(len(large))], large[d.below(len(large))]
		a, b := &s.items[i], &s.items[j]
		if differ(a.k.area, b.k.area) && differ(a.k.diam, b.k.diam) && a.k.allows[b.isl] && b.k.allows[a.isl] {
			s.swap(i, j)
			return
		}
	}
	if len(large) > 0 { // all alike: throw one anywhere
		i := large[d.below(len(large))]
		if at, ok := s.sample(i, false, d); ok {
			s.put(i, at)
		}
	}
}

func differ(a, b float64) bool { return math.Abs(a-b) > 0.01*max(a, b) }

// large lists the items that make up three quarters of all hull area, from
// the greatest.
func (s *search) large() []int {
	list, sum, all := s.order(), 0.0, 0.0
	list = slices.DeleteFunc(list, func(i int) bool { return !s.items[i].on })
	slices.SortStableFunc(list, func(i, j int) int { return cmp.Compare(s.items[j].k.hull, s.items[i].k.hull) })
	for _, i := range list {
		all += s.items[i].k.hull
	}
	for n, i := range list {
		if sum += s.items[i].k.hull; sum > 0.75*all {
			return list[:n+1]
		}
	}
	return list
}

func (s *search) swap(i, j int) {
	a, b := s.items[i].place, s.items[j].place
	ca, cb := middle(s.boxes[i]), middle(s.boxes[j])
	to := func(k *kind, pose int, at place, c [2]int64) place {
		bx := k.pose(pose).box
		at.pose, at.x, at.y = pose, c[0]-(bx.x0+bx.x1)/2, c[1]-(bx.y0+bx.y1)/2
		return at
	}
	if !s.settle(i, to(s.items[i].k, a.pose, b, cb)) || !s.settle(j, to(s.items[j].k, b.pose, a, ca)) {
		s.put(i, a)
		return
	}
	s.sweep(i, j, ca, cb)
	s.sweep(j, i, cb, ca)
}

// sweep moves small pieces now covered by item i, which came from one place
// to another, into the gap it left.
func (s *search) sweep(i, other int, from, to [2]int64) {
	it := &s.items[i]
	ring := &it.k.pose(it.pose).ring
	for m := range s.items {
		o := &s.items[m]
		if m == i || m == other || !o.on || o.isl != it.isl || o.k.area > it.k.area/2 {
			continue
		}
		if c := middle(s.boxes[m]); inRing(ring, c[0]-it.x, c[1]-it.y) {
			at := o.place
			at.isl = s.islandAt(from)
			if o.k.allows[at.isl] {
				at.x, at.y = at.x+from[0]-to[0], at.y+from[1]-to[1]
				s.settle(m, at)
			}
		}
	}
}

func (s *search) islandAt(c [2]int64) int {
	for n, isl := range s.islands {
		if c[0] <= isl.box.x1 {
			return n
		}
	}
	return len(s.islands) - 1
}

func middle(b box) [2]int64 { return [2]int64{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2} }

// squeeze shortens the best layout by very small steps, cut anywhere, for
// about so many steps; it says whether it gained anything.
func (s *search) squeeze(steps int64) bool {
	end, began, gained := s.step+steps, s.step, false
	for rate := 0.0005; s.step < end && !s.over() && !s.done(); {
		if !s.shrink(rate, diceFor(s.budget, ^s.step).share()) {
			break
		}
		if s.gain(compressIdle, compressStrikes) || s.overtaken() {
			gained = true
			if s.anew {
				break
			}
		} else {
			rate = max(rate*0.8, 0.00001)
		}
	}
	s.squeezed += s.step - began
	return gained
}
