package needs

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// from: the demo's README: pieces by kind; of 22 in the hall 15 are in skirts,
// eleven stand on a roll and four gowns do not.
func TestDemo(t *testing.T) {
	h := demotest.House(t)
	n := List(&h)
	count := map[show.Category]int{}
	for _, x := range n.Needs {
		count[x.Category]++
		if len(x.Wearers) == 0 || len(x.Scenes) == 0 || x.Seen <= 0 {
			t.Errorf("%s is worn by nobody, nowhere", x.Piece)
		}
	}
	for c, want := range map[show.Category]int{show.Dress: 25, show.Skirt: 41, show.Shirt: 38, show.Trousers: 22, show.Bodice: 21, show.Under: 26, show.Jacket: 15, show.Accessory: 26} {
		if count[c] != want {
			t.Errorf("%d of %s, the README says %d", count[c], c, want)
		}
	}
	if len(n.Missing) != 4 {
		t.Errorf("%d looks want a support, the README says 4", len(n.Missing))
	}
	for _, bad := range Check(&h, n) {
		t.Error(bad.Sentence(0))
	}
}

// The cloak has two wearers in one cast; a piece of an alternating role has
// the other cast's wearer too.
func TestWearersOverAllCasts(t *testing.T) {
	h := demotest.House(t)
	for _, x := range List(&h).Needs {
		p := h.Piece(x.Piece)
		for _, l := range p.Looks {
			for _, c := range h.Casting {
				if c.Role == h.Look(l).Role && !c.Cover && !slices.Contains(x.Wearers, c.Performer) {
					t.Errorf("%s is worn by %s in cast %s and does not say so", p.ID, c.Performer, c.Cast)
				}
			}
		}
	}
}

// By hand: a back zip takes a zip of 50 and a hook; a waist of 60 on elastic
// 0.92 x 60 + 2 = 57.2, so 58; what is found and not made takes nothing.
func TestNotionsByHand(t *testing.T) {
	h := demotest.House(t)
	h.Pieces = []show.Piece{
		{ID: "X1", Closure: "side zip", FirstThought: "build"},
		{ID: "X2", Closure: "side zip", FirstThought: "stock"},
		{ID: "X3", Closure: "front buttons", Category: show.Shirt, FirstThought: "build"},
		{ID: "X4", Closure: "front buttons", Category: show.Bodice, FirstThought: "build"},
		{ID: "X5", Closure: "wrap and snap", FirstThought: "build"},
	}
	got := map[string]int{}
	for _, n := range List(&h).Notions {
		got[n.Name+" "+n.Size] = n.Need
	}
	want := map[string]int{"zip 20": 1, "skirt hook ": 1, "button 11 mm ": 9, "button 15 mm ": 5, "snap 15 mm ": 3}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s: %d, by hand %d", k, got[k], n)
		}
	}
	if len(got) != len(want) {
		t.Errorf("more than is needed: %v", got)
	}
}

func TestCheckSees(t *testing.T) {
	h := demotest.House(t)
	n := List(&h)
	n.Needs[3].Seen++
	if len(Check(&h, n)) == 0 {
		t.Error("a wrong time on stage is not seen")
	}
}

// One more appearance of a look adds its seconds to the pieces of that look,
// its scene to their scenes, and changes nothing else.
func TestOneMoreAppearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := show.House{Scenes: []show.Scene{{ID: "S1"}, {ID: "S2"}, {ID: "S3"}}}
		looks := []show.LookID{"L1", "L2", "L3", "L4"}
		for _, l := range looks {
			h.Looks = append(h.Looks, show.Look{ID: l})
		}
		for i := range rapid.IntRange(1, 8).Draw(t, "pieces") {
			worn := rapid.SliceOfNDistinct(rapid.SampledFrom(looks), 0, 3, rapid.ID).Draw(t, "looks")
			h.Pieces = append(h.Pieces, show.Piece{ID: show.PieceID(fmt.Sprint("C", i)), Looks: worn})
		}
		appearance := rapid.Custom(func(t *rapid.T) show.Appearance {
			enter := time.Duration(rapid.IntRange(0, 300).Draw(t, "enter")) * time.Second
			return show.Appearance{
				Scene: rapid.SampledFrom(h.Scenes).Draw(t, "scene").ID, Look: rapid.SampledFrom(looks).Draw(t, "look"),
				Enter: enter, Exit: enter + time.Duration(rapid.IntRange(1, 200).Draw(t, "for"))*time.Second,
			}
		})
		h.Appearances = rapid.SliceOfN(appearance, 0, 6).Draw(t, "appearances")
		before := List(&h)
		more := appearance.Draw(t, "more")
		h.Appearances = append(h.Appearances, more)
		after := List(&h)
		for i, p := range h.Pieces {
			was, is := before.Needs[i], after.Needs[i]
			want := was.Seen
			if slices.Contains(p.Looks, more.Look) {
				want += more.Exit - more.Enter
				if !slices.Contains(is.Scenes, more.Scene) {
					t.Fatalf("%s is not in scene %s", p.ID, more.Scene)
				}
			} else if !slices.Equal(was.Scenes, is.Scenes) {
				t.Fatalf("%s was in %v and is in %v", p.ID, was.Scenes, is.Scenes)
			}
			if is.Seen != want {
				t.Fatalf("%s is seen for %v, by hand %v", p.ID, is.Seen, want)
			}
		}
		for _, n := range []answer.Needs{before, after} {
			if len(n.Needs) != len(h.Pieces) {
				t.Fatalf("%d needs for %d pieces", len(n.Needs), len(h.Pieces))
			}
		}
		if bad := Check(&h, after); len(bad) > 0 {
			t.Fatal(bad[0].Sentence(0))
		}
	})
}

// A list of one's own stands in the place of the one that ships.
//
// from: by hand.
func TestOwnNotions(t *testing.T) {
	h := show.House{Pieces: []show.Piece{{ID: "X1", Closure: "side zip", FirstThought: "build"}},
		Tables: map[string]string{"notions": "closure | zip | any | zip | 22 | 2 | piece | ours"}}
	if got := List(&h).Notions; len(got) != 1 || got[0].Size != "22" || got[0].Need != 2 {
		t.Errorf("%+v", got)
	}
	for _, text := range []string{"", "closure | zip", "closure | zip | any | zip | 22 | two | piece | ours", "closure | zip | any | zip | 22 | 2 | metre | ours",
		Text.Ships + "\ngirth | tie waist | tape | knee | 100 | 80 | ours", Text.Ships + "\nzip | 1"} {
		if why.KindOf(Text.Check(text)) != why.Invalid {
			t.Errorf("%q is taken", text[max(0, len(text)-60):])
		}
	}
}
