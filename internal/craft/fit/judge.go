package fit

import (
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleKind       = why.Declare("fit.kind", "{garment} is another kind of thing than {piece} asks.", why.Common)
	ruleStyle      = why.Declare("fit.style", "{garment} is cut as a {is}, and this is a {wants}: it will be seen.", why.Common)
	ruleTooMuch    = why.Declare("fit.remake", "{garment} would want {count} alterations: that is a remake.", why.House)
	ruleSits       = why.Declare("fit.sits", "{where}: {has}, wants {wants}.", easeBasis)
	ruleSitsHouse  = why.Declare("fit.sits.house", "{where}: {has}, wants {wants}.", why.House)
	ruleLeastHouse = why.Declare("fit.sits.least.house", "{where}: {has}, wants {least} or more.", why.House)
	ruleLeast      = why.Declare("fit.sits.least", "{where}: {has}, wants {least} or more.", easeBasis)
	ruleNarrow     = why.Declare("fit.narrow", "{garment} lacks {short} at the {where}; {give} can be given.", limitsBasis)
	ruleWide       = why.Declare("fit.wide", "{garment} is {over} too wide at the {where}; {limit} is the limit.", limitsBasis)
	ruleLong       = why.Declare("fit.long", "{garment} is {over} too long; {limit} is the limit.", limitsBasis)
	ruleShort      = why.Declare("fit.short", "{garment} lacks {short} in the length; {give} can be given.", limitsBasis)
	ruleHem        = why.Declare("fit.hem", "length from the {from}: {has}, wants {wants}.", hemBasis)
	ruleGrow       = why.Declare("fit.grow", "The hem may want {more} more by the opening: leave it in.", growthBasis)
	ruleShoulders  = why.Declare("fit.shoulders", "{garment} has {has} across the shoulders, wants {wants}; shoulders cannot be moved.", limitsBasis)
	ruleSleeve     = why.Declare("fit.sleeve", "sleeve: {has}, wants {wants}.", why.House)
	ruleCovered    = why.Declare("fit.covered", "{garment} leaves the arms bare; here they are covered.", why.Common)
	ruleHead       = why.Declare("fit.head", "{garment} has {has} round the head, wants {wants}.", why.House)
	ruleDo         = why.Declare("fit.do", "{do}, {minutes}.", why.House)
	ruleAlter      = why.Declare("fit.alter", "{do}: {by} at the {where}, {minutes}.", why.House)
	ruleShared     = why.Declare("fit.shared", "Two who wear it lie {apart} apart at the {where}.", why.Exact)
	ruleNoCut      = why.Declare("fit.nocut", "{garment} may not be cut, so nothing is done to it that cannot be undone.", why.Common)
	ruleUnknown    = why.Declare("fit.unknown", "The {measure} of {who} is not known.", why.Exact)
	rulePencil     = why.Declare("fit.pencil", "The {measure} of {who} is in pencil, from {from}.", bodyBasis)
	ruleGuess      = why.Declare("fit.guess", "The {measure} of {who} is in pencil, from {from}.", why.House)
	ruleUnmeasured = why.Declare("fit.unmeasured", "Nobody has measured the {where} of {garment}.", why.Exact)
	ruleSupport    = why.Declare("fit.support", "{garment} has {has} at the hip, and over what holds the skirt out it wants {wants}: it presses that flat, unless gores are set in.", why.Exact)
	ruleArms       = why.Declare("fit.arms", "{garment} is danced in: lift the arms with it on; a sleeve set low stops them, however wide the chest.", why.Common)
	ruleCollars    = why.Declare("fit.collars", "{garment} lies collar over collar in a look: try both on together.", why.Common)
	ruleTight      = why.Declare("fit.doubt", "{garment} may lack up to {short} at the {where}: the {where} wants a tape first.", why.Exact)
)

// job is one garment held against one wearing. A quiet one only sums up; a
// loud one gives its reasons.
type job struct {
	w       *Wearing
	x       *Hung
	loud    bool
	fit     answer.Fit
	final   [places]units.Span // what the garment measures after the work
	hem     units.Length
	needs   [places]need
	lacking int // of needs
	steps   [mostTried + 4]step
	done    int // of steps
	look    int
	no      bool
	unknown bool
	pencil  bool
}

