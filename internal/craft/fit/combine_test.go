package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// The table holds each of the 73 operations of the trade once at least, and
// every word in it means something.
func TestTableOfOperations(t *testing.T) {
	have := map[int]bool{}
	for _, o := range shipped.ops {
		have[o.No] = true
		if o.Says == "" || o.on == 0 || o.Undo != "yes" && o.Undo != "partly" && o.Undo != "no" || o.Seen != "no" && o.Seen != "little" && o.Seen != "yes" {
			t.Errorf("%s: %+v", o.Key, o)
		}
		if o.Skill != answer.Beginner && o.Skill != answer.Straight && o.Skill != answer.Maker && o.Skill != answer.Tailor {
			t.Errorf("%s: skill %q", o.Key, o.Skill)
		}
		if o.From != "trade" && o.From != "practice" && o.From != "house" {
			t.Errorf("%s: from %q", o.Key, o.From)
		}
		if o.No > 0 && o.Wrong == "" {
			t.Errorf("%s: no usual mistake", o.Key)
		}
		if o.Plain > o.Lined && o.Metre == 0 {
			t.Errorf("%s: %d plain, %d lined", o.Key, o.Plain, o.Lined)
		}
		if o.chosen && o.Gives == "" {
			t.Errorf("%s is chosen and does nothing", o.Key)
		}
	}
	for _, kind := range flagNames[:10] {
		n := 0
		for _, o := range shipped.ops {
			if o.chosen && o.on&flag(kind) != 0 {
				n++
			}
		}
		if n > maxOffers {
			t.Errorf("%d operations on a %s, there is room for %d", n, kind, maxOffers)
		}
	}
	for n := 1; n <= 73; n++ {
		if !have[n] {
			t.Errorf("operation %d is missing", n)
		}
	}
	known := " " + strings.Join(flagNames, " ") + " seam edge set-in hand remake never any "
	for _, line := range strings.Split(operationsText, "\n") {
		if f := strings.Split(line, "|"); len(f) == 16 && line[0] != '#' {
			words := strings.NewReplacer("not fitted", "not-fitted", "not loose", "not-loose", "set in", "set-in").Replace(f[3] + " " + f[4])
			for _, w := range strings.Fields(words) {
				if !strings.Contains(known, " "+w+" ") {
					t.Errorf("%s: %q means nothing", f[1], w)
				}
			}
		} else if line != "" && line[0] != '#' {
			t.Errorf("%d columns: %s", len(f), line)
		}
	}
}

// farBy reads the table's own words: how far an operation goes at a place in
// one direction, in mm.
func farBy(o Operation, where, sign string, g show.Garment) units.Length {
	for _, w := range strings.Fields(o.Gives) {
		rest, ok := strings.CutPrefix(w, where+sign)
		if !ok {
			continue
		}
		n := 0
		if _, err := fmt.Sscan(rest, &n); err == nil {
			return units.Length(n) * mm
		}
		if rest == "hem" {
			return g.LetDown.Or(0)
		}
		return g.LetOut.Or(0)
	}
	return 0
}

// exhaustive is the least cost of at most three operations that make a gown
// sit, over all sets of the table; infinite where there is none.
func exhaustive(w Wearing, g show.Garment) float64 {
	type lack struct {
		where, sign string
		n           units.Length
	}
	var lacks []lack
	for where, s := range map[string]units.Span{"chest": g.Chest, "waist": g.Waist, "hip": g.Hip, "length": g.Length} {
		win, ok := w.Window(where)
		switch {
		case !ok:
		case s.Hi < win.Sits.Lo:
			lacks = append(lacks, lack{where, "+", win.Sits.Lo - s.Hi})
		case win.Open || s.Lo <= win.Sits.Hi:
		case w.class == "fitted" && where != "length":
			lacks = append(lacks, lack{where, "-", s.Lo - win.Goal})
		default:
			lacks = append(lacks, lack{where, "-", s.Lo - win.Sits.Hi})
		}
	}
	var may []Operation
	for _, o := range shipped.ops {
		ok := o.chosen && strings.Contains(" "+o.On+" any ", " dress ") && (g.MayCut || o.Undo == "yes")
		for _, never := range []string{"elastic", "gathered", "overlap", "buttons", "stretch", "sleeveless", "covered", "short", "waist"} {
			ok = ok && o.if_&flag(never) == 0
		}
		ok = ok && (o.if_&flag("not-fitted") == 0 || w.class != "fitted") && (o.if_&flag("fitted") == 0 || w.class == "fitted")
		ok = ok && (o.if_&flag("loose") == 0 || w.class == "loose") && (o.if_&flag("not-loose") == 0 || w.class != "loose")
		if ok {
			may = append(may, o)
		}
	}
	best := math.Inf(1)
	var pick func(from int, set []Operation)
	pick = func(from int, set []Operation) {
		enough, cost := true, 0.0
		for _, o := range set {
			cost += float64(o.minutes(true, g.HemRound.Lo)) + lookMinutes*float64(o.look)
		}
		for _, l := range lacks {
			var capped, rest units.Length
			for _, o := range set {
				if by := farBy(o, l.where, l.sign, g); l.sign == "-" && (l.where == "chest" || l.where == "hip" || l.where == "waist" && o.seam) {
					capped += by
				} else {
					rest += by
				}
			}
			enough = enough && min(capped, 100*mm)+rest >= l.n
		}
		hems := 0
		for _, o := range set {
			if o.edge {
				hems++
			}
		}
		enough = enough && hems < 2 // a gown without sleeves to change has one hem
		if enough {
			best = min(best, cost)
		}
		if len(set) < 3 {
			for i := from; i < len(may); i++ {
				pick(i+1, append(set[:len(set):len(set)], may[i]))
			}
		}
	}
	pick(0, nil)
	return best
}

