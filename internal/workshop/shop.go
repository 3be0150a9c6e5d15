package workshop

import (
	"context"
	"fmt"

	"hemwright/internal/intake"
	"hemwright/internal/plan/money"
	"hemwright/internal/plan/sourcing"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Appraise says what a find typed in a line would do for the show, beside the
// plan as it was last worked out.
func (w *Workshop) Appraise(line string) (show.Find, answer.Appraisal, error) {
	p, _, err := w.Glance()
	if err != nil {
		return show.Find{}, answer.Appraisal{}, err
	}
	find, err := intake.ReadFind(&p.House, line, p.Day)
	if err != nil {
		return find, answer.Appraisal{}, err
	}
	find.ID = "find"
	find.Garment.ID = "find"
	in := sourcing.Input{House: &p.House, Money: max(0, money.Limit(&p.House)-planned(p.Plan))}
	return find, sourcing.Appraise(in, p.Plan, find), nil
}

// planned is what a plan still spends.
func planned(plan answer.Plan) units.Money {
	var sum units.Money
	for _, c := range plan.Choices {
		sum += c.Money
	}
	return sum
}

// AddFind keeps a find typed in a line, bought or left.
func (w *Workshop) AddFind(ctx context.Context, line, decision string) (show.FindID, error) {
	if decision != "bought" && decision != "left" && decision != "" {
		return "", why.Bad("decision", fmt.Sprintf("%q is neither bought nor left.", decision), "Choose one of the two.")
	}
	var id show.FindID
	err := w.act(ctx, "A find: "+line, func(h *show.House) error {
		f, err := intake.ReadFind(h, line, w.Day(h.Show))
		if err != nil {
			return err
		}
		f.ID, f.Decision = show.FindID(intake.NextCode(h, "F", 3)), decision
		f.Garment.ID, f.Garment.MayCut = show.GarmentID(f.ID), true
		id = f.ID
		h.Finds = append(h.Finds, f)
		return nil
	})
	return id, err
}

// Pocket is what is worth looking for in a shop, with nobody's name in it.
func (w *Workshop) Pocket() ([]answer.PocketNeed, *Prepared, error) {
	p, _, err := w.Glance()
	if err != nil {
		return nil, nil, err
	}
	needs := sourcing.Pocket(&p.House, p.Plan, p.House.Units)
	return needs, p, w.left("paper", "pocket page")
}
