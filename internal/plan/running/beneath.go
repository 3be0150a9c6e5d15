package running

import (
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// zone is a part of the person that a piece covers.
type zone uint8

const (
	top zone = 1 << iota
	bottom
)

// zones says what a piece covers, by its kind; nothing for what sits on head,
// neck, hands or feet, or is tied on outside.
func zones(p *show.Piece) zone {
	switch p.Category {
	case show.Dress:
		return top | bottom
	case show.Skirt, show.Trousers:
		return bottom
	case show.Shirt, show.Bodice:
		return top
	case show.Jacket:
		if z, ok := reach[p.LengthTo]; ok && z >= reach["thigh"] {
			return top | bottom
		}
		return top
	case show.Under:
		switch show.Noun(p.Name) {
		case "stays":
			return top
		case "shift":
			return top | bottom
		}
		return bottom
	}
	return 0
}

// reach orders the places a hem comes down to.
var reach = map[string]int{"waist": 0, "hip": 1, "thigh": 2, "knee": 3, "below knee": 4, "mid-calf": 5, "calf": 5, "ankle": 7, "floor": 8}

// House figures of wearing one thing under another: how much shorter a hem
// must be, how many layers, how many minutes on stage (dancing counts twice).
const (
	hemUnder   = 20_000 // micrometres
	layersMost = 3
	layersOf   = 2 // for the young, and in a warm house
	askMinutes = 15
	hotMinutes = 30
)

var (
	underdressing = why.Basis{Key: "underdressing", Kind: why.Practice, Title: "what costumers say of wearing one thing under another"}

	ruleOutside = why.Declare("running.under.outside", "{piece} belongs on the outside.", why.Common)
	ruleShape   = why.Declare("running.under.shape", "{piece} would change the outline of what is over it.", why.Common)
	ruleNoCover = why.Declare("running.under.no-cover", "Nothing of that look covers {piece}.", why.Exact)
	ruleOpen    = why.Declare("running.under.open", "{over} is open in front: {piece} would show.", why.Common)
	ruleTight   = why.Declare("running.under.tight", "{over} is fitted: no room for {piece}.", underdressing)
	ruleRoom    = why.Declare("running.under.room", "Is there room for {piece} under {over}? Four to six centimetres more round for a layer. Try it.", underdressing)
	ruleLoose   = why.Declare("running.under.loose", "{over} is loose: there is room for {piece}.", underdressing)
	ruleHemLow  = why.Declare("running.under.hem-low", "{piece} comes down as far as {over} or farther: it would show at the hem.", underdressing)
	ruleHemAsk  = why.Declare("running.under.hem-ask", "Does {piece} stay out of sight at the hem of {over}? At least two centimetres shorter.", underdressing)
	ruleHemHigh = why.Declare("running.under.hem-high", "{piece} is shorter than {over}.", underdressing)
	ruleSleeve  = why.Declare("running.under.neck-and-sleeve", "Do neck and sleeves of {piece} stay inside {over}? Not known. Look.", underdressing)
	ruleOpening = why.Declare("running.under.opening", "Does {over} open far enough to go over {piece}? Try it.", underdressing)
	ruleWarm    = why.Declare("running.under.warm", "{minutes} on stage in it, dancing counted twice: ask how warm it is.", why.House)
	ruleHot     = why.Declare("running.under.hot", "{minutes} on stage in it, dancing counted twice: too warm for a layer more.", why.House)
)

// judgement gathers what is said for and against one thing under another; no
// beats ask, ask beats yes.
type judgement struct{ v why.Verdict }

func (j *judgement) say(g why.Grade, r why.Rule, facts ...why.Fact) {
	j.v.Reasons = append(j.v.Reasons, r.Because(g, facts...))
	switch {
	case len(j.v.Reasons) == 1, g == why.No, g == why.Unknown && j.v.Grade != why.No:
		j.v.Grade = g
	}
}

// under judges whether a piece could be on under what is worn, for so many
// minutes on stage.
func under(x *show.Piece, worn []*show.Piece, minutes int) why.Verdict {
	var j judgement
	name := why.Of("piece", x.Name)
	switch {
	case zones(x) == 0 || x.Category == show.Jacket || x.Fit == "wrap":
		j.say(why.No, ruleOutside, name)
		return j.v
	case x.Fit == "tied" || shapes(x):
		j.say(why.No, ruleShape, name)
		return j.v
	}
	for _, z := range []zone{top, bottom} {
		if zones(x)&z == 0 {
			continue
		}
		best := covered(x, nil, z)
		for _, y := range worn {
			if zones(y)&z == 0 || y.Layer < 3 {
				continue
			}
			if next := covered(x, y, z); better(next.Grade, best.Grade) || len(best.Reasons) == 1 && best.Reasons[0].Rule == ruleNoCover.ID {
				best = next
			}
		}
		for _, r := range best.Reasons {
			if slices.ContainsFunc(j.v.Reasons, func(o why.Reason) bool { return o.Rule == r.Rule && slices.Equal(o.Facts, r.Facts) }) {
				continue
			}
			j.v.Reasons = append(j.v.Reasons, r)
			if len(j.v.Reasons) == 1 || better(j.v.Grade, r.Grade) {
				j.v.Grade = r.Grade
			}
		}
	}
	switch m := why.Of("minutes", units.Minutes(minutes)); {
	case minutes > hotMinutes:
		j.say(why.No, ruleHot, m)
	case minutes > askMinutes:
		j.say(why.Unknown, ruleWarm, m)
	}
	slices.SortStableFunc(j.v.Reasons, func(a, b why.Reason) int { // what decides comes first
		return rank(a.Grade) - rank(b.Grade)
	})
	return j.v
}

// better says whether a is better than b: yes, then ask, then no.
func better(a, b why.Grade) bool { return rank(a) > rank(b) }

func rank(g why.Grade) int {
	switch g {
	case why.No:
		return 0
	case why.Unknown:
		return 1
	}
	return 2
}

// shapes says whether a piece gives the look its outline.
func shapes(p *show.Piece) bool {
	name := strings.ToLower(p.Name)
	noun := show.Noun(p.Name)
	return noun == "stays" || strings.Contains(name, "roll") || strings.Contains(name, "hoop") || strings.Contains(name, "stiff") || strings.Contains(name, "corded")
}

// covered judges one piece under one other, in one zone; over nothing it says
// so.
func covered(x, y *show.Piece, z zone) why.Verdict {
	var j judgement
	name := why.Of("piece", x.Name)
	if y == nil {
		j.say(why.No, ruleNoCover, name)
		return j.v
	}
	over := why.Of("over", y.Name)
	skirted := func(p *show.Piece) bool { return zones(p)&bottom != 0 && p.Category != show.Trousers }
	switch {
	case strings.Contains(strings.ToLower(y.Closure), "open"):
		j.say(why.No, ruleOpen, over, name)
		return j.v
	case z == bottom && skirted(x) && y.Category == show.Trousers:
		j.say(why.No, ruleShape, name)
		return j.v
	}
	wideSkirt := z == bottom && y.Category == show.Dress && reach[y.LengthTo] >= reach["ankle"]
	switch {
	case y.Fit == "loose":
		j.say(why.Yes, ruleLoose, over, name)
	case y.Fit == "easy" || y.Fit == "fitted" && wideSkirt || y.Fit == "":
		j.say(why.Unknown, ruleRoom, name, over)
	default:
		j.say(why.No, ruleTight, over, name)
	}
	if z == bottom {
		hems(&j, x, y)
	} else {
		j.say(why.Unknown, ruleSleeve, name, over)
	}
	if y.Fit != "loose" && slices.Contains([]string{"pull-over", "elastic neck", "placket", ""}, shipped.Of(nil).of(y).word) {
		j.say(why.Unknown, ruleOpening, over, name)
	}
	return j.v
}

// hems compares how far two hems come down.
func hems(j *judgement, x, y *show.Piece) {
	name, over := why.Of("piece", x.Name), why.Of("over", y.Name)
	a, okA := reach[x.LengthTo]
	b, okB := reach[y.LengthTo]
	switch {
	case x.HemClear.Known && y.HemClear.Known && x.HemClear.V >= y.HemClear.V+hemUnder, !(x.HemClear.Known && y.HemClear.Known) && okA && okB && a < b:
		j.say(why.Yes, ruleHemHigh, name, over)
	case x.HemClear.Known && y.HemClear.Known, okA && okB && a > b:
		j.say(why.No, ruleHemLow, name, over)
	default:
		j.say(why.Unknown, ruleHemAsk, name, over)
	}
}
