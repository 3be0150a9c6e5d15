package fit

import (
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var ruleWrong = why.Declare("fit.check", "The fit of {garment} for {piece} does not add up: {what}.", why.Exact)

// Check redoes the sums of an accepted fit: every alteration is one we know
// and allowed on the garment, seams give no more than they hold, and after
// the work every measure lies in its window. It lists what is wrong and
// shares nothing with Judge but the windows.
func Check(w Wearing, g show.Garment, f answer.Fit) []why.Reason {
	var bad []why.Reason
	wrong := func(what string) {
		bad = append(bad, ruleWrong.Because(why.No, why.Of("garment", why.Ref{Kind: "garment", Code: string(g.ID)}),
			why.Of("piece", why.Ref{Kind: "piece", Code: string(w.Piece)}), why.Of("what", what)))
	}
	if f.Verdict.Grade < why.Work {
		if len(f.Alterations) > 0 {
			wrong("work is planned on a garment that does not go")
		}
		return bad
	}
	if f.Verdict.Grade == why.Yes && len(f.Alterations) > 0 {
		wrong("it goes as it is and yet work is planned")
	}
	size := map[string]units.Span{"chest": g.Chest, "waist": g.Waist, "hip": g.Hip, "sleeve": g.Sleeve, "length": g.Length, "head": g.Head, "shoulders": g.Shoulders}
	ranged := map[string]bool{}
	for _, a := range f.Alterations {
		o := w.fig.named(a.Op, a.Where)
		if o == nil || a.By < 0 {
			wrong("an alteration nobody knows: " + a.Op)
			continue
		}
		if !g.MayCut && o.Undo != "yes" {
			wrong(a.Op + " cannot be undone")
		}
		if strings.HasSuffix(o.Needs, "seams hold") && a.By > g.LetOut.Or(0) || strings.HasSuffix(o.Needs, "seam holds") && a.By > g.LetOut.Or(0) {
			wrong("the seams do not hold so much")
		}
		if strings.Contains(o.Gives, "length+hem") && a.By > g.LetDown.Or(0) {
			wrong("the hem does not hold so much")
		}
		_, _, longer := strings.Cut(o.Gives, a.Where+"+")
		_, _, less := strings.Cut(o.Gives, a.Where+"-")
		by := a.By
		switch s := size[a.Where]; {
		case a.By == 0:
		case o.Key == "sleeves on":
			size[a.Where] = units.Exactly(a.By)
		case o.Gives == "": // right for one wearer, drawn in or up for the other
			ranged[a.Where] = true
		case !longer && !less:
			wrong(a.Op + " does nothing at the " + a.Where)
		default:
			if less {
				by = -by
			}
			if a.Where == "length" || a.Where == "sleeve" || a.Where == "head" {
				size[a.Where] = s.Add(by)
			} else if s.Known {
				size[a.Where] = pulled(s, by)
			}
		}
	}
	for _, win := range w.Finished {
		s := size[win.Where]
		if !s.Known || win.Where == "sleeve" && w.shortSleeve(s) {
			continue
		}
		if ends := freely(w, g, win.Where, s); outside(w, g, win, ends, ranged[win.Where]) {
			wrong("the " + win.Where + " lies outside its window")
		}
	}
	return bad
}

// named finds an operation by what it says, the one that does something at a
// place before others.
func (f *figures) named(says, where string) *Operation {
	var found *Operation
	for i := range f.ops {
		if o := &f.ops[i]; o.Says == says && (found == nil || strings.Contains(o.Gives, where)) {
			found = o
		}
	}
	return found
}

// pulled widens the open end or takes in both.
func pulled(s units.Span, by units.Length) units.Span {
	if by > 0 {
		return units.Span{Lo: s.Lo, Hi: s.Hi + by, Known: true}
	}
	return units.Span{Lo: s.Lo + by, Hi: max(s.Hi+by, s.Lo+by), Known: true}
}

func (w Wearing) shortSleeve(s units.Span) bool { return !w.covered && s.Hi < w.arm*3/4 }

// freely adds what lacing and stretch give without work.
func freely(w Wearing, g show.Garment, where string, s units.Span) units.Span {
	if where != "chest" && where != "waist" && where != "hip" {
		return s
	}
	laced := len(g.Closure) >= 6 && g.Closure[len(g.Closure)-6:] == "lacing"
	if laced && where != "hip" {
		s.Hi += g.LetOut.Or(0)
	}
	if g.Stretch != "" && g.Stretch != "none" {
		s.Hi = max(s.Hi, s.Lo*11/10)
	}
	return s
}

// outside compares with the window, as far as the pencil reaches.
func outside(w Wearing, g show.Garment, win Window, s units.Span, ranged bool) bool {
	lo, hi := win.Sits.Lo, win.Sits.Hi
	switch win.Where {
	case "length":
		if g.LengthFrom == w.other.From && g.LengthFrom != "" {
			lo, hi = w.other.Sits.Lo, w.other.Sits.Hi
		}
		return s.Hi < lo || s.Lo > hi
	case "shoulders", "sleeve", "head":
		lo, hi = lo-win.Doubt, hi+win.Doubt
		if win.Where == "shoulders" && !g.Sleeve.Known {
			lo, hi = lo-25*mm, hi+25*mm
		}
		return s.Hi < lo || s.Lo > hi
	}
	return s.Hi < lo || !win.Open && !ranged && s.Lo > hi+win.Doubt
}
