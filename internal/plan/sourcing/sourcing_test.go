package sourcing

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var everything = []answer.Skill{answer.Beginner, answer.Straight, answer.Maker, answer.Tailor, answer.Trim}

func demoInput(t testing.TB) Input {
	h := demotest.House(t).At(demo.Today)
	return Input{House: &h, Money: 200_00, Hours: []HoursFor{{"all", everything, 320 * 60}}}
}

func share(t testing.TB, in Input) answer.Plan {
	t.Helper()
	plan, err := Share(context.Background(), in, solve.Budget{Effort: solve.Quick})
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range Check(in, plan) {
		t.Error(bad.Sentence(0))
	}
	return plan
}

func choice(p answer.Plan, id show.PieceID) answer.Choice {
	for _, c := range p.Choices {
		if c.Piece == id {
			return c
		}
	}
	return answer.Choice{}
}

func TestDemoIsWholeAndChecked(t *testing.T) {
	in := demoInput(t)
	p := share(t, in)
	if len(p.Choices) != 214 {
		t.Errorf("%d of 214 pieces", len(p.Choices))
	}
	for _, c := range p.Choices {
		if c.Source == answer.GoWithout && len(c.Next)+len(c.Missed) == 0 {
			t.Errorf("%s goes without and nobody says why", c.Piece)
		}
	}
}

// A pin is never overridden, only priced.
func TestPins(t *testing.T) {
	in := demoInput(t)
	free := share(t, in)
	id := show.PieceID("C097") // a work shirt there is a find for
	in.House.Pins = []show.Pin{{Piece: id, Source: string(answer.GoWithout)}}
	p := share(t, in)
	c := choice(p, id)
	if c.Source != answer.GoWithout || !c.Pinned || c.Price <= 0 {
		t.Errorf("pinned to go without: %s, pinned %v, price %d", c.Source, c.Pinned, c.Price)
	}
	if p.Outcome.Value < free.Outcome.Bound {
		t.Errorf("a pin made the plan cheaper than the bound without it: %v below %v", p.Outcome.Value, free.Outcome.Bound)
	}
}

// A pin nothing on offer answers to still stands.
func TestBarePin(t *testing.T) {
	in := demoInput(t)
	in.House.Pins = []show.Pin{{Piece: "C097", Source: string(answer.Own)}}
	if c := choice(share(t, in), "C097"); c.Source != answer.Own || !c.Pencil {
		t.Errorf("own pinned: %s, pencil %v", c.Source, c.Pencil)
	}
}

// With no money nothing is bought; with no hours nothing is sewn.
func TestLimitsHold(t *testing.T) {
	in := demoInput(t)
	in.Money = 0
	for _, c := range share(t, in).Choices {
		if c.Money > 0 {
			t.Errorf("%s costs %s of nothing", c.Piece, c.Money)
		}
	}
	in = demoInput(t)
	in.Hours[0].Minutes = 0
	for _, c := range share(t, in).Choices {
		if c.Minutes() > 0 {
			t.Errorf("%s takes %s of no time", c.Piece, c.Minutes())
		}
	}
}

// A borrowed garment is never cut, and one may not be in two places: two
// pieces on stage together, one cap.
func TestOneGarmentOnePlace(t *testing.T) {
	h := show.House{
		Performers: []show.Performer{{ID: "P1"}, {ID: "P2"}}, Roles: []show.Role{{ID: "R1", Performer: "P1"}, {ID: "R2", Performer: "P2"}},
		Looks:       []show.Look{{ID: "L1", Role: "R1"}, {ID: "L2", Role: "R2"}},
		Scenes:      []show.Scene{{ID: "S1", Running: 60e9}, {ID: "S2", Running: 60e9}, {ID: "S3", Running: 60e9}},
		Pieces:      []show.Piece{{ID: "C1", Category: show.Accessory, Name: "shawl", Looks: []show.LookID{"L1"}, Layer: 6}, {ID: "C2", Category: show.Accessory, Name: "shawl", Looks: []show.LookID{"L2"}, Layer: 6}},
		Garments:    []show.Garment{{ID: "G1", Category: show.Accessory, Name: "knitted shawl", MayCut: true}},
		Appearances: []show.Appearance{{Scene: "S1", Role: "R1", Look: "L1", Exit: 60e9}, {Scene: "S1", Role: "R2", Look: "L2", Exit: 60e9}},
	}
	uses := func() int {
		n := 0
		for _, c := range share(t, Input{House: &h, Hours: []HoursFor{{"all", everything, 0}}}).Choices {
			if c.Garment == "G1" {
				n++
			}
		}
		return n
	}
	if got := uses(); got != 1 {
		t.Errorf("together on stage: %d wear the one shawl", got)
	}
	h.Appearances[1].Scene = "S2"
	if got := uses(); got != 1 {
		t.Errorf("one scene after the other: %d wear it, with no time to pass it on", got)
	}
	h.Appearances[1].Scene = "S3"
	if got := uses(); got != 2 {
		t.Errorf("a scene between: %d wear it, it could be two", got)
	}
}

