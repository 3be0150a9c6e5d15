package cutting

import (
	"context"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// What is put by hand lies where it was put, and the rest round it, with the
// gap and off the flaws (Check and a test of its own say so); what cannot lie
// there is named and laid like the others.
func TestPutByHand(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	var plan answer.Plan
	for _, id := range waves(&h, "teal") {
		plan.Choices = append(plan.Choices, answer.Choice{Option: answer.Option{Piece: id, Source: answer.Make, Cloth: "K14"}})
	}
	piece := plan.Choices[0].Piece
	cut := func(laid ...show.HandLaid) answer.Cutting {
		h.HandLaid = laid
		c, err := Cut(context.Background(), &h, plan, answer.Cutting{}, solve.Budget{Effort: solve.Quick})
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range Check(&h, c) {
			t.Error(bad.Sentence(units.Metric))
		}
		lieApart(t, &h, c.Lays[0])
		return c
	}
	free := cut()
	at := show.HandLaid{Cloth: "K14", Piece: piece, Part: "width", Y: units.Cm(300)}
	c := cut(at)
	found := false
	for _, q := range c.Lays[0].Placed {
		min := q.Outline.Box().Min
		found = found || q.Piece == piece && q.Part == "width" && min.X == 0 && min.Y == units.Cm(300)
	}
	if !found || len(c.Lays[0].Placed)+len(c.Lays[0].Missing) != len(free.Lays[0].Placed)+len(free.Lays[0].Missing) {
		t.Errorf("not where it was put: %+v", c.Lays[0])
	}
	// the lay stands while nothing changes
	again, err := Cut(context.Background(), &h, plan, c, solve.Budget{Effort: solve.Quick})
	if err != nil || again.Lays[0].Used != c.Lays[0].Used {
		t.Errorf("%v %v, %v", err, again.Lays[0].Used, c.Lays[0].Used)
	}
	for what, l := range map[string]show.HandLaid{
		"off the cloth":       {Cloth: "K14", Piece: piece, Part: "width", Y: units.Cm(600)},
		"off the grain":       {Cloth: "K14", Piece: piece, Part: "width", Turn: 90},
		"no such part":        {Cloth: "K14", Piece: piece, Part: "sleeve"},
		"a part of elsewhere": {Cloth: "K14", Piece: "C001", Part: "width"},
	} {
		if bad := ByHand(&h, c.Drafts, "K14", []show.HandLaid{l}); len(bad) != 1 {
			t.Errorf("%s: %v", what, bad)
		}
	}
	two := []show.HandLaid{at, at}
	two[1].Y += units.Cm(50)
	if bad := ByHand(&h, c.Drafts, "K14", two); len(bad) != 1 {
		t.Errorf("one over the other: %v", bad)
	}
	apart := []show.HandLaid{at, {Cloth: "K14", Piece: piece, Part: "width"}, {Cloth: "K14", Piece: piece, Part: "width", Y: units.Cm(150)}}
	if bad := ByHand(&h, c.Drafts, "K14", apart[:2]); len(bad) != 0 {
		t.Errorf("two apart: %v", bad[0].Sentence(units.Metric))
	}
	if bad := ByHand(&h, c.Drafts, "K14", apart); len(bad) != 1 {
		t.Errorf("three of two: %v", bad)
	}
}
