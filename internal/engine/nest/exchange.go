package nest

import "math"

// A piece for which no place is free may still find one where another lies
// that would as well lie where the first does. Moving one piece at a time
// passes such an exchange by, since each of its two halves makes things worse;
// among few pieces, whose sizes must add up to the width, it is what counts.

const (
	exchanges   = 40  // partners drawn for one piece
	alike       = 0.4 // the least share of the greater area that the lesser may have
	exchangeFor = 1.2 // untrimmed, an exchange may cost so much more than it must in the end
)

// exchange looks for a piece to change places with item i, such that the
// weighted overlap of the two falls by more than the given gain, and takes the
// first it finds. The others must have been listed near item i.
func (s *search) exchange(i int, gain float64, d *dice) bool {
	now := s.lossAt(i, true)
	for range exchanges {
		if j := d.below(len(s.items)); s.mayTrade(i, j) {
			both := now + s.lossAt(j, true) - s.weight[i*len(s.items)+j]*s.loss[i*len(s.items)+j]
			if s.trade(i, j, both-gain, d) {
				return true
			}
		}
	}
	return false
}

// mayTrade says whether two items differ, but not too much, and may lie on
// one another's cloth.
func (s *search) mayTrade(i, j int) bool {
	a, b := &s.items[i], &s.items[j]
	return b.on && a.k != b.k && a.k.allows[b.isl] && b.k.allows[a.isl] &&
		min(a.k.area, b.k.area) >= alike*max(a.k.area, b.k.area)
}

// trade lays two items in one another's place, a corner of the box where the
// other's was, and trims both. It puts them back and returns false where their
// weighted overlap would not be below the bound.
func (s *search) trade(i, j int, bound float64, d *dice) bool {
	old, corner := s.items[i].place, d.below(4)
	to, ok := s.cornered(i, j, corner)
	from, fits := s.cornered(j, i, corner)
	if !ok || !fits {
		return false
	}
	defer func() { s.near.without, s.near.with = -1, -1 }()
	s.near.without = j
	a := found{to, s.cost(i, to, bound)}
	if a.cost >= bound {
		return false
	}
	s.put(i, to)
	s.near.with = i
	if b := s.cost(j, from, exchangeFor*bound-a.cost); a.cost+b < exchangeFor*bound {
		s.near.with = -1
		a = s.trim(i, a, d)
		s.put(i, a.place)
		s.near.with = i
		if b := s.trim(j, found{from, s.cost(j, from, math.Inf(1))}, d); a.cost+b.cost < bound {
			s.put(j, b.place)
			s.refresh(i)
			s.refresh(j)
			return true
		}
	}
	s.put(i, old)
	return false
}

// trim is a short descent from a place that is roughly right.
func (s *search) trim(i int, f found, d *dice) found {
	small := float64(s.items[i].k.small)
	return s.descend(i, f, small/8, small/50, d)
}

// cornered is where item i, as it is turned, has one corner of its box on that
// of item j; ok is false where it has no room there.
func (s *search) cornered(i, j, corner int) (at place, ok bool) {
	at, b := s.items[j].place, s.boxes[j]
	at.pose = s.items[i].pose
	p := s.items[i].k.pose(at.pose)
	span, ok := s.islands[at.isl].span(p)
	if !ok {
		return at, false
	}
	at.x, at.y = b.x0-p.box.x0, b.y0-p.box.y0
	if corner&1 != 0 {
		at.x = b.x1 - p.box.x1
	}
	if corner&2 != 0 {
		at.y = b.y1 - p.box.y1
	}
	at.x, at.y = clamp(at.x, span.x0, span.x1), clamp(at.y, span.y0, span.y1)
	return at, true
}
