// Package cutting says which pieces come from which cloth: how much each
// would take, by rule of thumb, before anything is chosen; and then the lay of
// what was chosen on the real cloths.
package cutting

import (
	"sort"

	"hemwright/internal/craft/fit"
	"hemwright/internal/craft/pattern"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// usualWidth is the width cloth to be bought is reckoned at.
const usualWidth = 140 * units.Centimetre

// Estimate says, for every piece there is a draft for, how much it would take
// of each cloth of the shelf, and how much to buy, by rule of thumb: parts in
// rows across the cloth, the longest first.
func Estimate(h *show.House) []answer.Estimate { return new(Memory).Estimate(h) }

// Memory keeps what was found before in the parts of garments, so that a house
// changed a little is estimated again quickly. What it hands out never depends
// on what it remembers. The zero value is empty.
type Memory struct{ parts map[partsKey]partsFound }

// partsKey is all that says what a heap holds of a draft: the garments as they
// are, and what is drafted from which measures.
type partsKey struct {
	seams *pattern.Seams
	kind  string
	m     pattern.Measures
	of    string
}

type partsFound struct {
	want answer.ApartWant
	ok   bool
}

// mostKept is how many answers are remembered before all are forgotten.
const mostKept = 100_000

// Estimate is Estimate with what is remembered.
func (mem *Memory) Estimate(h *show.House) []answer.Estimate {
	var out []answer.Estimate
	h = washed(h)
	d := newDrafter(h)
	y := newYard(d)
	if len(mem.parts) > mostKept || mem.parts == nil {
		mem.parts = map[partsKey]partsFound{}
	}
	y.found = mem.parts
	for i := range h.Pieces {
		p := &h.Pieces[i]
		kind := kindOf(p)
		if kind == "" {
			continue
		}
		m, pencil := d.measures(p)
		name, parts, _ := d.seams.Draft(kind, m, usualWidth)
		if parts == nil {
			continue
		}
		e := answer.Estimate{Piece: p.ID, Draft: name, Pencil: pencil, Width: usualWidth}
		if l, ok := Thumb(parts, usualWidth); ok {
			e.Length = l
		}
		for k := range h.Cloths {
			c := &h.Cloths[k]
			_, parts, _ := d.seams.Draft(kind, m, freeWidth(c))
			e.Cloths = append(e.Cloths, want(c, parts))
		}
		e.Apart = y.from(p, kind, m)
		out = append(out, e)
	}
	return out
}

func kindOf(p *show.Piece) string { return pattern.Kind(show.Noun(p.Name), p.Fit, p.Closure, p.Name) }

// Thumb is the rule of thumb: parts in rows across the width, the longest
// first. False where a part is wider than the cloth.
func Thumb(parts []answer.DraftPart, width units.Length) (units.Length, bool) {
	l, _, ok := thumb(parts, width)
	return l, ok
}

// Matched is a length with what matching a repeat costs: one repeat for every
// row of parts, as each begins at the same place of it.
func Matched(l, repeat units.Length, rows int) units.Length {
	return l + repeat*units.Length(rows)
}

// AtWidth is how much cloth of one width does what a length of another does,
// by area and up to 5 cm: good to about a tenth, as no part gets wider.
func AtWidth(l, width, other units.Length) units.Length {
	return stepUp(l.Times(int64(width), int64(other)))
}

// thumb counts the rows as well.
func thumb(parts []answer.DraftPart, width units.Length) (units.Length, int, bool) {
	type size struct{ w, l units.Length }
	var all []size
	for _, p := range parts {
		b := p.Outline.Box()
		s := size{b.Width(), b.Height()}
		if p.AnyWay && s.w < s.l && s.l <= width {
			s = size{s.l, s.w}
		}
		if s.w > width {
			return 0, 0, false
		}
		for range p.Copies {
			all = append(all, s)
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].l > all[j].l })
	var rows []size // width still free, length
	total := units.Length(0)
	for _, s := range all {
		placed := false
		for k := range rows {
			if rows[k].w >= s.w {
				rows[k].w -= s.w
				placed = true
				break
			}
		}
		if !placed {
			rows = append(rows, size{width - s.w, s.l})
			total += s.l
		}
	}
	return total, len(rows), true
}

