package remake

import (
	"math"
	"slices"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	linen = why.Basis{Key: "linen-sizes", Kind: why.Handbook, Title: "sizes of sheets and curtains as sold, and what hems give"}
	onRow = why.Basis{Key: "harvest", Kind: why.Estimate, Title: "what old garments give, as costumers reckon it"}

	ruleRow   = why.Declare("harvest.row", "Reckoned as {kind}: a width goes with its girth in proportion, a length with the garment's length centimetre by centimetre. Open one seam and measure before you trust it.", onRow)
	ruleNear  = why.Declare("harvest.near", "Nothing nearer is written down than {kind}.", why.House)
	ruleRound = why.Declare("harvest.geometry", "The shape is plain geometry: {what}.", why.Exact)
	ruleHems  = why.Declare("harvest.hems", "Reckoned as {kind}; what its hems and edges give or take is a house estimate. Undo one and measure.", why.House)
	ruleLinen = why.Declare("harvest.linen", "Undoing the hems makes it larger or smaller by what sheets and curtains commonly have in them.", linen)
	ruleRail  = why.Declare("harvest.rail", "The figures agree with garments of this kind that were measured.", onRow)
	ruleLoss  = why.Declare("harvest.loss", "Old seams are off: {loss} on each side.", onRow)
	ruleShare = why.Declare("harvest.share", "Shapes cut from panels come to 70 to 85 in 100 of them.", onRow)
	ruleSeams = why.Declare("harvest.seams", "Its seams are {seams}: {lo} to {hi} minutes a metre to save them.", onRow)
	ruleMinus = why.Declare("harvest.minutes", "Minutes follow the length of the seams; where no measure is known they lie between three and five quarters of the usual.", why.House)
	ruleWaist = why.Declare("harvest.waist", "The length is from the nape: {above} of it lie above the waist.", why.House)
	ruleGirth = why.Declare("harvest.girth", "The waist is not known: {waist} is taken, from the next girth there is, or as waists on a rail are.", why.House)
	ruleAsk   = why.Declare("harvest.ask", "Not known: {what}. Lay it flat and measure.", why.Exact)
	ruleShort = why.Declare("harvest.short", "{what}: by these measures nothing is left of it. Measure it again.", why.Exact)
	ruleWhole = why.Declare("harvest.whole", "{what}: taken off whole; no shape is reckoned.", onRow)
	ruleNone  = why.Declare("harvest.none", "Nothing is written down for {what}. Open a seam, measure what lies flat, and bring it in as cloth.", why.House)
	ruleTaped = why.Declare("harvest.measured", "The {part} is measured: that stands, not the estimate.", why.Exact)
)

// origins are the marks of the table with the rule each declares.
var origins = map[string]why.Rule{"house": ruleRow, "geometry": ruleRound, "shelf": ruleLinen, "rail": ruleRail}

// rates are minutes a metre of unpicking, least and most, by the kind of
// seam: teaching texts on alterations and house estimates agree on them.
var rates = map[string][2]int{"careful": {5, 8}, "overlocked": {2, 3}, "felled": {10, 15}}

// Loss is what an old seam takes from each side of a panel, holes and all.
const Loss = 15 * units.Millimetre

// What is kept beyond a lay, in hundredths of it: of old cloth for holes, fading
// and a shifted grain.
const (
	KeptOfOld = 12
	KeptOfNew = 6
)

// Reserve is a length of lay with what is kept beyond it.
func Reserve(lay units.Length, old bool) units.Length {
	if old {
		return lay.Times(100+KeptOfOld, 100)
	}
	return lay.Times(100+KeptOfNew, 100)
}

