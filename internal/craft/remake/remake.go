// Package remake knows what an old garment can become: which kinds turn into
// which, what work that is, and whether it can be undone.
package remake

import (
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	trade    = why.Basis{Key: "remaking", Kind: why.Estimate, Title: "remaking steps as costumers describe them; minutes are house estimates"}
	ruleWay  = why.Declare("remake.way", "{garment} becomes it: {how}, {minutes}.", trade)
	ruleCuts = why.Declare("remake.cuts", "This cuts {garment}: it cannot be undone.", why.Common)
)

// Way is one way to turn a garment into a piece. As is the piece as the
// garment has to fit it before the work, From the garment as it then counts.
type Way struct {
	How   string
	As    show.Piece
	From  show.Garment
	Work  []answer.Work
	Look  int // what the house sees of it, on top of colour and fit
	Cuts  bool
	Guess bool // a measure of From is reckoned, not taken
}

// Reasons says what the way is and whether it can be undone.
func (w Way) Reasons(g show.GarmentID) []why.Reason {
	ref := why.Of("garment", why.Ref{Kind: "garment", Code: string(g)})
	sum := units.Minutes(0)
	for _, x := range w.Work {
		sum += x.Minutes
	}
	rs := []why.Reason{ruleWay.Because(why.Work, ref, why.Of("how", w.How), why.Of("minutes", sum))}
	if w.Cuts {
		rs = append(rs, ruleCuts.Because(why.Work, ref))
	}
	return rs
}

// rule is one row of the table of remaking.
type rule struct {
	from, to []string // nouns
	how      string
	work     answer.Work
	look     int
	cuts     bool
	shape    func(p *show.Piece, g *show.Garment) bool // alters both for judging; false: not this way
}

var table = []rule{
	{[]string{"trousers"}, []string{"breeches", "trousers"}, "cut off below the knee, banded", answer.Work{Skill: answer.Straight, Minutes: 45}, 4, true, crop},
	{[]string{"gown", "dress", "nightgown", "robe"}, []string{"skirt", "petticoat"}, "skirt off the bodice, new band", answer.Work{Skill: answer.Maker, Minutes: 85}, 6, true, skirtOff},
	{[]string{"nightgown"}, []string{"shift", "smock", "shirt"}, "sleeves to length, neck gathered", answer.Work{Skill: answer.Straight, Minutes: 40}, 4, true, asDress},
	{[]string{"robe"}, []string{"smock", "gown"}, "yoke kept, neck and hem remade", answer.Work{Skill: answer.Maker, Minutes: 75}, 8, true, asDress},
	{[]string{"gown", "dress"}, []string{"gown", "dress"}, "neck, sleeves and trim remade", answer.Work{Skill: answer.Maker, Minutes: 120}, 4, true, noShape},
	{[]string{"coat", "robe"}, []string{"coat"}, "belt off, edges and collar faced", answer.Work{Skill: answer.Maker, Minutes: 75}, 5, false, noShape},
	{[]string{"coat", "cloak"}, []string{"cloak"}, "sleeves out, bound", answer.Work{Skill: answer.Straight, Minutes: 60}, 8, true, noShape},
	{[]string{"jacket"}, []string{"jacket", "coat"}, "lapels in, braid on", answer.Work{Skill: answer.Maker, Minutes: 90}, 6, false, noShape},
	{[]string{"shirt"}, []string{"shirt"}, "collar off, band kept", answer.Work{Skill: answer.Straight, Minutes: 20}, 0, true, noShape},
	{[]string{"waistcoat", "bodice"}, []string{"waistcoat", "bodice"}, "front kept, bands behind", answer.Work{Skill: answer.Straight, Minutes: 45}, 6, true, falseFront},
	{[]string{"hat", "cap"}, []string{"hat"}, "brim and trim remade", answer.Work{Skill: answer.Trim, Minutes: 60}, 6, true, noShape},
}

// Ways lists the ways to make the piece out of the garment. A garment that
// may not be cut only has ways that can be undone.
func Ways(p *show.Piece, g *show.Garment) []Way {
	from, to := show.Noun(g.Name), show.Noun(p.Name)
	var out []Way
	for _, r := range table {
		if r.cuts && !g.MayCut || !slices.Contains(r.from, from) || !slices.Contains(r.to, to) {
			continue
		}
		w := Way{How: r.how, As: *p, From: *g, Work: []answer.Work{r.work}, Look: r.look, Cuts: r.cuts}
		if r.shape(&w.As, &w.From) {
			w.Guess = w.From.Category != g.Category
			out = append(out, w)
		}
	}
	return out
}

// Least is the least work of any way from a thing of a noun to the piece, and
// the least the house sees of one; false where there is no way. No garment of
// that noun takes less.
func Least(p *show.Piece, from string, mayCut bool) (minutes units.Minutes, look int, ok bool) {
	to := show.Noun(p.Name)
	for _, r := range table {
		if r.cuts && !mayCut || !slices.Contains(r.from, from) || !slices.Contains(r.to, to) {
			continue
		}
		if !ok {
			minutes, look, ok = r.work.Minutes, r.look, true
		}
		minutes, look = min(minutes, r.work.Minutes), min(look, r.look)
	}
	return minutes, look, ok
}

func noShape(p *show.Piece, g *show.Garment) bool { return p.Category == g.Category }

// crop needs trousers longer than the breeches they become.
func crop(p *show.Piece, g *show.Garment) bool {
	switch p.LengthTo {
	case "thigh", "knee", "below knee", "mid-calf", "calf":
		p.LengthTo = ""
		return p.Category == show.Trousers && g.Category == show.Trousers
	}
	return false
}

// skirtOff reckons the skirt of a gown from its length at the nape: 34 to 44
// cm lie above the waist (house estimate). The waist is cut new. The hip is the
// gown's own where it is known, as the skirt comes off with its seams; else two
// thirds of the hem.
func skirtOff(p *show.Piece, g *show.Garment) bool {
	if !g.HemRound.Known || !g.Length.Known || g.LengthFrom != "nape" {
		return false
	}
	g.Length = g.Length.Minus(units.Between(units.Cm(34), units.Cm(44)))
	g.LengthFrom = "waist"
	g.Waist = units.Between(0, g.HemRound.Hi.Times(1, 2))
	if !g.Hip.Known {
		g.Hip = g.HemRound.Times(2, 3)
	}
	g.Category, g.Closure = p.Category, p.Closure
	return true
}

func asDress(p *show.Piece, g *show.Garment) bool {
	g.Category = p.Category
	return true
}

// falseFront needs only the width of the front: the back is open.
func falseFront(p *show.Piece, g *show.Garment) bool {
	if p.Fit == "fitted" || p.Category != g.Category {
		return false
	}
	if g.Chest.Known {
		g.Chest.Hi = g.Chest.Hi.Times(3, 2)
	}
	if g.Waist.Known {
		g.Waist.Hi = g.Waist.Hi.Times(3, 2)
	}
	return true
}
