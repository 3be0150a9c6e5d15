package running

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// between lists the changes of a timeline between two scenes.
func between(t answer.Timeline, from, to show.SceneID) (out []int) {
	for i, c := range t.Changes {
		if c.FromScene == from && c.ToScene == to {
			out = append(out, i)
		}
	}
	return out
}

func said(v why.Verdict, r why.Rule) bool {
	return slices.ContainsFunc(v.Reasons, func(x why.Reason) bool { return x.Rule == r.ID })
}

// from: the demo's README, tension 1: ten change in 150 seconds, in two rounds
// with five dressers if the gowns close with a zip; with lacing they do not.
func TestGuildChangeWithZips(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	ten := between(tl, "S11", "S12")
	fast := slices.DeleteFunc(slices.Clone(ten), func(i int) bool { return tl.Changes[i].Seconds >= Fast })
	if len(fast) != 10 {
		t.Fatalf("%d changes, the README has ten", len(fast))
	}
	serve := func(dressers int) (served, []job) {
		c := newClock(&h, "A", shipped.Of(nil))
		changes, _ := c.changes(c.stretches(tl.Starts))
		var d answer.Dressers
		var jobs []job
		for _, j := range c.jobs(changes, &d) {
			if slices.Contains(fast, j.change) {
				jobs = append(jobs, j)
			}
		}
		if len(jobs) != 10 {
			t.Fatalf("%d of the ten fit at all", len(jobs))
		}
		return shipped.Of(nil).cluster(jobs, dressers), jobs
	}
	s, jobs := serve(5)
	if len(s.alone) > 0 || s.least > 5 {
		t.Errorf("with zips %v go without help, %d dressers wanted", s.alone, s.least)
	}
	rounds := map[int]int{}
	for _, p := range s.way {
		rounds[p.first]++
	}
	for k, n := range rounds {
		if n > 2 {
			t.Errorf("dresser %d of five has %d of %d", k, n, len(jobs))
		}
	}
	for i := range h.Pieces {
		if h.Pieces[i].Closure == "back zip" {
			h.Pieces[i].Closure = "back lacing"
		}
	}
	if s, _ := serve(5); len(s.alone) == 0 {
		t.Error("laced gowns go in time with five dressers")
	}
}

// from: tension 2: eight change out of smocks in 105 seconds; the school
// clothes stay on under the smock, collar and ease to be looked at, and the
// hems do.
func TestSchoolClothesUnderSmocks(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	eight := between(tl, "S16", "S17")
	eight = slices.DeleteFunc(eight, func(i int) bool { return tl.Changes[i].Seconds != 105 })
	if len(eight) != 8 {
		t.Fatalf("%d, the README has eight", len(eight))
	}
	for _, i := range eight {
		c := tl.Changes[i]
		if lo, ok := tl.Under.Wanted[i]; !ok || lo >= c.Wanted.Lo {
			t.Errorf("%s: nothing stays on underneath", c.Performer)
		}
		for _, id := range c.On {
			p := h.Piece(id)
			var found *answer.Hidden
			for k := range tl.Under.Hidden {
				if x := &tl.Under.Hidden[k]; x.Piece == id && x.Look == c.FromLook {
					found = x
				}
			}
			switch {
			case p.Category == show.Accessory && found != nil:
				t.Errorf("%s is worn under the smock", p.Name)
			case p.Category != show.Accessory && found == nil:
				t.Errorf("%s does not stay on", p.Name)
			case found != nil && p.Category == show.Trousers && found.Verdict.Grade != why.Yes:
				t.Errorf("%s: %v; knee length under ankle length is known", p.Name, found.Verdict.Grade)
			case found != nil && zones(p)&top != 0 && found.Verdict.Grade != why.Unknown:
				t.Errorf("%s: %v; neck and sleeves are not known and have to be asked", p.Name, found.Verdict.Grade)
			}
		}
	}
	if len(tl.Dressers.Alone) == 0 || tl.Under.Alone != 0 {
		t.Errorf("without help %d as it stands, %d with school clothes beneath", len(tl.Dressers.Alone), tl.Under.Alone)
	}
	if tl.Under.Least >= tl.Dressers.Least || tl.Under.Outcome.Proof != solve.Best {
		t.Errorf("with it %d dressers, without %d, %v", tl.Under.Least, tl.Dressers.Least, tl.Under.Outcome)
	}
}

// from: tension 3: four go guild, town, guild. Two keep shirt and trousers on;
// two are in full gowns, which nothing can stay under: the director is asked.
func TestGuildTownGuild(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	four := append(between(tl, "S12", "S13"), between(tl, "S13", "S14")...)
	kept, asked := map[show.PerformerID]int{}, map[show.PerformerID]bool{}
	for _, i := range four {
		kept[tl.Changes[i].Performer] += len(tl.Changes[i].Stays)
	}
	for _, f := range tl.Asks {
		if f.Kind == "keep" && f.To == "S13" {
			asked[f.Who[0]] = true
			if h.Piece("C021").Looks[0] != f.Look && h.Piece("C022").Looks[0] != f.Look {
				t.Errorf("asked to keep %s on", f.Look)
			}
		}
	}
	if len(four) != 8 || len(kept) != 4 || kept["P06"] != 4 || kept["P08"] != 4 || kept["P04"] != 0 || kept["P07"] != 0 {
		t.Errorf("%d changes of %v", len(four), kept)
	}
	if len(asked) != 2 || !asked["P04"] || !asked["P07"] {
		t.Errorf("asked of %v; the two in gowns are P04 and P07", asked)
	}
}

