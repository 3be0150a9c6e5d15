package sourcing

import (
	"slices"
	"sort"

	"hemwright/internal/craft/fit"
	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// optionsOf lists every way to come by a piece, cheapest first, weighs what
// else there would be, and says why a source that suggests itself is not among
// them.
func (m *market) optionsOf(p *show.Piece) (opts []answer.Option, rest []weighed, missed []why.Reason) {
	w := weigher{m, p, m.eyeOf(p)}
	opts, rest, missed = m.fromGarments(p)
	opts = append(opts, m.made(p)...)
	opts = append(opts, m.fromParts(p)...)
	opts = append(opts, m.bought(p)...)
	opts = append(opts, answer.Option{Piece: p.ID, Source: answer.GoWithout, Look: 100,
		Why: why.Verdict{Grade: why.No, Reasons: []why.Reason{ruleWithout.Because(why.No, why.Of("n", len(p.Looks)))}}})
	for i := range opts {
		w.price(&opts[i])
	}
	sort.SliceStable(opts, func(i, j int) bool {
		if opts[i].Cost != opts[j].Cost {
			return opts[i].Cost < opts[j].Cost
		}
		return opts[i].Garment+show.GarmentID(opts[i].Cloth) < opts[j].Garment+show.GarmentID(opts[j].Cloth)
	})
	opts, out := m.prune(opts)
	return opts, append(rest, out...), missed
}

// Of each source so many of the cheapest options are kept, of a long rail's
// garments fewer.
const (
	keepOfSource = 40
	keepOfLong   = 20
)

// prune keeps the cheapest options of each source, and those of garments and
// cloths that are named, and weighs what is left out.
func (m *market) prune(opts []answer.Option) (kept []answer.Option, rest []weighed) {
	count := map[answer.Source]int{}
	for _, o := range opts {
		most := keepOfSource
		if m.hung != nil && o.Cloth == "" {
			most = keepOfLong
		}
		if count[o.Source]++; count[o.Source] <= most || m.named[o.Piece][string(o.Garment)] || m.named[o.Piece][string(o.Cloth)] {
			kept = append(kept, o)
		} else {
			rest = append(rest, weighed{cost: o.Cost, minutes: o.Minutes(), money: o.Money})
		}
	}
	return kept, rest
}

// fromGarments judges every garment of the rail and every find for the piece,
// as it is, altered, and remade. Of a long rail it judges the best and weighs
// the rest.
func (m *market) fromGarments(p *show.Piece) (out []answer.Option, rest []weighed, missed []why.Reason) {
	var nearest *answer.Fit
	wanted := map[string]fit.Wearing{"": fit.Wanted(m.h, p)}
	judge, rest := m.shortlist(p, wanted[""])
	for _, i := range judge {
		g := &m.garments[i]
		if p.Category == g.g.Category && suits(p, &g.g) {
			f := fit.Judge(wanted[""], g.g)
			if o, ok := m.asItHangs(p, g, f); ok {
				out = append(out, o)
			} else if nearest == nil || closer(f, *nearest) {
				nearest = &f
			}
		}
		for _, way := range remake.Ways(p, &g.g) {
			key := string(way.As.Category) + way.As.LengthTo
			if _, ok := wanted[key]; !ok {
				wanted[key] = fit.Wanted(m.h, &way.As)
			}
			if o, ok := m.remade(p, g, way, fit.Judge(wanted[key], way.From)); ok {
				out = append(out, o)
			}
		}
	}
	switch {
	case len(out) > 0:
		return out, rest, nil
	case nearest == nil:
		return nil, rest, []why.Reason{ruleNothing.Because(why.No, why.Of("kind", p.Name))}
	}
	return nil, rest, nearest.Verdict.Reasons
}

// closer says whether a refused garment came nearer than another.
func closer(a, b answer.Fit) bool { return len(a.Verdict.Reasons) < len(b.Verdict.Reasons) }

// suits says whether a garment's kind can pass for the piece's without being
// remade: the same noun, or one the house takes for it.
func suits(p *show.Piece, g *show.Garment) bool {
	return suitsNoun(show.Noun(p.Name), show.Noun(g.Name))
}

func suitsNoun(a, b string) bool {
	if a == b {
		return true
	}
	for _, pair := range passFor {
		if pair[0] == a && pair[1] == b {
			return true
		}
	}
	return false
}

// passFor pairs a wanted kind with a kind that passes for it from the hall.
var passFor = [][2]string{
	{"gown", "dress"}, {"dress", "gown"}, {"smock", "nightgown"}, {"smock", "robe"}, {"gown", "robe"},
	{"breeches", "trousers"}, {"trousers", "breeches"}, {"waistcoat", "bodice"}, {"bodice", "waistcoat"},
	{"coat", "jacket"}, {"jacket", "coat"}, {"shift", "nightgown"}, {"kerchief", "shawl"}, {"shawl", "kerchief"},
	{"skirt", "petticoat"}, {"petticoat", "skirt"},
}

func (m *market) asItHangs(p *show.Piece, g *offered, f answer.Fit) (answer.Option, bool) {
	if f.Verdict.Grade == why.No || f.Verdict.Grade == why.Unknown {
		return answer.Option{}, false
	}
	o := answer.Option{
		Piece: p.ID, Garment: g.g.ID, Source: answer.Use, Money: g.price, Alterations: f.Alterations,
		Parts:  []answer.Part{{From: g.ref(), What: g.g.Name, Count: 1}},
		Pencil: f.Verdict.Grade == why.Likely, Look: f.Look + m.kindLook(p, &g.g), Why: f.Verdict,
	}
	for _, a := range f.Alterations {
		o.Work = append(o.Work, answer.Work{Skill: a.Skill, Minutes: a.Minutes})
		if a.Undo == "no" {
			o.Cuts = true
		}
		o.Source = answer.Alter
	}
	switch {
	case g.borrowed:
		o.Source = answer.Borrow
	case g.toBuy:
		o.Source = answer.Buy
	}
	return o, true
}

func (m *market) remade(p *show.Piece, g *offered, w remake.Way, f answer.Fit) (answer.Option, bool) {
	if g.borrowed || f.Verdict.Grade == why.No || f.Verdict.Grade == why.Unknown {
		return answer.Option{}, false
	}
	o := answer.Option{
		Piece: p.ID, Garment: g.g.ID, Source: answer.Remake, Money: g.price, Alterations: f.Alterations,
		Parts: []answer.Part{{From: g.ref(), What: g.g.Name, Count: 1}},
		Work:  append([]answer.Work{}, w.Work...), Cuts: w.Cuts, Look: w.Look + f.Look,
		Pencil: w.Guess || f.Verdict.Grade == why.Likely,
		Why:    why.Verdict{Grade: why.Work, Reasons: append(w.Reasons(g.g.ID), f.Verdict.Reasons...)},
	}
	for _, a := range f.Alterations {
		o.Work = append(o.Work, answer.Work{Skill: a.Skill, Minutes: a.Minutes})
	}
	return o, true
}

// kindLook is what the house sees of a garment that only passes for the kind
// wanted, or closes otherwise than drawn. House figures.
func (m *market) kindLook(p *show.Piece, g *show.Garment) int {
	look := 0
	if show.Noun(p.Name) != show.Noun(g.Name) {
		look += 10
	}
	if p.Closure != g.Closure {
		look += 2
	}
	return look
}

// made lists the ways to make the piece from the shelf, and from cloth to be
// bought.
func (m *market) made(p *show.Piece) []answer.Option {
	e, ok := m.estimates[p.ID]
	how, known := m.hours.of(p)
	if !known {
		return nil
	}
	minutes, copies := m.batched(p, how)
	base := answer.Option{Piece: p.ID, Source: answer.Make, Pencil: e.Pencil,
		Work: []answer.Work{{Skill: how.skill, Minutes: minutes}},
		Why:  why.Verdict{Grade: why.Work, Reasons: []why.Reason{ruleHours.Because(why.Work, why.Of("kind", how.noun), why.Of("minutes", minutes), why.Of("n", copies))}}}
	if how.noCloth { // from ends and notions
		return m.simpler(how, base)
	}
	if !ok {
		return nil
	}
	var out []answer.Option
	for _, c := range e.Cloths {
		if !c.Fits || slices.Contains(m.barred[p.ID], c.Cloth) {
			continue
		}
		o := base
		o.Cloth, o.ClothLength = c.Cloth, c.Length
		o.Parts = []answer.Part{{From: why.Ref{Kind: "cloth", Code: string(c.Cloth)}, What: e.Draft, Length: c.Length}}
		o.Why.Reasons = append(append([]why.Reason{}, base.Why.Reasons...), ruleCloth.Because(why.Work,
			why.Of("length", c.Length), why.Of("cloth", why.Ref{Kind: "cloth", Code: string(c.Cloth)})))
		out = append(out, m.simpler(how, o)...)
	}
	if e.Length > 0 {
		o := base
		o.Money = clothPrice.PerMetre(e.Length)
		o.Parts = []answer.Part{{From: why.Ref{Kind: "cloth", Code: "to buy"}, What: e.Draft, Length: e.Length}}
		o.Pencil = true
		o.Why.Reasons = append(append([]why.Reason{}, base.Why.Reasons...), ruleBuyCloth.Because(why.Work,
			why.Of("length", e.Length), why.Of("width", e.Width), why.Of("price", o.Money)))
		out = append(out, o)
	}
	return out
}

// clothPrice is what a metre of plain cloth is taken to cost until a price is
// known: a house estimate, in the smallest coin.
const clothPrice units.Money = 600

// simpler adds, for a kind that is worth it, the same made more simply.
func (m *market) simpler(how making, o answer.Option) []answer.Option {
	if how.simple == 0 {
		return []answer.Option{o}
	}
	s := o
	s.Work = []answer.Work{{Skill: how.skill, Minutes: o.Work[0].Minutes.Times(int64(how.simple), 100)}}
	s.Look += 8
	s.Why.Reasons = append(append([]why.Reason{}, o.Why.Reasons...), ruleSimple.Because(why.Work, why.Of("minutes", o.Work[0].Minutes-s.Work[0].Minutes)))
	return []answer.Option{o, s}
}

// batched is the time of one copy where several alike are made in one go.
func (m *market) batched(p *show.Piece, how making) (units.Minutes, int) {
	n := 1
	if set := m.h.Set(p.Set); set != nil && set.Alike != "different" {
		n = 0
		for _, id := range set.Pieces {
			if q := m.h.Piece(id); q != nil && q.Name == p.Name && q.FirstThought == p.FirstThought {
				n++
			}
		}
		n = max(n, 1)
	}
	return how.minutes.Times(int64(100+m.hours.next*(n-1)), int64(100*n)), n
}

// bought is buying something not seen yet, where a price limit was set.
func (m *market) bought(p *show.Piece) []answer.Option {
	if !p.PriceLimit.Known {
		return nil
	}
	return []answer.Option{{
		Piece: p.ID, Source: answer.Buy, Money: p.PriceLimit.V, Pencil: true, Look: notSeenYet,
		Work: []answer.Work{{Skill: answer.Straight, Minutes: 30}},
		Why:  why.Verdict{Grade: why.Likely, Reasons: []why.Reason{ruleNotSeen.Because(why.Likely, why.Of("price", p.PriceLimit.V))}},
	}}
}

// notSeenYet is the look put on a thing nobody has seen in a shop: it may
// never be found. A house figure.
const notSeenYet = 25