// Harvest says what a garment gives when it is cut up, by the row of the table
// it belongs to and its own measures. False where there is no row: then Why
// says so. Whether it may be cut is for MayCut to say.
func Harvest(g *show.Garment) (answer.Harvest, bool) {
	k, near := calledRow(g.Name, show.Noun(g.Name))
	if k == nil {
		return answer.Harvest{Garment: g.ID, Why: []why.Reason{ruleNone.Because(why.Unknown, why.Of("what", g.Name))}}, false
	}
	m, whence := measuresOf(g)
	h := k.give(m)
	h.Garment, h.OneWay = g.ID, oneWay(g.Fibre, g.Name)
	if near {
		h.Why = append(h.Why, ruleNear.Because(why.Likely, why.Of("kind", k.name)))
	}
	for _, r := range whence {
		if k.follows(r.measure) {
			h.Why = append(h.Why, r.Reason)
		}
	}
	h.Notions = closes(h.Notions, g.Closure)
	switch g.Lined {
	case "no":
		h.Bulk = unlined(h.Bulk)
	case "yes":
		h.Bulk = lined(h.Bulk)
	}
	h.LookOut = append(h.LookOut, ofFibre(g.Fibre)...)
	if g.Condition != "" && g.Condition != "good" {
		h.LookOut = append(h.LookOut, "As it hangs: "+g.Condition+".")
	}
	label(&h, string(g.ID))
	return h, true
}

// Linen says what a piece of household linen on the shelf gives when its hems
// are undone. False for other cloth.
func Linen(c *show.Cloth) (answer.Harvest, bool) {
	name := c.Name
	if c.Shape == "round" {
		name = "round " + name
	}
	k, _ := calledRow(name, "")
	if k == nil || k.nominal["width"] == 0 && len(k.nominal) > 0 || c.Shape == "irregular" {
		return answer.Harvest{Cloth: c.ID, Why: []why.Reason{ruleNone.Because(why.Unknown, why.Of("what", c.Name))}}, false
	}
	m := map[string]units.Span{"width": exactly(c.Width), "long": exactly(c.Length)}
	if c.Diameter.Known {
		m["width"] = exactly(c.Diameter.V)
	}
	h := k.give(m)
	h.Cloth, h.OneWay = c.ID, c.OneWay
	if strings.Contains(c.Name, "lined") {
		h.Bulk = lined(h.Bulk)
	} else {
		h.Bulk = unlined(h.Bulk)
	}
	h.LookOut = append(h.LookOut, ofFibre(c.Fibre)...)
	label(&h, string(c.ID))
	return h, true
}

// perhaps ends what a kind has where it is lined.
const perhaps = ", where it is lined"

// unlined leaves out the lining of kinds that may have one.
func unlined(bs []answer.GivenBulk) []answer.GivenBulk {
	return slices.DeleteFunc(bs, func(b answer.GivenBulk) bool { return strings.HasSuffix(b.What, perhaps) })
}

// lined says of it that it is there.
func lined(bs []answer.GivenBulk) []answer.GivenBulk {
	for i := range bs {
		bs[i].What = strings.TrimSuffix(bs[i].What, perhaps)
	}
	return bs
}

func exactly(l units.Length) units.Span {
	if l <= 0 {
		return units.Span{}
	}
	return units.Exactly(l)
}

// Measured puts a measured outline in the place of the estimate of a part, X
// along the grain. False where the harvest has no such part, or the outline
// is none.
func Measured(h answer.Harvest, part string, o geom.Outline) (answer.Harvest, bool) {
	i := slices.IndexFunc(h.Parts, func(p answer.GivenPart) bool { return p.Name == part })
	if i < 0 || o.Fault() != "" || o.Area() == 0 {
		return h, false
	}
	h.Parts = slices.Clone(h.Parts)
	p := &h.Parts[i]
	p.Least, p.Most, p.Known, p.Measured, p.Guess, p.Whole = o, o, true, true, false, false
	p.Along, p.Across = 0, 0
	h.Why = append(slices.Clone(h.Why), ruleTaped.Because(why.Yes, why.Of("part", part)))
	sum(&h)
	return h, true
}

// give reckons the parts of a kind from measures.
func (k *kind) give(m map[string]units.Span) answer.Harvest {
	h := answer.Harvest{Kind: k.name, Cut: k.cut, Press: k.press, Use: slices.Clone(k.use), LookOut: slices.Clone(k.lookOut),
		Notions: slices.Clone(k.notions), Bulk: slices.Clone(k.bulk)}
	for _, p := range k.parts {
		q := answer.GivenPart{Name: p.name, Count: p.count, UpTo: p.upTo, Pair: p.pair, Bias: p.bias, Whole: p.whole}
		q.Least, q.Most, q.Known = p.outlines(k.nominal, m)
		if q.Known {
			q.Along, q.Across = largest(p.shape, q.Least)
		}
		q.Guess = q.Known && !slices.ContainsFunc(p.sizes, func(s size) bool { return s.measure != "" })
		if !q.Known {
			h.Ask = p.asks(m, h.Ask)
		}
		h.Parts = append(h.Parts, q)
	}
	sum(&h)
	if k.linen() { // nothing is lost in seams, and rectangles waste little
		h.Lost, h.Shapes = answer.AreaSpan{}, answer.AreaSpan{}
	}
	k.scale(&h)
	k.reasons(&h)
	return h
}

