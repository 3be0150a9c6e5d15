package nest

import (
	"cmp"
	"slices"

	"hemwright/internal/value/units"
)

func lengthOf(v int64) units.Length { return units.Length(v) }

// The first layout is built piece by piece, each as far left and then as low
// as it goes: always legal, at hand in milliseconds, and the start from which
// the search improves. For rectangles, places beside the boxes already laid
// are enough; odd outlines are also tried at random places and slid.

const (
	tries  = 60 // random places for one pose on one cloth
	slides = 4  // of which so many are slid
	shifts = 3  // left and down so often
)

// fill lays the listed items that are not on the board, in that order, each
// on the first of its cloths where it finds room.
func (b *board) fill(order []int, d *dice) {
	for _, i := range order {
		if b.items[i].on {
			continue
		}
		for c := range b.islands {
			if b.items[i].k.allows[c] && b.fillOn(i, c, d) {
				break
			}
		}
	}
}

// spot is a legal place with how far right and how high it reaches.
type spot struct {
	place
	right, top int64
}

func (s spot) before(t spot) bool {
	return s.right < t.right || s.right == t.right && s.top < t.top
}

func (b *board) fillOn(i, c int, d *dice) bool {
	k := b.items[i].k
	var best spot
	found := false
	few := min(len(k.poses), 2*freeTurns) // spread evenly over those allowed
	for n := range few {
		pose := n * len(k.poses) / few
		p := k.pose(pose)
		span, ok := b.islands[c].span(p)
		if !ok {
			continue
		}
		for _, s := range b.spots(i, c, pose, span, d) {
			b.slide(i, &s, span)
			if !found || s.before(best) {
				best, found = s, true
			}
		}
	}
	if found {
		b.put(i, best.place)
	}
	return found
}

// freeTurns is how many of the poses of a freely turning piece are tried for
// the first layout.
const freeTurns = 16

// spots are legal places for a pose: the first beside what lies already, and
// for odd shapes the best of some random ones.
func (b *board) spots(i, c, pose int, span box, d *dice) []spot {
	var out []spot
	if s, ok := b.beside(i, c, pose, span); ok {
		out = append(out, s)
	}
	p := b.items[i].k.pose(pose)
	if len(p.x) == 4 && b.islands[c].rect && len(b.islands[c].flaws) == 0 {
		return out
	}
	var more []spot
	for range tries {
		at := place{isl: c, pose: pose, x: d.between(span.x0, span.x1), y: d.between(span.y0, span.y1)}
		if len(out) > 0 && at.x > out[0].x+int64(p.diam) {
			continue
		}
		if b.free(i, at) {
			more = append(more, spot{at, at.x + p.box.x1, at.y + p.box.y1})
		}
	}
	slices.SortStableFunc(more, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.right, b.right), cmp.Compare(a.top, b.top))
	})
	return append(out, more[:min(len(more), slides)]...)
}

// beside is the leftmost, then lowest, legal place among those where the box
// is flush with the cloth's or with one already laid.
func (b *board) beside(i, c, pose int, span box) (spot, bool) {
	p := b.items[i].k.pose(pose)
	xs, ys := []int64{span.x0}, []int64{span.y0, span.y1}
	near := func(o box, gap int64) {
		xs = append(xs, o.x1+gap-p.box.x0, o.x0-p.box.x0)
		ys = append(ys, o.y1+gap-p.box.y0, o.y0-p.box.y0, o.y0-gap-p.box.y1, o.y1-p.box.y1)
	}
	for j := range b.items {
		if b.items[j].on && b.items[j].isl == c {
			near(b.boxes[j], b.gap)
		}
	}
	for f := range b.islands[c].flaws {
		near(b.islands[c].flaws[f].box, 0)
	}
	xs, ys = within(xs, span.x0, span.x1), within(ys, span.y0, span.y1)
	for _, x := range xs {
		for _, y := range ys {
			if at := (place{isl: c, pose: pose, x: x, y: y}); b.free(i, at) {
				return spot{at, x + p.box.x1, y + p.box.y1}, true
			}
		}
	}
	return spot{}, false
}

// within sorts and thins a list to what lies from lo to hi.
func within(vs []int64, lo, hi int64) []int64 {
	slices.Sort(vs)
	vs = slices.Compact(vs)
	return slices.DeleteFunc(vs, func(v int64) bool { return v < lo || v > hi })
}

// push moves item i from a legal place down along one of its coordinates in
// halving steps, as far as it stays legal.
func (b *board) push(i int, v *int64, least int64, at *place) {
	for step := *v - least; step > 0; step /= 2 {
		for *v-step >= least {
			if *v -= step; !b.free(i, *at) {
				*v += step
				break
			}
		}
	}
}

// slide moves a spot left and down in halving steps, as far as it stays legal.
func (b *board) slide(i int, s *spot, span box) {
	for range shifts {
		x, y := s.x, s.y
		b.push(i, &s.x, span.x0, &s.place)
		b.push(i, &s.y, span.y0, &s.place)
		if s.x == x && s.y == y {
			break
		}
	}
	p := b.items[i].k.pose(s.pose)
	s.right, s.top = s.x+p.box.x1, s.y+p.box.y1
}
