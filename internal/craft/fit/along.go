package fit

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// shoulders cannot be moved: inside or no.
func (j *job) shoulders() {
	win := &j.w.windows[shoulders]
	s := j.g.Shoulders
	if !win.on {
		return
	}
	if !s.Known {
		if j.w.category == show.Jacket && j.w.class == "fitted" {
			j.pencil = true
			j.say(ruleUnmeasured, why.Likely, why.Of("where", win.Where), why.Of("garment", j.ref()))
		}
		return
	}
	if !j.knows(win) {
		return
	}
	j.rests(win)
	slack := win.Doubt
	if !j.g.Sleeve.Known {
		slack += 25 * mm // no sleeve hangs from it
	}
	facts := []why.Fact{why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Sits)}
	if s.Hi < win.Sits.Lo-slack || s.Lo > win.Sits.Hi+slack {
		j.against(ruleShoulders, facts...)
		return
	}
	if win.Apart > 0 {
		j.fit.Look += 2 * int(win.Apart/units.Centimetre)
	}
	j.say(ruleShoulders, why.Yes, facts...)
}

// sleeves: a sleeve under three quarters of the arm is a short sleeve and
// goes as it is, unless the arms are to be covered.
func (j *job) sleeves() {
	win := &j.w.windows[sleeve]
	s := j.g.Sleeve
	if !win.on || !s.Known && !j.w.covered {
		return
	}
	if !j.knows(win) {
		return
	}
	short := !s.Known || s.Hi < j.w.arm*3/4
	if short && !j.w.covered {
		return
	}
	j.rests(win)
	if short {
		j.say(ruleCovered, why.Work, why.Of("garment", j.ref()))
		if j.do("sleeves on", win.Where, win.Goal, false) {
			j.final[sleeve] = units.Exactly(win.Goal)
		}
		return
	}
	j.final[sleeve] = s
	lacks, over := win.Sits.Lo-s.Hi-win.Doubt, s.Lo-win.Sits.Hi-win.Doubt
	grade := why.Yes
	if lacks > 0 || over > 0 {
		grade = why.Work
	}
	j.say(ruleSleeve, grade, why.Of("has", s), why.Of("wants", win.Sits))
	switch {
	case lacks > 120*mm:
		j.against(ruleNarrow, why.Of("garment", j.ref()), why.Of("short", lacks), why.Of("where", win.Where), why.Of("give", 120*mm))
	case lacks > 0:
		j.along("cuff on", sleeve, win.Goal-s.Hi)
	case over > 0:
		j.sleeveUp(win, s.Lo-win.Goal)
	}
}

func (j *job) sleeveUp(win *Window, by units.Length) {
	limit := 80 * mm
	if j.w.category == show.Jacket {
		limit = 60 * mm
	}
	switch {
	case by > limit:
		j.against(ruleWide, why.Of("garment", j.ref()), why.Of("over", by), why.Of("where", win.Where), why.Of("limit", limit))
	case j.w.category == show.Jacket && j.g.MayCut && by <= 40*mm:
		j.along("sleeve up", sleeve, -by)
	case j.w.category == show.Jacket:
		j.along("cuffs up", sleeve, -by)
	case by <= 60*mm:
		j.along("tuck sleeve", sleeve, -by)
	default:
		j.along("sleeve up", sleeve, -by)
	}
}

// along plans an operation that makes a length longer (by above 0) or shorter.
func (j *job) along(name string, pl place, by units.Length) {
	if j.do(name, placeNames[pl], by.Abs(), false) {
		j.final[pl] = j.final[pl].Add(by)
	}
}

// length judges the hem.
func (j *job) length() {
	win := &j.w.windows[length]
	if !win.on {
		return
	}
	s := j.g.Length
	if !s.Known {
		if j.w.category == show.Skirt || j.w.category == show.Dress || j.w.category == show.Trousers {
			j.unmeasured(win.Where)
		}
		return
	}
	if j.g.LengthFrom != "" && j.g.LengthFrom != win.From && j.g.LengthFrom == j.w.other.From {
		win = &j.w.other
	}
	if !j.knows(win) {
		return
	}
	j.rests(win)
	j.final[length] = s
	lacks, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
	grade := why.Yes
	if lacks > 0 || over > 0 {
		grade = why.Work
	}
	j.say(ruleHem, grade, why.Of("from", win.From), why.Of("has", s), why.Of("wants", win.Sits))
	switch {
	case lacks > 0:
		j.longer(win, lacks)
	case over > 0:
		j.shorter(win, s.Lo-win.Goal)
	}
	if win.Apart > 0 {
		j.hemApart(win)
	}
	if more := j.w.grows; win.shoes && more.Known && j.final[length].Hi-win.Sits.Lo < more.Hi {
		j.say(ruleGrow, why.Work, why.Of("more", more))
	}
}

