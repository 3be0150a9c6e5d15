package running

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/show"
)

// large makes a show of 300 performers, 60 scenes of two minutes, ten
// appearances each, in pairs near together, in five looks of four pieces, two
// of them worn in two looks, and so many dressers.
func large(dressers int) show.House {
	r := rand.New(rand.NewPCG(1, 2))
	var h show.House
	for i := range 60 {
		h.Scenes = append(h.Scenes, show.Scene{ID: show.SceneID(fmt.Sprint("S", i)), Running: 2 * time.Minute, GapAfter: time.Duration(r.IntN(4)) * 10 * time.Second})
	}
	h.Scenes[30].Interval = 15 * time.Minute
	for i := range dressers {
		h.Helpers = append(h.Helpers, show.Helper{ID: show.HelperID(fmt.Sprint("H", i)), Dresser: true})
	}
	closures := []string{"back zip", "front buttons", "tie waist", "snaps", "pull-over", "wrap and snap", "elastic waist"}
	kinds := []show.Category{show.Shirt, show.Skirt, show.Bodice, show.Accessory}
	fits, lengths, sides := []string{"loose", "easy", "fitted"}, []string{"knee", "calf", "ankle", "floor"}, []show.Side{"L", "R"}
	for i := range 300 {
		who := show.PerformerID(fmt.Sprint("P", i))
		h.Performers = append(h.Performers, show.Performer{ID: who})
		for l := range 5 {
			role, look := show.RoleID(fmt.Sprint("R", i, "-", l)), show.LookID(fmt.Sprint("L", i, "-", l))
			h.Roles = append(h.Roles, show.Role{ID: role, Performer: who})
			h.Looks = append(h.Looks, show.Look{ID: look, Role: role})
			for p := range 4 {
				piece := show.Piece{ID: show.PieceID(fmt.Sprint("C", i, "-", l, "-", p)), Category: kinds[p], Layer: 3 + p/2, Closure: closures[r.IntN(len(closures))],
					Fit: fits[r.IntN(3)], LengthTo: lengths[r.IntN(4)], Looks: []show.LookID{look}}
				if p < 2 && l > 0 {
					piece.Looks = append(piece.Looks, show.LookID(fmt.Sprint("L", i, "-", l-1)))
				}
				h.Pieces = append(h.Pieces, piece)
			}
		}
		look, last := 0, 0
		for n := range 10 {
			if r.IntN(8) > 0 || n%2 == 1 {
				look = (look + 1 + r.IntN(4)) % 5
			}
			at := n/2*12 + r.IntN(5) // two near together in every twelve
			if n%2 == 1 {
				at = n/2*12 + 5 + r.IntN(7)
				if r.IntN(3) == 0 {
					at = last + 1
				}
			}
			last = at
			enter, exit := time.Duration(r.IntN(12)*5)*time.Second, time.Duration(60+r.IntN(12)*5)*time.Second
			h.Appearances = append(h.Appearances, show.Appearance{Scene: h.Scenes[at].ID, Role: show.RoleID(fmt.Sprint("R", i, "-", look)), Look: show.LookID(fmt.Sprint("L", i, "-", look)),
				Enter: enter, Exit: exit, EnterSide: sides[r.IntN(2)], ExitSide: sides[r.IntN(2)]})
		}
	}
	return h
}

// The large show is as large as it says, and everything about it holds.
func TestLargeShow(t *testing.T) {
	h := large(12)
	tl := Timeline(&h, "A")
	if len(h.Appearances) != 3000 || len(tl.Changes) < 2000 {
		t.Errorf("%d appearances, %d changes", len(h.Appearances), len(tl.Changes))
	}
	for _, bad := range Check(&h, tl) {
		t.Error(bad.Sentence(0))
	}
	h = large(40)
	var m Memory
	m.Timeline(&h, "A")
	h.Appearances[1500].Enter += 10 * time.Second
	got, err := json.Marshal(m.Timeline(&h, "A"))
	want, err2 := json.Marshal(Timeline(&h, "A"))
	if err != nil || err2 != nil || !bytes.Equal(got, want) {
		t.Error("what is remembered changes the answer", err, err2)
	}
}

func BenchmarkLarge(b *testing.B) {
	h := large(12)
	for b.Loop() {
		Timeline(&h, "A")
	}
}

func BenchmarkLargeFewDressers(b *testing.B) {
	h := large(4)
	for b.Loop() {
		Timeline(&h, "A")
	}
}

func BenchmarkLargeOneMinute(b *testing.B) {
	h := large(12)
	var m Memory
	m.Timeline(&h, "A")
	for n := 0; b.Loop(); n++ {
		h.Appearances[1500].Enter = time.Duration(n%50) * time.Second
		m.Timeline(&h, "A")
	}
}

func BenchmarkLargeCheck(b *testing.B) {
	h := large(12)
	tl := Timeline(&h, "A")
	for b.Loop() {
		Check(&h, tl)
	}
}

func BenchmarkDemo(b *testing.B) {
	h := demotest.House(b)
	for b.Loop() {
		Timelines(&h)
	}
}