// want puts the rule of thumb against a real cloth. A cloth that is no plain
// rectangle is reckoned by area, four tenths lost, and every part must have a
// place on it alone.
func want(c *show.Cloth, parts []answer.DraftPart) answer.ClothWant {
	w := answer.ClothWant{Cloth: c.ID}
	l, rows, ok := thumb(parts, freeWidth(c))
	l = Matched(l, c.Repeat.Or(0), rows)
	if parts == nil || !ok || c.Shape == "irregular" && len(c.Outline) == 0 { // its outline is not known
		return w
	}
	if !plain(c) {
		var area units.Area
		for _, p := range parts {
			area += p.Outline.Area() * units.Area(p.Copies)
		}
		have := Outline(c).Area()
		for _, f := range c.Flaws {
			have -= f.W.By(f.H)
		}
		if have <= 0 {
			return w
		}
		l = max(l, units.Length(float64(c.Length)*1.4*float64(area)/float64(have)))
		if l <= c.Length && !eachAlone(c, parts) {
			return w
		}
	}
	w.Length, w.Fits = l, l <= c.Length
	return w
}

// eachAlone says whether every part finds a place on an empty cloth, tried
// every five centimetres.
func eachAlone(c *show.Cloth, parts []answer.DraftPart) bool {
	edge := Outline(c)
	for _, p := range parts {
		if !alone(edge, p.Outline) && !(p.AnyWay && alone(edge, p.Outline.Turn(90))) {
			return false
		}
	}
	return true
}

func alone(edge, part geom.Outline) bool {
	const step = 5 * units.Centimetre
	room, size := edge.Box(), part.Box()
	for y := room.Min.Y; y+size.Height() <= room.Max.Y; y += step {
		for x := room.Min.X; x+size.Width() <= room.Max.X; x += step {
			if geom.Within(part.Move(geom.Point{X: x - size.Min.X, Y: y - size.Min.Y}), edge) {
				return true
			}
		}
	}
	return false
}

// plain says whether a cloth is a rectangle but for stripes along its edge.
func plain(c *show.Cloth) bool {
	if len(c.Outline) > 0 || c.Diameter.Known {
		return false
	}
	for _, f := range c.Flaws {
		if !stripe(c, f) {
			return false
		}
	}
	return true
}

// stripe says whether a flaw runs along most of an edge, as a fade does.
func stripe(c *show.Cloth, f show.Flaw) bool {
	return f.H*10 >= c.Length*8 && (f.X == 0 || f.X+f.W >= c.Width)
}

// freeWidth is a cloth's width without such stripes.
func freeWidth(c *show.Cloth) units.Length {
	w := c.Width
	for _, f := range c.Flaws {
		if stripe(c, f) {
			w -= f.W
		}
	}
	return max(w, 0)
}

// Outline is a cloth's edge on the lattice: x across, y along, from the top
// left.
func Outline(c *show.Cloth) geom.Outline {
	if c.Diameter.Known {
		r := c.Diameter.V / 2
		return geom.Circle(geom.Point{X: r, Y: r}, r, units.Millimetre)
	}
	if len(c.Outline) > 2 {
		out := make(geom.Outline, len(c.Outline))
		for i, q := range c.Outline {
			out[i] = geom.Point{X: q[0], Y: q[1]}
		}
		return out
	}
	return geom.Rect(c.Width, c.Length)
}

// FlawOutline is where nothing that shows may lie.
func FlawOutline(f show.Flaw) geom.Outline {
	return geom.Rect(f.W, f.H).Move(geom.Point{X: f.X, Y: f.Y})
}

// drafter knows what the tape says of everybody.
type drafter struct {
	h     *show.House
	seams *pattern.Seams
	tape  map[show.PerformerID]taped
}

type taped struct {
	at     [body.Kinds]units.Length // the middle of what is known, 0 where nothing is
	pencil bool
	heel   units.Length
}

func newDrafter(h *show.House) *drafter {
	d := &drafter{h, pattern.Of(h.Tables), map[show.PerformerID]taped{}}
	for i := range h.Performers {
		p := &h.Performers[i]
		spans, heel, from := fit.Tape(h, p)
		t := taped{heel: heel}
		for _, k := range body.All() {
			t.at[k] = spans[k].Mid()
			t.pencil = t.pencil || from[k] != "" && k <= body.AcrossShoulders
		}
		d.tape[p.ID] = t
	}
	return d
}

