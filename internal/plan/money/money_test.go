package money

import (
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// By hand from the slips up to 14 March: 38.40 + 33 (8 + 8 + 12 + 5) + 58
// (9 + 9 + 12 + 4 + 4 + 4 + 4 + 5 + 7) + 27.90 = 157.30, of 1,150 with 150
// held back; the second and third are not paid back, nor the fourth.
func TestDemoByHand(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	m := Report(&h, answer.Plan{})
	for what, c := range map[string][2]units.Money{
		"sum": {m.Sum, 1150_00}, "held back": {m.Held, 150_00}, "spent": {m.Spent, 157_30}, "no slip": {m.NoSlip, 58_00},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %s, by hand %s", what, c[0], c[1])
		}
	}
	if len(m.Owed) != 2 || m.Owed[0].Sum != 91_00 || m.Owed[1].Sum != 27_90 {
		t.Errorf("owed %v, by hand H1 91 and H5 27.90", m.Owed)
	}
	for _, bad := range Check(&h, answer.Plan{}, m) {
		t.Error(bad.Sentence(0))
	}
}

// What a plan buys comes off what is free, coin for coin.
func TestPlanCostsWhatItBuys(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	before := Report(&h, answer.Plan{})
	rapid.Check(t, func(t *rapid.T) {
		var plan answer.Plan
		var sum units.Money
		for _, p := range h.Pieces[:20] {
			coins := units.Money(rapid.Int64Range(0, 900).Draw(t, "coins"))
			sum += coins
			plan.Choices = append(plan.Choices, answer.Choice{Option: answer.Option{Piece: p.ID, Source: answer.Buy, Money: coins}})
		}
		after := Report(&h, plan)
		if before.Free-after.Free != sum || after.Spent != before.Spent {
			t.Fatalf("buys %s, free falls from %s to %s", sum, before.Free, after.Free)
		}
		for _, bad := range Check(&h, plan, after) {
			t.Fatal(bad.Sentence(0))
		}
	})
}

// A gift is not an unknown: a cloth that cost nothing promises nothing, a
// find without a price is not added.
func TestLimitLeavesTheOtherLinesAlone(t *testing.T) {
	h := show.House{Budget: []show.BudgetLine{{Line: "second-hand garments", Planned: 100_00}, {Line: "thread", Planned: 40_00}, {Line: "kept", Planned: 20_00, HeldBack: true}},
		Receipts: []show.Receipt{{ID: "Q1", Line: "second-hand garments", Sum: units.Some(units.Money(30_00))}, {ID: "Q2", Line: "thread", Sum: units.Some(units.Money(5_00))}}}
	if got := Limit(&h); got != 70_00 {
		t.Errorf("limit %s, by hand 100 - 30 = 70: the thread's 35 stay for thread", got)
	}
}

func TestCheckSees(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	m := Report(&h, answer.Plan{})
	m.Spent++
	if len(Check(&h, answer.Plan{}, m)) == 0 {
		t.Error("a coin too much is not seen")
	}
}

// By hand: two finds of one shop and day come to 9, on the first slip of the two
// that have no sum; one of a shop without a slip is spent without one; one with
// its sum written holds its own. Of 20 held back 5 are taken. Cloth of 12 stands
// on two lines with 4 each: 4 are promised.
func TestFindsAndSlips(t *testing.T) {
	bought := func(where string, price units.Maybe[units.Money]) show.Find {
		return show.Find{Where: where, SeenOn: 5, Decision: "bought", Price: price}
	}
	sum := func(c units.Money) units.Maybe[units.Money] { return units.Some(c) }
	h := show.House{
		Budget: []show.BudgetLine{{Line: "clothes", Planned: 50_00}, {Line: "cloth", Planned: 6_00}, {Line: "fabric", Planned: 6_00}, {Line: "kept", Planned: 20_00, HeldBack: true}},
		Cloths: []show.Cloth{{ID: "K1", Cost: sum(12_00)}},
		Finds:  []show.Find{bought("shed", sum(4_00)), bought("shed", sum(5_00)), bought("fair", sum(3_00)), bought("fair", units.Maybe[units.Money]{}), bought("shop", sum(7_00))},
		Receipts: []show.Receipt{{ID: "Q1", Shop: "shed", Day: 5, Line: "clothes", Slip: true}, {ID: "Q2", Shop: "shed", Day: 5, Line: "clothes", Slip: true}, {ID: "Q3", Shop: "shop", Day: 5, Line: "clothes", Sum: sum(8_00), Slip: true},
			{ID: "Q4", Line: "cloth", Sum: sum(4_00), Slip: true}, {ID: "Q5", Line: "fabric", Sum: sum(4_00), Slip: true}, {ID: "Q6", Line: "kept", Sum: sum(5_00), Slip: true}},
	}
	m := Report(&h, answer.Plan{})
	for what, c := range map[string][2]units.Money{"spent": {m.Spent, 33_00}, "without a slip": {m.NoSlip, 3_00}, "held back": {m.Held, 15_00}, "promised": {m.Promised, 4_00}, "free": {m.Free, 30_00}, "limit": {Limit(&h), 30_00}} {
		if c[0] != c[1] {
			t.Errorf("%s: %s, by hand %s", what, c[0], c[1])
		}
	}
	for _, bad := range Check(&h, answer.Plan{}, m) {
		t.Error(bad.Sentence(0))
	}
}
