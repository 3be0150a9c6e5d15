package sourcing

import (
	"cmp"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// A long rail is not judged garment by garment with reasons: every garment is
// weighed in numbers, and the best longList of those that serve as they hang
// or altered are judged, with the best longList of those that could be remade.
// What is not judged is never cheaper than it was weighed: so much of it stays
// in the sharing-out as options that are not listed, and its bound holds for
// the whole rail.
const (
	longRail = 2000
	longList = 80
)

// weighed is a garment in numbers: it costs no less, and takes no less work
// and money.
type weighed struct {
	at      int // among the garments
	cost    int64
	minutes units.Minutes
	money   units.Money
}

// hang readies a long rail for weighing.
func (m *market) hang() {
	if len(m.garments) <= m.longRail || m.hung != nil {
		return
	}
	m.hung, m.noun = make([]fit.Hung, len(m.garments)), make([]string, len(m.garments))
	for i := range m.garments {
		m.hung[i], m.noun[i] = fit.Hang(&m.garments[i].g), show.Noun(m.garments[i].g.Name)
	}
}

// shortlist numbers the garments worth judging for a piece, all of a short
// rail, and weighs the rest.
func (m *market) shortlist(p *show.Piece, w fit.Wearing) (judge []int, rest []weighed) {
	if m.hang(); m.hung == nil {
		for i := range m.garments {
			judge = append(judge, i)
		}
		return judge, nil
	}
	whole, remade := m.weighAll(p, w)
	wanted := make([]bool, len(m.garments))
	for i := range m.garments {
		wanted[i] = len(m.named[p.ID]) > 0 && m.named[p.ID][string(m.garments[i].g.ID)]
	}
	for _, list := range [][]weighed{whole, remade} {
		slices.SortStableFunc(list, func(a, b weighed) int { return cmp.Compare(a.cost, b.cost) })
		for _, e := range list[:min(m.longList, len(list))] {
			wanted[e.at] = true
		}
	}
	for i := range m.garments {
		if wanted[i] {
			judge = append(judge, i)
		}
	}
	for _, e := range append(whole, remade...) {
		if !wanted[e.at] {
			rest = append(rest, e)
		}
	}
	return judge, rest
}

// weighAll weighs every garment that could serve a piece: as it hangs or
// altered, and remade.
func (m *market) weighAll(p *show.Piece, w fit.Wearing) (whole, remade []weighed) {
	eye := weigher{m, p, m.eyeOf(p)}
	noun := show.Noun(p.Name)
	for i := range m.garments {
		g := &m.garments[i]
		if p.Category == g.g.Category && suitsNoun(noun, m.noun[i]) {
			if s := fit.Weigh(&w, &m.hung[i]); s.Grade != why.No && s.Grade != why.Unknown {
				look := s.Look + m.kindLook(p, &g.g)
				whole = append(whole, weighed{i, eye.least(s.Minutes, g, look), s.Minutes, g.price})
			}
		}
		if g.borrowed {
			continue
		}
		if minutes, look, ok := remake.Least(p, m.noun[i], g.g.MayCut); ok {
			remade = append(remade, weighed{i, eye.least(minutes, g, look), minutes, g.price})
		}
	}
	return whole, remade
}

// least is what a garment costs a piece at the least, after so much work.
func (w weigher) least(minutes units.Minutes, g *offered, look int) int64 {
	return w.weigh(minutes, g.price, min(90, look+w.colourOf(g.g.Colour)))
}

// aside are options that stand for garments nobody judged and for options left
// out: for each of them there is one that costs no more and asks for no more
// work and money.
func aside(p *show.Piece, rest []weighed) []answer.Option {
	slices.SortStableFunc(rest, func(a, b weighed) int { return cmp.Compare(a.cost, b.cost) })
	var out []answer.Option
	for _, e := range rest {
		if !slices.ContainsFunc(out, func(o answer.Option) bool { return o.Minutes() <= e.minutes && o.Money <= e.money }) {
			out = append(out, answer.Option{Piece: p.ID, Money: e.money, Work: []answer.Work{{Minutes: e.minutes}}, Cost: e.cost})
		}
	}
	return out
}
