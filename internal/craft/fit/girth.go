package fit

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// must says which girths of the garment have to be known.
func (j *job) must(pl place) bool {
	switch j.w.category {
	case show.Skirt, show.Trousers:
		return pl == waist
	case show.Dress, show.Shirt, show.Bodice, show.Jacket:
		return pl == chest
	case show.Under:
		return pl == chest && (j.w.kind == "shift" || j.w.kind == "stays") || pl == waist && j.w.kind != "shift"
	}
	return false
}

// has is what the garment measures at a girth, from closed to stretched, tied
// or laced right out.
func (j *job) has(pl place) units.Span {
	s := [3]units.Span{j.g.Chest, j.g.Waist, j.g.Hip}[pl]
	if !s.Known {
		return s
	}
	if j.closes("lacing") && pl != hip {
		s.Hi += j.g.LetOut.Or(0)
	}
	if j.g.Stretch != "" && j.g.Stretch != "none" {
		s.Hi = max(s.Hi, s.Lo+s.Lo/10)
	}
	return s
}

// gap is what is wrong at one girth.
type gap struct {
	pl          place
	short, wide units.Length // only one above 0
}

// girths judges chest, waist and hip together, because one seam serves all.
func (j *job) girths() {
	var narrow, wide []gap
	for pl := chest; pl <= hip; pl++ {
		win := &j.w.windows[pl]
		if !win.on {
			continue
		}
		s := j.has(pl)
		if !s.Known {
			if j.must(pl) {
				j.unmeasured(win.Where)
			}
			continue
		}
		if !j.knows(win) {
			continue
		}
		if pl == hip && j.overSupport(win, s) {
			continue
		}
		j.rests(win)
		j.final[pl] = s
		j.tell(win, s)
		short, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
		if pl == waist && j.closes("elastic") && s.Lo < s.Hi {
			short = max(short, j.passes()-s.Hi)
		}
		switch {
		case short > 0:
			narrow = append(narrow, gap{pl: pl, short: short})
		case !win.Open && over > win.Doubt:
			wide = append(wide, gap{pl: pl, wide: over})
		}
		if win.Apart > 0 {
			j.apart(pl, win, s)
		}
	}
	if len(narrow) > 0 {
		j.widen(narrow)
	}
	if len(wide) > 0 {
		j.narrow(wide)
	}
}

// tell says the garment's number against the window.
func (j *job) tell(win *Window, s units.Span) {
	grade := why.Yes
	if s.Hi < win.Sits.Lo || !win.Open && s.Lo > win.Sits.Hi {
		grade = why.Work
	}
	sits, least := ruleSits, ruleLeast
	if !j.w.printed {
		sits, least = ruleSitsHouse, ruleLeastHouse
	}
	if win.Open {
		j.say(least, grade, why.Of("where", win.Where), why.Of("has", s), why.Of("least", win.Sits.Lo))
		return
	}
	j.say(sits, grade, why.Of("where", win.Where), why.Of("has", s), why.Of("wants", win.Sits))
}

// passes is what an elastic waist has to stretch to, to be put on: over the
// hip, or over the head and chest where that is less.
func (j *job) passes() units.Length {
	h, w := j.w.windows[hip], j.w.windows[waist]
	if !h.on || !h.Sits.Known || !w.Sits.Known {
		return 0
	}
	return min(h.Sits.Lo-h.ease, w.Sits.Lo-w.ease+180*mm) - h.Doubt
}

// overSupport judges the hip where a roll or hoops lie underneath. A full
// gown presses them flat rather than not go at all; a skirt made to stand out
// must clear them.
func (j *job) overSupport(win *Window, s units.Span) bool {
	if j.w.support == 0 || !win.Sits.Known {
		return false
	}
	if s.Hi >= win.Goal {
		return true
	}
	facts := []why.Fact{why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Goal)}
	if s.Hi >= win.Sits.Lo-j.g.LetOut.Or(0) {
		j.fit.Look += 12
		j.say(ruleSupport, why.Work, facts...)
		return s.Hi >= win.Sits.Lo
	}
	j.against(ruleSupport, facts...)
	return true
}

