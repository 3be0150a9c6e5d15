package workshop

import (
	"hemwright/internal/plan/running"
	"hemwright/internal/store"
)

// Glance is the house as it is now with who is on and every change, beside
// the plan, the fittings and the cautions as they were last worked out, which
// may be before the last change: stale says so. It is quick; what it shows
// of the plan is never hidden, only dated.
func (w *Workshop) Glance() (p *Prepared, stale bool, err error) {
	act, err := w.store.LastAct()
	if err != nil {
		return nil, false, err
	}
	if last := w.current(act); last != nil {
		return last, false, nil
	}
	h, err := w.house()
	if err != nil {
		return nil, false, err
	}
	hash, err := store.InputHash(h)
	if err != nil {
		return nil, false, err
	}
	day := w.Day(h.Show)
	hash += " " + day.String()
	last, of := w.latest()
	if last == nil {
		if kept, ok := w.stored(h, hash); ok {
			last, of = kept, hash
			w.remember(kept, hash)
		}
	}
	now := Prepared{Day: day}
	if last != nil {
		now = *last
		now.Day = day
	}
	now.know(h)
	now.Timelines = running.Timelines(&now.House)
	return &now, last != nil && of != hash, nil
}