// measures gathers what a draft needs over everybody who wears a piece: the
// largest of each. Where something is missing the set's others stand in, in
// pencil: cut the longest, hem on the body.
func (d *drafter) measures(p *show.Piece) (pattern.Measures, bool) {
	m, pencil := d.worn(p)
	if m.Waist > 0 && m.Long > 0 {
		return m, pencil
	}
	if set := d.h.Set(p.Set); set != nil {
		for _, id := range set.Pieces {
			if q := d.h.Piece(id); q != nil && q.Name == p.Name && q.ID != p.ID {
				other, _ := d.worn(q)
				m = larger(m, other)
			}
		}
	}
	return m, true
}

// worn is the largest of each measure over a piece's wearers.
func (d *drafter) worn(p *show.Piece) (pattern.Measures, bool) {
	var m pattern.Measures
	pencil := false
	for _, id := range d.h.Wearers(p) {
		t := d.tape[id]
		m, pencil = larger(m, pattern.Measures{
			Chest: t.at[body.Chest], Waist: t.at[body.Waist], Hip: t.at[body.Hip], Neck: t.at[body.Neck], NapeToWaist: t.at[body.NapeToWaist],
			WaistToKnee: t.at[body.WaistToKnee], WaistToFloor: t.at[body.WaistToFloor], InsideLeg: t.at[body.InsideLeg],
			Arm: t.at[body.ShoulderToWrist], Across: t.at[body.AcrossShoulders], UpperArm: t.at[body.UpperArm], Head: t.at[body.Head]}), pencil || t.pencil
	}
	w := fit.Wanted(d.h, p)
	if win, ok := w.Window("length"); ok && win.Sits.Known {
		m.Long = win.Goal
		pencil = pencil || win.Pencil
		if fromWaist(p) && win.From == "nape" {
			m.Long = max(0, m.Long-m.NapeToWaist)
		}
	}
	if m.Long == 0 {
		m.Long = hangs(p, m)
	}
	return m, pencil
}

// hangs is how long something is from the waist that fit asks no length of: an
// apron by where it ends, an under-layer with no length said to the knee; 0
// where the body is not known or the piece has no length.
func hangs(p *show.Piece, m pattern.Measures) units.Length {
	switch {
	case p.LengthTo == "hip":
		return units.Cm(20)
	case p.LengthTo == "below knee" && m.WaistToKnee > 0:
		return m.WaistToKnee + units.Cm(8)
	case p.LengthTo == "mid-calf" || p.LengthTo == "calf":
		return max(0, m.WaistToFloor-units.Cm(27))
	case p.LengthTo == "ankle" || p.LengthTo == "floor":
		return max(0, m.WaistToFloor-units.Cm(12))
	case p.LengthTo == "knee" || p.Category == show.Under || kindOf(p) == "apron" || kindOf(p) == "bib apron":
		return m.WaistToKnee
	}
	return 0
}

// fromWaist says whether a piece's draft counts its length from the waist.
func fromWaist(p *show.Piece) bool {
	switch kindOf(p) {
	case "gathered skirt", "wrap skirt", "petticoat", "roll petticoat", "apron", "bib apron", "gown", "trousers", "breeches":
		return true
	}
	return false
}

// larger takes the larger of each measure.
func larger(a, b pattern.Measures) pattern.Measures {
	return pattern.Measures{
		Chest: max(a.Chest, b.Chest), Waist: max(a.Waist, b.Waist), Hip: max(a.Hip, b.Hip), Neck: max(a.Neck, b.Neck), NapeToWaist: max(a.NapeToWaist, b.NapeToWaist),
		WaistToKnee: max(a.WaistToKnee, b.WaistToKnee), WaistToFloor: max(a.WaistToFloor, b.WaistToFloor), InsideLeg: max(a.InsideLeg, b.InsideLeg),
		Arm: max(a.Arm, b.Arm), Across: max(a.Across, b.Across), UpperArm: max(a.UpperArm, b.UpperArm), Head: max(a.Head, b.Head), Long: max(a.Long, b.Long), Extra: max(a.Extra, b.Extra)}
}
