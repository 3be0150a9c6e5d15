package nest

import "math"

// hit is an item surely collided with, and the least its weighted overlap can
// be.
type hit struct {
	item int
	low  float64
}

// cost is the weighted overlap of item i in a place, or infinite as soon as
// it is known to exceed the bound. It does not allocate.
func (s *search) cost(i int, at place, bound float64) float64 {
	it := &s.items[i]
	p := it.k.pose(at.pose)
	total := s.clothLoss(it.k, p, at)
	if total > 0 {
		total *= s.clothWeight[i]
		if total > bound {
			return math.Inf(1)
		}
	}
	s.looked++
	bx := p.box.at(at.x, at.y)
	weights := s.weight[i*len(s.items):][:len(s.items)]
	s.open, s.sure = s.open[:0], s.sure[:0]
	for _, j := range s.near.of(bx, s.gap) {
		if !meet(bx, s.boxes[j], s.gap) {
			continue
		}
		o := &s.items[j]
		low := leastLoss(&p.shape, at.x, at.y, &o.k.poses[o.pose].shape, o.x, o.y) * weights[j]
		if low == 0 {
			s.open = append(s.open, j)
			continue
		}
		if total += low; total > bound {
			return math.Inf(1)
		}
		s.sure = append(s.sure, hit{j, low})
	}
	for _, h := range s.sure {
		o := &s.items[h.item]
		w := weights[h.item]
		total -= h.low
		if total += w * lossOf(&p.shape, at.x, at.y, &o.k.poses[o.pose].shape, o.x, o.y, float64(s.gap), (bound-total)/w); total > bound {
			return math.Inf(1)
		}
	}
	for _, j := range s.open {
		o := &s.items[j]
		q := &o.k.poses[o.pose].shape
		if !s.hit.collide(&p.shape, at.x, at.y, q, o.x, o.y, s.gap) {
			continue
		}
		if total += weights[j] * lossOf(&p.shape, at.x, at.y, q, o.x, o.y, float64(s.gap), (bound-total)/weights[j]); total > bound {
			return math.Inf(1)
		}
	}
	return total
}

// clothLoss is how badly a pose lies over the edge or a flaw; a place is
// always inside the usable box.
func (s *search) clothLoss(k *kind, p *pose, at place) float64 {
	isl := s.islands[at.isl]
	loss := 0.0
	if !isl.rect && !s.hit.inside(&p.shape, at.x, at.y, &isl.shape, s.edge) {
		loss = outsideLoss(&p.shape, at.x, at.y, isl.field)
	}
	if k.Hidden {
		return loss
	}
	bx := p.box.at(at.x, at.y)
	for f := range isl.flaws {
		if w := &isl.flaws[f]; meet(bx, w.box, 0) && s.hit.collide(&p.shape, at.x, at.y, w, 0, 0, 0) {
			loss += lossOf(&p.shape, at.x, at.y, w, 0, 0, 0, math.Inf(1))
		}
	}
	return loss
}

const (
	samplesNear  = 10
	samplesFar   = 5
	samplesFlush = 25
	descents     = 2
)

// found is a place and what it costs.
type found struct {
	place
	cost float64
}

// relocate looks for a better place for item i and lays it there: samples
// near, far and flush with others, coordinate descent from the best two, then
// a finer one from the best (after arXiv 2509.13329, section 6, which knows no
// flush samples). The place never gets dearer. Where the place is not free,
// item i may change places with another instead, if that is better.
func (s *search) relocate(i int) {
	s.step++
	d := diceFor(s.budget, s.step)
	it := &s.items[i]
	s.near.ready(s.boxes, i)
	now := found{it.place, s.cost(i, it.place, math.Inf(1))}
	s.top = append(s.top[:0], now)
	for n := range samplesNear + samplesFar + samplesFlush {
		at, ok := s.sample(i, n < samplesNear, d)
		if !ok {
			continue
		}
		if n >= samplesNear+samplesFar && s.islands[at.isl].rect {
			s.flush(i, &at, d)
		}
		bound := math.Inf(1)
		if len(s.top) == descents {
			bound = s.top[descents-1].cost
		}
		if c := s.cost(i, at, bound); c < bound {
			s.enter(i, found{at, c})
		}
	}
	small := float64(it.k.small)
	best := now
	for _, f := range s.top {
		if f = s.descend(i, f, small/4, small/50, d); f.cost <= best.cost {
			best = f
		}
	}
	best = s.descend(i, best, small/100, small/1000, d)
	if best.cost > 0 && s.exchange(i, now.cost-best.cost, d) {
		return
	}
	s.put(i, best.place)
	s.refresh(i)
}

// enter puts a sample among the best, in place of one close to it if there is
// one.
func (s *search) enter(i int, f found) {
	close := float64(s.items[i].k.small) / 20
	for n, g := range s.top {
		if g.isl == f.isl && g.pose == f.pose && math.Abs(float64(g.x-f.x)) < close && math.Abs(float64(g.y-f.y)) < close {
			if f.cost >= g.cost {
				return
			}
			s.top = append(s.top[:n], s.top[n+1:]...)
			break
		}
	}
	if len(s.top) == descents {
		s.top = s.top[:descents-1]
	}
	n := len(s.top)
	s.top = append(s.top, f)
	for ; n > 0 && s.top[n-1].cost > f.cost; n-- {
		s.top[n], s.top[n-1] = s.top[n-1], f
	}
}

