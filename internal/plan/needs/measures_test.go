package needs

import (
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// By hand, piece by piece; and on the demo far fewer numbers than a full tape
// of 14 for each of 44 would take: 616. from: the demo's lists.
func TestMeasuresByNeed(t *testing.T) {
	h := show.House{
		Performers: []show.Performer{{ID: "P1"}, {ID: "P2"}, {ID: "P3", Consent: "no measuring"}, {ID: "P4"}},
		Roles:      []show.Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P2"}, {ID: "R3", Performer: "P3"}, {ID: "R4", Performer: "P4"}},
		Looks:      []show.Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R2"}, {ID: "L3", Role: "R3"}},
		Pieces: []show.Piece{
			{ID: "C1", Category: show.Skirt, Fit: "easy", Looks: []show.LookID{"L1", "L3"}},
			{ID: "C2", Category: show.Accessory, Fit: "tied", Looks: []show.LookID{"L1"}},
			{ID: "C3", Category: show.Jacket, Fit: "fitted", Looks: []show.LookID{"L2"}},
			{ID: "C4", Category: show.Trousers, Fit: "easy", Looks: []show.LookID{"L2"}},
			{ID: "C5", Category: show.Accessory, Fit: "head", Looks: []show.LookID{"L2"}},
			{ID: "C6", Category: show.Accessory, Fit: "head", Closure: "elastic", Looks: []show.LookID{"L1"}},
			{ID: "C7", Category: show.Accessory, Fit: "neck", Looks: []show.LookID{"L1"}},
		},
	}
	got := Measures(&h)
	for id, want := range map[show.PerformerID][]body.Kind{
		"P1": {body.Height, body.Chest, body.Waist, body.Hip, body.Neck},
		"P2": {body.Height, body.Chest, body.Waist, body.Hip, body.NapeToWaist, body.InsideLeg, body.ShoulderToWrist, body.AcrossShoulders, body.Head},
		"P3": nil, "P4": nil,
	} {
		if len(got[id]) != len(want) {
			t.Errorf("%s: %v, want %v", id, got[id], want)
			continue
		}
		for i, k := range got[id] {
			if k != want[i] {
				t.Errorf("%s: %v, want %v", id, got[id], want)
			}
		}
	}
	demo := demotest.House(t)
	n := 0
	for _, kinds := range Measures(&demo) {
		n += len(kinds)
	}
	if n < 240 || n > 290 {
		t.Errorf("the demo wants %d numbers; counted by hand about 266", n)
	}
}

// By hand: two lack a chest, three pieces hang on it; one lacks a head.
func TestSharpest(t *testing.T) {
	known := body.Measure{Span: units.Exactly(units.Cm(50)), Origin: body.Measured}
	h := show.House{
		Performers: []show.Performer{{ID: "P1"}, {ID: "P2"}, {ID: "P3"}},
		Roles:      []show.Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P2"}, {ID: "R3", Performer: "P3"}},
		Looks:      []show.Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R2"}, {ID: "L3", Role: "R3"}},
		Pieces: []show.Piece{{ID: "C1", Category: show.Shirt, Looks: []show.LookID{"L1"}}, {ID: "C2", Category: show.Shirt, Looks: []show.LookID{"L2"}}, {ID: "C3", Category: show.Skirt, Looks: []show.LookID{"L2"}},
			{ID: "C4", Fit: "head", Category: show.Accessory, Looks: []show.LookID{"L1"}}},
	}
	for i := range h.Performers {
		for _, k := range []body.Kind{body.Height, body.Waist, body.Hip} {
			h.Performers[i].Body[k] = known
		}
	}
	k, people, pieces := Sharpest(&h)
	if k != body.Chest || len(people) != 2 || len(pieces) != 3 {
		t.Errorf("%s of %v settles %v", k, people, pieces)
	}
	h.Performers[0].Body[body.Chest], h.Performers[1].Body[body.Chest] = known, known
	if k, people, pieces = Sharpest(&h); k != body.Head || len(people) != 1 || len(pieces) != 1 {
		t.Errorf("then %s of %v settles %v", k, people, pieces)
	}
	h.Performers[0].Consent = "no measuring"
	if _, people, _ = Sharpest(&h); people != nil {
		t.Errorf("nobody is left to measure, and %v are named", people)
	}
}
