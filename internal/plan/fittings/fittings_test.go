package fittings

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"

	"hemwright/internal/value/why"
	"pgregory.net/rapid"
)

const day units.Date = 47000

// crowdOf is a house of n performers in one group, each with a fitted piece
// to be made, and a parade two weeks on.
func crowdOf(n int) (*show.House, answer.Plan) {
	h := &show.House{Calendar: []show.Entry{{Day: day + 14, Start: 600, Minutes: 240, What: "dress parade", Who: []string{"all"}, Kind: "rehearse"}}}
	var plan answer.Plan
	for i := range n {
		id := fmt.Sprint(i + 10)
		h.Performers = append(h.Performers, show.Performer{ID: show.PerformerID("A" + id)})
		h.Roles = append(h.Roles, show.Role{ID: show.RoleID("Q" + id), Kind: "ensemble", Group: "sailors", Performer: show.PerformerID("A" + id)})
		h.Looks = append(h.Looks, show.Look{ID: show.LookID("L" + id), Role: show.RoleID("Q" + id)})
		h.Pieces = append(h.Pieces, show.Piece{ID: show.PieceID("X" + id), Category: show.Dress, Fit: "fitted", Looks: []show.LookID{show.LookID("L" + id)}})
		plan.Choices = append(plan.Choices, answer.Choice{Option: answer.Option{Piece: show.PieceID("X" + id), Source: answer.Make}})
	}
	return h, plan
}

func fitting(d units.Date, start, minutes int, who ...string) show.Entry {
	return show.Entry{Day: d, Start: units.Clock(start), Minutes: units.Minutes(minutes), What: "fittings", Who: who, Kind: "fit"}
}

func checked(t *testing.T, h *show.House, plan answer.Plan) answer.Fittings {
	f := Arrange(h, day, plan)
	for _, r := range Check(h, day, plan, f) {
		t.Error(r.Sentence(units.Metric))
	}
	return f
}

// from: by hand. An hour at two stations holds 96 minutes with a fifth empty:
// eight of 12.
func TestByHand(t *testing.T) {
	h, plan := crowdOf(8)
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "SAI"))
	f := checked(t, h, plan)
	if len(f.Appointments) != 8 || len(f.Unplaced) != 0 || f.Outcome.Proof != solve.Best {
		t.Errorf("%d placed, %d not, %s", len(f.Appointments), len(f.Unplaced), f.Outcome.Proof)
	}
	h, plan = crowdOf(9)
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "SAI"))
	f = checked(t, h, plan)
	if len(f.Appointments) != 8 || len(f.Unplaced) != 1 || f.Outcome.Proof != solve.Impossible || f.Unplaced[0].Why.Rule != ruleFull.ID {
		t.Errorf("%d placed, %d not, %s", len(f.Appointments), len(f.Unplaced), f.Outcome.Proof)
	}
	h.Calendar = append(h.Calendar, fitting(day+5, 600, 60, "as listed"))
	if f = checked(t, h, plan); len(f.Unplaced) != 0 || f.Appointments[8].Day != day+5 {
		t.Errorf("the ninth is not on the listed day: %v", f.Unplaced)
	}
}

func TestNoDayAndNamedParts(t *testing.T) {
	h, plan := crowdOf(3)
	h.Roles[0].Group, h.Roles[0].Kind = "", "lead"
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "sailors"))
	f := checked(t, h, plan)
	if len(f.Unplaced) != 1 || f.Unplaced[0].Performer != "A10" || f.Unplaced[0].Minutes != 25 || f.Unplaced[0].Why.Rule != ruleNoDay.ID {
		t.Errorf("%+v", f.Unplaced)
	}
	plan.Choices[0].Source = answer.Use // as it is: nothing to try on
	if f = checked(t, h, plan); len(f.Unplaced) != 0 || len(f.Appointments) != 2 {
		t.Errorf("%+v", f)
	}
}

func TestNotInRehearsal(t *testing.T) {
	h, plan := crowdOf(2)
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "SAI"),
		show.Entry{Day: day + 3, Start: 590, Minutes: 30, What: "scene 3", Who: []string{"Q10"}, Kind: "rehearse"})
	f := checked(t, h, plan)
	for _, a := range f.Appointments {
		if a.Performer == "A10" && a.Start < 620 {
			t.Errorf("fitted at %s, in rehearsal until 10:20", a.Start)
		}
	}
}