// from: tension 4: 18 seconds in view; the dress is on beneath, and the swap
// under the coat is done in the interval.
func TestCoatBreaksAway(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	seen := 0
	for _, c := range tl.Changes {
		if c.InView {
			seen++
			if c.Seconds != 18 || c.Wanted.Lo != 1+5 || len(c.On) != 0 || !said(c.Verdict, ruleOnePull) {
				t.Errorf("%+v", c)
			}
		}
		if c.Performer == "P01" && c.ToLook == "L003" {
			if !said(c.Verdict, ruleInterval) || !said(c.Verdict, ruleOver) || slices.Contains(c.Off, "C175") || c.Verdict.Grade != why.Yes {
				t.Errorf("the swap beneath: %+v", c)
			}
		}
	}
	if seen != 1 {
		t.Errorf("%d changes in view", seen)
	}
}

// from: tension 5: 75 and 105 seconds,
// coats only. And the crossing: four of the ten cross, and are asked to
// come on where they went off.
func TestCoatsAndCrossing(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	for _, c := range tl.Changes {
		if c.Seconds == 75 || c.Performer == "P01" && c.Seconds == 105 {
			if len(c.Off) != 0 || c.Verdict.Grade != why.Yes {
				t.Errorf("%s in %d s: %v", c.Performer, c.Seconds, c.Verdict.Grade)
			}
		}
	}
	for _, f := range tl.Asks {
		if f.Kind == "side" && f.To == "S12" {
			if fmt.Sprint(f.Who) != "[P26 P27 P28 P29]" || f.Before.Crossing-f.After.Crossing != 4 {
				t.Errorf("%+v", f)
			}
			return
		}
	}
	t.Error("nobody asks the four who cross")
}

// Tension 6, one cloak and two wearers: it comes off one before it goes on
// the other, in view, and is charged as one snap each.
func TestOneCloak(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	for _, s := range tl.Stretches {
		for _, o := range tl.Stretches {
			both := s.Performer < o.Performer && s.From < o.To && o.From < s.To
			if both && slices.Contains(h.Piece("C180").Looks, s.Look) && slices.Contains(h.Piece("C180").Looks, o.Look) && s.Scene != "S08" {
				t.Errorf("the cloak is on two people in %s", s.Scene)
			}
		}
	}
}

// What is asked is worked out, not guessed: the same change made in the house
// and everything done anew stands the same.
func TestAsksAreWorkedOut(t *testing.T) {
	whole := demotest.House(t)
	workedOut(t, whole)
	whole.Rehearsed = []show.Rehearsed{{Performer: "P04", From: "S12", To: "S13", Seconds: 60}, {Performer: "P18", From: "S16", To: "S17", Seconds: 90}}
	workedOut(t, whole)
}

func workedOut(t *testing.T, whole show.House) {
	t.Helper()
	tl := Timeline(&whole, "A")
	kinds := map[string]int{}
	for _, f := range tl.Asks {
		if kinds[f.Kind]++; kinds[f.Kind] > 3 {
			continue
		}
		h := whole
		h.Appearances = slices.Clone(whole.Appearances)
		until := time.Duration(1 << 60)
		for i := range h.Appearances {
			a := &h.Appearances[i]
			if !slices.Contains(f.Who, h.PlayedBy(a.Role, "A")) {
				continue
			}
			for _, c := range tl.Changes {
				if h.PlayedBy(a.Role, "A") != c.Performer || !slices.Contains(f.Who, c.Performer) || c.FromScene != f.From {
					continue
				}
				at := tl.Starts[a.Scene] + a.Enter
				switch {
				case f.Kind == "side" && at == c.Enters && a.Scene == f.To:
					a.EnterSide = c.FromSide
				case f.Kind == "later" && at == c.Enters && a.Scene == f.To:
					a.Enter += time.Duration(f.Seconds) * time.Second
				case f.Kind == "keep" && c.FromLook == f.Look && a.Look == c.ToLook && at >= c.Enters && at < until && at <= tl.Starts[f.To]+9*time.Hour:
					if next := nextChange(tl, c); at < next {
						a.Look = f.Look
					}
				}
			}
		}
		again := Timeline(&h, "A")
		if got := stand(again.Changes, again.Dressers); got != f.After {
			t.Errorf("%s: stands %+v, said %+v", f.Why.Sentence(units.Metric), got, f.After)
		}
	}
	if kinds["side"] == 0 || kinds["later"] == 0 || kinds["keep"] == 0 {
		t.Errorf("asks of the kinds %v", kinds)
	}
}

