package sourcing

import (
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/colour"
	"hemwright/internal/value/units"
)

// The plan weighs everything in lead-minutes. House figures: one hundredth of
// a look, on a piece of plain weight, is worth lookMinutes; a look with
// nothing there costs withoutMinutes more.
const (
	lookMinutes    = 5
	withoutMinutes = 1500
	goneForGood    = 45  // a garment cut up serves no show after this one
	coinMinutes    = 120 // thousandths of a minute: a hundred coins weigh twelve minutes
)

// weigher puts a cost on the options of one piece.
type weigher struct {
	m      *market
	p      *show.Piece
	weight int64 // hundredths: what the house sees of this piece
}

// eyeOf is how much the house sees of a piece, in hundredths: by the part
// that wears it, the minutes on stage, and whether it lies underneath.
func (m *market) eyeOf(p *show.Piece) int64 {
	weight := int64(100)
	var seen time.Duration
	for _, l := range p.Looks {
		seen += m.seen[l]
		if look := m.h.Look(l); look != nil {
			if r := m.h.Role(look.Role); r != nil {
				switch r.Kind {
				case "lead":
					weight = max(weight, 200)
				case "support":
					weight = max(weight, 140)
				}
			}
		}
	}
	weight = weight * (50 + min(100, int64(seen/time.Minute)*4)) / 100
	if p.Category == show.Under {
		weight = weight * 40 / 100
	}
	return max(weight, 20)
}

// price sets an option's colour look and its cost.
func (w weigher) price(o *answer.Option) {
	if o.Source != answer.GoWithout {
		o.Look = min(90, o.Look+w.colourLook(o)+w.clothLook(o))
	}
	cost := w.weigh(o.Minutes(), o.Money, o.Look)
	if o.Pencil {
		cost += 5
	}
	cost += goneForGood * int64(len(o.Apart))
	if o.Source == answer.GoWithout {
		cost += withoutMinutes * max(w.weight, 60) / 100
	}
	o.Cost = cost
}

// weigh is the cost of so much work, money and looks.
func (w weigher) weigh(minutes units.Minutes, money units.Money, look int) int64 {
	return int64(minutes.Times(redoNum, redoDen)) + int64(money)*coinMinutes/1000 + int64(look)*lookMinutes*w.weight/100
}

// colourLook is what the house sees of a colour that is not the one drawn: 0
// up to a difference of 6, then rising to 35 at 45. House figures on the
// CIEDE2000 scale. A colour that is not in the colour list is taken as
// somewhat off.
func (w weigher) colourLook(o *answer.Option) int {
	have := ""
	switch {
	case o.Garment != "":
		if g := w.m.h.Garment(o.Garment); g != nil {
			have = g.Colour
		}
	case o.Cloth != "":
		if c := w.m.h.Cloth(o.Cloth); c != nil {
			have = c.Colour
		}
	default:
		return 0 // bought or made to order in its colour
	}
	return w.colourOf(have)
}

// colourOf is the same for a colour there is.
func (w weigher) colourOf(have string) int {
	best := w.m.colourOff(w.p.Colour, have)
	for _, other := range w.m.freeColours(w.p) {
		best = min(best, w.m.colourOff(other, have)+1)
	}
	if w.p.Category == show.Under {
		best /= 2
	}
	return best
}

// clothLook is what the house sees of cloth too thin, too heavy or too stiff
// for what is made of it. House figures, in grams a square metre.
func (w weigher) clothLook(o *answer.Option) int {
	if o.Cloth == "" {
		return 0
	}
	c := w.m.h.Cloth(o.Cloth)
	if c == nil || !c.Weight.Known {
		return 0
	}
	lo, hi := 85, 260
	switch show.Noun(w.p.Name) {
	case "coat", "jacket":
		lo, hi = 170, 400
	case "trousers", "breeches":
		lo, hi = 160, 340
	case "waistcoat", "bodice", "stays":
		lo, hi = 120, 340
	case "cloak":
		lo, hi = 90, 400
	case "shirt", "shift":
		lo, hi = 85, 180
	case "gown", "dress":
		lo, hi = 90, 330
	case "apron":
		lo, hi = 100, 320
	}
	look := 0
	if g := c.Weight.V; g < lo {
		look = 8 + (lo-g)/4
	} else if g > hi {
		look = 6 + (g-hi)/8
	}
	if c.Washed == "wipe only" && w.p.Layer < 5 && w.p.Category != show.Accessory {
		look += 25 // coated: no air and no wash next to the body
	}
	return min(look, 40)
}

func (m *market) colourOff(want, have string) int {
	if want == have || want == "" {
		return 0
	}
	pair := [2]string{want, have}
	off, there := m.off[pair]
	if !there {
		off = m.differ(want, have)
		m.off[pair] = off
	}
	return off
}

// differ is what is seen of a colour for another, by what the list of colours
// says of both.
func (m *market) differ(want, have string) int {
	a, okA := m.labs[want]
	b, okB := m.labs[have]
	if !okA || !okB {
		return 12
	}
	d := colour.Difference(a, b)
	switch {
	case d <= 6:
		return 0
	case d >= 45:
		return 35
	}
	return int((d - 6) * 35 / 39)
}

// freeColours are the other colours of the piece's set, where the set leaves
// open who gets which.
func (m *market) freeColours(p *show.Piece) []string {
	set := m.h.Set(p.Set)
	if set == nil || !set.FreeHues {
		return nil
	}
	var out []string
	for _, id := range set.Pieces {
		if q := m.h.Piece(id); q != nil && q.Name == p.Name && q.Colour != p.Colour {
			out = append(out, q.Colour)
		}
	}
	return out
}
