package nest

import (
	"cmp"
	"math"
	"slices"

	"hemwright/internal/value/geom"
)

// The board is one plane with every cloth on it as an island, far enough
// apart that pieces on different islands never meet.

// island is one cloth where it lies on the board.
type island struct {
	shape
	cloth  int
	dx     int64 // from the cloth's own coordinates to the board's
	usable box   // the box less the gap to the edge; on a strip cut to the length tried
	rect   bool  // the cloth is an upright rectangle: the box decides
	flaws  []shape
	area   float64
	field  *field // made when first asked for
}

// item is one copy and where it lies.
type item struct {
	k    *kind
	copy int
	place
}

// place is where a copy lies on the board.
type place struct {
	on   bool // lies on the board
	isl  int
	pose int
	x, y int64
}

type board struct {
	p       *Problem
	gap     int64
	edge    int64
	islands []*island
	strip   int // the island that is a strip, or -1
	items   []item
	boxes   []box // of items that lie on the board; others far away
	hit     collider
}

var nowhere = box{math.MaxInt64 / 4, math.MaxInt64 / 4, math.MaxInt64 / 4, math.MaxInt64 / 4}

func newBoard(p *Problem) *board {
	b := &board{p: p, gap: int64(p.Gap), edge: int64(p.EdgeGap), strip: -1}
	right := int64(0)
	for i, c := range p.Cloths {
		isl := newIsland(i, c, right, b.edge)
		right = isl.box.x1 + int64(geom.Reach)
		if c.Strip {
			b.strip = i
		}
		b.islands = append(b.islands, isl)
	}
	for _, q := range p.Pieces {
		k := newKind(q, p.Cloths)
		for c := range q.Copies {
			b.items = append(b.items, item{k: k, copy: c + 1})
			b.boxes = append(b.boxes, nowhere)
		}
	}
	return b
}

func newIsland(i int, c Cloth, left, edge int64) *island {
	o := c.Outline.CounterClockwise()
	bx := boxOf(o.Box())
	isl := &island{cloth: i, dx: left - bx.x0, area: float64(o.Area())}
	isl.ring, isl.box = ringOf(o, isl.dx), bx.at(isl.dx, 0)
	isl.usable = box{isl.box.x0 + edge, isl.box.y0 + edge, isl.box.x1 - edge, isl.box.y1 - edge}
	isl.rect = len(o) == 4 && o.Area() == o.Box().Width().By(o.Box().Height())
	for _, f := range c.Flaws {
		isl.flaws = append(isl.flaws, shape{ring: ringOf(f, isl.dx), box: boxOf(f.Box()).at(isl.dx, 0), diam: diameter(f),
			root: math.Sqrt(math.Sqrt(float64(f.Hull().Area())))})
	}
	return isl
}

// ready makes what the measure of overlap wants to know of the cloth.
func (isl *island) ready(c Cloth, edge int64) {
	if !isl.rect {
		isl.field = newField(c.Outline, isl.dx, edge)
	}
	for i, f := range c.Flaws {
		isl.flaws[i].poles = polesOf(geom.Grow(f, f.Area()/growPart))
		for j := range isl.flaws[i].poles {
			isl.flaws[i].poles[j].x += float64(isl.dx)
		}
		isl.flaws[i].light, isl.flaws[i].radii = lighten(isl.flaws[i].poles)
	}
}

// put lays item i.
func (b *board) put(i int, at place) {
	at.on = true
	b.items[i].place = at
	b.boxes[i] = b.items[i].k.pose(at.pose).box.at(at.x, at.y)
}

// take takes item i off the board.
func (b *board) take(i int) {
	b.items[i].on = false
	b.boxes[i] = nowhere
}

// span is where the origin of a pose may lie so that its box is inside the
// usable box of an island; ok is false where it is too large.
func (isl *island) span(p *pose) (s box, ok bool) {
	u := isl.usable
	s = box{u.x0 - p.box.x0, u.y0 - p.box.y0, u.x1 - p.box.x1, u.y1 - p.box.y1}
	return s, s.x0 <= s.x1 && s.y0 <= s.y1
}

// onCloth says whether a pose lies inside its island and off its flaws.
func (b *board) onCloth(k *kind, p *pose, isl *island, x, y int64) bool {
	s, ok := isl.span(p)
	if !ok || x < s.x0 || x > s.x1 || y < s.y0 || y > s.y1 {
		return false
	}
	if !isl.rect && !b.hit.inside(&p.shape, x, y, &isl.shape, b.edge) {
		return false
	}
	return k.Hidden || !b.onFlaw(p, isl, x, y)
}

