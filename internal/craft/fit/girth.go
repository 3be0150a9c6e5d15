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

// measures is what the garment measures at a girth, from closed to stretched,
// tied or laced right out.
func (x *Hung) measures(pl place) units.Span {
	s := [3]units.Span{x.g.Chest, x.g.Waist, x.g.Hip}[pl]
	if !s.Known {
		return s
	}
	if x.laced && pl != hip {
		s.Hi += x.g.LetOut.Or(0)
	}
	if x.has&flag("stretch") != 0 {
		s.Hi = max(s.Hi, s.Lo+s.Lo/10)
	}
	return s
}

// girths holds chest, waist and hip against what is wanted.
func (j *job) girths() {
	for pl := chest; pl <= hip; pl++ {
		win := &j.w.windows[pl]
		if !win.on {
			continue
		}
		s, doubt := j.x.measures(pl), win.Doubt
		if by := j.x.label[pl]; !s.Known && by.Known && j.must(pl) {
			s, doubt = units.Exactly(by.Mid()), doubt+(by.Hi-by.Lo)/2
			j.pencil = true
			if j.loud {
				j.say(ruleLabel, why.Likely, why.Of("where", win.Where), why.Of("garment", j.ref()), why.Of("off", (by.Hi-by.Lo)/2))
			}
		}
		if !s.Known {
			if j.must(pl) {
				j.unmeasured(win.Where)
			}
			continue
		}
		if !j.knows(win) || pl == hip && j.overSupport(win, s) {
			continue
		}
		j.rests(win)
		j.final[pl] = s
		if j.loud {
			j.tell(win, s)
		}
		short, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
		if pl == waist && j.x.has&flag("elastic") != 0 && s.Lo < s.Hi {
			short = max(short, j.passes()-s.Hi)
		}
		switch {
		case short > 0:
			j.want(need{pl: pl, least: short, want: short, guess: short <= doubt})
		case !win.Open && over > doubt:
			in := over
			if j.w.class == "fitted" && win.Apart == 0 {
				in = max(over, s.Lo-win.Goal) // the pattern's own line, not the widest that passes
			}
			j.want(need{pl: pl, least: -in, want: -in})
		}
		if win.Apart > 0 {
			j.apart(pl, win, s)
		}
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
	h, w := &j.w.windows[hip], &j.w.windows[waist]
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
	pressed := s.Hi >= win.Sits.Lo-j.x.g.LetOut.Or(0)
	if j.loud {
		grade := why.Work
		if !pressed {
			grade = why.No
		}
		j.say(ruleSupport, grade, why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Goal))
	}
	if pressed {
		j.look += 12
		return s.Hi >= win.Sits.Lo
	}
	j.no = true
	return true
}

// apart deals with two wearers too far apart for one girth: a range, a cord,
// elastic, or a looser look on the one.
func (j *job) apart(pl place, win *Window, s units.Span) {
	a := win.Apart
	if j.loud {
		j.say(ruleShared, why.Work, why.Of("apart", a), why.Of("where", win.Where))
	}
	switch {
	case s.Hi-s.Lo >= a:
	case pl == waist && a <= 120*mm:
		j.add(j.w.fig.elastic, pl, a)
	case pl == hip:
		j.look += int(a / units.Centimetre)
	case j.w.class != "fitted" && a <= 120*mm:
		j.look += 2 * int(a/units.Centimetre)
	case pl == chest && a <= 60*mm:
		j.add(j.w.fig.drawIn, pl, a)
	default:
		j.no = true
		if j.loud {
			j.say(ruleWide, why.No, why.Of("garment", j.ref()), why.Of("over", a), why.Of("where", win.Where), why.Of("limit", 60*mm))
		}
	}
}
