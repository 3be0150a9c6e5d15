package cutting

import (
	"math"
	"slices"
	"sort"

	"hemwright/internal/craft/pattern"
	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/colour"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// yard is the garments that may be cut up. What each gives is worked out when
// somebody asks.
type yard struct {
	d     *drafter
	of    []*show.Garment
	heaps map[show.GarmentID]*heap // nil: it gives nothing a draft could be cut from
	order map[string][]*show.Garment
}

// heap is the parts of one garment, or of two or three of one colour.
type heap struct {
	of     []*show.Garment
	h      answer.Harvest
	width  units.Length // across the widest part
	area   units.Area   // of all parts, at most
	long   units.Length // along the longest part
	pieces int          // copies of parts
	size   []room       // of each part, at most
	ends   []int        // of each garment's parts among all
	free   units.Minutes
}

// newYard lists what may be cut: ours, here, not promised, not cut yet.
func newYard(d *drafter) *yard {
	y := &yard{d: d, heaps: map[show.GarmentID]*heap{}, order: map[string][]*show.Garment{}}
	offered := d.h.OnOffer()
	for i := range offered {
		if g := &offered[i]; !remake.NotToCut(d.h, g) {
			y.of = append(y.of, g)
		}
	}
	return y
}

// heap is what a garment gives, or nil.
func (y *yard) heap(g *show.Garment) *heap {
	hp, there := y.heaps[g.ID]
	if !there {
		if h, ok := remake.Harvest(g); ok {
			if made := newHeap([]*show.Garment{g}, h); made.width >= narrowest {
				hp = &made
			}
		}
		y.heaps[g.ID] = hp
	}
	return hp
}

// room is how large a part is.
type room struct {
	long, wide units.Length
	area       units.Area
}

// narrowest is the narrowest part a draft is drawn for.
const narrowest = 20 * units.Centimetre

func newHeap(of []*show.Garment, h answer.Harvest) heap {
	p := heap{of: of, h: h, ends: []int{len(h.Parts)}, free: (h.Cut.Lo+h.Cut.Hi)/2 + (h.Press.Lo+h.Press.Hi)/2}
	p.size = make([]room, len(h.Parts))
	for k, q := range h.Parts {
		if !q.Known || q.Guess {
			continue
		}
		box := q.Most.Box()
		p.size[k] = room{box.Width(), box.Height(), q.Most.Area()}
		p.width, p.long = max(p.width, box.Height()), max(p.long, box.Width())
		p.area += q.Most.Area() * units.Area(q.UpTo)
		p.pieces += q.UpTo
	}
	return p
}

// mostHeaps is how many heaps are named for one piece, mostTried how many are
// looked at closely and mostGlanced at all, the nearest in colour first.
const (
	mostHeaps   = 8
	mostTried   = 20
	mostGlanced = 200
	mostPaired  = 8 // garments of one colour taken together
	mostSewn    = 3 // of them for one piece
)

// from lists the garments a piece could be made from the parts of: every part
// of its draft on a part of its own. Two garments of one colour are tried
// where none alone does, and three where no two do.
func (y *yard) from(p *show.Piece, kind string, m pattern.Measures) []answer.ApartWant {
	drawn := map[units.Length][]answer.DraftPart{}
	draft := func(width units.Length) []answer.DraftPart {
		width = width / (5 * units.Centimetre) * (5 * units.Centimetre)
		parts, there := drawn[width]
		if !there {
			_, parts, _ = pattern.Draft(kind, m, width)
			drawn[width] = parts
		}
		return parts
	}
	var out []answer.ApartWant
	tried := 0
	try := func(hp *heap) {
		if want, ok := hp.wanted(draft(hp.width)); ok {
			tried++
			if w, ok := hp.gives(want); ok {
				out = append(out, w)
			}
		}
	}
	for k, g := range y.nearest(p) {
		if k == mostGlanced || tried == mostTried || len(out) == mostHeaps {
			break
		}
		if hp := y.heap(g); hp != nil {
			try(hp)
		}
	}
	own := y.own(p)
	for n := 2; n <= mostSewn && len(out) == 0; n++ {
		tried = 0
		for _, of := range together(own, n) {
			if hp := joined(of); tried < mostTried {
				try(&hp)
			}
		}
	}
	return out
}

// nearest are the garments by how far their colour is off the piece's; those
// whose colour is not in the list of colours come last.
func (y *yard) nearest(p *show.Piece) []*show.Garment {
	if out, there := y.order[p.Colour]; there {
		return out
	}
	want, known := y.lab(p.Colour)
	off := map[string]float64{}
	for _, g := range y.of {
		if _, there := off[g.Colour]; there {
			continue
		}
		off[g.Colour] = math.MaxFloat64
		if have, ok := y.lab(g.Colour); ok && known {
			off[g.Colour] = colour.Difference(want, have)
		}
	}
	out := slices.Clone(y.of)
	sort.SliceStable(out, func(a, b int) bool { return off[out[a].Colour] < off[out[b].Colour] })
	y.order[p.Colour] = out
	return out
}

func (y *yard) lab(name string) (colour.Lab, bool) {
	c := y.d.h.ColourNamed(name)
	if c == nil {
		return colour.Lab{}, false
	}
	l, err := colour.ParseHex(c.Hex)
	return l, err == nil
}

// own are the heaps of garments in the piece's own colour.
func (y *yard) own(p *show.Piece) []*heap {
	var own []*heap
	for _, g := range y.nearest(p) {
		if p.Colour == "" || g.Colour != p.Colour || len(own) == mostPaired {
			break
		}
		if hp := y.heap(g); hp != nil {
			own = append(own, hp)
		}
	}
	return own
}

// together lists every n of some heaps, the first of them first.
func together(heaps []*heap, n int) [][]*heap {
	if n == 0 {
		return [][]*heap{nil}
	}
	var out [][]*heap
	for k, last := range heaps {
		for _, rest := range together(heaps[:k], n-1) {
			out = append(out, append(rest, last))
		}
	}
	return out
}

// joined is one heap of several.
func joined(of []*heap) heap {
	all := answer.Harvest{}
	var garments []*show.Garment
	var ends []int
	var free units.Minutes
	for k, hp := range of {
		if k == 0 {
			all = hp.h
			all.Parts = nil
		}
		all.Parts = append(all.Parts, hp.h.Parts...)
		all.OneWay = all.OneWay || hp.h.OneWay
		garments, ends, free = append(garments, hp.of[0]), append(ends, len(all.Parts)), free+hp.free
	}
	out := newHeap(garments, all)
	out.ends, out.free = ends, free
	return out
}

// gives says whether a heap holds a draft, and which of its parts go.
func (hp *heap) gives(want []remake.Wanted) (answer.ApartWant, bool) {
	g := remake.Holds(hp.h, want)
	if g.Grade != why.Yes && g.Grade != why.Likely {
		return answer.ApartWant{}, false
	}
	w := answer.ApartWant{Likely: g.Grade == why.Likely}
	used := map[int]int{}
	for _, h := range g.Holds {
		used[h.Of]++
	}
	for k, q := range hp.h.Parts {
		if used[k] == 0 {
			continue
		}
		of := hp.of[sort.SearchInts(hp.ends, k+1)]
		if !slices.Contains(w.Garments, of.ID) {
			w.Garments = append(w.Garments, of.ID)
		}
		have := q.Count
		if w.Likely {
			have = q.UpTo
		}
		w.Parts = append(w.Parts, answer.PartUse{Garment: of.ID, Part: q.Name, Count: used[k], Of: have})
	}
	w.Minutes = hp.freeing(w.Parts)
	return w, true
}

// wanted is a draft as shapes to look for, or false where a glance says no.
func (hp *heap) wanted(parts []answer.DraftPart) ([]remake.Wanted, bool) {
	var out []remake.Wanted
	var area units.Area
	copies := 0
	for _, q := range parts {
		o := alongGrain(q.Outline)
		box := o.Box()
		long, wide := box.Width(), box.Height()
		if !q.AnyWay && (long > hp.long || wide > hp.width) || min(long, wide) > max(hp.long, hp.width) {
			return nil, false
		}
		if !hp.roomFor(o, q) {
			return nil, false
		}
		area += o.Area() * units.Area(q.Copies)
		copies += q.Copies
		turned := 0
		if q.Mirror {
			turned = q.Copies / 2
			out = append(out, remake.Wanted{Name: q.Name, Outline: o.Mirror(), Count: turned, AnyWay: q.AnyWay})
		}
		out = append(out, remake.Wanted{Name: q.Name, Outline: o, Count: q.Copies - turned, AnyWay: q.AnyWay})
	}
	return out, len(parts) > 0 && area <= hp.area && copies <= hp.pieces
}

// roomFor says whether there are as many parts as copies of a shape that are
// large enough for it by length, breadth and area: a glance.
func (hp *heap) roomFor(o geom.Outline, q answer.DraftPart) bool {
	box, area, n := o.Box(), o.Area(), 0
	for k := range hp.h.Parts {
		if g := &hp.h.Parts[k]; g.Known && !g.Guess && hp.size[k].area >= area {
			long, wide := hp.size[k].long, hp.size[k].wide
			if box.Width() <= long && box.Height() <= wide || (q.AnyWay || g.Bias) && box.Width() <= wide && box.Height() <= long {
				n += g.UpTo
			}
		}
	}
	return n >= q.Copies
}

// alongGrain turns a shape of a draft, grain along Y, so that the grain lies
// along X and what was up stays at the lesser end.
func alongGrain(o geom.Outline) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, p := range o {
		out[i] = geom.Point{X: p.Y, Y: -p.X}
	}
	return out
}

// freeing is a piece's share of the work of cutting the garments up and
// pressing: by its share of the parts.
func (hp *heap) freeing(parts []answer.PartUse) units.Minutes {
	used := 0
	for _, q := range parts {
		used += q.Count
	}
	return hp.free.Times(int64(used), int64(max(hp.pieces, 1)))
}
