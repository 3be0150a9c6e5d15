package fit

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// need is what is wrong at one place: at least so much more (above 0) or less,
// at best so much.
type need struct {
	pl          place
	least, want units.Length
	guess       bool // it may be the pencil: nothing is set in for it
}

// choice is one operation that may be done here, and how far it goes at each
// need.
type choice struct {
	op      *Operation
	minutes units.Minutes
	cost    int64
	cap     [places]units.Length
}

// step is an operation chosen, and by how much at each place.
type step struct {
	op      *Operation
	minutes units.Minutes
	by      [places]units.Length
}

// mostOps is how many different operations are still an alteration: more is a
// remake. mostTried is how far the search looks to say how many it would be.
const (
	mostOps   = 3
	mostTried = 5
)

// lookMinutes is what a hundredth of the look weighs in minutes, as in the
// sharing-out (house).
const lookMinutes = 5

// hunt is a search for the cheapest set of operations. It holds all of its
// own, so that it lives on the stack.
type hunt struct {
	takes  units.Length // what may be taken in, in all
	needs  [places]need
	lacks  int // of needs
	offers [maxOffers]choice
	offer  int // of offers
	most   int
	now    [mostTried]choice
	set    [mostTried]choice
	n      int   // of set
	best   int64 // -1 until one is found
}

// maxOffers is how many operations can be of use to one garment at once; no
// kind of garment has as many in the table.
const maxOffers = 28

// hunt lists what may be done to the garment about some needs, the cheapest
// first. uncut leaves out what cannot be undone.
func (j *job) hunt(needs []need, uncut bool) hunt {
	h := hunt{takes: takesIn(j.w.category, j.x.lined), best: -1}
	h.lacks = copy(h.needs[:], needs)
	has := j.x.has | j.w.has
	for i := range j.w.fig.ops {
		o := &j.w.fig.ops[i]
		if !o.chosen || o.on&has == 0 || o.if_&^has != 0 || uncut && o.Undo != "yes" {
			continue
		}
		c := choice{op: o, minutes: j.minutes(o.at, j.hem)}
		c.cost = int64(c.minutes) + lookMinutes*int64(o.look)
		useful := false
		for _, n := range needs {
			c.cap[n.pl] = j.reach(o, n)
			useful = useful || c.cap[n.pl] > 0
		}
		if useful && h.offer < maxOffers {
			h.hang(c)
		}
	}
	return h
}

// hang puts an offer in its place by cost.
func (h *hunt) hang(c choice) {
	k := h.offer
	for ; k > 0 && c.cost < h.offers[k-1].cost; k-- {
		h.offers[k] = h.offers[k-1]
	}
	h.offers[k] = c
	h.offer++
}

// reach is how far an operation goes towards a need; 0 where it does nothing.
func (j *job) reach(o *Operation, n need) units.Length {
	g := o.gives[n.pl]
	if g.by == 0 || (g.by > 0) != (n.least > 0) || o.setIn && n.guess {
		return 0
	}
	if !g.spare {
		return g.by.Abs()
	}
	switch {
	case n.pl == length:
		return j.x.g.LetDown.Or(0)
	case j.x.laced && n.pl != hip: // the lacing lets it out already
		return 0
	}
	return j.x.g.LetOut.Or(0)
}

// cheapest finds the set of at most so many operations that does for all
// needs at the least cost. Every set is looked at but those that cost as much
// as the best, or in which an operation adds nothing that is lacking.
func (h *hunt) cheapest(most int) bool {
	h.most, h.best = most, -1
	h.try(0, 0, 0)
	return h.best >= 0
}

func (h *hunt) try(from, have int, cost int64) {
	if h.enough(h.now[:have]) {
		h.set, h.n, h.best = h.now, have, cost
		return
	}
	if have == h.most {
		return
	}
	for i := from; i < h.offer; i++ {
		c := cost + h.offers[i].cost
		if h.best >= 0 && c >= h.best {
			return // offers only get dearer
		}
		if h.helps(h.now[:have], &h.offers[i]) {
			h.now[have] = h.offers[i]
			h.try(i+1, have+1, c)
		}
	}
}

// furthest is how far all that is on offer would go at a need.
func (h *hunt) furthest(n *need) units.Length {
	var set [maxOffers]choice
	have, edge := 0, units.Length(0)
	for i := range h.offers[:h.offer] {
		if c := &h.offers[i]; c.op.edge {
			edge = max(edge, c.cap[n.pl])
		} else {
			set[have] = *c
			have++
		}
	}
	return h.total(set[:have], n) + edge
}

// total is how far a set of operations goes at a need. What is taken in at
// the seams adds up to no more than the garment bears, and at chest and hip so
// does all.
func (h *hunt) total(set []choice, n *need) units.Length {
	var seams, rest units.Length
	for i := range set {
		switch {
		case n.least < 0 && n.pl <= hip && (set[i].op.seam || n.pl != waist):
			seams += set[i].cap[n.pl]
		default:
			rest += set[i].cap[n.pl]
		}
	}
	return min(seams, h.takes) + rest
}

// enough says whether a set does for all needs.
func (h *hunt) enough(set []choice) bool {
	for i := range h.needs[:h.lacks] {
		if n := &h.needs[i]; h.total(set, n) < n.least.Abs() {
			return false
		}
	}
	return true
}

// helps says whether an operation adds to something that still lacks, and does
// not end what another of the set ends already.
func (h *hunt) helps(set []choice, c *choice) bool {
	for i := range set {
		if c.op.edge && set[i].op.edge && (c.cap[length] > 0) == (set[i].cap[length] > 0) {
			return false
		}
	}
	for i := range h.needs[:h.lacks] {
		if n := &h.needs[i]; c.cap[n.pl] > 0 && h.total(set, n) < n.least.Abs() {
			return true
		}
	}
	return false
}

// deal shares the needs out over the set found: each operation as far as it
// goes, until the best is reached where that can be.
func (h *hunt) deal() (steps [mostTried]step) {
	set := h.set[:h.n]
	for i := range set {
		steps[i] = step{op: set[i].op, minutes: set[i].minutes}
	}
	for k := range h.needs[:h.lacks] {
		n := &h.needs[k]
		left := min(h.total(set, n), max(n.want.Abs(), n.least.Abs()))
		sign := units.Length(1)
		if n.least < 0 {
			sign = -1
		}
		for i := range set {
			by := min(left, set[i].cap[n.pl])
			steps[i].by[n.pl] = sign * by
			left -= by
		}
	}
	return steps
}

// takesIn is how much of the girth can be taken in, in all: 8 to 10 on what
// is woven and bought, less where pockets meet, least through a lining.
func takesIn(c show.Category, lined bool) units.Length {
	switch {
	case c == show.Trousers || c == show.Skirt:
		return 60 * mm
	case c == show.Jacket && lined:
		return 50 * mm
	case c == show.Jacket || c == show.Bodice:
		return 80 * mm
	}
	return 100 * mm
}
