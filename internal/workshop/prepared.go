// Package workshop strings the steps together: one method for each thing a
// person does. It loads, calls, saves and times; it decides nothing about
// clothes.
package workshop

import (
	"fmt"
	"slices"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/plan/money"
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
	Kept      bool              `json:"-"` // something about a person is kept
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

	// What the plan was made from, beside the rows and the estimates.
	Hours  []sourcing.HoursFor             `json:"hours"`
	Barred map[show.PieceID][]show.ClothID `json:"barred,omitempty"`
	Holds  map[show.ClothID]units.Length   `json:"holds_um,omitempty"`

	memory *memory
}

// memory is what the next working-out need not find again. One at a time uses
// it.
type memory struct {
	parts cutting.Memory
	plan  sourcing.Memory
}

// input is what the plan was made from.
func (p *Prepared) input() sourcing.Input {
	return sourcing.Input{House: &p.House, Estimates: p.Estimates, Money: money.Limit(&p.House), Hours: p.Hours, Barred: p.Barred, Holds: p.Holds}
}

// know takes the house as it is known on the day. Performers without a name,
// those erased among them, are called by their role and code.
func (p *Prepared) know(h show.House) {
	p.House = h.At(p.Day)
	p.Kept = kept(&h)
	roles := rolesOf(&h)
	p.House.Performers = slices.Clone(p.House.Performers)
	for i := range p.House.Performers {
		if q := &p.House.Performers[i]; q.Name == "" {
			q.Name = string(q.ID)
			if r := roles[q.ID]; r != "" {
				q.Name = fmt.Sprintf("%s (%s)", r, q.ID)
			}
		}
	}
}

// rolesOf is the first role each performer plays in any cast.
func rolesOf(h *show.House) map[show.PerformerID]string {
	out := map[show.PerformerID]string{}
	for _, r := range h.Roles {
		for _, c := range append(h.Casts(), "") { // the last: parts every cast shares
			if p := h.PlayedBy(r.ID, c); p != "" && out[p] == "" {
				out[p] = r.Name
			}
		}
	}
	return out
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
