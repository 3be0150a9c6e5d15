package today

import (
	"strings"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

func says(t answer.Today) string {
	var all []string
	for _, u := range t.Urgent {
		all = append(all, u.Say)
	}
	return strings.Join(all, " | ")
}

// Each thing that cannot wait appears when there is reason, and only then.
func TestUrgent(t *testing.T) {
	day := demo.Today
	plain := Known{Day: day, Timelines: []answer.Timeline{{}}}
	for what, c := range map[string]struct {
		house show.House
		known Known
		want  string
	}{
		"nothing":       {show.House{}, plain, ""},
		"a note blocks": {show.House{Notes: []show.Note{{What: "hem", Blocks: true, State: "open"}}}, plain, "Notes that stop somebody going on."},
		"a note done":   {show.House{Notes: []show.Note{{What: "hem", Blocks: true, State: "done"}}}, plain, ""},
		"no cloth":      {show.House{}, Known{Day: day, Cutting: answer.Cutting{Short: []answer.Shortage{{Pieces: []show.PieceID{"C1"}, Colour: "red", Wanted: units.Metre}}}}, "Pieces to be made have no cloth."},
		"not washed": {show.House{Cloths: []show.Cloth{{ID: "K1", Washed: "no"}, {ID: "K2", Washed: "no"}}},
			Known{Day: day, Plan: answer.Plan{Choices: []answer.Choice{{Option: answer.Option{Source: answer.Make, Cloth: "K1"}}}}}, "Wash these before anybody cuts them."},
		"too short": {show.House{}, Known{Day: day, Timelines: []answer.Timeline{{Changes: []answer.Change{{Seconds: 20, Verdict: why.Verdict{Grade: why.No}}}}}}, "1 change is too short as it stands."},
		"nobody helps": {show.House{}, Known{Day: day, Timelines: []answer.Timeline{{Changes: []answer.Change{{Seconds: 105, Verdict: why.Verdict{Grade: why.Yes}}}, Duties: []answer.Duty{{Change: 0}}}}},
			"1 fast change has nobody to help."},
		"twice at once": {show.House{}, Known{Day: day, Timelines: []answer.Timeline{{Clashes: []answer.Stretch{{Performer: "P1", Scene: "S1"}}}}}, "Somebody is on stage twice at once."},
		"hours short":   {show.House{}, Known{Day: day, Workroom: answer.Workroom{Wanted: 120, Offered: 60}}, "The evenings do not hold the work."},
		"overspent":     {show.House{}, Known{Day: day, Money: answer.Money{Free: -1}}, "More money is needed than there is."},
		"goes without":  {show.House{}, Known{Day: day, Plan: answer.Plan{Choices: []answer.Choice{{Option: answer.Option{Source: answer.GoWithout}}}}}, "1 piece goes without, as the plan stands."},
		"loan due":      {show.House{Loans: []show.Loan{{What: "A coat", Whom: "the band", State: "here", Due: day + 3}}}, plain, "A coat goes back to the band."},
		"loan far off":  {show.House{Loans: []show.Loan{{What: "A coat", Whom: "the band", State: "here", Due: day + 30}}}, plain, ""},
		"bag late":      {show.House{Kits: []show.Kit{{What: "hems", State: "out", DueOn: day - 1}}}, plain, "A bag is late: hems."},
		"not answered":  {show.House{Asks: []show.Ask{{What: "a side"}}}, plain, "Questions nobody has answered."},
	} {
		if got := says(Look(&c.house, c.known)); got != c.want {
			t.Errorf("%s: %q, wanted %q", what, got, c.want)
		}
	}
}

// What falls due within seven days stands first.
func TestDueSoonFirst(t *testing.T) {
	h := show.House{Asks: []show.Ask{{What: "a side"}}, Kits: []show.Kit{{What: "hems", State: "out", DueOn: demo.Today - 1}}}
	got := Look(&h, Known{Day: demo.Today, Timelines: []answer.Timeline{{}}}).Urgent
	if len(got) != 2 || !got[0].DueSoon || got[1].DueSoon {
		t.Errorf("%+v", got)
	}
}

// Two hours of the lead's, of one day, in order; never what is past.
func TestTonight(t *testing.T) {
	h := show.House{Helpers: []show.Helper{{ID: "H1"}, {ID: "H2"}}}
	day := demo.Today
	slots := []answer.Slot{{Task: "old", Helper: "H1", Day: day - 1, Minutes: 60}, {Task: "a", Helper: "H1", Day: day, Minutes: 70}, {Task: "other", Helper: "H2", Day: day, Minutes: 30},
		{Task: "b", Helper: "H1", Day: day, Minutes: 70}, {Task: "c", Helper: "H1", Day: day, Minutes: 10}, {Task: "d", Helper: "H1", Day: day + 1, Minutes: 10}}
	var got []string
	for _, s := range Look(&h, Known{Day: day, Timelines: []answer.Timeline{{}}, Workroom: answer.Workroom{Slots: slots}}).Tonight {
		got = append(got, s.Task)
	}
	if strings.Join(got, " ") != "a b" {
		t.Errorf("tonight: %v, by hand a and b", got)
	}
}

// How far everything is adds up to all pieces.
func TestHowFarAddsUp(t *testing.T) {
	h := demotest.House(t)
	h.Pieces[0].HowFar, h.Pieces[1].HowFar = show.Finished, show.InWork
	sum := 0
	got := Look(&h, Known{Day: demo.Today, Timelines: []answer.Timeline{{}}})
	for _, n := range got.HowFar {
		sum += n
	}
	if sum != len(h.Pieces) || got.HowFar[show.Finished] != 1 {
		t.Errorf("%d of %d pieces", sum, len(h.Pieces))
	}
}