func TestCheckSees(t *testing.T) {
	in := demoInput(t)
	p := share(t, in)
	for what, spoil := range map[string]func(p *answer.Plan){
		"a piece left out": func(p *answer.Plan) { p.Choices = p.Choices[1:] },
		"money overspent":  func(p *answer.Plan) { p.Choices[0].Money = 201_00 },
		"cloth used twice": func(p *answer.Plan) { p.Choices[0].Cloth, p.Choices[0].ClothLength = "K01", units.Cm(900) },
		"a garment in two places": func(p *answer.Plan) {
			for i := range 2 {
				p.Choices[i].Garment, p.Choices[i].Work = "S001", []answer.Work{{Skill: answer.Straight, Minutes: 5}}
			}
		},
	} {
		bad := p
		bad.Choices = append([]answer.Choice{}, p.Choices...)
		spoil(&bad)
		if len(Check(in, bad)) == 0 {
			t.Errorf("%s is not seen", what)
		}
	}
}

func BenchmarkShareDemo(b *testing.B) {
	in := demoInput(b)
	b.ReportAllocs()
	for b.Loop() {
		plan, err := Share(context.Background(), in, solve.Budget{})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(plan.Outcome.Gap()*100, "gap-%")
	}
}

// from: the trade's own shopping list for two gowns of the hall, flat numbers:
// chest 44 to 49, waist 36 to 41 for the deep violet one; 41 to 46 and 35 to
// 40 for the rain blue one. Half a centimetre is what a tape can tell.
func TestErrandsInGarmentNumbers(t *testing.T) {
	h := demotest.House(t)
	for id, want := range map[show.PieceID][4]float64{"C025": {44, 49, 36, 41}, "C024": {41, 46, 35, 40}} {
		plan := answer.Plan{Choices: []answer.Choice{{Option: answer.Option{Piece: id, Source: answer.Buy, Money: 10_00}}}}
		es := Errands(&h, plan)
		if len(es) != 1 || es[0].Price != 10_00 {
			t.Fatalf("%s: %v", id, es)
		}
		got := map[string]units.Span{}
		for _, w := range es[0].Windows {
			got[w.Where] = w.Span.Times(1, 2)
		}
		for i, l := range []units.Length{got["chest"].Lo, got["chest"].Hi, got["waist"].Lo, got["waist"].Hi} {
			if d := l.Cm() - want[i]; d > 0.51 || d < -0.51 {
				t.Errorf("%s, number %d: %.2f, the list says %.0f", id, i+1, l.Cm(), want[i])
			}
		}
	}
}

// Whatever pieces, money and hours there are: the plan adds up, and more of
// both never has a lower bound above what less of both came to.
func TestMoreIsNeverDearer(t *testing.T) {
	whole := demotest.House(t).At(demo.Today)
	rapid.Check(t, func(t *rapid.T) {
		h := whole
		h.Pieces = nil
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(whole.Pieces)-1), 1, 8, rapid.ID).Draw(t, "pieces") {
			h.Pieces = append(h.Pieces, whole.Pieces[i])
		}
		money, minutes := rapid.IntRange(0, 60_00).Draw(t, "coins"), rapid.IntRange(0, 1200).Draw(t, "minutes")
		plan := func(times int) answer.Plan {
			in := Input{House: &h, Money: units.Money(times * money), Hours: []HoursFor{{"all", everything, units.Minutes(times * minutes)}}}
			p, err := Share(context.Background(), in, solve.Budget{Effort: solve.Quick})
			if err != nil {
				t.Fatal(err)
			}
			for _, bad := range Check(in, p) {
				t.Fatal(bad.Sentence(0))
			}
			return p
		}
		if less, more := plan(1), plan(2); more.Outcome.Bound > less.Outcome.Value+1e-6 {
			t.Fatalf("twice of all cannot be done for less than %v, and half of it was done for %v", more.Outcome.Bound, less.Outcome.Value)
		}
	})
}

