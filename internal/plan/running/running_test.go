package running

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// from: the demo's README and the counts given with it.
func TestDemoCounts(t *testing.T) {
	h := demotest.House(t)
	ts := Timelines(&h)
	if len(ts) != 2 {
		t.Fatalf("%d casts, the show has 2", len(ts))
	}
	under := map[int]int{}
	for _, c := range ts[0].Changes {
		for _, limit := range []int{180, 120, 45} {
			if c.Seconds < limit {
				under[limit]++
			}
		}
	}
	for what, c := range map[string][2]int{
		"changes": {len(ts[0].Changes), 111}, "under 180 s": {under[180], 25}, "under 120 s": {under[120], 11}, "under 45 s": {under[45], 1},
		"at once": {ts[0].MostAtOnce, 10}, "end": {int(ts[0].End / time.Second), 6660}, "playing": {int(ts[0].Playing / time.Second), 5490},
		"both casts": {len(ts[0].Changes) + len(ts[1].Changes), 222},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %d, given as %d", what, c[0], c[1])
		}
	}
	for _, x := range ts {
		for _, bad := range Check(&h, x) {
			t.Error(bad.Sentence(0))
		}
	}
}

// One change by hand: the oath scene begins at 0:00:00 + scenes 1 to 10 with
// their gaps and the interval; off at 1.5 min, on at 1.8 min: 18 s in view.
func TestChangeInViewByHand(t *testing.T) {
	h := demotest.House(t)
	for _, c := range Timeline(&h, "A").Changes {
		if c.Seconds < 45 {
			if !c.InView || c.Seconds != 18 || c.FromScene != c.ToScene || c.FromSide != "L" || len(c.On) == 0 && len(c.Off) == 0 {
				t.Errorf("%+v", c)
			}
		}
	}
}

// smallShow draws a show of a few scenes; times are whole seconds.
func smallShow(t *rapid.T) show.House {
	h := show.House{Roles: []show.Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P1"}, {ID: "R3", Performer: "P2"}},
		Performers: []show.Performer{{ID: "P1"}, {ID: "P2"}}, Casting: []show.Casting{{Role: "R3", Cast: "B", Performer: "P1"}}}
	looks := []show.LookID{"L1", "L2", "L3"}
	for i := range rapid.IntRange(1, 5).Draw(t, "scenes") {
		long := rapid.IntRange(10, 60).Draw(t, "running")
		s := show.Scene{ID: show.SceneID(fmt.Sprintf("S%d", i)), Running: time.Duration(long) * time.Second, GapAfter: time.Duration(rapid.IntRange(0, 20).Draw(t, "gap")) * time.Second}
		h.Scenes = append(h.Scenes, s)
		for k, r := range h.Roles {
			if rapid.Bool().Draw(t, "on") {
				from := rapid.IntRange(0, long-1).Draw(t, "enter")
				to := rapid.IntRange(from+1, long).Draw(t, "exit")
				h.Appearances = append(h.Appearances, show.Appearance{Scene: s.ID, Role: r.ID, Look: looks[k],
					Enter: time.Duration(from) * time.Second, Exit: time.Duration(to) * time.Second})
			}
		}
	}
	return h
}

// The oracle is Check, which goes second by second; and a clash is found
// exactly where somebody is on twice in one second.
func TestAgainstSecondBySecond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := smallShow(t)
		for _, cast := range h.Casts() {
			tl := Timeline(&h, cast)
			for _, bad := range Check(&h, tl) {
				t.Fatal(bad.Sentence(0))
			}
			if got, want := len(tl.Clashes) > 0, twice(&h, cast); got != want {
				t.Fatalf("clash found %v, there is one: %v", got, want)
			}
			if got := mostBySecond(tl); got != tl.MostAtOnce {
				t.Fatalf("at once: %d by sweeping, %d second by second", tl.MostAtOnce, got)
			}
		}
	})
}

func twice(h *show.House, cast show.Cast) bool {
	on := map[string]bool{}
	starts, _, _ := h.Starts()
	for _, a := range h.Appearances {
		for s := starts[a.Scene] + a.Enter; s < starts[a.Scene]+a.Exit; s += time.Second {
			k := fmt.Sprint(h.PlayedBy(a.Role, cast), s)
			if on[k] {
				return true
			}
			on[k] = true
		}
	}
	return false
}

