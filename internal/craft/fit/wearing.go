// Package fit says how a garment sits for a piece on everybody who wears it,
// and which alterations would make it sit.
//
// Wanted says once, for a piece, what a garment must measure: a window for
// each place, made from the wearers, what lies underneath, the shoes and the
// hem. Judge holds one garment against it. Everything it says is about the
// garment.
package fit

import (
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Window is what a finished garment must measure at one place, round the
// garment or along it.
type Window struct {
	Where  string            // chest, waist, hip, shoulders, sleeve, length, head
	From   string            // of a length: nape or waist
	Sits   units.Span        // it goes as it is: lowest to highest; unknown where a measure is missing
	Open   bool              // no highest: as wide as you like, Sits.Hi says nothing
	Goal   units.Length      // what it is made or altered to
	Most   units.Length      // the most that can still be taken in or taken up
	Apart  units.Length      // how much it is too much on another wearer when it is enough on the one
	Doubt  units.Length      // how far the pencil may be wrong, either way
	Pencil bool              // rests on a measure in pencil
	Needs  []answer.Question // measures missing altogether

	on    bool
	shoes bool // a length to the floor
	ease  units.Length
	guess []guessed
}

// guessed is a pencil measure and where it comes from.
type guessed struct {
	who    show.PerformerID
	kind   body.Kind
	from   string
	survey bool
}

// Wearing is what a piece asks of a garment, made once for a piece.
type Wearing struct {
	Piece    show.PieceID
	Finished []Window // in the order chest, waist, hip, shoulders, sleeve, length, head

	category show.Category
	kind     string
	class    string
	style    string // of a dress
	lengthTo string
	covered  bool          // arms have to be covered
	support  units.Length  // what a roll or hoops add at the hip
	arm      units.Length  // the longest sleeve wanted, 0 where not known
	printed  bool          // the lowest ease is the handbook's, not the house's
	grows    units.Span    // what a hem may want more by the opening
	rounder  [3]units.Span // what chest, waist and hip may be more by then, at most of all who wear it
	danced   bool
	collars  bool // another piece of a look has a collar too
	windows  [places]Window
	other    Window // the length counted from the other end
	has      flags  // what the operations ask of a look
	lessons  []lesson
	fig      *figures
}

// Window finds the window of a place; false where the piece asks nothing of it.
func (w Wearing) Window(where string) (Window, bool) {
	for _, f := range w.Finished {
		if f.Where == where {
			return f, true
		}
	}
	return Window{}, false
}

// under is what lies below a piece, over all looks it is worn in.
type under struct {
	most, least   [3]units.Length
	support, lift units.Length
}

// Wanted makes what a piece asks of a garment, on all its wearers of all
// casts.
func Wanted(h *show.House, p *show.Piece) Wearing {
	w := Wearing{Piece: p.ID, lessons: learned(h), fig: figuresOf(h), category: p.Category, kind: kindOf(p.Category, p.Name), class: p.Fit, lengthTo: p.LengthTo}
	if p.Category == show.Dress {
		w.style = styleOf(p.Name)
	}
	var on []wearer
	for _, id := range h.Wearers(p) {
		if who := h.Performer(id); who != nil {
			one := wearerOf(h, who)
			on = append(on, one)
			if g := growth(h, who, one.at[body.Height]); g.Hi > w.grows.Hi {
				w.grows = g
			}
			w.getsRounder(h, who)
			for _, c := range who.Care {
				c = strings.ToLower(c)
				w.covered = w.covered || strings.Contains(c, "arms") && strings.Contains(c, "covered")
			}
		}
	}
	below := underneath(h, p)
	w.support = below.support
	table := w.fig.easeOf(p, w.kind)
	w.printed = handbook(p)
	for i, k := range []body.Kind{body.Chest, body.Waist, body.Hip} {
		if table[i].on {
			w.windows[i] = girthWindow(place(i), k, table[i], below.most[i], below.least[i], on)
			if p.Category == show.Trousers && k == body.Waist {
				w.windows[i].lower(on)
			}
			w.windows[i].Most = w.most(&w.windows[i])
		}
	}
	w.overSupport(p.Category == show.Dress)
	w.across(on)
	w.lengths(h, p, on, below)
	w.flags(h, p)
	for pl := chest; pl < places; pl++ {
		if w.windows[pl].on {
			w.Finished = append(w.Finished, w.windows[pl])
		}
	}
	return w
}

// getsRounder notes how much rounder a wearer may be by the opening.
func (w *Wearing) getsRounder(h *show.House, p *show.Performer) {
	for i, k := range []body.Kind{body.Chest, body.Waist, body.Hip} {
		m := p.Body[k]
		age, ok := body.AgeOf(p.BirthMonth, p.Age, m.Day)
		if opening := h.Opening(); ok && m.Span.Known && m.Day != 0 && opening > m.Day && !p.Held() {
			if g := body.GirthGrowth(k, m.Span.Mid(), age, p.GrowthSex, int(opening-m.Day)); g.Hi > w.rounder[i].Hi {
				w.rounder[i] = g
			}
		}
	}
}

// flags notes what operations ask of a look.
func (w *Wearing) flags(h *show.House, p *show.Piece) {
	set := func(word string, ok bool) {
		if ok {
			w.has |= flag(word)
		}
	}
	set("fitted", w.class == "fitted")
	set("not-fitted", w.class != "fitted")
	set("loose", w.class == "loose")
	set("not-loose", w.class != "loose")
	set("covered", hidden(h, p))
	w.danced, _ = movement(h, p)
	w.collars = collar(p) && otherCollar(h, p)
	set("waist", w.windows[length].From == "waist")
	short := w.lengthTo == "waist" || w.lengthTo == "hip"
	set("short", short || p.Category == show.Bodice)
	set("long", !short)
}

// collar says whether a piece has one by its name or its kind.
func collar(p *show.Piece) bool {
	name := strings.ToLower(p.Name)
	if strings.Contains(name, "collarless") || strings.Contains(name, "no collar") {
		return false
	}
	return strings.Contains(name, "collar") || strings.Contains(name, "high-neck") || p.Category == show.Jacket && kindOf(p.Category, p.Name) == "coat"
}

// otherCollar says whether another piece of a look has one.
func otherCollar(h *show.House, p *show.Piece) bool {
	for _, l := range p.Looks {
		for _, q := range h.LookPieces(l) {
			if q.ID != p.ID && collar(q) {
				return true
			}
		}
	}
	return false
}

// hidden says whether something is worn over the back of a piece in every look
// it is in.
func hidden(h *show.House, p *show.Piece) bool {
	for _, l := range p.Looks {
		over := false
		for _, q := range h.LookPieces(l) {
			over = over || q.Layer > p.Layer && q.Category == show.Jacket
		}
		if !over {
			return false
		}
	}
	return len(p.Looks) > 0
}

// overSupport raises the hip to go over a roll or hoops: the padding wants no
// ease of its own. A dress may press it flat, so only what it is made to
// rises there.
func (w *Wearing) overSupport(dress bool) {
	win := &w.windows[hip]
	if !win.on || w.support == 0 {
		return
	}
	over := win.Goal - win.ease + w.support
	if !dress && win.Sits.Known {
		win.Sits = units.Between(over, over+max(0, win.Sits.Hi-win.Sits.Lo))
	}
	win.Goal = over
}

// most is the widest that can still be taken in to go.
func (w *Wearing) most(win *Window) units.Length {
	if w.class == "fitted" {
		return max(win.Goal+takesIn(w.category, false), win.Sits.Hi)
	}
	return win.Sits.Hi + takesIn(w.category, false)
}

// underneath adds up the lower layers of each look the piece is worn in.
func underneath(h *show.House, p *show.Piece) under {
	var u under
	for n, l := range p.Looks {
		var sum [3]units.Length
		for _, q := range h.LookPieces(l) {
			if q.Layer >= p.Layer || q.ID == p.ID {
				continue
			}
			adds, support, lift := bulk(q)
			for i := range sum {
				sum[i] += adds[i]
			}
			u.support, u.lift = max(u.support, support), max(u.lift, lift)
		}
		for i := range sum {
			u.most[i] = max(u.most[i], sum[i])
			if n == 0 || sum[i] < u.least[i] {
				u.least[i] = sum[i]
			}
		}
	}
	return u
}

// girthWindow joins what the wearers ask at one girth: enough for each, and
// not too much on any; where that cannot be, enough for the one, Apart for
// the other.
func girthWindow(pl place, k body.Kind, e ease, most, least units.Length, on []wearer) Window {
	win := newWindow(pl, e.lo)
	win.Open = e.hi == 0
	first := true
	var lo, hi units.Length
	for _, who := range on {
		m, ok := win.take(who, k)
		if !ok {
			continue
		}
		l, t := m+most+e.lo, m+least+e.hi
		if first || l > lo {
			lo = l
		}
		if first || t < hi {
			hi = t
		}
		first = false
	}
	win.settle(lo, hi, e.hi-e.lo)
	return win
}

// lower lets trousers that are too wide for the natural waist sit where bought
// ones do, at the navel, as far as that is wider on everybody who wears them.
func (win *Window) lower(on []wearer) {
	more, first := units.Length(0), true
	for _, who := range on {
		if m := who.at[body.Waist].span; m.Known && who.top.Known {
			if d := max(0, who.top.Mid()-m.Mid()); first || d < more {
				more, first = d, false
			}
		}
	}
	win.Sits.Hi += more
}

// settle sets the joint window from the highest of the lowest and the lowest
// of the highest.
func (win *Window) settle(lo, hi, slack units.Length) {
	if win.Open {
		hi = lo
	} else if hi < lo {
		win.Apart = lo - hi
		hi = lo + slack
	}
	if len(win.Needs) == 0 {
		win.Sits = units.Between(lo, hi)
	}
	win.Goal = lo
}

func newWindow(pl place, ease units.Length) Window {
	return Window{Where: placeNames[pl], on: true, ease: ease}
}

// take reads one measure of one wearer into the window: its middle, with its
// doubt; a missing one becomes a question.
func (win *Window) take(who wearer, k body.Kind) (units.Length, bool) {
	m := who.at[k]
	if !m.span.Known {
		win.Needs = append(win.Needs, answer.Question{Performer: who.id, Measure: k})
		return 0, false
	}
	win.Doubt = max(win.Doubt, (m.span.Hi-m.span.Lo)/2)
	if m.from != "" {
		win.Pencil = true
		win.guess = append(win.guess, guessed{who.id, k, m.from, m.survey})
	}
	return m.span.Mid(), true
}

// band is a window either side of a measure.
type band struct{ below, above units.Length }

// shoulderBands: seam to seam against the shoulder points; house figures, as
// shoulders cannot be hidden and cannot be moved.
var shoulderBands = map[string]band{"fitted": {10 * mm, 25 * mm}, "easy": {15 * mm, 60 * mm}, "loose": {15 * mm, 95 * mm}}

// sleeveBands: to the wrist; house figures.
var sleeveBands = map[string]band{"fitted": {10 * mm, 25 * mm}, "easy": {25 * mm, 40 * mm}, "loose": {30 * mm, 60 * mm}}

// across makes the windows of shoulders, sleeve and head.
func (w *Wearing) across(on []wearer) {
	class := w.class
	if _, ok := shoulderBands[class]; !ok {
		class = "easy"
	}
	sleeved := w.category == show.Dress || w.category == show.Shirt || w.category == show.Jacket && w.kind == "coat"
	if sleeved || w.category == show.Bodice {
		b := shoulderBands[class]
		if w.category == show.Bodice {
			b = band{60 * mm, 30 * mm}
		}
		w.windows[shoulders] = bandWindow(shoulders, body.AcrossShoulders, b, on)
	}
	if sleeved {
		w.windows[sleeve] = bandWindow(sleeve, body.ShoulderToWrist, sleeveBands[class], on)
		if s := w.windows[sleeve]; s.Sits.Known {
			w.arm = s.Sits.Lo + sleeveBands[class].below
		}
	}
	if w.category == show.Accessory && (w.kind == "cap" || w.kind == "hat" || w.kind == "bonnet") {
		w.windows[head] = bandWindow(head, body.Head, band{0, 10 * mm}, on)
		win := &w.windows[head]
		win.Most = win.Sits.Lo + 30*mm
	}
}

func bandWindow(pl place, k body.Kind, b band, on []wearer) Window {
	win := newWindow(pl, 0)
	var lo, hi units.Length
	first := true
	for _, who := range on {
		m, ok := win.take(who, k)
		if !ok {
			continue
		}
		if first || m-b.below > lo {
			lo = m - b.below
		}
		if first || m+b.above < hi {
			hi = m + b.above
		}
		first = false
	}
	win.settle(lo, hi, b.below+b.above)
	win.Goal, win.Most = min(lo+b.below, max(hi, lo)), hi
	return win
}
