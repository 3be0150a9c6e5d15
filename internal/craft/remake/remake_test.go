package remake

import (
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

var gown = show.Garment{ID: "G1", Category: show.Dress, Name: "evening gown", MayCut: true, Length: units.Exactly(units.Cm(140)), LengthFrom: "nape", HemRound: units.Exactly(units.Cm(300)), Waist: units.Exactly(units.Cm(70))}

// By hand: of 140 from the nape 34 to 44 lie above the waist, so the skirt is
// 96 to 106 long; its waist is cut new, anything up to half the hem.
func TestSkirtOffAGown(t *testing.T) {
	p := show.Piece{ID: "C1", Category: show.Skirt, Name: "full skirt", LengthTo: "ankle"}
	ways := Ways(&p, &gown)
	if len(ways) != 1 {
		t.Fatalf("%d ways", len(ways))
	}
	w := ways[0]
	if w.From.Length.Lo != units.Cm(96) || w.From.Length.Hi != units.Cm(106) || w.From.LengthFrom != "waist" || w.From.Waist.Hi != units.Cm(150) || !w.Cuts || !w.Guess {
		t.Errorf("%+v", w)
	}
	if len(w.Reasons("G1")) != 2 {
		t.Error("that it cannot be undone is not said")
	}
}

// What may not be cut is never cut.
func TestBorrowedIsNotCut(t *testing.T) {
	borrowed := gown
	borrowed.MayCut = false
	for _, p := range []show.Piece{{Category: show.Skirt, Name: "skirt"}, {Category: show.Dress, Name: "gown"}} {
		for _, w := range Ways(&p, &borrowed) {
			if w.Cuts {
				t.Errorf("%s cuts what may not be cut", w.How)
			}
		}
	}
}

// Trousers become breeches and not the other way round; the garment and the
// piece given are left as they are.
func TestBreeches(t *testing.T) {
	trousers := show.Garment{Category: show.Trousers, Name: "cricket trousers", MayCut: true}
	breeches := show.Piece{Category: show.Trousers, Name: "livery breeches", LengthTo: "below knee"}
	if ways := Ways(&breeches, &trousers); len(ways) != 1 || ways[0].As.LengthTo != "" || breeches.LengthTo != "below knee" {
		t.Errorf("%+v", ways)
	}
	long := show.Piece{Category: show.Trousers, Name: "trousers", LengthTo: "ankle"}
	if ways := Ways(&long, &show.Garment{Category: show.Trousers, Name: "breeches", MayCut: true}); len(ways) != 0 {
		t.Errorf("breeches were made longer: %+v", ways)
	}
}

// No way takes less than the least, whatever the measures; where there is no
// least there is no way.
func TestLeastIsLeast(t *testing.T) {
	h := demotest.House(t)
	ways := 0
	for i := range h.Pieces {
		for k := range h.Garments {
			for _, mayCut := range []bool{true, false} {
				p, g := &h.Pieces[i], h.Garments[k]
				g.MayCut = mayCut
				least, look, ok := Least(p, show.Noun(g.Name), mayCut)
				for _, w := range Ways(p, &g) {
					ways++
					if !ok || w.Work[0].Minutes < least || w.Look < look {
						t.Fatalf("%s from %s, may be cut %v: %s of work, look %d; the least is %s, %d, %v", p.ID, g.ID, mayCut, w.Work[0].Minutes, w.Look, least, look, ok)
					}
				}
			}
		}
	}
	if ways == 0 {
		t.Error("no ways")
	}
}
