package running

import (
	"cmp"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleStepIn    = why.Declare("running.step-in", "{who} could be {role}: {n} of {all} pieces go, {minutes} of work.", why.House)
	ruleStepTwice = why.Declare("running.step-in-twice", "Times {who} would have to be in two places: {n}.", why.Exact)
	ruleStepShort = why.Declare("running.step-in-short", "Changes too short that were not before: {n}.", why.House)
)

// mostStepIns are listed for a role.
const mostStepIns = 8

// WhoCouldStepIn lists, for each role of somebody who is away, who could play
// it in its clothes: by what else breaks, then by the pieces that do not go,
// then by the minutes of work. A piece to be made is taken as made for the one
// who is away.
func WhoCouldStepIn(h *show.House, cast show.Cast, gone show.PerformerID, plan answer.Plan) []answer.Away {
	starts, _, _ := h.Starts()
	short := func(h *show.House) (too int, clashes []answer.Stretch) {
		c := newClock(h, cast, shipped.Of(h.Tables))
		changes, clashes := c.changes(c.stretches(starts))
		for _, ch := range changes {
			if ch.Verdict.Grade == why.No {
				too++
			}
		}
		return too, clashes
	}
	var out []answer.Away
	for _, role := range h.Roles {
		if h.PlayedBy(role.ID, cast) != gone {
			continue
		}
		a := answer.Away{Role: role.ID}
		clothes := clothesOf(h, role.ID, plan)
		for _, p := range h.Performers {
			if p.ID == gone {
				continue
			}
			now := theTwo(h, cast, gone, p.ID)
			with := played(&now, role.ID, p.ID)
			before, _ := short(&now)
			s := answer.StepIn{Performer: p.ID, Cover: covers(h, role.ID, cast, p.ID)}
			too, clashes := short(&with)
			s.Short = max(0, too-before)
			for _, c := range clashes {
				if c.Performer == p.ID {
					s.Twice++
				}
			}
			with.Appearances = h.Appearances
			hold(&with, clothes, &s)
			reasons(&s, role, len(clothes))
			a.Ins = append(a.Ins, s)
		}
		slices.SortStableFunc(a.Ins, func(x, y answer.StepIn) int {
			return cmp.Or(cmp.Compare(x.Twice, y.Twice), cmp.Compare(x.Short, y.Short), cmp.Compare(len(x.Not), len(y.Not)), cmp.Compare(len(x.Open), len(y.Open)), cmp.Compare(x.Minutes, y.Minutes))
		})
		a.Ins = a.Ins[:min(len(a.Ins), mostStepIns)]
		out = append(out, a)
	}
	return out
}

// theTwo is the house with nobody on but two performers: whatever changes when
// one steps in for the other changes for these two.
func theTwo(h *show.House, cast show.Cast, a, b show.PerformerID) show.House {
	theirs := map[show.RoleID]bool{}
	for _, r := range h.Roles {
		by := h.PlayedBy(r.ID, cast)
		theirs[r.ID] = by == a || by == b
	}
	two := *h
	two.Appearances = nil
	for _, x := range h.Appearances {
		if theirs[x.Role] {
			two.Appearances = append(two.Appearances, x)
		}
	}
	return two
}

// played is the house with a role given to somebody else in every cast.
func played(h *show.House, role show.RoleID, who show.PerformerID) show.House {
	with := *h
	with.Roles = slices.Clone(h.Roles)
	for i := range with.Roles {
		if with.Roles[i].ID == role {
			with.Roles[i].Performer = who
		}
	}
	with.Casting = slices.DeleteFunc(slices.Clone(h.Casting), func(c show.Casting) bool { return c.Role == role && !c.Cover })
	return with
}

func covers(h *show.House, role show.RoleID, cast show.Cast, who show.PerformerID) bool {
	return slices.ContainsFunc(h.Casting, func(c show.Casting) bool {
		return c.Cover && c.Role == role && c.Performer == who && (c.Cast == cast || c.Cast == "")
	})
}

// worn is a piece of a role with the garment it is, or will be.
type worn struct {
	piece   *show.Piece
	garment show.Garment
}

// clothesOf are the pieces of a role's looks, each once, with their garments.
func clothesOf(h *show.House, role show.RoleID, plan answer.Plan) []worn {
	chosen := map[show.PieceID]show.GarmentID{}
	for _, c := range plan.Choices {
		chosen[c.Piece] = c.Garment
	}
	offer := map[show.GarmentID]show.Garment{}
	for _, g := range h.OnOffer() {
		offer[g.ID] = g
	}
	var out []worn
	for i := range h.Pieces {
		p := &h.Pieces[i]
		if !slices.ContainsFunc(p.Looks, func(l show.LookID) bool { look := h.Look(l); return look != nil && look.Role == role }) {
			continue
		}
		g, there := offer[chosen[p.ID]]
		if !there {
			g = asMade(h, p)
		}
		out = append(out, worn{p, g})
	}
	return out
}

// asMade is a piece as it would be made for those who wear it now.
func asMade(h *show.House, p *show.Piece) show.Garment {
	g := show.Garment{Category: p.Category, Name: p.Name, Closure: p.Closure}
	for _, w := range fit.Wanted(h, p).Finished {
		if !w.Sits.Known {
			continue
		}
		at := map[string]*units.Span{"chest": &g.Chest, "waist": &g.Waist, "hip": &g.Hip, "length": &g.Length, "sleeve": &g.Sleeve, "shoulders": &g.Shoulders, "head": &g.Head}[w.Where]
		if at != nil {
			*at = units.Exactly(w.Goal)
		}
		if w.Where == "length" {
			g.LengthFrom = w.From
		}
	}
	return g
}

// hold holds the clothes against the one who steps in.
func hold(with *show.House, clothes []worn, s *answer.StepIn) {
	for _, x := range clothes {
		f := fit.Judge(fit.Wanted(with, x.piece), x.garment)
		switch f.Verdict.Grade {
		case why.No:
			s.Not = append(s.Not, x.piece.ID)
		case why.Unknown:
			s.Open = append(s.Open, x.piece.ID)
		default:
			s.Minutes += int(f.Minutes())
		}
	}
}

func reasons(s *answer.StepIn, role show.Role, all int) {
	grade := why.Work
	if len(s.Not) > 0 || s.Twice > 0 {
		grade = why.No
	}
	s.Why = []why.Reason{ruleStepIn.Because(grade, why.Of("who", string(s.Performer)), why.Of("role", role.Name), why.Of("n", all-len(s.Not)-len(s.Open)), why.Of("all", all), why.Of("minutes", units.Minutes(s.Minutes)))}
	if s.Twice > 0 {
		s.Why = append(s.Why, ruleStepTwice.Because(why.No, why.Of("who", string(s.Performer)), why.Of("n", s.Twice)))
	}
	if s.Short > 0 {
		s.Why = append(s.Why, ruleStepShort.Because(why.No, why.Of("n", s.Short)))
	}
}