// hemApart: the hem is right for the taller; for the other it is caught up.
func (j *job) hemApart(win *Window) {
	j.say(ruleShared, why.Work, why.Of("apart", win.Apart), why.Of("where", win.Where))
	switch {
	case j.w.category == show.Shirt || j.w.category == show.Bodice || j.w.category == show.Under && win.Apart <= 80*mm:
		j.fit.Look += int(win.Apart / units.Centimetre)
	case win.Apart <= 200*mm:
		j.do("loops", win.Where, win.Apart, false)
	default:
		j.against(ruleLong, why.Of("garment", j.ref()), why.Of("over", win.Apart), why.Of("limit", 200*mm))
	}
}

func (j *job) longer(win *Window, lacks units.Length) {
	spare := j.g.LetDown.Or(0)
	by := min(max(win.Goal-j.g.Length.Hi, lacks), max(spare, lacks))
	skirted := j.w.category == show.Skirt || j.w.category == show.Dress || j.w.category == show.Under
	cloaked := j.w.kind == "cloak"
	switch {
	case lacks <= spare && j.w.category == show.Trousers:
		j.along("legs down", length, by)
	case lacks <= spare:
		j.along("hem down", length, by)
	case (skirted || cloaked) && lacks <= spare+250*mm:
		j.along("hem band", length, max(win.Goal-j.g.Length.Hi, lacks))
	case (j.w.category == show.Bodice || j.w.category == show.Jacket && win.From == "nape") && lacks <= 80*mm:
		j.along("basque", length, lacks)
	case lacks <= win.Doubt:
		j.doubtful(win, lacks)
	default:
		j.against(ruleShort, why.Of("garment", j.ref()), why.Of("short", lacks), why.Of("give", spare))
	}
}

// shorter takes a hem up by so much that it stands where it is wanted.
func (j *job) shorter(win *Window, by units.Length) {
	gathered := j.closes("elastic", "tie") && j.w.category != show.Jacket
	limit := units.Length(0)
	switch c := j.w.category; {
	case c == show.Trousers && (by <= 100*mm || !j.g.MayCut):
		limit = 100 * mm
		if by <= limit {
			j.along("legs up", length, -by)
		}
	case c == show.Trousers:
		limit = by
		j.along("legs off", length, -by)
	case c == show.Bodice || c == show.Jacket && (j.w.lengthTo == "waist" || j.w.lengthTo == "hip"):
		limit = 30 * mm
		if by <= limit {
			j.along("body up", length, -by)
		}
	case by <= 75*mm || gathered && by <= 200*mm || c == show.Shirt && by <= 80*mm:
		limit = by
		j.along("hem up", length, -by)
	default:
		limit = 250 * mm
		if by <= limit {
			j.along("cut and hem", length, -by)
		}
	}
	if by > limit {
		j.against(ruleLong, why.Of("garment", j.ref()), why.Of("over", by), why.Of("limit", limit))
	}
}

// heads judges a hat.
func (j *job) heads() {
	win := &j.w.windows[head]
	if !win.on {
		return
	}
	s := j.g.Head
	if !s.Known {
		j.unmeasured(win.Where)
		return
	}
	if !j.knows(win) {
		return
	}
	j.rests(win)
	j.final[head] = s
	facts := []why.Fact{why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Sits)}
	lacks, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
	switch {
	case lacks > win.Doubt || over > 30*mm+win.Doubt:
		j.against(ruleHead, facts...)
	case lacks > 0:
		j.doubtful(win, lacks)
	case over > 0:
		j.say(ruleHead, why.Work, facts...)
		if j.do("pad", win.Where, over, false) {
			j.final[head] = s.Add(-over)
		}
	default:
		j.say(ruleHead, why.Yes, facts...)
	}
}
