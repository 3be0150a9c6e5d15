package workshop

import (
	"context"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var quick = solve.Budget{Effort: solve.Quick}

func demoIn(t *testing.T, path string, steps *int) *Workshop {
	t.Helper()
	w, _, err := Demo(path, Settings{Budget: quick, Step: func(string) { *steps++ }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	return w
}

func prepared(t *testing.T, w *Workshop) *Prepared {
	t.Helper()
	p, err := w.Prepared(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// oneAtATime leaves a test in which nothing happens at once out of the short
// run, the one for races; the whole run holds it.
func oneAtATime(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one thing at a time: not for the short run")
	}
}

// What was worked out is kept in the file: opening it again works nothing out
// anew and answers the same.
func TestAnswersAreKept(t *testing.T) {
	path, steps := filepath.Join(t.TempDir(), "h"), 0
	w := demoIn(t, path, &steps)
	first, err := json.Marshal(prepared(t, w))
	if err != nil {
		t.Fatal(err)
	}
	w.Close()
	steps = 0
	again, err := Open(path, Settings{Step: func(string) { steps++ }})
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	second, err := json.Marshal(prepared(t, again))
	if err != nil {
		t.Fatal(err)
	}
	if steps != 0 || string(first) != string(second) {
		t.Errorf("%d steps worked out anew; the same: %v", steps, string(first) == string(second))
	}
}

// orchard is another show, in inches and dollars, with people of whom nothing
// is known.
func orchard(t *testing.T) *Workshop {
	t.Helper()
	day, err := units.ParseDate("2031-01-20")
	if err != nil {
		t.Fatal(err)
	}
	w, err := New(filepath.Join(t.TempDir(), "orchard"), Settings{Day: day, Budget: quick})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	rep, err := w.Import("testdata/orchard")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range rep.Left {
		t.Errorf("left: %s", l)
	}
	return w
}

// A pin moves the plan, undo brings back the very same plan.
func TestPinUndo(t *testing.T) {
	w, ctx := orchard(t), context.Background()
	before := prepared(t, w)
	if err := w.Pin(ctx, show.Pin{Piece: "Z1", Source: string(answer.GoWithout)}); err != nil {
		t.Fatal(err)
	}
	c := prepared(t, w).Choice("Z1")
	if c.Source != answer.GoWithout || !c.Pinned || c.Price <= 0 {
		t.Errorf("pinned to go without, got %s at %d", c.Source, c.Price)
	}
	if last, _ := w.LastDeed(); last != "Z1 pinned to go without" {
		t.Errorf("the last deed is %q", last)
	}
	if _, err := w.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	after := prepared(t, w)
	for i, c := range after.Plan.Choices {
		if b := before.Plan.Choices[i]; c.Pinned || c.Source != b.Source || c.Garment != b.Garment {
			t.Errorf("%s was %s, is %s", c.Piece, b.Source, c.Source)
		}
	}
	if _, again := w.LastDeed(); !again {
		t.Error("what was undone cannot be done again")
	}
}

func TestRefusals(t *testing.T) {
	steps := 0
	w := demoIn(t, filepath.Join(t.TempDir(), "h"), &steps)
	ctx := context.Background()
	for what, err := range map[string]error{
		"a piece there is none of":   w.Pin(ctx, show.Pin{Piece: "C999", Source: "make"}),
		"a garment there is none of": w.Pin(ctx, show.Pin{Piece: "C001", Source: "alter", Garment: "S999"}),
		"a cloth there is none of":   w.Pin(ctx, show.Pin{Piece: "C001", Source: "make", Cloth: "K99"}),
		"no pin to take out":         w.Unpin(ctx, "C001"),
	} {
		if why.KindOf(err) != why.Missing {
			t.Errorf("%s: %v", what, err)
		}
	}
	if err := w.SetHowFar(ctx, "C001", "nearly"); why.KindOf(err) != why.Invalid {
		t.Errorf("an unknown step: %v", err)
	}
	if last, _ := w.LastDeed(); last != "The demo show brought in" {
		t.Errorf("a refused deed left %q", last)
	}
}

// Same rows, seed and effort: the same answers, to the byte.
func TestSameAgain(t *testing.T) {
	var docs []string
	for range 2 {
		steps := 0
		w := demoIn(t, filepath.Join(t.TempDir(), "h"), &steps)
		b, err := json.Marshal(prepared(t, w))
		if err != nil {
			t.Fatal(err)
		}
		docs = append(docs, string(b))
	}
	if docs[0] != docs[1] {
		t.Error("two runs answer differently")
	}
}

// Stopping keeps the best so far, whole and checked.
func TestStopped(t *testing.T) {
	steps := 0
	w := demoIn(t, filepath.Join(t.TempDir(), "h"), &steps)
	h, err := w.store.House()
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p, err := Prepare(ctx, h, demo.Today, nil, quick, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Plan.Choices) != len(p.House.Pieces) || !p.Plan.Outcome.Stopped {
		t.Errorf("%d of %d pieces, stopped %v", len(p.Plan.Choices), len(p.House.Pieces), p.Plan.Outcome.Stopped)
	}
}

// Nothing of the demo is built in.
func TestAnotherShow(t *testing.T) {
	oneAtATime(t)
	w := orchard(t)
	p := prepared(t, w)
	if len(p.Plan.Choices) != 9 || p.Plan.Outcome.Proof != solve.Best {
		t.Errorf("%d of 9 pieces, %s", len(p.Plan.Choices), p.Plan.Outcome.Proof)
	}
	for id, want := range map[show.PieceID]string{"Z1": "G1", "Z8": "G4", "Z9": "G3", "Z7": "G2"} {
		if c := p.Choice(id); string(c.Garment) != want {
			t.Errorf("%s comes from %s %s, the rail has %s", id, c.Source, c.Garment, want)
		}
	}
	// the red cotton, 5.33 m, does for two of the four apples at least
	red := 0
	for _, id := range []show.PieceID{"Z3", "Z4", "Z5", "Z6"} {
		if c := p.Choice(id); c.Source == answer.Make && c.Cloth == "B1" {
			red++
		}
	}
	if red < 2 {
		t.Errorf("%d apples of the red cotton, there is enough for two", red)
	}
	if c := p.Choice("Z7"); c.Source != answer.Borrow && c.Cuts {
		t.Errorf("the choir's robe: %s, cut %v", c.Source, c.Cuts)
	}
	// by hand: off at 6:00, a gap of 20 s, on at 1.5 min: 110 s, from left to right
	var found bool
	for _, c := range p.Timelines[0].Changes {
		if c.Performer == "A1" && c.ToScene == "X2" {
			found = true
			if c.Seconds != 110 || c.FromSide != "L" || c.ToSide != "R" {
				t.Errorf("the frost: %d s, %s to %s", c.Seconds, c.FromSide, c.ToSide)
			}
		}
	}
	if !found {
		t.Error("no change into the frost")
	}
	if p.House.Show.Currency != "$" || p.Money.Sum != 100_00 || p.Money.Held != 20_00 {
		t.Errorf("%s%s, %s held back", p.House.Show.Currency, p.Money.Sum, p.Money.Held)
	}
	for _, l := range p.Cutting.Lays {
		if len(l.Missing) > 0 {
			t.Errorf("%s: %d parts without a place", l.Cloth, len(l.Missing))
		}
	}
	if strings.Contains(p.Day.Long(), "2027") {
		t.Error("the demo's day")
	}
}