// of is the size on a garment; unknown where its measure is, or where nothing
// is left.
func (s size) of(nominal, m map[string]units.Span) units.Span {
	fixed := units.Between(s.lo, s.hi)
	if s.measure == "" {
		return fixed
	}
	own, usual := m[s.measure], nominal[s.measure].Lo
	if !own.Known {
		return units.Span{}
	}
	out := units.Between(s.lo+own.Lo-usual, s.hi+own.Hi-usual)
	if s.by == '*' {
		out = units.Between(s.lo.Times(int64(own.Lo/units.Millimetre), int64(usual/units.Millimetre)), s.hi.Times(int64(own.Hi/units.Millimetre), int64(usual/units.Millimetre)))
	}
	if out.Lo < units.Centimetre {
		return units.Span{}
	}
	return out
}

func spans(m map[string]units.Length) map[string]units.Span {
	out := make(map[string]units.Span, len(m))
	for k, v := range m {
		out[k] = units.Exactly(v)
	}
	return out
}

// outlines are the panel at its least and at its most.
func (p *panel) outlines(nominal map[string]units.Length, m map[string]units.Span) (least, most geom.Outline, ok bool) {
	if p.whole {
		return nil, nil, false
	}
	usual := spans(nominal)
	lo, hi := make([]units.Length, len(p.sizes)), make([]units.Length, len(p.sizes))
	for i, s := range p.sizes {
		x := s.of(usual, m)
		if !x.Known {
			return nil, nil, false
		}
		lo[i], hi[i] = x.Lo, x.Hi
	}
	if p.shape == "half-ring" {
		return halfRings(units.Between(lo[0], hi[0]), units.Between(lo[1], hi[1]), m["hem"])
	}
	return p.drawn(lo), p.drawn(hi), true
}

// asks adds the measures a panel lacks.
func (p *panel) asks(m map[string]units.Span, have []string) []string {
	for _, s := range p.sizes {
		name := s.measure
		if name == "skirt" {
			name = "length"
		}
		if name != "" && !m[s.measure].Known && !slices.Contains(have, name) {
			have = append(have, name)
		}
	}
	return have
}

// sum adds up areas and seams of the parts that have a shape; unknown where
// none has.
func sum(h *answer.Harvest) {
	h.Area, h.Lost, h.Seams = answer.AreaSpan{}, answer.AreaSpan{}, units.Span{}
	for _, p := range h.Parts {
		if !p.Known {
			continue
		}
		lo, hi := units.Area(p.Count)*p.Least.Area(), units.Area(p.UpTo)*p.Most.Area()
		h.Area = answer.AreaSpan{Lo: h.Area.Lo + lo, Hi: h.Area.Hi + hi, Known: true}
		long := units.Between(p.Least.Box().Width()*units.Length(p.Count), p.Most.Box().Width()*units.Length(p.UpTo))
		h.Seams = units.Between(h.Seams.Lo+long.Lo, h.Seams.Hi+long.Hi)
	}
	h.Shapes = answer.AreaSpan{Lo: h.Area.Lo * 70 / 100, Hi: h.Area.Hi * 85 / 100, Known: h.Area.Known}
	if h.Seams.Known { // a strip on each of two sides of every part
		h.Lost = answer.AreaSpan{Lo: (2 * Loss).By(h.Seams.Lo), Hi: (2 * Loss).By(h.Seams.Hi), Known: true}
	}
}