func (b *board) onFlaw(p *pose, isl *island, x, y int64) bool {
	bx := p.box.at(x, y)
	for f := range isl.flaws {
		if w := &isl.flaws[f]; meet(bx, w.box, 0) && b.hit.collide(&p.shape, x, y, w, 0, 0, 0) {
			return true
		}
	}
	return false
}

// meet says whether two boxes are nearer than gap, or overlap where it is 0.
func meet(a, b box, gap int64) bool {
	return a.x0 < b.x1+gap && b.x0 < a.x1+gap && a.y0 < b.y1+gap && b.y0 < a.y1+gap
}

// free says whether item i may lie in a place, given all that lie on the
// board.
func (b *board) free(i int, at place) bool {
	k := b.items[i].k
	p := k.pose(at.pose)
	bx := p.box.at(at.x, at.y)
	for j := range b.boxes {
		if j == i || !meet(bx, b.boxes[j], b.gap) {
			continue
		}
		o := &b.items[j]
		if b.hit.collide(&p.shape, at.x, at.y, &o.k.pose(o.pose).shape, o.x, o.y, b.gap) {
			return false
		}
	}
	return b.onCloth(k, p, b.islands[at.isl], at.x, at.y)
}

// score says how good a layout is: the worth laid first, then how little of
// the strip is used.
type score struct {
	worth  int64
	length int64
}

func (s score) better(t score) bool {
	return s.worth > t.worth || s.worth == t.worth && s.length < t.length
}

func (b *board) score() score {
	var s score
	for i := range b.items {
		if it := &b.items[i]; it.on {
			s.worth += it.k.worth
			if it.isl == b.strip {
				s.length = max(s.length, b.boxes[i].x1-b.islands[b.strip].dx)
			}
		}
	}
	return s
}

// save copies where everything lies; load brings it back.
func (b *board) save(into []place) []place {
	into = into[:0]
	for i := range b.items {
		into = append(into, b.items[i].place)
	}
	return into
}

func (b *board) load(from []place) {
	for i, at := range from {
		if at.on {
			b.put(i, at)
		} else {
			b.take(i)
		}
	}
}

// never says whether a piece fits none of its cloths even alone: its box or
// its area is too large in every allowed turn.
func (b *board) never(k *kind) bool {
	for c, isl := range b.islands {
		if !k.allows[c] || k.area > isl.area {
			continue
		}
		for i := range k.poses {
			if _, ok := isl.span(k.pose(i)); ok {
				return false
			}
		}
	}
	return true
}

// layout is what lies on the board as it is handed out.
func (b *board) layout(never []bool) Layout {
	var l Layout
	for i := range b.items {
		it := &b.items[i]
		if !it.on {
			l.Missing = append(l.Missing, Missing{Piece: it.k.ID, Copy: it.copy, Never: never[i]})
			continue
		}
		p, isl := it.k.pose(it.pose), b.islands[it.isl]
		at := geom.Point{X: lengthOf(it.x - isl.dx), Y: lengthOf(it.y)}
		l.Placed = append(l.Placed, Placed{Piece: it.k.ID, Copy: it.copy, Cloth: b.p.Cloths[isl.cloth].ID,
			Turn: p.turn, Mirror: p.mirror, At: at, Outline: p.out.Move(at)})
	}
	l.Length = lengthOf(b.score().length)
	return l
}

// fillOrders is how many orders orderBy knows.
const fillOrders = 5

// order lists the items in the order in which they are hard to lay: hull
// times diameter, the greatest first.
func (b *board) order() []int { return b.orderBy(0, nil) }

// orderBy lists the items by one of several sizes, the greatest first, or
// from the fourth on by the first of them blurred by chance. What is worth
// more comes first where worths are given.
func (b *board) orderBy(n int, d *dice) []int {
	size := make([]float64, len(b.items))
	var list []int
	for i := range b.items {
		k := b.items[i].k
		list = append(list, i)
		bx := k.Outline.Box()
		size[i] = [...]float64{k.hull * k.diam, float64(max(bx.Width(), bx.Height())), float64(bx.Height())}[min(n, 2)]
		if n > 2 {
			size[i] = k.hull * k.diam * (0.5 + d.share())
		}
	}
	slices.SortStableFunc(list, func(i, j int) int {
		if c := cmp.Compare(b.items[j].k.Worth, b.items[i].k.Worth); c != 0 {
			return c
		}
		return cmp.Compare(size[j], size[i])
	})
	return list
}
