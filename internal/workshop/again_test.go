package workshop

import (
	"context"
	"reflect"
	"testing"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// What was told to somebody is held, also by a house opened again with rows
// changed since; a pin has it moved.
func TestToldIsHeldAcrossOpening(t *testing.T) {
	w, ctx := orchard(t), context.Background()
	was := prepared(t, w).Choice("Z1").Option
	if was.Garment != "G1" {
		t.Fatalf("Z1 comes from %s", was.Garment)
	}
	err := w.act(ctx, "told", func(h *show.House) error {
		h.Done = append(h.Done, show.Done{Piece: "Z1", What: "told", Day: w.set.Day})
		better := *h.Garment("G1")
		better.ID, better.Chest, better.Waist, better.Hip = "G9", units.Span{}, units.Span{}, units.Span{}
		for i := range h.Garments {
			if h.Garments[i].ID == "G1" {
				better.Chest, better.Waist, better.Hip = h.Garments[i].Chest, h.Garments[i].Waist, h.Garments[i].Hip
				h.Garments[i].Colour = "white" // the other is the colour drawn
			}
		}
		h.Garments = append(h.Garments, better)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	w.Close()
	again, err := Open(w.store.Path(), w.set)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if c := prepared(t, again).Choice("Z1"); c.Garment != "G1" || c.Held != "told" || c.Price <= 0 {
		t.Errorf("told, it comes from %s, held %q, at a price of %d", c.Garment, c.Held, c.Price)
	}
	if err := again.Pin(ctx, show.Pin{Piece: "Z1", Source: string(answer.Alter), Garment: "G9"}); err != nil {
		t.Fatal(err)
	}
	if c := prepared(t, again).Choice("Z1"); c.Garment != "G9" || c.Held != "" || !c.Pinned {
		t.Errorf("pinned to G9, it comes from %s, held %q", c.Garment, c.Held)
	}
}

// Estimates of cloth made with what is remembered are those that would be made
// anew.
func TestEstimatesRemembered(t *testing.T) {
	w := orchard(t)
	prepared(t, w)
	for what, change := range map[string]func(h *show.House){
		"a pin": func(h *show.House) { h.Pins = append(h.Pins, show.Pin{Piece: "Z2", Source: "buy"}) },
		"a price": func(h *show.House) {
			h.Pieces[0].PriceLimit = units.Some(units.Money(1))
			h.Budget[0].Planned++
		},
		"a find seen": func(h *show.House) {
			g := *h.Garment("G1")
			g.ID = "F1"
			h.Finds = append(h.Finds, show.Find{ID: "F1", Garment: g})
		},
		"a find bought": func(h *show.House) {
			g := *h.Garment("G1")
			g.ID = "F2"
			h.Finds = append(h.Finds, show.Find{ID: "F2", Garment: g, Decision: "bought"})
		},
		"a cloth":     func(h *show.House) { h.Cloths[0].Length = h.Cloths[0].Length.Times(1, 3) },
		"a measure":   func(h *show.House) { h.Performers[0].Body[2].Span = units.Exactly(units.Cm(99)) },
		"a piece":     func(h *show.House) { h.Pieces[2].LengthTo = "floor" },
		"a loan":      func(h *show.House) { h.Loans = append(h.Loans, show.Loan{ID: "B1", Garment: "G1"}) },
		"not for cut": func(h *show.House) { h.Garments[0].MayCut = !h.Garments[0].MayCut },
	} {
		if err := w.act(context.Background(), what, func(h *show.House) error { change(h); return nil }); err != nil {
			t.Fatal(err)
		}
		p := prepared(t, w)
		if !reflect.DeepEqual(p.Estimates, cutting.Estimate(&p.House)) {
			t.Errorf("%s: the estimates are of before", what)
		}
	}
}

// What found no place on a cloth is not tried there again that day, until a
// cloth or what a piece takes of it is another.
func TestNoPlaceIsRemembered(t *testing.T) {
	ctx := context.Background()
	w := orchard(t)
	prepared(t, w)
	cloth := w.last.House.Cloths[0].ID
	w.last.Barred = map[show.PieceID][]show.ClothID{"Z9": {cloth}}
	w.last.Holds = map[show.ClothID]units.Length{cloth: units.Cm(50)}
	if err := w.Pin(ctx, show.Pin{Piece: "Z2", Source: string(answer.Buy)}); err != nil {
		t.Fatal(err)
	}
	if p := prepared(t, w); len(p.Barred["Z9"]) != 1 || p.Holds[cloth] != units.Cm(50) {
		t.Errorf("after a pin it is forgotten: %v, %v", p.Barred, p.Holds)
	}
	if err := w.act(ctx, "a shorter cloth", func(h *show.House) error { h.Cloths[0].Length = h.Cloths[0].Length.Times(9, 10); return nil }); err != nil {
		t.Fatal(err)
	}
	if p := prepared(t, w); len(p.Barred["Z9"]) != 0 {
		t.Errorf("of another cloth it is kept: %v", p.Barred)
	}
}
