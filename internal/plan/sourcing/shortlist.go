package sourcing

import (
	"cmp"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// A long rail is not judged garment by garment with reasons: every garment of
// the kind is weighed in numbers, and the best longList of them are judged,
// with the longList nearest in colour of those that could be remade. What
// stands behind so many better ones serves only where all of those fail.
const (
	longRail = 2000
	longList = 160
)

// hang readies a long rail for weighing.
func (m *market) hang() {
	if len(m.garments) <= longRail {
		return
	}
	m.hung, m.noun = make([]fit.Hung, len(m.garments)), make([]string, len(m.garments))
	for i := range m.garments {
		m.hung[i], m.noun[i] = fit.Hang(&m.garments[i].g), show.Noun(m.garments[i].g.Name)
	}
}

// shortlist numbers the garments worth judging for a piece: all of a short
// rail.
func (m *market) shortlist(p *show.Piece, w fit.Wearing) []int {
	var out []int
	if m.hung == nil {
		for i := range m.garments {
			out = append(out, i)
		}
		return out
	}
	type entry struct {
		at   int
		cost int64
	}
	var whole, other []entry
	weight, noun := m.eyeOf(p), show.Noun(p.Name)
	off := map[string]int64{}
	for i := range m.garments {
		g := &m.garments[i]
		look, there := off[g.g.Colour]
		if !there {
			look = int64(m.colourOff(p.Colour, g.g.Colour))
			off[g.g.Colour] = look
		}
		if p.Category == g.g.Category && suitsNoun(noun, m.noun[i]) {
			if s := fit.Weigh(&w, &m.hung[i]); s.Grade != why.No && s.Grade != why.Unknown {
				cost := int64(s.Minutes.Times(redoNum, redoDen)) + int64(g.price)*coinMinutes/1000 + (look+int64(s.Look))*lookMinutes*weight/100
				whole = append(whole, entry{i, cost})
			}
		}
		if g.g.MayCut && !g.borrowed {
			other = append(other, entry{i, look})
		}
	}
	taken := map[int]bool{}
	for _, list := range [][]entry{whole, other} {
		slices.SortStableFunc(list, func(a, b entry) int { return cmp.Compare(a.cost, b.cost) })
		for _, e := range list[:min(longList, len(list))] {
			if !taken[e.at] {
				taken[e.at] = true
				out = append(out, e.at)
			}
		}
	}
	slices.Sort(out)
	return out
}
