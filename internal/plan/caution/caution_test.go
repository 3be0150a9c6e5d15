package caution

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

func keys(cs []answer.Caution) map[string]answer.Caution {
	out := map[string]answer.Caution{}
	for _, c := range cs {
		out[c.Key] = c
	}
	return out
}

// from: the demo's README, tensions 6, 14 and 17: the hooded cloak goes on two
// heads; two performers want no metal; 44 at twelve to one want four, two are
// listed, and one of them is down as a dresser too.
func TestDemo(t *testing.T) {
	h := demotest.House(t)
	got := List(&h, answer.Plan{})
	k := keys(got)
	for _, want := range []string{"head C180", "cord-neck C180", "chaperones", "chaperone-dresser H10", "hem-stairs C017", "cord-waist"} {
		if _, ok := k[want]; !ok {
			t.Errorf("no caution %q", want)
		}
	}
	if s := k["chaperones"].Reason.Sentence(0); !strings.Contains(s, "44") || !strings.Contains(s, "4 chaperones") || !strings.Contains(s, "2 are") {
		t.Errorf("chaperones: %s", s)
	}
	metal := 0
	for key := range k {
		if strings.HasPrefix(key, "wish-0") {
			metal++
		}
	}
	if metal == 0 {
		t.Error("nobody's wish for no metal is kept")
	}
	for _, bad := range Check(&h, got) {
		t.Error(bad.Sentence(0))
	}
}

// A wool garment chosen for somebody who wants none is said, another is not.
func TestWoolByWhatIsChosen(t *testing.T) {
	h := show.House{Performers: []show.Performer{{ID: "P1", Care: []string{"no wool on skin"}}}, Roles: []show.Role{{ID: "R1", Performer: "P1"}}, Looks: []show.Look{{ID: "L1", Role: "R1"}},
		Pieces:   []show.Piece{{ID: "C1", Looks: []show.LookID{"L1"}, Layer: 3, Category: show.Skirt}},
		Garments: []show.Garment{{ID: "S1", Fibre: "wool-mix"}, {ID: "S2", Fibre: "cotton"}}}
	with := func(g show.GarmentID) int {
		plan := answer.Plan{Choices: []answer.Choice{{Option: answer.Option{Piece: "C1", Garment: g}}}}
		n := 0
		for _, c := range List(&h, plan) {
			if strings.HasPrefix(c.Key, "wish-2") {
				n++
			}
		}
		return n
	}
	if with("S1") != 1 || with("S2") != 0 {
		t.Errorf("wool %d, cotton %d", with("S1"), with("S2"))
	}
}

// By the rule: 5 cm is enough for a dance and not for stairs; 6 is enough for
// both; a piece not to the floor is nobody's trip.
func TestHems(t *testing.T) {
	for _, c := range []struct {
		clear float64
		move  string
		to    string
		want  string
	}{{4, "dance", "floor", "hem-dance C1"}, {5, "dance", "floor", ""}, {5, "stairs", "floor", "hem-stairs C1"}, {6, "stairs", "floor", ""}, {4, "stairs", "ankle", ""}} {
		h := show.House{Scenes: []show.Scene{{ID: "S1", Movement: []string{c.move}}}, Looks: []show.Look{{ID: "L1"}}, Appearances: []show.Appearance{{Scene: "S1", Look: "L1"}},
			Pieces: []show.Piece{{ID: "C1", Looks: []show.LookID{"L1"}, LengthTo: c.to, HemClear: units.Some(units.Cm(c.clear))}}}
		got := ""
		for _, x := range List(&h, answer.Plan{}) {
			got = x.Key
		}
		if got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

func TestDecisionIsRemembered(t *testing.T) {
	h := demotest.House(t)
	h.Decisions = []show.Decision{{Caution: "head C180", Who: "you", What: "two linings"}}
	if d := keys(List(&h, answer.Plan{}))["head C180"].Decided; d == nil || d.What != "two linings" {
		t.Errorf("decided %v", d)
	}
}

func TestCheckSees(t *testing.T) {
	h := demotest.House(t)
	cs := List(&h, answer.Plan{})
	var less []answer.Caution
	for _, c := range cs {
		if c.Key != "hem-stairs C017" {
			less = append(less, c)
		}
	}
	if len(Check(&h, less)) == 0 {
		t.Error("a forgotten hem is not seen")
	}
}

// A hem taken up never adds a caution, and chaperones are asked for exactly
// while twelve children for each are fewer than the cast.
func TestLessIsNeverSafer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h show.House
		for i := range rapid.IntRange(0, 60).Draw(t, "cast") {
			h.Performers = append(h.Performers, show.Performer{ID: show.PerformerID(fmt.Sprint("P", i))})
		}
		for i := range rapid.IntRange(0, 6).Draw(t, "chaperones") {
			h.Helpers = append(h.Helpers, show.Helper{ID: show.HelperID(fmt.Sprint("H", i)), Chaperone: true})
		}
		moves := rapid.SliceOfDistinct(rapid.SampledFrom([]string{"dance", "stairs", "floor"}), rapid.ID[string]).Draw(t, "movement")
		h.Scenes = []show.Scene{{ID: "S1", Movement: moves}}
		h.Looks = []show.Look{{ID: "L1"}}
		h.Appearances = []show.Appearance{{Scene: "S1", Look: "L1"}}
		low := rapid.IntRange(0, 120).Draw(t, "low")
		high := rapid.IntRange(low, 120).Draw(t, "high")
		at := func(mm int) []answer.Caution {
			h.Pieces = []show.Piece{{ID: "C1", Looks: []show.LookID{"L1"}, LengthTo: "floor", HemClear: units.Some(units.Length(mm) * units.Millimetre)}}
			out := List(&h, answer.Plan{})
			if bad := Check(&h, out); len(bad) > 0 {
				t.Fatal(bad[0].Sentence(0))
			}
			return out
		}
		below, above := at(low), at(high)
		if len(above) > len(below) {
			t.Fatalf("%d mm: %d cautions, %d mm: %d", low, len(below), high, len(above))
		}
		few := slices.ContainsFunc(above, func(c answer.Caution) bool { return c.Key == "chaperones" })
		if want := 12*len(h.Helpers) < len(h.Performers); few != want {
			t.Fatalf("%d on stage, %d chaperones: said %v", len(h.Performers), len(h.Helpers), few)
		}
	})
}