func mostBySecond(t answer.Timeline) int {
	best := 0
	for s := time.Duration(0); s < t.End; s += time.Second {
		n := 0
		for _, c := range t.Changes {
			if c.Seconds < Fast && c.Leaves <= s && s < c.Enters {
				n++
			}
		}
		best = max(best, n)
	}
	return best
}

// A check that cannot fail is none: move one change and it must be seen.
func TestCheckSees(t *testing.T) {
	h := demotest.House(t)
	tl := Timeline(&h, "A")
	tl.Changes[5].Seconds++
	if len(Check(&h, tl)) == 0 {
		t.Error("a change one second too long is not seen")
	}
	tl = Timeline(&h, "A")
	tl.Changes = tl.Changes[1:]
	if len(Check(&h, tl)) == 0 {
		t.Error("a change left out is not seen")
	}
}

// from: the house table of seconds a fastening, added up by hand: two zips
// on, one off, walking on the same side, looking over.
func TestSecondsByHand(t *testing.T) {
	h := show.House{Performers: []show.Performer{{ID: "P1"}}, Roles: []show.Role{{ID: "R1", Performer: "P1"}},
		Scenes:      []show.Scene{{ID: "S1", Running: time.Minute}, {ID: "S2", Running: time.Minute}},
		Looks:       []show.Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R1"}},
		Pieces:      []show.Piece{{ID: "C1", Looks: []show.LookID{"L1"}, Closure: "back zip"}, {ID: "C2", Looks: []show.LookID{"L2"}, Closure: "back zip"}, {ID: "C3", Looks: []show.LookID{"L2"}, Closure: "side zip"}, {ID: "C4", Looks: []show.LookID{"L1", "L2"}, Closure: "back lacing"}},
		Appearances: []show.Appearance{{Scene: "S1", Role: "R1", Look: "L1", Exit: 40 * time.Second, ExitSide: "L"}, {Scene: "S2", Role: "R1", Look: "L2", Enter: 5 * time.Second, Exit: time.Minute, EnterSide: "L"}}}
	c := Timeline(&h, "A").Changes[0]
	if c.Seconds != 25 || c.Wanted.Lo != 4+7+7+4+10 || c.Wanted.Hi != (4+7+7)*3/2+4+10 {
		t.Errorf("%d s there, %+v wanted", c.Seconds, c.Wanted)
	}
	if c.Verdict.Grade != why.No || len(c.Stays) != 1 {
		t.Errorf("25 s for 32 s of work: %v, stays %v", c.Verdict.Grade, c.Stays)
	}
}

// No dresser is in two changes at once.
func TestDutiesDoNotOverlap(t *testing.T) {
	h := demotest.House(t)
	for _, tl := range Timelines(&h) {
		for i, a := range tl.Duties {
			for _, b := range tl.Duties[:i] {
				if a.Dresser != "" && a.Dresser == b.Dresser && a.Begins < b.Ends && b.Begins < a.Ends {
					t.Errorf("%s is in two changes at %v", a.Dresser, a.Begins)
				}
			}
			if p := h.Helper(a.Dresser); a.Dresser != "" && (p == nil || !p.Dresser || p.Chaperone) {
				t.Errorf("%s dresses and may not", a.Dresser)
			}
		}
	}
}

// Three minutes are not under three minutes: of two changes that overlap, of
// 179 and of 180 s, one is fast.
func TestJustThreeMinutes(t *testing.T) {
	h := show.House{Scenes: []show.Scene{{ID: "S1", Running: 10 * time.Minute}},
		Roles: []show.Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P1"}, {ID: "R3", Performer: "P2"}, {ID: "R4", Performer: "P2"}}}
	on := func(role show.RoleID, look show.LookID, from, to int) {
		h.Appearances = append(h.Appearances, show.Appearance{Scene: "S1", Role: role, Look: look, Enter: time.Duration(from) * time.Second, Exit: time.Duration(to) * time.Second})
	}
	on("R1", "L1", 0, 100)
	on("R2", "L2", 279, 400)
	on("R3", "L3", 0, 100)
	on("R4", "L4", 280, 400)
	if tl := Timeline(&h, "A"); len(tl.Changes) != 2 || tl.MostAtOnce != 1 {
		t.Errorf("%d changes, %d fast ones at once", len(tl.Changes), tl.MostAtOnce)
	}
}