// Sum is a judgement in numbers. The zero value is an unknown.
type Sum struct {
	Grade   why.Grade
	Minutes units.Minutes
	Look    int
	Comfort units.Span
}

// Weigh says in numbers what Judge says with its reasons, and allocates
// nothing.
func Weigh(w *Wearing, x *Hung) Sum {
	j := job{w: w, x: x}
	j.run()
	s := Sum{Grade: j.grade(), Look: min(j.look, 100), Comfort: j.comfort()}
	if s.Grade > why.No {
		for i := range j.steps[:j.done] {
			s.Minutes += j.steps[i].minutes
		}
		if j.done > 0 {
			s.Minutes += j.minutes(w.fig.press.at, 0)
		}
	}
	return s
}

// Judge says whether a garment goes for a piece on all who wear it on opening
// night, after what work: the cheapest combination of operations that makes it
// sit, in working order. Grades: Yes as it is; Work with the alterations
// listed; Likely where a measure is in pencil (alterations may be listed);
// Unknown where a measure is missing, with the questions that would settle
// it; No with the reasons.
func Judge(w Wearing, g show.Garment) answer.Fit {
	x := Hang(&g)
	j := job{w: &w, x: &x, loud: true}
	j.fit.Piece, j.fit.Garment = w.Piece, g.ID
	j.run()
	return j.told()
}

// run holds the garment against every window and chooses the work.
func (j *job) run() {
	if j.x.g.Category != j.w.category || j.w.kind != j.x.kind {
		j.no = true
		if j.loud {
			j.say(ruleKind, why.No, why.Of("garment", j.ref()), why.Of("piece", why.Ref{Kind: "piece", Code: string(j.w.Piece)}))
		}
		return
	}
	if j.w.style != "" && j.w.style != j.x.style {
		j.look += 20
		if j.loud {
			j.say(ruleStyle, why.Work, why.Of("garment", j.ref()), why.Of("is", j.x.style), why.Of("wants", j.w.style))
		}
	}
	j.hem = j.x.hemRound()
	j.girths()
	j.shoulders()
	j.sleeves()
	j.length()
	j.heads()
	if j.lacking > 0 && !j.no {
		j.choose()
	}
	if !j.no && !j.unknown && j.done > mostOps {
		j.tooMuch(j.done)
	}
}

func (j *job) ref() why.Ref { return why.Ref{Kind: "garment", Code: string(j.x.g.ID)} }

// say notes a reason. Only a loud job may call it: the facts cost memory.
func (j *job) say(r why.Rule, g why.Grade, facts ...why.Fact) {
	j.fit.Verdict.Reasons = append(j.fit.Verdict.Reasons, r.Because(g, facts...))
}

func (j *job) want(n need) {
	j.needs[j.lacking] = n
	j.lacking++
}

// add plans an operation the judging itself calls for.
func (j *job) add(o *Operation, pl place, by units.Length) {
	if !j.x.g.MayCut && o.Undo != "yes" {
		j.refuseCutting()
		return
	}
	s := step{op: o, minutes: j.minutes(o.at, j.hem)}
	s.by[pl] = by
	j.steps[j.done] = s
	j.done++
	j.look += o.look
}

// choose finds the cheapest work that makes the garment sit, or says why none
// does.
func (j *job) choose() {
	needs := j.needs[:j.lacking]
	borrowed := !j.x.g.MayCut
	h := j.hunt(needs, borrowed)
	switch {
	case h.cheapest(mostOps):
		j.take(&h)
		return
	case h.cheapest(mostTried):
		j.tooMuch(h.n)
		return
	case j.waitsForTape(needs, borrowed):
		return
	}
	j.no = true
	if !j.loud {
		return
	}
	if borrowed {
		if free := j.hunt(needs, false); free.cheapest(mostTried) {
			j.refuseCutting()
			return
		}
	}
	for i := range needs {
		if most := h.furthest(&needs[i]); most < needs[i].least.Abs() {
			j.refuse(needs[i], most)
		}
	}
}

