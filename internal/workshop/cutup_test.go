package workshop

import (
	"slices"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// from: finds.csv, F01 and F02 are a pair of short jackets that makes the
// twins of the hall, C182 and C183, possible. So F02 goes whole for one of
// them as long as they have nothing; where the plan has it there it is not
// cut; where both have garments it serves no piece whole; remade it is no
// longer worn whole.
func TestWholeUseIsLookedAt(t *testing.T) {
	oneAtATime(t)
	p := &Prepared{House: demotest.House(t).At(demo.Today)}
	p.House.Finds = slices.Clone(p.House.Finds)
	for i := range p.House.Finds {
		p.House.Finds[i].Decision = "bought" // some are bought only later than the demo's day
	}
	whole := demotest.House(t)
	g := whole.Find("F02").Garment
	if p.House.Find("F02") == nil {
		p.House.Finds = append(p.House.Finds, show.Find{ID: "F02", Garment: g, Decision: "bought"})
	}
	twins := []show.PieceID{"C182", "C183"}
	has := func(id show.PieceID) bool { return slices.Contains(twins, id) }
	choose := func(garments ...show.GarmentID) {
		p.Plan = answer.Plan{}
		for i, o := range garments {
			p.Plan.Choices = append(p.Plan.Choices, answer.Choice{Option: answer.Option{Piece: twins[i], Source: answer.Use, Garment: o}})
		}
	}
	if w := wholeUse(p, &g); !w.Looked || !slices.ContainsFunc(w.Serves, has) || len(w.Planned) > 0 {
		t.Errorf("nothing chosen: %+v", w)
	}
	choose("F01", "F02")
	if w := wholeUse(p, &g); !slices.Equal(w.Planned, []show.PieceID{"C183"}) || slices.ContainsFunc(w.Serves, has) {
		t.Errorf("chosen: %+v", w)
	}
	if c, err := CutUpOf(p, "F02"); err != nil || c.May.Grade != why.No || !c.Known {
		t.Errorf("worn whole in the plan: %v %v", c.May, err)
	}
	p.Plan.Choices[1].Cuts = true
	if w := wholeUse(p, &g); len(w.Planned) > 0 {
		t.Errorf("cut anyway: %+v", w)
	}
	choose("F01", "S113")
	if w := wholeUse(p, &g); slices.ContainsFunc(w.Serves, has) || len(w.Planned) > 0 {
		t.Errorf("others chosen: %+v", w)
	}
	p.House.Pieces = nil
	if w := wholeUse(p, &g); w.Looked {
		t.Error("looked at with no piece to look at")
	}
	if _, err := CutUpOf(p, "S999"); why.KindOf(err) != why.Missing {
		t.Errorf("%v", err)
	}
}
