package workshop

import (
	"time"

	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Archive is the show for the next person: the plan as it was last worked
// out and the lists as CSV, with nothing of anybody in either.
func (w *Workshop) Archive() (*Prepared, []intake.File, error) {
	p, _, err := w.Glance()
	if err != nil {
		return nil, nil, err
	}
	h, err := w.store.House()
	if err != nil {
		return nil, nil, err
	}
	bare := h.WithoutPeople()
	lists, err := intake.CSV(bare)
	if err != nil {
		return nil, nil, err
	}
	now := *p
	now.know(bare)
	return &now, lists, nil
}

// Now is the clock of the house.
func (w *Workshop) Now() time.Time { return w.clock() }

// Dates is the house with its work shared out, for a calendar.
func (w *Workshop) Dates(helper show.HelperID) (*Prepared, error) {
	p, _, err := w.Glance()
	if err != nil {
		return nil, err
	}
	if helper != "" && p.House.Helper(helper) == nil {
		return nil, why.NotFound("helper", string(helper))
	}
	return p, nil
}
