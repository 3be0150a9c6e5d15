package sourcing

import (
	"context"
	"slices"
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

// smallInputs draws a few pieces of the demo under scarce money and hours,
// with a pin now and then.
func smallInputs(t testing.TB) func(t *rapid.T) Input {
	whole := demotest.House(t).At(demo.Today)
	estimates := cutting.Estimate(&whole)
	return func(t *rapid.T) Input {
		h := whole
		h.Pieces, h.Pins = nil, nil
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(whole.Pieces)-1), 1, 4, rapid.ID).Draw(t, "pieces") {
			h.Pieces = append(h.Pieces, whole.Pieces[i])
		}
		if rapid.Bool().Draw(t, "pin") {
			src := rapid.SampledFrom([]answer.Source{answer.GoWithout, answer.Own, answer.Make, answer.Alter}).Draw(t, "pinned to")
			h.Pins = []show.Pin{{Piece: h.Pieces[0].ID, Source: string(src)}}
		}
		return Input{House: &h, Estimates: estimates, Money: units.Money(rapid.IntRange(0, 30_00).Draw(t, "coins")),
			Hours: []HoursFor{{"all", everything, units.Minutes(rapid.IntRange(0, 1500).Draw(t, "minutes"))}}}
	}
}

// solved shares out in full, and skips what is not proved best.
func solved(t *rapid.T, in Input) answer.Plan {
	p, err := Share(context.Background(), in, solve.Budget{Effort: solve.Quick})
	if err != nil {
		t.Fatal(err)
	}
	if p.Outcome.Proof != solve.Best {
		t.Skip("not proved")
	}
	return p
}

// What a pin costs, and what more of money, hours or a cloth buys, is the
// difference of two plans worked out in full, each from nothing.
func TestPricesAgainstTwoFullPlans(t *testing.T) {
	draw := smallInputs(t)
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		plan := solved(t, in)
		s, err := NewScales(context.Background(), in, plan, solve.Budget{})
		if err != nil {
			t.Fatal(err)
		}
		short, err := s.Short(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range short.Scarce {
			more := in
			h := *in.House
			more.House = &h
			switch x.Unit {
			case "coins":
				more.Money += units.Money(x.More)
			case "minutes":
				more.Hours = []HoursFor{{"all", everything, in.Hours[0].Minutes + units.Minutes(x.More)}}
			default:
				h.Cloths = slices.Clone(h.Cloths)
				h.Cloth(show.ClothID(x.Name[len("cloth "):])).Length += units.Length(x.More)
			}
			if want := int64(solved(t, more).Outcome.Value - plan.Outcome.Value); x.Buys.Proved && x.Buys.Cost != want {
				t.Fatalf("%s: %d more buys %d, two full plans differ by %d", x.Name, x.More, x.Buys.Cost, want)
			}
		}
		for _, x := range short.Pins {
			free := in
			h := *in.House
			h.Pins, free.House = nil, &h
			if want := int64(solved(t, free).Outcome.Value - plan.Outcome.Value); x.Without.Proved && x.Without.Cost != want {
				t.Fatalf("the pin of %s to %s: without it %d, two full plans differ by %d", x.Piece, x.Pinned.Source, x.Without.Cost, want)
			}
		}
	})
}

// What another option costs the whole plan is the difference to a plan pinned
// to it; with so much less work, or so much off its price, it draws level, and
// with one minute or coin less it does not.
func TestInsteadAgainstPinnedPlans(t *testing.T) {
	draw := smallInputs(t)
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		in.House.Pins = nil
		plan := solved(t, in)
		s, err := NewScales(context.Background(), in, plan, solve.Budget{})
		if err != nil {
			t.Fatal(err)
		}
		p := &in.House.Pieces[0]
		others, err := s.Instead(context.Background(), p.ID)
		if err != nil {
			t.Fatal(err)
		}
		w := weigher{s.t.m, p, s.t.m.eyeOf(p)}
		if len(others) == 0 {
			return
		}
		for _, x := range []answer.Instead{rapid.SampledFrom(others).Draw(t, "other")} {
			pinned := in
			h := *in.House
			h.Pins = []show.Pin{{Piece: p.ID, Source: string(x.Option.Source), Garment: x.Option.Garment, Cloth: x.Option.Cloth}}
			pinned.House = &h
			full := solved(t, pinned)
			if c := choice(full, p.ID); x.Never || !x.Whole.Proved || c.Minutes() != x.Option.Minutes() || c.Money != x.Option.Money {
				continue // a pin cannot name which of two ways to make it
			}
			if want := int64(full.Outcome.Value - plan.Outcome.Value); x.Whole.Cost != want {
				t.Fatalf("%s by %s: %d more, two full plans differ by %d", p.ID, x.Option.Source, x.Whole.Cost, want)
			}
			level := func(less units.Minutes, off units.Money) bool {
				o := x.Option
				o.Work = []answer.Work{{Skill: answer.Straight, Minutes: o.Minutes() - less}}
				o.Money -= off
				o.Look = 0
				was := x.Option
				was.Look = 0
				w.price(&o)
				w.price(&was)
				return was.Cost-o.Cost >= x.Whole.Cost
			}
			if x.Shorter > 0 && (!level(x.Shorter, 0) || level(x.Shorter-1, 0)) {
				t.Fatalf("%s by %s lacks %d, and %s less is not what levels it", p.ID, x.Option.Source, x.Whole.Cost, x.Shorter)
			}
			if x.Cheaper > 0 && (!level(0, x.Cheaper) || level(0, x.Cheaper-1)) {
				t.Fatalf("%s by %s lacks %d, and %s off is not what levels it", p.ID, x.Option.Source, x.Whole.Cost, x.Cheaper)
			}
		}
	})
}

// Ten hours of a tailor's hand are ten hours of a maker's and of anybody's;
// ten of a beginner's are nobody else's. from: what the skills say.
func TestHoursOfAHandCountWhereItCan(t *testing.T) {
	in := demoInput(t)
	in.Hours = []HoursFor{{"tailor", []answer.Skill{answer.Tailor}, 0}, {"maker", []answer.Skill{answer.Tailor, answer.Maker}, 0}, {"trim", []answer.Skill{answer.Trim}, 0}, {"all", everything, 0}}
	s := &Scales{t: newTable(newMarket(in), in)}
	for k, want := range map[int][]int{1: {1, 2, 4}, 2: {2, 4}, 3: {3, 4}, 4: {4}} {
		if got := s.groupsOf(k); !slices.Equal(got, want) {
			t.Errorf("%s counts in %v, want %v", s.t.limits[k].Name, got, want)
		}
	}
}
