package period

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/show/show"
)

// The table reads, every piece in it is known, and its figures stand in the
// relations cloth and hours must stand in.
func TestTemplates(t *testing.T) {
	all := Templates()
	if len(all) < 50 {
		t.Errorf("%d templates", len(all))
	}
	seen := map[string]bool{}
	for _, x := range all {
		if seen[x.Name()] {
			t.Errorf("%s is there twice", x.Name())
		}
		seen[x.Name()] = true
		if len(x.Pieces) == 0 || x.ClothChild > x.ClothTeen || x.Making > 0 && x.Cheap > x.Making {
			t.Errorf("%s: %d pieces, cloth %.1f and %.1f m2, %s made, %s the cheap way", x.Name(), len(x.Pieces), x.ClothChild.M2(), x.ClothTeen.M2(), x.Making, x.Cheap)
		}
		for i, p := range x.Pieces {
			if p.Category == "" || p.Layer < 1 || p.Layer > 6 || p.Fit == "" || p.Closure == "" {
				t.Errorf("%s: %+v", x.Name(), p)
			}
			if i > 0 && p.Category == show.Under && x.Pieces[i-1].Category != show.Under {
				t.Errorf("%s: %s comes after what is worn over it", x.Name(), p.Name)
			}
		}
	}
	for _, bad := range []string{"  shirt", "a | b", "a | b | c | x | | | |", "a | b | c | 1 | 1 2 | 1 | |\n  elephant"} {
		if _, err := ReadTemplates(bad); err == nil || !strings.Contains(err.Error(), "line ") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func free(h *show.House, letter string, digits int) string {
	for i := 1; ; i++ {
		code := fmt.Sprintf("%s%0*d", letter, digits, i)
		if h.Piece(show.PieceID(code)) == nil && h.Look(show.LookID(code)) == nil && h.Set(show.SetID(code)) == nil {
			return code
		}
	}
}

// Whatever is given to whom: each role gets each piece once, sets hold all of
// their pieces, what somebody had stays, and giving again changes nothing.
func TestGiving(t *testing.T) {
	all := Templates()
	rapid.Check(t, func(t *rapid.T) {
		h := show.House{}
		var roles []show.RoleID
		for i := range rapid.IntRange(1, 6).Draw(t, "roles") {
			id := show.RoleID(fmt.Sprintf("R%d", i))
			h.Roles = append(h.Roles, show.Role{ID: id, Name: string(id), Group: "waves"})
			roles = append(roles, id)
		}
		had := rapid.Bool().Draw(t, "one has a piece")
		if had {
			h.Looks = []show.Look{{ID: "L900", Role: "R0", Order: 1}}
			h.Pieces = []show.Piece{{ID: "C900", Name: "own", Looks: []show.LookID{"L900"}}}
		}
		x := rapid.SampledFrom(all).Draw(t, "template")
		got, given := Give(h, x, roles, rapid.SampledFrom([]string{"", "red", "red, blue"}).Draw(t, "colours"), 1, free)
		want := len(roles)
		if had {
			want--
		}
		if given.Looks != want || given.Pieces != want*len(x.Pieces) || len(got.Pieces) != want*len(x.Pieces)+len(h.Pieces) {
			t.Fatalf("%d roles: %+v, %d pieces", len(roles), given, len(got.Pieces))
		}
		codes := map[show.PieceID]bool{}
		for _, p := range got.Pieces {
			if codes[p.ID] {
				t.Fatalf("%s is there twice", p.ID)
			}
			codes[p.ID] = true
			if s := got.Set(p.Set); p.ID != "C900" && (s == nil) != (want < 2) {
				t.Fatalf("%s of %d is in set %q", p.ID, want, p.Set)
			}
		}
		for _, s := range got.Sets {
			if s.Count != want || len(s.Pieces) != want {
				t.Fatalf("set %s holds %d of %d", s.ID, len(s.Pieces), want)
			}
		}
		again, second := Give(got, x, roles, "", 1, free)
		if second.Pieces != 0 || len(again.Pieces) != len(got.Pieces) {
			t.Fatalf("given again: %+v", second)
		}
		if len(h.Pieces) > 1 {
			t.Fatal("the house given was touched")
		}
	})
}