// from: by hand. Half an hour holds one named part at 25 of 48. Q12 can come
// on the third day only and Q11 on the first or third, so Q10 has to give up
// the first day for the second.
func TestMakesRoom(t *testing.T) {
	h, plan := crowdOf(3)
	for i := range h.Roles {
		h.Roles[i].Kind = "lead"
	}
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 30, "Q10", "Q11"), fitting(day+4, 600, 30, "Q10"), fitting(day+5, 600, 30, "Q11", "Q12"))
	if f := checked(t, h, plan); len(f.Unplaced) != 0 {
		t.Errorf("%+v", f.Unplaced)
	}
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, plan := crowdOf(rapid.IntRange(0, 30).Draw(t, "people"))
		for i := range h.Roles {
			h.Roles[i].Group = rapid.SampledFrom([]string{"sailors", "cooks", ""}).Draw(t, "group")
			h.Roles[i].Kind = rapid.SampledFrom([]string{"ensemble", "lead"}).Draw(t, "kind")
		}
		for range rapid.IntRange(0, 4).Draw(t, "days") {
			e := fitting(day+units.Date(rapid.IntRange(-1, 15).Draw(t, "day")), 600, rapid.IntRange(10, 200).Draw(t, "minutes"),
				rapid.SampledFrom([]string{"SAI", "cooks", "all", "as listed"}).Draw(t, "who"))
			if rapid.IntRange(0, 2).Draw(t, "kind of entry") == 0 {
				e.Kind = "rehearse"
			}
			h.Calendar = append(h.Calendar, e)
		}
		f := Arrange(h, day, plan)
		for _, r := range Check(h, day, plan, f) {
			t.Fatal(r.Sentence(units.Metric))
		}
		if again := Arrange(h, day, plan); !reflect.DeepEqual(f, again) {
			t.Fatal("the same show gave other appointments")
		}
	})
}

func TestDemo(t *testing.T) {
	h := demotest.House(t)
	var plan answer.Plan
	for _, p := range h.Pieces {
		plan.Choices = append(plan.Choices, answer.Choice{Option: answer.Option{Piece: p.ID, Source: answer.Make}})
	}
	f := Arrange(&h, demo.Today, plan)
	for _, r := range Check(&h, demo.Today, plan, f) {
		t.Error(r.Sentence(units.Metric))
	}
	if len(f.Unplaced) != 0 || len(f.Appointments) < 40 {
		t.Errorf("%d placed; not placed: %v", len(f.Appointments), f.Unplaced)
	}
}

// Check has to see what is wrong.
func TestCheckSees(t *testing.T) {
	for name, spoil := range map[string]func(*answer.Fittings){
		"one missing":    func(f *answer.Fittings) { f.Appointments = f.Appointments[1:] },
		"two at once":    func(f *answer.Fittings) { f.Appointments[1].Station, f.Appointments[1].Start = 1, 600 },
		"another day":    func(f *answer.Fittings) { f.Appointments[0].Day++ },
		"third station":  func(f *answer.Fittings) { f.Appointments[0].Station = 3 },
		"twice the time": func(f *answer.Fittings) { f.Appointments[3].Minutes = 90 },
	} {
		h, plan := crowdOf(4)
		h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "SAI"))
		f := checked(t, h, plan)
		spoil(&f)
		if len(Check(h, day, plan, f)) == 0 {
			t.Errorf("%s passes the check", name)
		}
	}
}

// Slots of one's own: an hour at one station, nothing but one place in two
// empty, holds three of ten minutes.
//
// from: by hand.
func TestOwnSlots(t *testing.T) {
	own := "crowd | 10 | ours\nnamed part | 25 | ours\nstations | 1 | ours\none empty in | 2 | ours"
	h, plan := crowdOf(4)
	h.Tables = map[string]string{"slots": own}
	h.Calendar = append(h.Calendar, fitting(day+3, 600, 60, "SAI"))
	f := checked(t, h, plan)
	if len(f.Appointments) != 3 || len(f.Unplaced) != 1 || f.Appointments[1].Start != 620 {
		t.Errorf("%d placed, %d not: %+v", len(f.Appointments), len(f.Unplaced), f.Appointments)
	}
	for _, text := range []string{"", strings.Replace(own, "stations | 1", "stations | 0", 1), strings.Replace(own, "in | 2", "in | 1", 1)} {
		if why.KindOf(Text.Check(text)) != why.Invalid {
			t.Errorf("%q is taken", text)
		}
	}
}