func nextChange(t answer.Timeline, c answer.Change) time.Duration {
	for _, o := range t.Changes {
		if o.Performer == c.Performer && o.Leaves > c.Leaves {
			return o.Leaves
		}
	}
	return t.End + 1
}

// A check that cannot fail is none.
func TestCheckSeesHelp(t *testing.T) {
	h := demotest.House(t)
	breaks := map[string]func(*answer.Timeline){
		"a dresser in two places": func(t *answer.Timeline) {
			t.Duties[3].Dresser = t.Duties[2].Dresser
			t.Duties[4].Dresser = t.Duties[2].Dresser
			t.Duties[5].Dresser = t.Duties[2].Dresser
		},
		"a chaperone who dresses":    func(t *answer.Timeline) { t.Duties[0].Dresser = "H10" },
		"a duty too short":           func(t *answer.Timeline) { t.Duties[0].Ends -= time.Second },
		"a duty left out":            func(t *answer.Timeline) { t.Duties = t.Duties[1:] },
		"fewer dressers":             func(t *answer.Timeline) { t.Dressers.Least-- },
		"a piece not taken off":      func(t *answer.Timeline) { t.Changes[0].Off = nil },
		"a second too many":          func(t *answer.Timeline) { t.Changes[0].Wanted.Lo++ },
		"harm forgotten":             func(t *answer.Timeline) { t.Dressers.Harm = 0 },
		"a piece hidden by a no":     func(t *answer.Timeline) { t.Under.Hidden[0].Verdict.Grade = why.No },
		"a piece of the look itself": func(t *answer.Timeline) { t.Under.Hidden[0].Piece = "C009" },
		"seconds saved twice":        func(t *answer.Timeline) { t.Under.Saves *= 2 },
		"a clash that is none":       func(t *answer.Timeline) { t.Dressers.Shown[0].Kind = "clash" },
		"an energy that is none": func(t *answer.Timeline) {
			t.Dressers.Shown[0].Kind, t.Dressers.Shown[0].Spans = "energy", [][2]int{{0, 6660}}
		},
	}
	for what, spoil := range breaks {
		tl := Timeline(&h, "A")
		if bad := Check(&h, tl); len(bad) > 0 {
			t.Fatal(bad[0].Sentence(0))
		}
		spoil(&tl)
		if len(Check(&h, tl)) == 0 {
			t.Errorf("%s is not seen", what)
		}
	}
}

// Nobody is dressed by those who are not to dress them: with one barred
// somebody else does it, as well as before; with all barred the change waits
// for nobody, and says so. The fewest stay what they are.
func TestNotDressedBy(t *testing.T) {
	h := demotest.House(t)
	before := Timeline(&h, "A")
	var first answer.Duty
	for _, d := range before.Duties {
		if d.Dresser != "" && d.Hands == 1 {
			first = d
			break
		}
	}
	who := h.Performer(before.Changes[first.Change].Performer)
	who.NotBy = []show.HelperID{first.Dresser}
	after := Timeline(&h, "A")
	if bad := Check(&h, after); len(bad) > 0 {
		t.Fatal(bad[0].Sentence(0))
	}
	if after.Dressers.Least != before.Dressers.Least || after.Dressers.Harm < before.Dressers.Harm {
		t.Errorf("least %d, harm %d; before %d and %d", after.Dressers.Least, after.Dressers.Harm, before.Dressers.Least, before.Dressers.Harm)
	}
	if len(Check(&h, before)) == 0 {
		t.Error("a duty of somebody who is not to do it is not seen")
	}
	who.NotBy = before.Dressers.There
	after = Timeline(&h, "A")
	if bad := Check(&h, after); len(bad) > 0 {
		t.Fatal(bad[0].Sentence(0))
	}
	for _, d := range after.Duties {
		if after.Changes[d.Change].Performer == who.ID && d.Why != nil && d.Dresser == "" && d.Why.Rule == ruleNotBy.ID {
			return
		}
	}
	t.Error("nobody may, and nothing is said")
}

// The sentence of a clash names its number and minute; nothing is left open.
func TestClashInWords(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	if len(tl.Dressers.Clashes) == 0 || len(tl.Dressers.Alone) == 0 {
		t.Fatal("four dressers are enough; the chaperone may not dress and six are wanted")
	}
	for _, s := range append(tl.Dressers.Clashes, tl.Dressers.Shown...) {
		if words := s.Why.Sentence(units.Metric); strings.Contains(words, "not known") || !strings.Contains(words, "99:05") {
			t.Error(words)
		}
	}
}

// An unknown side is asked about nowhere: nobody is asked to come on where
// nobody knows they went off.
func TestNoAskOnAnUnknownSide(t *testing.T) {
	whole := demotest.House(t)
	whole.Appearances = slices.Clone(whole.Appearances)
	for i := range whole.Appearances {
		whole.Appearances[i].ExitSide = ""
	}
	for _, f := range Timeline(&whole, "A").Asks {
		if f.Kind == "side" {
			t.Errorf("%v are asked to change sides, and the side they left is not known", f.Who)
		}
	}
}
