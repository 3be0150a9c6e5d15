package fit

import (
	"strings"

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
	ruleTight      = why.Declare("fit.doubt", "{garment} may lack up to {short} at the {where}: the {where} wants a tape first.", why.Exact)
)

// job is one garment held against one wearing.
type job struct {
	w       *Wearing
	g       *show.Garment
	fit     answer.Fit
	final   [places]units.Span // what the garment measures after the work
	no      bool
	unknown bool
	pencil  bool
	lined   bool
}

// Judge says whether a garment goes for a piece on all who wear it on opening
// night, after what work. Grades: Yes as it is; Work with the alterations
// listed; Likely where a measure is in pencil (alterations may be listed);
// Unknown where a measure is missing, with the questions that would settle
// it; No with the reasons.
func Judge(w Wearing, g show.Garment) answer.Fit {
	j := job{w: &w, g: &g, lined: g.Lined == "yes"}
	j.fit.Piece, j.fit.Garment = w.Piece, g.ID
	if g.Category != w.category || w.kind != kindOf(g.Category, g.Name) {
		j.against(ruleKind, why.Of("garment", j.ref()), why.Of("piece", why.Ref{Kind: "piece", Code: string(w.Piece)}))
		j.fit.Verdict.Grade = why.No
		return j.fit
	}
	if w.style != "" && w.style != styleOf(g.Name) {
		j.fit.Look += 20
		j.say(ruleStyle, why.Work, why.Of("garment", j.ref()), why.Of("is", styleOf(g.Name)), why.Of("wants", w.style))
	}
	j.girths()
	j.shoulders()
	j.sleeves()
	j.length()
	j.heads()
	return j.verdict()
}

func (j *job) ref() why.Ref { return why.Ref{Kind: "garment", Code: string(j.g.ID)} }

func (j *job) say(r why.Rule, g why.Grade, facts ...why.Fact) {
	j.fit.Verdict.Reasons = append(j.fit.Verdict.Reasons, r.Because(g, facts...))
}

// against notes a reason that rules the garment out.
func (j *job) against(r why.Rule, facts ...why.Fact) {
	j.no = true
	j.say(r, why.No, facts...)
}

// do plans an operation; false where the garment may not be cut and it could
// not be undone. Shared says that the same operation is planned elsewhere and
// its minutes are counted there.
func (j *job) do(name string, where string, by units.Length, shared bool) bool {
	o := ops[name]
	if !j.g.MayCut && o.undo != "yes" {
		j.against(ruleNoCut, why.Of("garment", j.ref()))
		return false
	}
	m := o.plain
	if j.lined {
		m = o.lined
	}
	if o.perMetre > 0 {
		m += units.Minutes((int64(o.perMetre)*int64(j.hemRound()) + int64(units.Metre)/2) / int64(units.Metre))
	}
	if shared {
		m = 0
	} else {
		j.fit.Look += o.look
	}
	a := answer.Alteration{Op: o.say, Where: where, By: by, Minutes: m, Skill: o.skill, Undo: o.undo, Seen: o.seen}
	j.fit.Alterations = append(j.fit.Alterations, a)
	if by == 0 {
		j.say(ruleDo, why.Work, why.Of("do", a.Op), why.Of("minutes", m))
		return true
	}
	j.say(ruleAlter, why.Work, why.Of("do", a.Op), why.Of("by", by), why.Of("where", where), why.Of("minutes", m))
	return true
}

// hemRound is the hem's girth, or a house guess from the widest girth known.
func (j *job) hemRound() units.Length {
	if j.g.HemRound.Known {
		return j.g.HemRound.Mid()
	}
	widest := max(j.g.Chest.Lo, j.g.Waist.Lo, j.g.Hip.Lo)
	if widest == 0 {
		return 2 * units.Metre
	}
	return widest + widest/3
}

// lacks notes what a window needs to know; false where a measure is missing.
func (j *job) knows(win *Window) bool {
	if len(win.Needs) == 0 {
		return true
	}
	j.unknown = true
	for _, q := range win.Needs {
		seen := false
		for _, s := range j.fit.Settles {
			seen = seen || s == q
		}
		if !seen {
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
	for _, g := range win.guess {
		j.fit.Settles = append(j.fit.Settles, answer.Question{Performer: g.who, Measure: g.kind})
	}
	j.say(ruleTight, why.Unknown, why.Of("garment", j.ref()), why.Of("short", short+win.Doubt), why.Of("where", win.Where))
}

// unmeasured notes that the garment itself lacks a measure that decides.
func (j *job) unmeasured(where string) {
	j.unknown = true
	j.say(ruleUnmeasured, why.Unknown, why.Of("where", where), why.Of("garment", j.ref()))
}

func (j *job) closes(words ...string) bool {
	for _, w := range words {
		if strings.Contains(j.g.Closure, w) {
			return true
		}
	}
	return false
}

// verdict adds up.
func (j *job) verdict() answer.Fit {
	f := &j.fit
	if n := j.operations(); n > mostOps && !j.no {
		j.against(ruleTooMuch, why.Of("garment", j.ref()), why.Of("count", n))
	}
	j.comfort()
	f.Look = min(f.Look, 100)
	if j.no || j.unknown {
		f.Alterations = nil
	} else if len(f.Alterations) > 0 {
		j.do("press", "all over", 0, false)
	}
	switch {
	case j.no:
		f.Verdict.Grade, f.Settles = why.No, nil
	case j.unknown:
		f.Verdict.Grade = why.Unknown
	case j.pencil:
		f.Verdict.Grade = why.Likely
	case len(f.Alterations) > 0:
		f.Verdict.Grade = why.Work
	default:
		f.Verdict.Grade = why.Yes
	}
	return *f
}

// mostOps is how many different operations are still an alteration.
const mostOps = 3

func (j *job) operations() int {
	n := 0
	for _, a := range j.fit.Alterations {
		if a.Minutes > 0 {
			n++
		}
	}
	return n
}

// comfort is the ease left where it is least.
func (j *job) comfort() {
	for pl := chest; pl <= hip; pl++ {
		win := &j.w.windows[pl]
		if !win.on || !win.Sits.Known || !j.final[pl].Known || pl == hip && j.w.support > 0 {
			continue
		}
		left := j.final[pl].Hi - win.Sits.Lo + win.ease
		span := units.Between(left-win.Doubt, left+win.Doubt)
		if !j.fit.Comfort.Known || span.Lo < j.fit.Comfort.Lo {
			j.fit.Comfort = span
		}
	}
}
