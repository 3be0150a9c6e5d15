package sourcing

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/engine/assign"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
)

// shortened shares out with only so many garments of each list judged.
func shortened(t *rapid.T, in Input, list int) (*table, assign.Plan) {
	m := newMarket(in)
	m.longRail, m.longList = 0, list
	tb := filled(m, in)
	res, err := assign.Solve(context.Background(), tb.problem, nil, solve.Budget{Effort: solve.Quick})
	if err != nil {
		t.Fatal(err)
	}
	return tb, res
}

// With few garments judged, the bound lies below the best plan of all of them,
// and what is proved best is the best of all.
func TestShortListsBoundTheWholeRail(t *testing.T) {
	draw := smallInputs(t)
	below := 0
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		in.House.Pins = nil // a pin to a source means the best of those that are judged
		best := solved(t, in).Outcome.Value
		_, few := shortened(t, in, rapid.IntRange(0, 3).Draw(t, "list"))
		if few.Outcome.Bound > best || few.Outcome.Value < best || few.Outcome.Proof == solve.Best && few.Outcome.Value != best {
			t.Fatalf("value %v, bound %v (%s); with all garments judged the best is %v", few.Outcome.Value, few.Outcome.Bound, few.Outcome.Proof, best)
		}
		if few.Outcome.Value > best {
			below++
		}
	})
	if below == 0 {
		t.Error("no list was short enough to miss the best")
	}
}

// No garment is cheaper for a piece, or takes less, than the options that stand
// for what was not judged say.
func TestWeighedIsNeverTooMuch(t *testing.T) {
	in := demoInput(t)
	for i := range in.House.Garments {
		in.House.Garments[i].MayCut = i%2 == 0
	}
	m := newMarket(in)
	m.longRail, m.longList = 0, 0
	for i := range in.House.Pieces {
		p := &in.House.Pieces[i]
		_, rest, _ := m.optionsOf(p)
		stand := aside(p, rest)
		for _, o := range Options(in, p.ID) {
			if o.Garment == "" || len(o.Apart) > 0 {
				continue
			}
			covered := false
			for _, s := range stand {
				covered = covered || s.Cost <= o.Cost && s.Minutes() <= o.Minutes() && s.Money <= o.Money
			}
			if !covered {
				t.Fatalf("%s from %s by %s costs %d with %s and %s; nothing stands for it", p.ID, o.Garment, o.Source, o.Cost, o.Minutes(), o.Money)
			}
		}
	}
}

// What a pin or the plan before names is judged, however short the list.
func TestNamedGarmentsAreJudged(t *testing.T) {
	in := demoInput(t)
	var far answer.Option
	for _, o := range Options(in, "C025") {
		if o.Garment != "" && len(o.Apart) == 0 {
			far = o
		}
	}
	in.House.Pins = []show.Pin{{Piece: "C025", Source: string(far.Source), Garment: far.Garment}}
	m := newMarket(in)
	m.longRail, m.longList = 0, 1
	tb := filled(m, in)
	for i, opts := range tb.options {
		if opts[0].Piece == "C025" {
			o := opts[tb.problem.Needs[i].Pin]
			if o.Garment != far.Garment || o.Cost != far.Cost || tb.bared[i] {
				t.Errorf("pinned to %s at %d, got %s at %d", far.Garment, far.Cost, o.Garment, o.Cost)
			}
		}
	}
}