// take puts the work found into working order: girths before sleeves, sleeves
// before the hem, and in the order of the table.
func (j *job) take(h *hunt) {
	steps := h.deal()
	for pl := chest; pl < places; pl++ {
		for i := range steps[:h.n] {
			if s := &steps[i]; s.op != nil && s.by[pl] != 0 {
				j.steps[j.done] = *s
				j.done++
				j.look += s.op.look
				for q := pl; q < places; q++ {
					j.final[q] = changed(j.final[q], q, s.by[q])
				}
				s.op = nil
			}
		}
	}
}

// changed is a measure after an operation: a length moves as a whole, a girth
// gets more room at its open end or is taken in at both.
func changed(s units.Span, pl place, by units.Length) units.Span {
	switch {
	case by == 0 || !s.Known:
		return s
	case pl >= sleeve:
		return s.Add(by)
	case by > 0:
		s.Hi += by
		return s
	}
	return units.Between(s.Lo+by, max(s.Hi+by, s.Lo+by))
}

// waitsForTape says whether what lacks may only be the pencil: then a tape
// comes before any work.
func (j *job) waitsForTape(needs []need, borrowed bool) bool {
	var sure [places]need
	n := 0
	doubt := false
	for _, x := range needs {
		if x.guess {
			doubt = true
			continue
		}
		sure[n] = x
		n++
	}
	if !doubt {
		return false
	}
	if h := j.hunt(sure[:n], borrowed); !h.cheapest(mostOps) {
		return false
	}
	for _, x := range needs {
		if x.guess {
			j.doubtful(j.window(x.pl), x.least)
		}
	}
	return true
}

// window is the window a need came from.
func (j *job) window(pl place) *Window {
	win := &j.w.windows[pl]
	if g := j.x.g; pl == length && g.LengthFrom != "" && g.LengthFrom != win.From && g.LengthFrom == j.w.other.From {
		win = &j.w.other
	}
	return win
}

func (j *job) refuseCutting() {
	j.no = true
	if j.loud {
		j.say(ruleNoCut, why.No, why.Of("garment", j.ref()))
	}
}

func (j *job) tooMuch(n int) {
	j.no = true
	if j.loud {
		j.say(ruleTooMuch, why.No, why.Of("garment", j.ref()), why.Of("count", n))
	}
}

// refuse says what cannot be had, and how far the work would go.
func (j *job) refuse(n need, most units.Length) {
	garment, where := why.Of("garment", j.ref()), why.Of("where", placeNames[n.pl])
	switch {
	case n.pl == length && n.least > 0:
		j.say(ruleShort, why.No, garment, why.Of("short", n.least), why.Of("give", most))
	case n.pl == length:
		j.say(ruleLong, why.No, garment, why.Of("over", n.want.Abs()), why.Of("limit", most))
	case n.least > 0:
		j.say(ruleNarrow, why.No, garment, why.Of("short", n.least), where, why.Of("give", most))
	default:
		j.say(ruleWide, why.No, garment, why.Of("over", n.want.Abs()), where, why.Of("limit", most))
	}
}

// knows notes what a window needs to know; false where a measure is missing.
func (j *job) knows(win *Window) bool {
	if len(win.Needs) == 0 {
		return true
	}
	j.unknown = true
	if !j.loud {
		return false
	}
	for _, q := range win.Needs {
		if !slices.Contains(j.fit.Settles, q) {
			j.fit.Settles = append(j.fit.Settles, q)
			j.say(ruleUnknown, why.Unknown, why.Of("measure", q.Measure.String()), why.Of("who", performer(q.Performer)))
		}
	}
	return false
}

func performer(id show.PerformerID) why.Ref { return why.Ref{Kind: "performer", Code: string(id)} }

// rests notes the pencil a window rests on.
func (j *job) rests(win *Window) {
	if !win.Pencil {
		return
	}
	j.pencil = true
	if !j.loud {
		return
	}
	for _, g := range win.guess {
		rule := ruleGuess
		if g.survey {
			rule = rulePencil
		}
		j.say(rule, why.Likely, why.Of("measure", g.kind.String()), why.Of("who", performer(g.who)), why.Of("from", g.from))
	}
}

