// Package workshop strings the steps together: one method for each thing a
// person does. It loads, calls, saves and times; it decides nothing about
// clothes.
package workshop

import (
	"hemwright/internal/plan/sourcing"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Prepared is everything worked out for one day of one house, with the rows
// it rests on. Faces show it and compute nothing.
type Prepared struct {
	House     show.House        `json:"-"`
	Act       int64             `json:"-"` // the last act it knows of; sheets carry it
	Day       units.Date        `json:"day"`
	Needs     answer.Needs      `json:"needs"`
	Timelines []answer.Timeline `json:"timelines"`
	Estimates []answer.Estimate `json:"estimates"`
	Plan      answer.Plan       `json:"plan"`
	Cutting   answer.Cutting    `json:"cutting"`
	Workroom  answer.Workroom   `json:"workroom"`
	Fittings  answer.Fittings   `json:"fittings"`
	Money     answer.Money      `json:"money"`
	Cautions  []answer.Caution  `json:"cautions"`
	Today     answer.Today      `json:"today"`
	Errands   []answer.Errand   `json:"errands"`
	Receipts  []show.Receipt    `json:"receipts"` // with every sum filled in
	Rounds    int               `json:"rounds"`   // of settling plan and workroom

	input sourcing.Input // what the plan was made from
}

// Choice is the plan's word on a piece, or nil.
func (p *Prepared) Choice(id show.PieceID) *answer.Choice {
	for i := range p.Plan.Choices {
		if p.Plan.Choices[i].Piece == id {
			return &p.Plan.Choices[i]
		}
	}
	return nil
}

// LayOf is the lay of a cloth, or nil.
func (p *Prepared) LayOf(id show.ClothID) *answer.Lay {
	for i := range p.Cutting.Lays {
		if p.Cutting.Lays[i].Cloth == id {
			return &p.Cutting.Lays[i]
		}
	}
	return nil
}