// Pins stand beyond the money and the hours, and nothing else is then given of
// them. from: by hand: two things to buy at 10 each, 12 there. One pin leaves 2
// for the other; two pins take 20; a find pinned costs its price, fits it or not.
func TestPinsBeyondTheLimits(t *testing.T) {
	h := show.House{Looks: []show.Look{{ID: "L1"}}, Finds: []show.Find{{ID: "F1", Price: units.Some(units.Money(3_00)), Garment: show.Garment{ID: "F1", Category: show.Dress, Name: "gown"}}}}
	for _, id := range []show.PieceID{"C1", "C2", "C3"} {
		h.Pieces = append(h.Pieces, show.Piece{ID: id, Category: show.Shirt, Name: "shirt", Looks: []show.LookID{"L1"}, PriceLimit: units.Some(units.Money(10_00))})
	}
	in := Input{House: &h, Money: 12_00, Hours: []HoursFor{{"all", everything, 60}}}
	spent := func(pins ...show.Pin) units.Money {
		h.Pins = pins
		var sum units.Money
		for _, c := range share(t, in).Choices {
			sum += c.Money
		}
		return sum
	}
	buy := func(id show.PieceID) show.Pin { return show.Pin{Piece: id, Source: string(answer.Buy)} }
	for want, got := range map[units.Money]units.Money{10_00: spent(buy("C1")), 20_00: spent(buy("C1"), buy("C2")), 23_00: spent(buy("C1"), buy("C2"), show.Pin{Piece: "C3", Source: string(answer.Buy), Find: "F1"})} {
		if got != want {
			t.Errorf("%s spent, by hand %s", got, want)
		}
	}
	h.Pins = []show.Pin{{Piece: "C1", Source: string(answer.Use), Garment: "F1"}, {Piece: "C2", Source: string(answer.Use), Garment: "F1"}}
	for i := range h.Pins {
		h.Pieces[i].Category, h.Pieces[i].Name = show.Dress, "gown"
	}
	h.Appearances = []show.Appearance{{Scene: "S1", Look: "L1"}}
	h.Scenes = []show.Scene{{ID: "S1"}}
	h.Finds[0].Decision = "bought"
	if _, err := Share(context.Background(), in, solve.Budget{}); why.KindOf(err) != why.Invalid {
		t.Errorf("one gown pinned twice over at one time: %v", err)
	}
}

// A cloth that was found to hold one of two pieces is given to one of them.
//
// from: by hand: two aprons of 80 cm from a cloth of 200, which held 100.
func TestWhatAClothHolds(t *testing.T) {
	h := show.House{Looks: []show.Look{{ID: "L1"}}, Cloths: []show.Cloth{{ID: "K1", Name: "drill", Width: units.Cm(140), Length: units.Cm(200)}}}
	in := Input{House: &h, Hours: []HoursFor{{"all", everything, 1000}}}
	for _, id := range []show.PieceID{"C1", "C2"} {
		h.Pieces = append(h.Pieces, show.Piece{ID: id, Category: show.Accessory, Name: "apron", Looks: []show.LookID{"L1"}})
		in.Estimates = append(in.Estimates, answer.Estimate{Piece: id, Draft: "half apron", Cloths: []answer.ClothWant{{Cloth: "K1", Length: units.Cm(80), Fits: true}}})
	}
	made := func() (n int) {
		for _, c := range share(t, in).Choices {
			if c.Cloth == "K1" {
				n++
			}
		}
		return n
	}
	if n := made(); n != 2 {
		t.Errorf("%d aprons of a cloth for two", n)
	}
	in.Holds = map[show.ClothID]units.Length{"K1": units.Cm(100)}
	if n := made(); n != 1 {
		t.Errorf("%d aprons of a cloth that held one", n)
	}
}