// The work chosen costs no more and no less than the cheapest of all sets of
// three operations of the table, and there is none only where no set does.
func TestCheapestIsExhaustive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p := stage(whole, gown())
		p.Fit = rapid.SampledFrom([]string{"fitted", "easy", "loose"}).Draw(t, "fit")
		w := Wanted(h, p)
		g := anyGown(t)
		g.LetDown = units.Some(units.Cm(float64(rapid.IntRange(0, 8).Draw(t, "hem"))))
		want := exhaustive(w, g)
		f := Judge(w, g)
		if f.Verdict.Grade == why.No {
			if !math.IsInf(want, 1) {
				t.Fatalf("none found, %v would do: %v", want, g)
			}
			return
		}
		got, seen := float64(f.Minutes()), map[string]bool{}
		if len(f.Alterations) > 0 {
			got -= float64(shipped.press.Plain)
		}
		for _, a := range f.Alterations {
			if o := shipped.named(a.Op, a.Where); !seen[o.Key] {
				seen[o.Key] = true
				got += lookMinutes * float64(o.look)
			}
		}
		if got != want {
			t.Fatalf("cost %v, the cheapest %v: %v", got, want, f.Alterations)
		}
	})
}

// More to give never worsens a verdict, nor makes it dearer.
func TestMoreGiveNeverWorsens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p := stage(whole, gown())
		p.Fit = rapid.SampledFrom([]string{"fitted", "easy", "loose"}).Draw(t, "fit")
		w := Wanted(h, p)
		g := anyGown(t)
		more := g
		more.LetOut = units.Some(g.LetOut.V + units.Cm(float64(rapid.IntRange(0, 4).Draw(t, "more"))))
		more.LetDown = units.Some(units.Cm(float64(rapid.IntRange(0, 8).Draw(t, "hem"))))
		a, b := Judge(w, g), Judge(w, more)
		if b.Verdict.Grade < a.Verdict.Grade {
			t.Fatalf("%s with less, %s with more", a.Verdict.Grade, b.Verdict.Grade)
		}
		if a.Verdict.Grade == why.Work && b.Verdict.Grade == why.Work && b.Minutes() > a.Minutes()+units.Minutes(lookMinutes*a.Look) {
			t.Fatalf("%s with less, %s with more", a.Minutes(), b.Minutes())
		}
	})
}

// What is measured after an operation and after its undoing is what was
// measured before.
func TestUndoingRestores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pl := place(rapid.IntRange(int(chest), int(head)).Draw(t, "place"))
		s := units.Exactly(units.Cm(float64(rapid.IntRange(40, 150).Draw(t, "cm"))))
		by := units.Cm(float64(rapid.IntRange(-10, -1).Draw(t, "by")))
		if back := changed(changed(s, pl, by), pl, -by); back.Hi != s.Hi {
			t.Fatalf("%v, then %v", s, back)
		}
	})
}

// A quiet judgement says in numbers what a loud one says with reasons.
func TestWeighAgrees(t *testing.T) {
	h := demo(t)
	garments := all(h)
	n := map[why.Grade]int{}
	for i := range h.Pieces {
		w := Wanted(h, &h.Pieces[i])
		for k := range garments {
			x := Hang(&garments[k])
			s, f := Weigh(&w, &x), Judge(w, garments[k])
			n[s.Grade]++
			if s.Grade != f.Verdict.Grade || s.Minutes != f.Minutes() || s.Look != f.Look || s.Comfort != f.Comfort {
				t.Fatalf("%s for %s: %+v, %s %s look %d", garments[k].ID, w.Piece, s, f.Verdict.Grade, f.Minutes(), f.Look)
			}
		}
	}
	if n[why.No] == 0 || n[why.Work] == 0 || n[why.Yes] == 0 {
		t.Error(n)
	}
}

// from: by hand: a gown 30 short with 8 in its hem: a band gives 25, and a hem
// that is banded is not let down as well, so it does not go; one 24 short does.
func TestOneHem(t *testing.T) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	short := func(by float64) answer.Fit {
		g := satin(84, 67, 94, 135-by)
		g.LetDown = units.Some(units.Cm(8))
		return Judge(w, g)
	}
	win, _ := w.Window("length")
	low := (win.Sits.Lo).Cm()
	if f := short(135 - low + 30); f.Verdict.Grade != why.No || !says(f, ruleShort, "give", units.Cm(25)) {
		t.Errorf("30 short: %s %v", f.Verdict.Grade, f.Alterations)
	}
	if f := short(135 - low + 24); f.Verdict.Grade != why.Work {
		t.Errorf("24 short: %s", f.Verdict.Grade)
	}
}
