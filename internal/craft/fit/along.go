package fit

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// shoulders cannot be moved: inside or no.
func (j *job) shoulders() {
	win := &j.w.windows[shoulders]
	s := j.x.g.Shoulders
	if !win.on {
		return
	}
	if !s.Known {
		if j.w.category == show.Jacket && j.w.class == "fitted" {
			j.pencil = true
			if j.loud {
				j.say(ruleUnmeasured, why.Likely, why.Of("where", win.Where), why.Of("garment", j.ref()))
			}
		}
		return
	}
	if !j.knows(win) {
		return
	}
	j.rests(win)
	slack := win.Doubt
	if !j.x.g.Sleeve.Known {
		slack += 25 * mm // no sleeve hangs from it
	}
	grade := why.Yes
	if s.Hi < win.Sits.Lo-slack || s.Lo > win.Sits.Hi+slack {
		grade, j.no = why.No, true
	} else if win.Apart > 0 {
		j.look += 2 * int(win.Apart/units.Centimetre)
	}
	if j.loud {
		j.say(ruleShoulders, grade, why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Sits))
	}
}

// sleeves: a sleeve under three quarters of the arm is a short sleeve and
// goes as it is, unless the arms are to be covered.
func (j *job) sleeves() {
	win := &j.w.windows[sleeve]
	s := j.x.g.Sleeve
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
		if j.loud {
			j.say(ruleCovered, why.Work, why.Of("garment", j.ref()))
		}
		j.add(j.w.fig.sleevesOn, sleeve, win.Goal)
		j.final[sleeve] = units.Exactly(win.Goal)
		return
	}
	j.final[sleeve] = s
	lacks, over := win.Sits.Lo-s.Hi-win.Doubt, s.Lo-win.Sits.Hi-win.Doubt
	switch {
	case lacks > 0:
		j.want(need{pl: sleeve, least: lacks, want: win.Goal - s.Hi})
	case over > 0:
		j.want(need{pl: sleeve, least: -over, want: win.Goal - s.Lo})
	}
	if j.loud {
		grade := why.Yes
		if lacks > 0 || over > 0 {
			grade = why.Work
		}
		j.say(ruleSleeve, grade, why.Of("has", s), why.Of("wants", win.Sits))
	}
}

// length judges the hem.
func (j *job) length() {
	win := &j.w.windows[length]
	g := j.x.g
	if !win.on {
		return
	}
	s := g.Length
	if !s.Known {
		if j.w.category == show.Skirt || j.w.category == show.Dress || j.w.category == show.Trousers {
			j.unmeasured(win.Where)
		}
		return
	}
	if win = j.window(length); !j.knows(win) {
		return
	}
	j.rests(win)
	j.final[length] = s
	lacks, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
	switch {
	case lacks > 0:
		j.want(need{pl: length, least: lacks, want: max(lacks, win.Goal-s.Hi), guess: lacks <= win.Doubt})
	case over > 0:
		j.want(need{pl: length, least: -over, want: win.Goal - s.Lo})
	}
	if j.loud {
		grade := why.Yes
		if lacks > 0 || over > 0 {
			grade = why.Work
		}
		j.say(ruleHem, grade, why.Of("from", win.From), why.Of("has", s), why.Of("wants", win.Sits))
	}
	if win.Apart > 0 {
		j.hemApart(win)
	}
}

// grows says that a hem has to stay in for the growing, where what is left
// over the least is less than that.
func (j *job) grows() {
	win := j.window(length)
	if more := j.w.grows; win.on && win.shoes && more.Known && j.final[length].Known && j.final[length].Hi-win.Sits.Lo < more.Hi {
		j.say(ruleGrow, why.Work, why.Of("more", more))
	}
}

// hemApart: the hem is right for the taller; for the other it is caught up.
func (j *job) hemApart(win *Window) {
	if j.loud {
		j.say(ruleShared, why.Work, why.Of("apart", win.Apart), why.Of("where", win.Where))
	}
	switch {
	case j.w.category == show.Shirt || j.w.category == show.Bodice || j.w.category == show.Under && win.Apart <= 80*mm:
		j.look += int(win.Apart / units.Centimetre)
	case win.Apart <= 200*mm:
		j.add(j.w.fig.loops, length, win.Apart)
	default:
		j.no = true
		if j.loud {
			j.say(ruleLong, why.No, why.Of("garment", j.ref()), why.Of("over", win.Apart), why.Of("limit", 200*mm))
		}
	}
}

// heads judges a hat.
func (j *job) heads() {
	win := &j.w.windows[head]
	if !win.on {
		return
	}
	s := j.x.g.Head
	if !s.Known {
		j.unmeasured(win.Where)
		return
	}
	if !j.knows(win) {
		return
	}
	j.rests(win)
	j.final[head] = s
	lacks, over := win.Sits.Lo-s.Hi, s.Lo-win.Sits.Hi
	grade := why.Yes
	switch {
	case lacks > win.Doubt || over > 30*mm+win.Doubt:
		grade, j.no = why.No, true
	case lacks > 0:
		j.doubtful(win, lacks)
		return
	case over > 0:
		grade = why.Work
		j.want(need{pl: head, least: -min(over, 30*mm), want: -over})
	}
	if j.loud {
		j.say(ruleHead, grade, why.Of("garment", j.ref()), why.Of("has", s), why.Of("wants", win.Sits))
	}
}
