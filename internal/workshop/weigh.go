package workshop

import (
	"context"

	"hemwright/internal/plan/sourcing"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// weighed is what was held against the plan of one act and day.
type weighed struct {
	act    int64
	day    units.Date
	scales *sourcing.Scales
	short  *answer.Short
}

// scales are those of the plan as it is worked out now.
func (w *Workshop) scales(ctx context.Context) (*weighed, error) {
	p, err := w.Prepared(ctx)
	if err != nil {
		return nil, err
	}
	if w.on.scales != nil && w.on.act == p.Act && w.on.day == p.Day && p.Act != 0 {
		return &w.on, nil
	}
	s, err := sourcing.NewScales(ctx, p.input(), p.Plan, solve.Budget{Seed: w.set.Budget.Seed})
	if err != nil {
		return nil, err
	}
	w.on = weighed{act: p.Act, day: p.Day, scales: s}
	return &w.on, nil
}

// Short says what is short in the whole show, what more of it would buy, and
// what each pin costs. It works the plan out anew for each.
func (w *Workshop) Short(ctx context.Context) (answer.Short, error) {
	w.weigh.Lock()
	defer w.weigh.Unlock()
	on, err := w.scales(ctx)
	if err != nil {
		return answer.Short{}, err
	}
	if on.short != nil {
		return *on.short, nil
	}
	s, err := on.scales.Short(ctx)
	if err == nil && ctx.Err() == nil {
		on.short = &s
	}
	return s, err
}

// Instead says what the next options of a piece would cost the whole plan, and
// what would have to change for each to win.
func (w *Workshop) Instead(ctx context.Context, id show.PieceID) ([]answer.Instead, error) {
	w.weigh.Lock()
	defer w.weigh.Unlock()
	on, err := w.scales(ctx)
	if err != nil {
		return nil, err
	}
	out, err := on.scales.Instead(ctx, id)
	if err == nil && out == nil {
		return nil, why.NotFound("piece", string(id))
	}
	return out, err
}

// PinCost says what the pin on a piece costs; false where it has none.
func (w *Workshop) PinCost(ctx context.Context, id show.PieceID) (answer.PinCost, bool, error) {
	w.weigh.Lock()
	defer w.weigh.Unlock()
	on, err := w.scales(ctx)
	if err != nil {
		return answer.PinCost{}, false, err
	}
	return on.scales.Pinned(ctx, id)
}
