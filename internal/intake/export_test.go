package intake_test

import (
	"reflect"
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// everything is the demo show with what only a person's deeds put into a
// house, and words a spreadsheet would take for a formula.
func everything(t *testing.T) show.House {
	h := demotest.House(t)
	day := february
	h.Pins = []show.Pin{{Piece: "C001", Source: "use as is", Garment: "S001", Day: day, Who: "you"}}
	h.Done = []show.Done{{Piece: "C002", What: "cut", Detail: "on Saturday", Day: day}}
	h.Rehearsed = []show.Rehearsed{{Performer: "P01", From: "S01", To: "S02", Seconds: 44, Day: day}, {Performer: "P01", From: "S01", To: "S02", Seconds: 40, Day: day}}
	h.Logged = []show.Logged{{Helper: "H1", Piece: "C002", What: "hem", Minutes: 35, Thought: 20, Day: day}}
	h.LetDowns = []show.LetDown{{Garment: "S001", By: 30 * units.Millimetre, Left: units.Some(10 * units.Millimetre), Day: day, Words: "let the hem down, faced, length"}}
	h.HandLaid = []show.HandLaid{{Cloth: "K14", Piece: "C054", Part: "width", Turn: 180, X: 12345, Y: 300 * units.Centimetre}, {Cloth: "K06", Piece: "C138", Part: "front", Mirror: true, X: 141_000}}
	h.Decisions = []show.Decision{{Caution: "cord C001", Who: "lead", What: "cord taken out", Day: day}}
	h.Origins = []show.Origin{{Kind: "scene", Code: "S01", Field: "gap_after", How: show.Assumed, Rule: "15 seconds", Day: day}}
	h.Garments[3].Note = "=1+1"
	h.Garments[4].Note = "'=already shielded"
	h.Garments[5].Note = "two\nlines, \"quoted\"; and more"
	h.Garments[6].Length = units.Exactly(1234567)
	h.Garments[6].Fate = "altered"
	h.Cloths[0].Note = "-5 degrees"
	h.Cloths[1].Repeat = units.Some(11 * units.Centimetre)
	h.Garments[7].Label = "146"
	h.Show.EraseOn, h.Show.EraseOnInk = day+100, true
	h.Unread, h.PeopleTyped = nil, nil // words of the sheets themselves, not of the house
	h.Typed = []show.Typed{{Kind: "garment", Code: "S001", Field: "chest", Words: "34 cm flat", Is: 680000}}
	return h
}

// Everything out, into an empty house, out again: equal, as CSV and as XLSX,
// in centimetres and in inches.
func TestEverythingComesBack(t *testing.T) {
	for _, sys := range []units.System{units.Metric, units.Imperial} {
		want := everything(t)
		want.Units = sys
		files, err := intake.CSV(want)
		if err != nil {
			t.Fatal(err)
		}
		book, err := intake.Workbook(want)
		if err != nil {
			t.Fatal(err)
		}
		for how, in := range map[string][]intake.File{"CSV": files, "XLSX": {{Name: "all.xlsx", Data: book}}} {
			got, rep, err := intake.Take(show.House{}, in)
			if err != nil {
				t.Fatal(how, err)
			}
			for _, l := range rep.Left {
				t.Errorf("%s, %s: left %s", how, sys, l)
			}
			if words := show.TypedAs(got.Typed, "garment", "S001", "chest", 680000); words != "34 cm flat" {
				t.Errorf("%s: typed %q now", how, words)
			}
			got.Typed, got.PeopleTyped = want.Typed, nil // lengths not typed in inches are written in centimetres
			differ(t, how+" in "+sys.String(), got, want)
		}
	}
}

// differ names the first rows in which two houses are not the same.
func differ(t *testing.T, what string, got, want show.House) {
	t.Helper()
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for i := range g.NumField() {
		name := g.Type().Field(i).Name
		a, b := g.Field(i), w.Field(i)
		if reflect.DeepEqual(a.Interface(), b.Interface()) {
			continue
		}
		if a.Kind() != reflect.Slice || a.Len() != b.Len() {
			t.Errorf("%s, %s: %v is not %v", what, name, a.Interface(), b.Interface())
			continue
		}
		for k := range a.Len() {
			if !reflect.DeepEqual(a.Index(k).Interface(), b.Index(k).Interface()) {
				t.Errorf("%s, %s %d:\n%+v is not\n%+v", what, name, k, a.Index(k).Interface(), b.Index(k).Interface())
				break
			}
		}
	}
}