// scale brings minutes and bulk from the nominal garment to this one.
func (k *kind) scale(h *answer.Harvest) {
	usual := answer.Harvest{}
	for i, p := range k.parts {
		q := answer.GivenPart{Name: p.name, Count: p.count, UpTo: p.upTo}
		q.Least, q.Most, q.Known = p.outlines(k.nominal, spans(k.nominal))
		q.Known = q.Known && h.Parts[i].Known // like with like
		usual.Parts = append(usual.Parts, q)
	}
	sum(&usual)
	lo, hi := ratio(float64(h.Seams.Lo), float64(usual.Seams.Lo)), ratio(float64(h.Seams.Hi), float64(usual.Seams.Hi))
	if !h.Seams.Known && len(h.Ask) > 0 {
		lo, hi = .75, 1.25
	}
	stretch := func(m answer.MinuteSpan) answer.MinuteSpan {
		if !m.Known {
			return m
		}
		return answer.MinuteSpan{Lo: max(1, units.Minutes(math.Floor(float64(m.Lo)*lo))), Hi: max(1, units.Minutes(math.Ceil(float64(m.Hi)*hi))), Known: true}
	}
	h.Cut, h.Unpick, h.Press = stretch(k.cut), stretch(k.unpick), stretch(k.press)
	alo, ahi := ratio(float64(h.Area.Lo), float64(usual.Area.Lo)), ratio(float64(h.Area.Hi), float64(usual.Area.Hi))
	for i, b := range h.Bulk {
		if !h.Area.Known {
			h.Bulk[i].Area = answer.AreaSpan{}
			continue
		}
		h.Bulk[i].Area.Lo, h.Bulk[i].Area.Hi = units.Area(float64(b.Area.Lo)*alo), units.Area(float64(b.Area.Hi)*ahi)
	}
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 1
	}
	return a / b
}

// reasons says where the figures are from and what is not known.
func (k *kind) reasons(h *answer.Harvest) {
	for _, m := range k.marks {
		switch r := origins[m]; {
		case m == "house" && k.linen():
			h.Why = append(h.Why, ruleHems.Because(why.Likely, why.Of("kind", k.name)))
		case m == "house":
			h.Why = append(h.Why, r.Because(why.Likely, why.Of("kind", k.name)))
		case m == "geometry":
			h.Why = append(h.Why, r.Because(why.Yes, why.Of("what", k.shapeWords())))
		default:
			h.Why = append(h.Why, r.Because(why.Likely))
		}
	}
	if h.Area.Known && !k.linen() {
		h.Why = append(h.Why, ruleLoss.Because(why.Yes, why.Of("loss", Loss)), ruleShare.Because(why.Likely))
	}
	if r, ok := rates[k.seams]; ok && k.unpick.Known {
		h.Why = append(h.Why, ruleSeams.Because(why.Likely, why.Of("seams", seamWords(k.seams)), why.Of("lo", r[0]), why.Of("hi", r[1])), ruleMinus.Because(why.Likely))
	}
	for _, p := range h.Parts {
		switch {
		case !p.Known && !p.Whole && len(h.Ask) == 0:
			h.Why = append(h.Why, ruleShort.Because(why.Unknown, why.Of("what", why.Capital(p.Name))))
		case p.Whole:
			h.Why = append(h.Why, ruleWhole.Because(why.Yes, why.Of("what", why.Capital(p.Name))))
		}
	}
	if len(h.Ask) > 0 {
		h.Why = append(h.Why, ruleAsk.Because(why.Unknown, why.Of("what", strings.Join(h.Ask, ", "))))
	}
}

// linen says whether a kind is household linen: cloth but for its hems.
func (k *kind) linen() bool { return k.nominal["width"] > 0 }

func seamWords(s string) string {
	if s == "careful" {
		return "to be opened with care"
	}
	return s
}

func (k *kind) shapeWords() string {
	for _, p := range k.parts {
		switch p.shape {
		case "trapeze":
			return "a trapeze, narrow above and wide below"
		case "disc":
			return "a circle"
		case "half-ring":
			return "half a ring, the waist its inner edge"
		}
	}
	return "a rectangle"
}

// follows says whether any part of a kind follows a measure.
func (k *kind) follows(measure string) bool {
	for _, p := range k.parts {
		for _, s := range p.sizes {
			if s.measure == measure {
				return true
			}
		}
	}
	return false
}

// label writes what is pinned on each part.
func label(h *answer.Harvest, code string) {
	for i := range h.Parts {
		p := &h.Parts[i]
		p.Label = code + " " + p.Name + " · right side · up"
	}
}
