package cutting

import (
	"context"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// Whatever is offered from the parts of garments can be cut so: every shape
// lies on a part, and the check, which knows nothing of the search, agrees; it
// sees a shape off its part, one too few, and a part used too often.
func TestCutFromParts(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	var plan answer.Plan
	for _, e := range Estimate(&h) {
		if len(e.Apart) > 0 && len(plan.Choices) < 12 {
			plan.Choices = append(plan.Choices, answer.Choice{Option: answer.Option{Piece: e.Piece, Source: answer.Remake, Apart: e.Apart[0].Garments, Cuts: true}})
		}
	}
	if len(plan.Choices) == 0 {
		t.Fatal("nothing is offered from the parts of anything")
	}
	for i := range plan.Choices { // one by one: together they may want more than there is
		one := answer.Plan{Choices: plan.Choices[i : i+1]}
		c, err := Cut(context.Background(), &h, one, answer.Cutting{}, solve.Budget{Effort: solve.Quick})
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Apart) != 1 || len(c.Apart[0].Shapes) != c.Apart[0].Wanted || c.Apart[0].Wanted == 0 {
			t.Fatalf("%s: %d lays", plan.Choices[i].Piece, len(c.Apart))
		}
		for _, r := range Check(&h, c) {
			t.Error(r.Sentence(units.Metric))
		}
		if i > 0 {
			continue
		}
		for what, spoil := range map[string]func(l *answer.PartLay){
			"a shape off its part": func(l *answer.PartLay) { l.Shapes[0].Outline = l.Shapes[0].Outline.Move(geom.Point{X: units.Metre}) },
			"a shape too few":      func(l *answer.PartLay) { l.Shapes = l.Shapes[1:] },
			"a part used too often": func(l *answer.PartLay) {
				for range 9 {
					l.Shapes, l.Wanted = append(l.Shapes, l.Shapes[0]), l.Wanted+1
				}
			},
		} {
			bad := c
			lay := c.Apart[0]
			lay.Shapes = append([]answer.OnPart{}, lay.Shapes...)
			spoil(&lay)
			bad.Apart = []answer.PartLay{lay}
			if len(Check(&h, bad)) == 0 {
				t.Errorf("%s is not seen", what)
			}
		}
	}
}