// doubtful asks for the pencil measures of a window.
func (j *job) doubtful(win *Window, short units.Length) {
	j.unknown = true
	if !j.loud {
		return
	}
	for _, g := range win.guess {
		j.fit.Settles = append(j.fit.Settles, answer.Question{Performer: g.who, Measure: g.kind})
	}
	j.say(ruleTight, why.Unknown, why.Of("garment", j.ref()), why.Of("short", short+win.Doubt), why.Of("where", win.Where))
}

// unmeasured notes that the garment itself lacks a measure that decides.
func (j *job) unmeasured(where string) {
	j.unknown = true
	if j.loud {
		j.say(ruleUnmeasured, why.Unknown, why.Of("where", where), why.Of("garment", j.ref()))
	}
}

func (j *job) grade() why.Grade {
	switch {
	case j.no:
		return why.No
	case j.unknown:
		return why.Unknown
	case j.pencil:
		return why.Likely
	case j.done > 0:
		return why.Work
	}
	return why.Yes
}

// told is the judgement with its reasons and its work.
func (j *job) told() answer.Fit {
	f := &j.fit
	f.Verdict.Grade = j.grade()
	f.Look, f.Comfort = min(j.look, 100), j.comfort()
	if f.Verdict.Grade > why.No {
		for i := range j.steps[:j.done] {
			j.tellStep(&j.steps[i])
		}
		if j.done > 0 {
			j.tellStep(&step{op: j.w.fig.press, minutes: j.minutes(j.w.fig.press.at, 0)})
		}
		j.grows()
		j.tryOn()
	}
	if j.no {
		f.Settles = nil
	}
	return *f
}

// minutes of an operation on the garment, as far as logged work has corrected
// the table.
func (j *job) minutes(op int, hem units.Length) units.Minutes {
	m := j.w.fig.ops[op].minutes(j.x.lined, hem)
	if j.w.lessons != nil && j.w.lessons[op].n > 0 {
		m = m.Times(int64(j.w.lessons[op].share), 100)
	}
	return m
}

// tryOn says what no number tells and the mirror does.
func (j *job) tryOn() {
	if j.w.danced && j.x.g.Sleeve.Known && j.w.class == "fitted" {
		j.say(ruleArms, why.Work, why.Of("garment", j.ref()))
	}
	if j.w.collars {
		j.say(ruleCollars, why.Work, why.Of("garment", j.ref()))
	}
}

// tellStep lists an operation at each place it serves; its minutes count once.
func (j *job) tellStep(s *step) {
	minutes, any := s.minutes, false
	if l := j.w.lessons; l != nil && l[s.op.at].n > 0 {
		x := l[s.op.at]
		j.say(ruleLearned, why.Work, why.Of("do", s.op.Says), why.Of("measured", x.measured), why.Of("n", x.n), why.Of("share", x.share))
	}
	for pl := chest; pl < places; pl++ {
		if by := s.by[pl].Abs(); by != 0 {
			j.alteration(s.op, placeNames[pl], by, minutes)
			minutes, any = 0, true
		}
	}
	if !any {
		j.alteration(s.op, "all over", 0, minutes)
	}
}

func (j *job) alteration(o *Operation, where string, by units.Length, m units.Minutes) {
	j.fit.Alterations = append(j.fit.Alterations, answer.Alteration{Op: o.Says, Where: where, By: by, Minutes: m, Skill: o.Skill, Undo: o.Undo, Seen: o.Seen})
	if by == 0 {
		j.say(ruleDo, why.Work, why.Of("do", o.Says), why.Of("minutes", m))
		return
	}
	j.say(ruleAlter, why.Work, why.Of("do", o.Says), why.Of("by", by), why.Of("where", where), why.Of("minutes", m))
}

// comfort is the ease left on opening night where it is least.
func (j *job) comfort() units.Span {
	var least units.Span
	for pl := chest; pl <= hip; pl++ {
		win := &j.w.windows[pl]
		if !win.on || !win.Sits.Known || !j.final[pl].Known || pl == hip && j.w.support > 0 {
			continue
		}
		left := j.final[pl].Hi - win.Sits.Lo + win.ease
		more := j.w.rounder[pl]
		if span := units.Between(left-win.Doubt-more.Hi, left+win.Doubt-more.Lo); !least.Known || span.Lo < least.Lo {
			least = span
		}
	}
	return least
}
