package cutting

import (
	"slices"

	"hemwright/internal/engine/nest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/why"
)

var ruleByHand = why.Declare("cutting.by-hand", "{piece} {part} cannot lie on {cloth} where it was put by hand: {what}.", why.Exact)

// ByHand says what keeps parts put by hand from lying where they were put; nil
// where all can. The drafts are those of the plan.
func ByHand(h *show.House, drafts []answer.Draft, id show.ClothID, laid []show.HandLaid) []why.Reason {
	h = washed(h)
	c := h.Cloth(id)
	if c == nil {
		return nil
	}
	_, bad := putDown(c, drafts, laid)
	return bad
}

// putDown lays parts by hand: those that can lie where they were put, and a
// reason for each that cannot. Each is one copy of a part of the drafts, in a
// turn its grain allows, on the cloth, off the flaws, clear of those before.
func putDown(c *show.Cloth, drafts []answer.Draft, laid []show.HandLaid) (fixed []answer.Laid, bad []why.Reason) {
	edge := Outline(c)
	left := map[string]int{}
	for _, d := range drafts {
		for _, p := range d.Parts {
			left[string(d.Piece)+"/"+p.Name] = p.Copies
		}
	}
	for _, l := range laid {
		if l.Cloth != c.ID {
			continue
		}
		refuse := func(what string) {
			bad = append(bad, ruleByHand.Because(why.No, why.Of("piece", why.Ref{Kind: "piece", Code: string(l.Piece)}), why.Of("part", l.Part),
				why.Of("cloth", why.Ref{Kind: "cloth", Code: string(c.ID)}), why.Of("what", what)))
		}
		part := partOf(drafts, l)
		key := string(l.Piece) + "/" + l.Part
		switch {
		case part == nil || left[key] == 0:
			refuse("the plan cuts no such part from it")
			continue
		case !slices.Contains(Turns(c, *part), l.Turn):
			refuse("its grain, or the nap, does not allow that turn")
			continue
		}
		o := Facing(*part, l.Mirror).Turn(l.Turn)
		box := o.Box()
		o = o.Move(geom.Point{X: l.X - box.Min.X, Y: l.Y - box.Min.Y})
		if what := lies(c, edge, o, part.Hidden, fixed); what != "" {
			refuse(what)
			continue
		}
		left[key]--
		fixed = append(fixed, answer.Laid{Piece: l.Piece, Part: l.Part, Copy: part.Copies - left[key], Turn: l.Turn, Mirror: l.Mirror, Outline: o})
	}
	return fixed, bad
}

// Facing is a part as it lies on the cloth before it is turned: turned over, its
// left is its right and its top stays up.
func Facing(p answer.DraftPart, over bool) geom.Outline {
	if over {
		return p.Outline.Mirror().Turn(180)
	}
	return p.Outline
}

func partOf(drafts []answer.Draft, l show.HandLaid) *answer.DraftPart {
	for i := range drafts {
		for k := range drafts[i].Parts {
			if p := &drafts[i].Parts[k]; drafts[i].Piece == l.Piece && p.Name == l.Part {
				return p
			}
		}
	}
	return nil
}

// lies says what keeps an outline from lying on a cloth beside others; empty
// where nothing does.
func lies(c *show.Cloth, edge, o geom.Outline, hidden bool, others []answer.Laid) string {
	if !geom.Within(o, edge) {
		return "it leaves the cloth"
	}
	for _, f := range c.Flaws {
		if !hidden && geom.Overlap(o, FlawOutline(f)) {
			return "it lies on a flaw"
		}
	}
	for _, b := range others {
		if geom.Overlap(o, b.Outline) || geom.Nearer(o, b.Outline, Gap) {
			return "it comes too near to " + string(b.Piece) + " " + b.Part
		}
	}
	return ""
}

// around takes what lies by hand out of the problem: its copies, and its room,
// with the gap, as a flaw nothing may lie on.
func around(prob *nest.Problem, c *show.Cloth, fixed []answer.Laid) {
	for _, l := range fixed {
		hand := ""
		if l.Mirror {
			hand = "turned"
		}
		for i := range prob.Pieces {
			if q := &prob.Pieces[i]; q.ID == join(l.Piece, l.Part, hand) && q.Copies > 0 {
				q.Copies--
				break
			}
		}
		for _, o := range geom.Fill(l.Outline).Offset(Gap, geom.Mitred(2)) {
			if o.Twice() > 0 {
				prob.Cloths[0].Flaws = append(prob.Cloths[0].Flaws, down(o, c.Width))
			}
		}
	}
	prob.Pieces = slices.DeleteFunc(prob.Pieces, func(q nest.Piece) bool { return q.Copies <= 0 })
	for i := range prob.Pieces {
		prob.Pieces[i].Hidden = prob.Pieces[i].Hidden && len(fixed) == 0
	}
}