// apart deals with two wearers too far apart for one girth: a range, a cord,
// elastic, or a looser look on the one.
func (j *job) apart(pl place, win *Window, s units.Span) {
	a := win.Apart
	j.say(ruleShared, why.Work, why.Of("apart", a), why.Of("where", win.Where))
	switch {
	case s.Hi-s.Lo >= a:
	case pl == waist && a <= 120*mm:
		j.do("elastic", win.Where, a, false)
	case pl == hip:
		j.fit.Look += int(a / units.Centimetre)
	case j.w.class != "fitted" && a <= 120*mm:
		j.fit.Look += 2 * int(a/units.Centimetre)
	case pl == chest && a <= 60*mm:
		j.do("draw in", win.Where, a, false)
	default:
		j.against(ruleWide, why.Of("garment", j.ref()), why.Of("over", a), why.Of("where", win.Where), why.Of("limit", 60*mm))
	}
}

// widen finds the least work that gives what is missing.
func (j *job) widen(gaps []gap) {
	worst := gaps[0]
	for _, g := range gaps {
		if g.short > worst.short {
			worst = g
		}
	}
	spare := j.g.LetOut.Or(0)
	if j.closes("lacing") && worst.pl != hip {
		spare = 0
	}
	seam := "sides out"
	if j.w.category == show.Trousers {
		seam = "back out"
	}
	onlyWaist := len(gaps) == 1 && worst.pl == waist
	banded := j.w.category == show.Skirt || j.w.category == show.Trousers
	switch short := worst.short; {
	case j.closes("elastic", "tie") && onlyWaist && short <= 300*mm && j.w.category != show.Trousers:
		j.give("regather", gaps, short)
	case j.closes("hook", "button") && short <= 20*mm && worst.pl != hip:
		j.give("hooks out", gaps, short)
	case short <= spare && (j.g.MayCut || !banded):
		j.give(seam, gaps, short)
	case onlyWaist && banded && short <= 80*mm:
		j.give("tab", gaps, short)
	case short <= j.w.windows[worst.pl].Doubt:
		j.doubtful(&j.w.windows[worst.pl], short) // nothing is set in on a guess
	case worst.pl == chest && short-spare <= 80*mm && (j.w.category == show.Shirt || j.w.category == show.Bodice) && len(gaps) == 1:
		j.give("gussets", gaps, short)
	case short <= spare+80*mm && j.w.class != "loose" && j.w.category != show.Shirt && j.w.category != show.Under:
		j.give("panels", gaps, short)
	default:
		j.against(ruleNarrow, why.Of("garment", j.ref()), why.Of("short", worst.short), why.Of("where", placeNames[worst.pl]), why.Of("give", spare))
	}
}

// give plans a widening over every place that lacks something.
func (j *job) give(name string, gaps []gap, worst units.Length) {
	for i, g := range gaps {
		if !j.do(name, placeNames[g.pl], g.short, i > 0) {
			return
		}
		j.final[g.pl].Hi += g.short
	}
}

// narrow takes in what is too wide, within the limit.
func (j *job) narrow(gaps []gap) {
	name, limit := "sides in", takesIn(j.w.category, j.lined)
	switch j.w.category {
	case show.Shirt:
		name = "sleeve in"
	case show.Trousers:
		name = "back in"
	}
	worst := units.Length(0)
	by := make([]units.Length, len(gaps))
	for i, g := range gaps {
		by[i] = g.wide
		if win := &j.w.windows[g.pl]; j.w.class == "fitted" && win.Apart == 0 {
			by[i] = j.has(g.pl).Lo - win.Goal
		}
		worst = max(worst, by[i])
	}
	onlyWaist := len(gaps) == 1 && gaps[0].pl == waist
	switch {
	case onlyWaist && j.closes("elastic"):
		name, limit = "new elastic", 300*mm
	case onlyWaist && j.w.kind == "waistcoat" && worst <= 80*mm:
		name = "strap"
	case j.closes("hook", "button") && worst <= 30*mm && j.w.category != show.Shirt:
		name = "hooks in"
	case onlyWaist && worst > limit && worst <= 120*mm && j.w.class != "fitted":
		name, limit = "elastic", 120*mm
	}
	for i, g := range gaps {
		if by[i] > limit {
			j.against(ruleWide, why.Of("garment", j.ref()), why.Of("over", by[i]), why.Of("where", placeNames[g.pl]), why.Of("limit", limit))
			continue
		}
		if !j.no && j.do(name, placeNames[g.pl], by[i], i > 0) {
			j.final[g.pl] = units.Between(j.final[g.pl].Lo-by[i], max(j.final[g.pl].Hi-by[i], j.final[g.pl].Lo-by[i]))
		}
	}
}
