package running

import (
	"fmt"
	"slices"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// checker reads an answer and the house and nothing else.
type checker struct {
	h   *show.House
	t   answer.Timeline
	bad []why.Reason
	of  map[show.LookID]map[show.PieceID]bool
}

func (k *checker) say(format string, args ...any) {
	k.bad = append(k.bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
}

// checkHelp looks at pieces, duties, the proof of how few suffice, what goes
// without help, and what is worn underneath.
func checkHelp(h *show.House, t answer.Timeline) []why.Reason {
	k := &checker{h: h, t: t}
	for i := range t.Changes {
		k.pieces(&t.Changes[i])
	}
	duty := k.duties()
	k.people()
	for _, s := range t.Dressers.Shown {
		k.shown(s, duty)
	}
	k.alone(duty)
	k.hidden()
	return k.bad
}

// worn lists the pieces of a look.
func (k *checker) worn(l show.LookID) map[show.PieceID]bool {
	if k.of == nil {
		k.of = map[show.LookID]map[show.PieceID]bool{}
		for _, p := range k.h.Pieces {
			for _, look := range p.Looks {
				if k.of[look] == nil {
					k.of[look] = map[show.PieceID]bool{}
				}
				k.of[look][p.ID] = true
			}
		}
	}
	return k.of[l]
}

// pieces: what is in both looks stays, and all the rest comes off or goes on,
// once, and is counted.
func (k *checker) pieces(c *answer.Change) {
	way := k.t.Dressers.Walk
	if c.FromSide == "L" && c.ToSide == "R" || c.FromSide == "R" && c.ToSide == "L" {
		way = k.t.Dressers.Across
	}
	if !c.InView && (c.Wanted.Lo != c.Hands+way+k.t.Dressers.Look && c.Hands > 1 || c.Wanted.Hi < c.Wanted.Lo) {
		k.say("%s %s to %s: %d s of work, %d to %d wanted", c.Performer, c.FromLook, c.ToLook, c.Hands, c.Wanted.Lo, c.Wanted.Hi)
	}
	before, after := k.worn(c.FromLook), k.worn(c.ToLook)
	want := map[string]int{}
	for id := range before {
		if after[id] {
			want["stays "+string(id)]++
		} else {
			want["off "+string(id)]++
			want["step off "+string(id)]++
		}
	}
	for id := range after {
		if !before[id] {
			want["on "+string(id)]++
			want["step on "+string(id)]++
		}
	}
	for _, id := range c.Stays {
		want["stays "+string(id)]--
	}
	for _, id := range c.Off {
		want["off "+string(id)]--
	}
	for _, id := range c.On {
		want["on "+string(id)]--
	}
	for _, s := range c.Steps {
		if s.Piece != "" {
			want["step "+s.Do+" "+string(s.Piece)]--
		}
	}
	for what, n := range want {
		if n != 0 {
			k.say("%s %s to %s: %s, %d too few", c.Performer, c.FromLook, c.ToLook, what, n)
		}
	}
}

// duties: one for each change that wants help, inside its time.
func (k *checker) duties() map[int]answer.Duty {
	duty := map[int]answer.Duty{}
	for _, d := range k.t.Duties {
		c := &k.t.Changes[d.Change]
		if _, twice := duty[d.Change]; twice {
			k.say("%s is dressed twice at %v", c.Performer, c.Leaves)
		}
		duty[d.Change] = d
		takes := int((d.Ends - d.Begins) / time.Second)
		if d.Dresser != "" && (d.Begins < c.Leaves || d.Ends > c.Enters-time.Duration(k.t.Dressers.Look)*time.Second ||
			d.Hands == 1 && takes != c.Hands || d.Hands == 2 && (takes*2 < c.Hands || d.Second == "" || d.Second == d.Dresser)) {
			k.say("the duty for %s at %v does not fit its change", c.Performer, c.Leaves)
		}
	}
	for i, c := range k.t.Changes {
		if _, has := duty[i]; !has && !c.InView && c.Hands > 0 && (c.Seconds < Fast || c.Verdict.Grade != why.Yes) {
			k.say("%s at %v wants help and has no line", c.Performer, c.Leaves)
		}
	}
	return duty
}

// people: those who may, in one place at a time, with time to walk.
func (k *checker) people() {
	by := map[show.HelperID][]answer.Duty{}
	for _, d := range k.t.Duties {
		for _, id := range []show.HelperID{d.Dresser, d.Second} {
			if id == "" {
				continue
			}
			if p := k.h.Helper(id); p == nil || !p.Dresser || p.Chaperone {
				k.say("%s dresses and may not", id)
			}
			if p := k.h.Performer(k.t.Changes[d.Change].Performer); p != nil && slices.Contains(p.NotBy, id) {
				k.say("%s dresses %s and is not to", id, p.ID)
			}
			for _, o := range by[id] {
				gap := time.Duration(k.t.Dressers.Across) * time.Second
				if d.Side == o.Side && d.Side != "" {
					gap = 0
				}
				if d.Begins < o.Ends+gap && o.Begins < d.Ends+gap {
					k.say("%s is in two places at %v", id, max(d.Begins, o.Begins))
				}
			}
			by[id] = append(by[id], d)
		}
	}
}

// window is a side where a change may be done, and the seconds it may lie in.
type window struct {
	side     show.Side
	from, to int
}

func (k *checker) windows(i int) []window {
	c, d := &k.t.Changes[i], &k.t.Dressers
	off, on := int(c.Leaves/time.Second), int(c.Enters/time.Second)-d.Look
	sure := func(s show.Side) bool { return s == "L" || s == "R" }
	switch {
	case !sure(c.FromSide) || !sure(c.ToSide):
		return []window{{"", off + d.Walk/2, on - (d.Walk - d.Walk/2)}}
	case c.FromSide == c.ToSide:
		return []window{{c.FromSide, off + d.Walk/2, on - (d.Walk - d.Walk/2)}}
	}
	far := d.Across - d.Walk/2
	return []window{{c.FromSide, off + d.Walk/2, on - far}, {c.ToSide, off + far, on - d.Walk/2}}
}

// shown reads a proof over: in a clash no two of the changes go one after the
// other; the energy is counted second by second.
func (k *checker) shown(s answer.Shown, duty map[int]answer.Duty) {
	d := &k.t.Dressers
	if s.Needs != d.Bound || d.Bound > d.Least || (d.Proof == solve.Best) != (d.Bound == d.Least) {
		k.say("%d dressers suffice, %d shown, %d the bound", d.Least, s.Needs, d.Bound)
	}
	takes := func(i int) int { return int((duty[i].Ends - duty[i].Begins) / time.Second) }
	hands := 0
	switch s.Kind {
	case "clash":
		for n, a := range s.Changes {
			hands += duty[a].Hands
			for _, b := range s.Changes[:n] {
				if k.follows(a, b, takes(a), takes(b)) || k.follows(b, a, takes(b), takes(a)) {
					k.say("changes %d and %d do not clash", a, b)
				}
			}
		}
		if hands < s.Needs {
			k.say("the clash wants %d dressers, said %d", hands, s.Needs)
		}
	case "energy":
		inside, work := 0, 0
		for _, x := range s.Spans {
			inside += x[1] - x[0]
		}
		for _, i := range s.Changes {
			work += duty[i].Hands * max(0, takes(i)-k.outside(i, s.Spans))
		}
		if work <= (s.Needs-1)*inside {
			k.say("%d s of work in %d s do not want %d dressers", work, inside, s.Needs)
		}
	}
}

func (k *checker) follows(a, b, takesA, takesB int) bool {
	for _, w := range k.windows(a) {
		for _, v := range k.windows(b) {
			gap := k.t.Dressers.Across
			if w.side == v.side && w.side != "" {
				gap = 0
			}
			if w.from+takesA+gap+takesB <= v.to {
				return true
			}
		}
	}
	return false
}

// outside counts the seconds in which a change may be done and that lie in
// none of the spans.
func (k *checker) outside(i int, spans [][2]int) int {
	n := 0
	windows := k.windows(i)
	for s := int(k.t.Changes[i].Leaves / time.Second); s < int(k.t.Changes[i].Enters/time.Second); s++ {
		open := slices.ContainsFunc(windows, func(w window) bool { return w.from <= s && s < w.to })
		shut := slices.ContainsFunc(spans, func(x [2]int) bool { return x[0] <= s && s < x[1] })
		if open && !shut {
			n++
		}
	}
	return n
}

// alone: who has no dresser is listed, and the harm adds up.
func (k *checker) alone(duty map[int]answer.Duty) {
	d := &k.t.Dressers
	harm := 0
	for i, x := range duty {
		if listed := slices.Contains(d.Alone, i) || slices.Contains(d.Hopeless, i); listed != (x.Dresser == "") {
			k.say("change %d without help: listed %v", i, listed)
		}
	}
	for _, i := range d.Alone {
		c := &k.t.Changes[i]
		harm += 1 + 10*max(0, c.Wanted.Hi-c.Seconds)
		for _, r := range c.Verdict.Reasons {
			if r.Rule == ruleYoung.ID {
				harm += 50
			}
		}
	}
	if harm != d.Harm || d.HarmBound > d.Harm {
		k.say("harm %d, said %d, at least %d", harm, d.Harm, d.HarmBound)
	}
	for _, c := range d.Clashes {
		if !slices.ContainsFunc(c.Changes, func(i int) bool { return slices.Contains(d.Alone, i) }) {
			k.say("a set that cannot be served is served: %v", c.Changes)
		}
	}
}

// hidden: what is on underneath is not of that look, belongs to the performer
// just before or after, and no other look shows while it is hidden.
func (k *checker) hidden() {
	for _, x := range k.t.Under.Hidden {
		if k.worn(x.Look)[x.Piece] || x.Verdict.Grade == why.No {
			k.say("%s is worn under %s and may not be", x.Piece, x.Look)
		}
		other, own := false, false
		for _, s := range k.t.Stretches {
			if s.Performer != x.Performer {
				continue
			}
			own = own || k.worn(s.Look)[x.Piece]
			other = other || s.Look != x.Look && s.From >= x.Begins && s.To <= x.Ends
		}
		if other || !own {
			k.say("%s cannot be under %s all that time", x.Piece, x.Look)
		}
	}
	saved := 0
	for i, lo := range k.t.Under.Wanted {
		if c := &k.t.Changes[i]; !c.InView && (c.Seconds < Fast || c.Seconds < c.Wanted.Hi) {
			saved += c.Wanted.Lo - lo
		}
	}
	if saved != k.t.Under.Saves {
		k.say("what is underneath saves %d s, said %d", saved, k.t.Under.Saves)
	}
}
