package nest

import (
	"context"
	"math"
	"slices"

	"hemwright/internal/value/solve"
)

type search struct {
	*board
	ctx                context.Context
	budget             solve.Budget
	planned            int64 // steps of the whole search
	steps              int64 // may be spent, in the part of the search at hand
	step               int64 // spent
	looked             int64 // places looked at
	never              []bool
	lane               int      // 0 outside a race
	meeting            *meeting // nil outside a race
	meetAt             int64    // the step of the next meeting
	apart, anew        bool     // the lane goes its own way; it is to begin anew
	mark               score    // the best when the lane last got on,
	marked             int64    // and the step of that
	goal               score    // what the layout on the board would be without its overlaps
	best               []place
	bestAt             score
	whole              int64 // the worth of all
	phases             []int64
	explored, squeezed int64
	bound              int64 // no strip can be shorter

	// Overlaps and weights, by item times items plus item, and of items with
	// their cloth.
	loss, weight             []float64
	clothLosses, clothWeight []float64
	lastLoss                 float64 // what the last separation was left with

	near        nearby
	open, queue []int
	sure        []hit
	top         []found
}

func newSearch(ctx context.Context, p *Problem, budget solve.Budget) *search {
	s := &search{board: newBoard(p), ctx: ctx, budget: budget, near: newNearby()}
	s.planned = budget.StepsFor(400, 10_000, 100_000)
	s.steps = s.planned
	for i := range s.items {
		s.never = append(s.never, s.board.never(s.items[i].k))
		s.whole += s.items[i].k.worth
	}
	s.bound = s.leastLength()
	return s
}

// leastLength is a length no layout of everything can go below: the area that
// the other cloths cannot take, over the width; and the length of the longest
// piece that may lie nowhere else.
func (s *search) leastLength() int64 {
	if s.strip < 0 {
		return 0
	}
	isl, area, longest := s.islands[s.strip], int64(0), int64(0)
	for i := range s.items {
		k := s.items[i].k
		area += int64(k.Outline.Area())
		only := k.allows[s.strip]
		for c := range s.islands {
			only = only && (c == s.strip || !k.allows[c])
		}
		if !only {
			continue
		}
		short := int64(math.MaxInt64)
		for n := range k.poses {
			if _, ok := isl.span(k.pose(n)); ok {
				short = min(short, s.edge+k.pose(n).box.x1-k.pose(n).box.x0)
			}
		}
		if short < math.MaxInt64 {
			longest = max(longest, short)
		}
	}
	for c, other := range s.islands {
		if c != s.strip {
			area -= int64(s.p.Cloths[other.cloth].Outline.Area()) + 1
		}
	}
	width := isl.box.y1 - isl.box.y0
	return max(longest, (area+width-1)/width)
}

// ready makes what the search of overlaps needs and the first layout does not.
func (s *search) ready() {
	if s.loss != nil {
		return
	}
	s.makeRoom()
	for _, isl := range s.islands {
		isl.ready(s.p.Cloths[isl.cloth], s.edge)
	}
	for i := range s.items {
		s.items[i].k.ready()
	}
}

// makeRoom makes the tables of overlaps and weights.
func (s *search) makeRoom() {
	n := len(s.items)
	s.loss, s.weight = make([]float64, n*n), make([]float64, n*n)
	s.clothLosses, s.clothWeight = make([]float64, n), make([]float64, n)
}

// over says whether the search has to end. Only the first lane asks for the
// time, since whoever tells it need not expect two at once.
func (s *search) over() bool {
	if s.lane > 0 {
		return s.step >= s.steps || s.meeting.ended.Load() || s.ctx.Err() != nil
	}
	return s.step >= s.steps || s.budget.Over(s.ctx)
}

