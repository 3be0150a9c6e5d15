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

// offers lists what may be done to the garment about the needs, the cheapest
// first. uncut leaves out what cannot be undone.
func (j *job) offers(needs []need, uncut bool, into []choice) []choice {
	has := j.x.has | j.w.has
	for i := range operations {
		o := &operations[i]
		if !o.chosen || o.on&has == 0 || o.if_&^has != 0 || uncut && o.Undo != "yes" {
			continue
		}
		c := choice{op: o, minutes: o.minutes(j.x.lined, j.hem)}
		c.cost = int64(c.minutes) + lookMinutes*int64(o.look)
		useful := false
		for _, n := range needs {
			c.cap[n.pl] = j.reach(o, n)
			useful = useful || c.cap[n.pl] > 0
		}
		if !useful {
			continue
		}
		into = append(into, c)
		for k := len(into) - 1; k > 0 && into[k].cost < into[k-1].cost; k-- {
			into[k], into[k-1] = into[k-1], into[k]
		}
	}
	return into
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

// total is how far a set of operations goes at a need. What is taken in at
// the seams adds up to no more than the garment bears, and at chest and hip so
// does all.
func (j *job) total(set []choice, n need) units.Length {
	var seams, rest units.Length
	for i := range set {
		switch {
		case n.least < 0 && n.pl <= hip && (set[i].op.seam || n.pl != waist):
			seams += set[i].cap[n.pl]
		default:
			rest += set[i].cap[n.pl]
		}
	}
	return min(seams, takesIn(j.w.category, j.x.lined)) + rest
}

// enough says whether a set does for all needs.
func (j *job) enough(set []choice, needs []need) bool {
	for _, n := range needs {
		if j.total(set, n) < n.least.Abs() {
			return false
		}
	}
	return true
}

// hunt is a search for the cheapest set of operations under way.
type hunt struct {
	j      *job
	offers []choice
	needs  []need
	most   int
	now    [mostTried]choice
	set    [mostTried]choice
	n      int
	best   int64 // -1 until one is found
}

// cheapest finds the set of at most so many operations that does for all
// needs at the least cost. Every set is looked at but those that cost as much
// as the best, or in which an operation adds nothing that is lacking.
func (j *job) cheapest(offers []choice, needs []need, most int) hunt {
	h := hunt{j: j, offers: offers, needs: needs, most: most, best: -1}
	h.try(0, 0, 0)
	return h
}

func (h *hunt) found() bool { return h.best >= 0 }

func (h *hunt) try(from, have int, cost int64) {
	if h.j.enough(h.now[:have], h.needs) {
		h.set, h.n, h.best = h.now, have, cost
		return
	}
	if have == h.most {
		return
	}
	for i := from; i < len(h.offers); i++ {
		c := cost + h.offers[i].cost
		if h.best >= 0 && c >= h.best {
			return // offers only get dearer
		}
		if h.j.helps(h.now[:have], &h.offers[i], h.needs) {
			h.now[have] = h.offers[i]
			h.try(i+1, have+1, c)
		}
	}
}

// helps says whether an operation adds to something that still lacks.
func (j *job) helps(set []choice, c *choice, needs []need) bool {
	for _, n := range needs {
		if c.cap[n.pl] > 0 && j.total(set, n) < n.least.Abs() {
			return true
		}
	}
	return false
}

// deal shares the needs out over the chosen operations: each as far as it
// goes, until the best is reached where that can be.
func (j *job) deal(set []choice, needs []need) (steps [mostTried]step) {
	for i := range set {
		steps[i] = step{op: set[i].op, minutes: set[i].minutes}
	}
	for _, n := range needs {
		left := min(j.total(set, n), max(n.want.Abs(), n.least.Abs()))
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
