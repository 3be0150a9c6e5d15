package sourcing

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

func shopping(t testing.TB) (Input, answer.Plan) {
	h := demotest.House(t).At(demo.Today - 2) // the day before the jumble sale
	in := Input{House: &h, Estimates: cutting.Estimate(&h), Money: 40000}
	plan, err := Share(context.Background(), in, solve.Budget{Effort: solve.Quick})
	if err != nil {
		t.Fatal(err)
	}
	return in, plan
}

// from: the worked example of the jumble sale: a deep violet gown of flat 45,
// 36.5, 49 and 136 long at 9 is bought, with the limit of 10 for that piece.
func TestJumbleSale(t *testing.T) {
	in, plan := shopping(t)
	round := func(flat float64) units.Span { return units.Exactly(units.Cm(2 * flat)) }
	find := show.Find{ID: "find", Price: units.Some(units.Money(900)), Garment: show.Garment{ID: "find", Category: show.Dress, Name: "bridesmaid gown", Colour: "deep violet",
		Chest: round(45), Waist: round(36.5), Hip: round(49), Length: units.Exactly(units.Cm(136)), LengthFrom: "nape", Closure: "back zip", MayCut: true}}
	a := Appraise(in, plan, find)
	if a.Advice != answer.BuyIt || len(a.Serves) == 0 {
		t.Fatalf("the violet gown: %s, %d pieces", a.Advice, len(a.Serves))
	}
	violet := false
	for _, s := range a.Serves {
		violet = violet || in.House.Piece(s.Piece).Colour == "deep violet" && s.Option.Minutes() <= 30
	}
	if !violet {
		t.Errorf("the deep violet gown, with a hem at most, is not among the %d pieces it could be", len(a.Serves))
	}
	find.Price = units.Some(units.Money(4000))
	if a := Appraise(in, plan, find); a.Advice != answer.LeaveIt {
		t.Error("at 40 it is bought all the same")
	}
	find.Garment.Chest = round(20)
	find.Garment.Waist = round(17)
	if a := Appraise(in, plan, find); a.Advice != answer.LeaveIt || len(a.Serves) != 0 {
		t.Errorf("one of 20 flat serves %d pieces", len(a.Serves))
	}
}

// A dearer find is never better advice, and never worth more than is free.
func TestDearerIsNeverBetter(t *testing.T) {
	in, plan := shopping(t)
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom(in.House.Garments).Draw(t, "like")
		g.ID = "find"
		in := in
		in.Money = units.Money(rapid.IntRange(0, 5000).Draw(t, "free"))
		low := rapid.IntRange(0, 3000).Draw(t, "price")
		cheap := Appraise(in, plan, show.Find{ID: "find", Garment: g, Price: units.Some(units.Money(low))})
		dear := Appraise(in, plan, show.Find{ID: "find", Garment: g, Price: units.Some(units.Money(low + rapid.IntRange(1, 3000).Draw(t, "more")))})
		if dear.Advice == answer.BuyIt && cheap.Advice != answer.BuyIt {
			t.Fatal("it is bought only when it costs more")
		}
		if cheap.UpTo != dear.UpTo || cheap.UpTo > in.Money {
			t.Fatalf("worth up to %s and %s with %s free", cheap.UpTo, dear.UpTo, in.Money)
		}
	})
}

func BenchmarkAppraise(b *testing.B) {
	in, plan := shopping(b)
	g := in.House.Garments[10]
	for b.Loop() {
		Appraise(in, plan, show.Find{ID: "find", Garment: g, Price: units.Some(units.Money(900))})
	}
}