// sample draws a place for item i, near where it lies or anywhere.
func (s *search) sample(i int, near bool, d *dice) (place, bool) {
	it := &s.items[i]
	at := place{on: true, isl: it.isl, pose: d.below(len(it.k.poses))}
	if !near {
		at.isl = s.drawIsland(it.k, d)
	}
	isl := s.islands[at.isl]
	p := it.k.pose(at.pose)
	span, ok := isl.span(p)
	if !ok {
		return at, false
	}
	if near {
		b := s.boxes[i]
		w, h := (b.x1-b.x0)/2, (b.y1-b.y0)/2
		x, y := (b.x0+b.x1-p.box.x0-p.box.x1)/2, (b.y0+b.y1-p.box.y0-p.box.y1)/2
		at.x, at.y = clamp(x+d.between(-w, w), span.x0, span.x1), clamp(y+d.between(-h, h), span.y0, span.y1)
		return at, true
	}
	for range 8 {
		at.x, at.y = d.between(span.x0, span.x1), d.between(span.y0, span.y1)
		if isl.rect || len(p.poles) == 0 {
			break
		}
		// On an odd cloth, prefer places where the greatest circle is inside.
		if q := &p.poles[0]; isl.field.at(q.x+float64(at.x), q.y+float64(at.y)) >= 0.8*q.r {
			break
		}
	}
	return at, true
}

// flush moves a sample so that its box touches or lines up with that of some
// other item, or the edge, across the cloth and along it: dense lays have much
// of both, and chance alone seldom finds it. On odd cloth it does not gain.
func (s *search) flush(i int, at *place, d *dice) {
	p := s.items[i].k.pose(at.pose).box
	span, _ := s.islands[at.isl].span(s.items[i].k.pose(at.pose))
	at.x, at.y = [2]int64{span.x0, span.x1}[d.below(2)], [2]int64{span.y0, span.y1}[d.below(2)]
	if b, ok := s.drawBox(i, at.isl, d); ok {
		at.x = [4]int64{b.x1 + s.gap - p.x0, b.x0 - s.gap - p.x1, b.x0 - p.x0, b.x1 - p.x1}[d.below(4)]
	}
	if b, ok := s.drawBox(i, at.isl, d); ok {
		at.y = [4]int64{b.y1 + s.gap - p.y0, b.y0 - s.gap - p.y1, b.y0 - p.y0, b.y1 - p.y1}[d.below(4)]
	}
	at.x, at.y = clamp(at.x, span.x0, span.x1), clamp(at.y, span.y0, span.y1)
}

// drawBox draws the box of another item on a cloth, or now and then of none.
func (s *search) drawBox(i, isl int, d *dice) (b box, ok bool) {
	j := d.below(len(s.items) + 1)
	if j == len(s.items) || j == i || !s.items[j].on || s.items[j].isl != isl {
		return b, false
	}
	return s.boxes[j], true
}

// drawIsland draws one of the cloths a piece may lie on, by area.
func (s *search) drawIsland(k *kind, d *dice) int {
	sum := 0.0
	for c, isl := range s.islands {
		if k.allows[c] {
			sum += isl.area
		}
	}
	r, last := d.share()*sum, 0
	for c, isl := range s.islands {
		if k.allows[c] {
			last = c
			if r -= isl.area; r < 0 {
				break
			}
		}
	}
	return last
}

func clamp(v, lo, hi int64) int64 { return min(max(v, lo), hi) }

// descend walks downhill along one axis at a time, both axes, both diagonals
// and the turn of a freely turning piece, with steps that grow on success and
// halve on failure, from first down to last.
func (s *search) descend(i int, f found, first, last float64, d *dice) found {
	k := s.items[i].k
	free := len(k.poses) > 2*freeTurns
	sx, sy, turn := first, first, 5.0
	for sx > last || sy > last || free && turn > 1 {
		axis := d.below(4)
		if free && d.below(3) == 0 {
			axis = 4
		}
		dx, dy, dt := stepAlong(axis, sx, sy, turn)
		better := false
		for _, sign := range [2]int64{1, -1} {
			at, ok := s.shifted(k, f.place, sign*dx, sign*dy, int(sign)*dt)
			if !ok {
				continue
			}
			c := s.cost(i, at, f.cost)
			if c < f.cost {
				f, better = found{at, c}, true
				break
			}
			if c == f.cost { // taken, but it counts as a failure
				f.place = at
				break
			}
		}
		grow := 0.5
		if better {
			grow = 1.1
		}
		switch axis {
		case 0:
			sx *= grow
		case 1:
			sy *= grow
		case 4:
			turn *= grow
		default:
			if !better {
				grow = math.Sqrt(0.5)
			}
			sx, sy = sx*grow, sy*grow
		}
	}
	return f
}

func stepAlong(axis int, sx, sy, turn float64) (dx, dy int64, dt int) {
	x, y := max(int64(sx), 1), max(int64(sy), 1)
	switch axis {
	case 0:
		return x, 0, 0
	case 1:
		return 0, y, 0
	case 2:
		return x, y, 0
	case 3:
		return x, -y, 0
	}
	return 0, 0, max(int(turn), 1)
}

// shifted is a place moved and turned, kept inside its cloth's box; ok is
// false where that leaves it as it was.
func (s *search) shifted(k *kind, at place, dx, dy int64, dt int) (place, bool) {
	to := at
	if dt != 0 {
		per := 1
		if k.Mirror {
			per = 2
		}
		n := len(k.poses)
		to.pose = ((at.pose+dt*per)%n + n) % n
		a, b := k.pose(at.pose).box, k.pose(to.pose).box
		to.x += (a.x0 + a.x1 - b.x0 - b.x1) / 2
		to.y += (a.y0 + a.y1 - b.y0 - b.y1) / 2
	}
	span, ok := s.islands[at.isl].span(k.pose(to.pose))
	if !ok {
		return at, false
	}
	to.x, to.y = clamp(to.x+dx, span.x0, span.x1), clamp(to.y+dy, span.y0, span.y1)
	return to, to != at
}