// start lays the first layouts: what is still legal of the previous one with
// the rest filled in, then fills in several orders, the best of which is kept.
func (s *search) start() {
	if len(s.p.Previous) > 0 {
		s.recall()
		s.fill(s.order(), diceFor(s.budget, 0))
		s.keep()
	}
	for n := range fillOrders {
		if s.best != nil && (s.done() || s.budget.Over(s.ctx)) {
			return
		}
		d := diceFor(s.budget, int64(-n))
		for i := range s.items {
			s.take(i)
		}
		s.fill(s.orderBy(n, d), d)
		s.keep()
	}
}

// recall lays the previous layout, as far as it is still legal.
func (s *search) recall() {
	for _, q := range s.p.Previous {
		i := slices.IndexFunc(s.items, func(it item) bool { return it.k.ID == q.Piece && it.copy == q.Copy })
		c := slices.IndexFunc(s.p.Cloths, func(t Cloth) bool { return t.ID == q.Cloth })
		if i < 0 || c < 0 || s.items[i].on || !s.items[i].k.allows[c] {
			continue
		}
		k := s.items[i].k
		for n, turn := range k.turns {
			if turn != ((q.Turn%360)+360)%360 || k.flips[n] != q.Mirror {
				continue
			}
			at := place{isl: c, pose: n, x: int64(q.At.X) + s.islands[c].dx, y: int64(q.At.Y)}
			if s.free(i, at) {
				s.put(i, at)
			}
		}
	}
}

// keep remembers the layout on the board if it is the best so far.
func (s *search) keep() bool {
	at := s.score()
	if s.best != nil && !at.better(s.bestAt) {
		return false
	}
	s.best, s.bestAt = s.save(s.best), at
	if s.meeting == nil {
		s.tell(s.step, s.best, at)
	}
	return true
}

func (s *search) tell(step int64, best []place, at score) {
	s.budget.Tell(solve.Progress{Step: step, Steps: s.planned, Value: s.value(best, at), Bound: float64(s.bound), HasBound: s.strip >= 0, Words: "laying pieces"})
}

// value is the cost of a layout as Outcome tells it.
func (s *search) value(best []place, at score) float64 {
	if s.strip >= 0 {
		return float64(at.length)
	}
	missing := 0.0
	for i, place := range best {
		if !place.on {
			missing += s.items[i].k.area / 1e6
		}
	}
	return missing
}

// cut makes the strip end at the given length from its start.
func (s *search) cut(length int64) {
	isl := s.islands[s.strip]
	isl.usable.x1 = isl.dx + length
}

// uncut gives the strip its whole length back.
func (s *search) uncut() {
	if s.strip >= 0 {
		isl := s.islands[s.strip]
		isl.usable.x1 = isl.box.x1 - s.edge
	}
}

// done says whether the best layout is proved best.
func (s *search) done() bool {
	return s.bestAt.worth == s.whole && (s.strip < 0 || s.bestAt.length <= s.bound || s.bestAt.length == 0)
}

// answer hands out the best layout.
func (s *search) answer() Layout {
	s.uncut()
	s.load(s.best)
	l := s.layout(s.never)
	l.Looked = s.looked
	l.Outcome = solve.Outcome{Proof: solve.Found, Value: s.value(s.best, s.bestAt), Steps: s.step, Seed: s.budget.SeedOr1(), Phases: s.phases}
	l.Outcome.Stopped = !s.done() && s.step < s.steps
	if s.strip >= 0 {
		l.Outcome.Bound, l.Outcome.HasBound = float64(s.bound), true
	}
	switch {
	case s.done():
		l.Outcome.Proof = solve.Best
	case len(l.Missing) > 0 && s.impossible():
		l.Outcome.Proof = solve.Impossible
	case len(l.Missing) > 0:
		l.Outcome.Proof = solve.NotKnown
	}
	return l
}

// impossible says whether it is proved that not everything can be laid: some
// piece fits nowhere, or the pieces have more area than the cloths.
func (s *search) impossible() bool {
	area := 0.0
	for i := range s.items {
		if s.never[i] {
			return true
		}
		area += s.items[i].k.area
	}
	for _, isl := range s.islands {
		area -= isl.area
	}
	return area > 1e6 // a square millimetre, far above what rounding could make
}
