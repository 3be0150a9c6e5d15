package running

import (
	"slices"
	"testing"
	"time"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// By hand: two could step in. One is free and measures the same, one is on in
// another part of the same scene: the free one comes first, the other would be
// in two places once.
func TestStepInByHand(t *testing.T) {
	same := body.Body{}
	for _, k := range body.All() {
		lo, hi := body.Limits(k)
		same[k] = body.Measure{Span: units.Exactly((lo + hi) / 2), Origin: body.Measured}
	}
	h := show.House{
		Performers: []show.Performer{{ID: "P1", Body: same}, {ID: "P2", Body: same}, {ID: "P3", Body: same}, {ID: "P4"}},
		Roles:      []show.Role{{ID: "R1", Name: "Miller", Performer: "P1"}, {ID: "R2", Name: "Baker", Performer: "P2"}},
		Scenes:     []show.Scene{{ID: "S1", Running: 5 * time.Minute}},
		Looks:      []show.Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R2"}},
		Pieces:     []show.Piece{{ID: "C1", Category: show.Skirt, Name: "skirt", Fit: "easy", LengthTo: "calf", Closure: "elastic waist", Looks: []show.LookID{"L1"}}},
		Appearances: []show.Appearance{{Scene: "S1", Role: "R1", Look: "L1", Exit: 5 * time.Minute},
			{Scene: "S1", Role: "R2", Look: "L2", Exit: 5 * time.Minute}},
	}
	got := WhoCouldStepIn(&h, "A", "P1", answer.Plan{})
	if len(got) != 1 || got[0].Role != "R1" || len(got[0].Ins) != 3 {
		t.Fatalf("%+v", got)
	}
	ins := got[0].Ins
	if ins[0].Performer != "P3" || ins[0].Twice != 0 || len(ins[0].Not) != 0 || len(ins[0].Open) != 0 {
		t.Errorf("first: %+v", ins[0])
	}
	if i := slices.IndexFunc(ins, func(s answer.StepIn) bool { return s.Performer == "P2" }); ins[i].Twice != 1 {
		t.Errorf("the baker is on at the same time: %+v", ins[i])
	}
	if i := slices.IndexFunc(ins, func(s answer.StepIn) bool { return s.Performer == "P4" }); len(ins[i].Open) != 1 {
		t.Errorf("nobody measured P4: %+v", ins[i])
	}
	if got := WhoCouldStepIn(&h, "A", "P3", answer.Plan{}); len(got) != 0 {
		t.Errorf("P3 plays nothing: %+v", got)
	}
}

// Whoever is away on the demo: nobody steps into two places unsaid, and the
// order is the one promised.
func TestStepInOnTheDemo(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	tooShort := func(t answer.Timeline) (n int) {
		for _, c := range t.Changes {
			if c.Verdict.Grade == why.No {
				n++
			}
		}
		return n
	}
	before := tooShort(Timeline(&h, "A"))
	for _, gone := range []show.PerformerID{"P09", "P26", "P01"} {
		for _, a := range WhoCouldStepIn(&h, "A", gone, answer.Plan{}) {
			for i, s := range a.Ins {
				with := played(&h, a.Role, s.Performer)
				n, all := 0, Timeline(&with, "A")
				if short := max(0, tooShort(all)-before); short != s.Short {
					t.Errorf("%s for %s: %d more changes too short, said %d", s.Performer, a.Role, short, s.Short)
				}
				for _, x := range all.Clashes {
					if x.Performer == s.Performer {
						n++
					}
				}
				if n != s.Twice || s.Performer == gone {
					t.Errorf("%s for %s: in two places %d times, said %d", s.Performer, a.Role, n, s.Twice)
				}
				if i > 0 && a.Ins[i-1].Twice > s.Twice {
					t.Errorf("%s: the order is not the one promised", a.Role)
				}
				if i == 2 {
					break
				}
			}
		}
	}
}
