package sourcing

import (
	"strings"

	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleParts  = why.Declare("sourcing.parts", "Cut from the parts of {garments}: {parts}.", why.Common)
	ruleGone   = why.Declare("sourcing.gone-for-good", "{garments} cannot be worn again; that is weighed as {minutes} for each garment.", why.House)
	ruleFreed  = why.Declare("sourcing.freed", "{minutes} of it is its share of cutting up and pressing.", trade)
	ruleIfWide = why.Declare("sourcing.if-wide", "Only if the parts are as large, or as many, as they may be: lay them out before you cut.", why.House)
)

// piecedLook is what the house sees of a piece cut from an old garment: seams
// where they fall. A house figure.
const piecedLook = 4

// fromParts lists the garments that may be cut up for a piece, one to three for
// each option. What is left of them others may have.
func (m *market) fromParts(p *show.Piece) []answer.Option {
	how, known := hoursFor(p)
	e, ok := m.estimates[p.ID]
	if !known || !ok || how.noCloth {
		return nil
	}
	var out []answer.Option
	for _, w := range e.Apart {
		if !m.mayCutAll(w.Garments) {
			continue
		}
		o := answer.Option{Piece: p.ID, Source: answer.Remake, Garment: w.Garments[0], Apart: w.Garments, Cuts: true,
			Look: piecedLook, Pencil: e.Pencil || w.Likely,
			Work: []answer.Work{{Skill: how.skill, Minutes: how.minutes}, {Skill: answer.Beginner, Minutes: w.Minutes}}}
		var codes, names []string
		for _, g := range w.Garments {
			codes = append(codes, string(g))
		}
		for _, q := range w.Parts {
			o.Parts = append(o.Parts, answer.Part{From: why.Ref{Kind: "garment", Code: string(q.Garment)}, What: q.Part, Count: q.Count})
			names = append(names, q.Part)
		}
		garments := why.Of("garments", strings.Join(codes, ", "))
		o.Why = why.Verdict{Grade: why.Work, Reasons: []why.Reason{
			ruleParts.Because(why.Work, garments, why.Of("parts", strings.Join(names, ", "))),
			ruleFreed.Because(why.Work, why.Of("minutes", w.Minutes)),
			ruleGone.Because(why.Work, garments, why.Of("minutes", units.Minutes(goneForGood)))}}
		if w.Likely {
			o.Why.Reasons = append(o.Why.Reasons, ruleIfWide.Because(why.Likely))
		}
		out = append(out, o)
	}
	return out
}

// mayCutAll says whether all of some garments are on offer and may be cut.
func (m *market) mayCutAll(ids []show.GarmentID) bool {
	for _, id := range ids {
		ok := false
		for i := range m.garments {
			g := &m.garments[i]
			ok = ok || g.g.ID == id && g.g.MayCut && !g.borrowed && !g.toBuy
		}
		if !ok {
			return false
		}
	}
	return true
}

// cutUp looks at the garments that are cut up, from the harvest itself: none
// is worn whole, none gives more of a part than it has, each may be cut.
func (c *checker) cutUp(plan answer.Plan) {
	taken := map[show.GarmentID]map[string]int{}
	for _, ch := range plan.Choices {
		for _, g := range ch.Apart {
			if taken[g] == nil {
				taken[g] = map[string]int{}
			}
		}
		for _, q := range ch.Parts {
			if from := taken[show.GarmentID(q.From.Code)]; len(ch.Apart) > 0 && from != nil {
				from[q.What] += q.Count
			}
		}
	}
	for _, ch := range plan.Choices {
		if ch.Garment != "" && len(ch.Apart) == 0 && taken[ch.Garment] != nil {
			c.wrong("%s is cut up, and %s wants it whole", ch.Garment, ch.Piece)
		}
	}
	for i := range c.in.House.Garments {
		c.gives(&c.in.House.Garments[i], taken)
	}
	for i := range c.in.House.Finds {
		c.gives(&c.in.House.Finds[i].Garment, taken)
	}
}

func (c *checker) gives(g *show.Garment, taken map[show.GarmentID]map[string]int) {
	if taken[g.ID] == nil {
		return
	}
	if !g.MayCut {
		c.wrong("%s is cut up, which may not be cut", g.ID)
	}
	h, _ := remake.Harvest(g)
	have := map[string]int{}
	for _, q := range h.Parts {
		have[q.Name] += q.UpTo
	}
	for part, n := range taken[g.ID] {
		if n > have[part] {
			c.wrong("%d of %s are cut from %s, which gives %d", n, part, g.ID, have[part])
		}
	}
}
