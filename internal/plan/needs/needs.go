// Package needs says what is needed in all: every piece with who wears it and
// how long it is seen, what has no source yet, the under-layers the
// silhouette wants and has not, and the notions the closures take.
package needs

import (
	"sort"
	"time"

	"hemwright/internal/craft/period"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var (
	ruleSupport = why.Declare("needs.support", "{piece} is {fit} and to the {length}; in {era} it rests on {support}, and nothing is under it. {others} of the same group have one: the outlines will not agree.", period.Memory)
	ruleWrong   = why.Declare("needs.check", "The needs do not add up: {what}.", why.Exact)
)

// List lists the needs of the show.
func List(h *show.House) answer.Needs {
	var n answer.Needs
	seen, scenes := onStage(h)
	for i := range h.Pieces {
		p := &h.Pieces[i]
		need := answer.Need{
			Piece: p.ID, Category: p.Category, Layer: p.Layer,
			Wearers: h.Wearers(p), HasSource: h.PinOf(p.ID) != nil || p.HowFar != show.ThoughtOf,
		}
		in := map[show.SceneID]bool{}
		for _, l := range p.Looks {
			need.Seen += seen[l]
			for s := range scenes[l] {
				in[s] = true
			}
		}
		for _, s := range h.Scenes {
			if in[s.ID] {
				need.Scenes = append(need.Scenes, s.ID)
			}
		}
		n.Needs = append(n.Needs, need)
	}
	n.Missing = missingSupport(h)
	n.Notions = notions(h)
	return n
}

// onStage adds up how long each look is on stage, and where.
func onStage(h *show.House) (map[show.LookID]time.Duration, map[show.LookID]map[show.SceneID]bool) {
	seen, scenes := map[show.LookID]time.Duration{}, map[show.LookID]map[show.SceneID]bool{}
	for _, a := range h.Appearances {
		seen[a.Look] += a.Exit - a.Enter
		if scenes[a.Look] == nil {
			scenes[a.Look] = map[show.SceneID]bool{}
		}
		scenes[a.Look][a.Scene] = true
	}
	return seen, scenes
}

// missingSupport finds, in each group, the full skirts of a time that wants
// something to rest on and have nothing, where others of the group have it.
func missingSupport(h *show.House) []answer.MissingLayer {
	type full struct {
		look    show.LookID
		piece   *show.Piece
		support bool
		want    period.Silhouette
	}
	groups := map[string][]full{}
	var order []string
	for _, l := range h.Looks {
		role := h.Role(l.Role)
		if role == nil || role.Group == "" {
			continue
		}
		pieces := h.LookPieces(l.ID)
		outer := fullSkirt(pieces)
		if outer == nil {
			continue
		}
		want, known := period.Of(outer.Era)
		if !known || want.Support == "" {
			continue
		}
		if groups[role.Group] == nil {
			order = append(order, role.Group)
		}
		groups[role.Group] = append(groups[role.Group], full{l.ID, outer, hasSupport(pieces), want})
	}
	var out []answer.MissingLayer
	for _, g := range order {
		with := 0
		for _, f := range groups[g] {
			if f.support {
				with++
			}
		}
		for _, f := range groups[g] {
			if f.support || with == 0 {
				continue
			}
			out = append(out, answer.MissingLayer{Look: f.look, What: f.want.Support, Why: ruleSupport.Because(why.Work,
				why.Of("piece", why.Ref{Kind: "piece", Code: string(f.piece.ID)}), why.Of("fit", f.piece.Fit),
				why.Of("length", f.piece.LengthTo), why.Of("era", f.piece.Era), why.Of("support", f.want.Support), why.Of("others", with))})
		}
	}
	return out
}

// fullSkirt is the piece that makes a look a full skirted one: a fitted dress
// to ankle or floor, or such a skirt under a fitted bodice.
func fullSkirt(pieces []*show.Piece) *show.Piece {
	var skirt *show.Piece
	bodice := false
	for _, p := range pieces {
		long := p.LengthTo == "floor" || p.LengthTo == "ankle"
		switch {
		case p.Category == show.Dress && p.Fit == "fitted" && long:
			return p
		case p.Category == show.Skirt && long:
			skirt = p
		case p.Category == show.Bodice && p.Fit == "fitted":
			bodice = true
		}
	}
	if bodice {
		return skirt
	}
	return nil
}

func hasSupport(pieces []*show.Piece) bool {
	for _, p := range pieces {
		if p.Category == show.Under && p.Layer == 2 {
			return true
		}
	}
	return false
}

// Check recounts the needs from the appearances and lists what differs.
func Check(h *show.House, n answer.Needs) []why.Reason {
	var bad []why.Reason
	wrong := func(what string) { bad = append(bad, ruleWrong.Because(why.No, why.Of("what", what))) }
	if len(n.Needs) != len(h.Pieces) {
		wrong("not every piece is listed once")
	}
	seconds := map[show.PieceID]time.Duration{}
	for _, a := range h.Appearances {
		for i := range h.Pieces {
			for _, l := range h.Pieces[i].Looks {
				if l == a.Look {
					seconds[h.Pieces[i].ID] += a.Exit - a.Enter
				}
			}
		}
	}
	listed := map[show.PieceID]bool{}
	for _, need := range n.Needs {
		if listed[need.Piece] {
			wrong(string(need.Piece) + " twice")
		}
		listed[need.Piece] = true
		if need.Seen != seconds[need.Piece] {
			wrong(string(need.Piece) + " is on stage for another time")
		}
		if !sort.SliceIsSorted(need.Wearers, func(i, j int) bool { return need.Wearers[i] < need.Wearers[j] }) {
			wrong(string(need.Piece) + " has its wearers out of order")
		}
	}
	return bad
}
