package workshop

import (
	"context"
	"log/slog"
	"sync"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Workshop is one open house and what was worked out for it.
type Workshop struct {
	mu     sync.Mutex
	clock  func() time.Time
	log    *slog.Logger
	day    units.Date // 0: the clock's
	house  show.House
	last   *Prepared
	deeds  []string
	undone []show.House
	before []show.House
}

// Prepared is everything worked out for the house as it is now.
func (w *Workshop) Prepared(ctx context.Context) (*Prepared, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.last == nil {
		p, err := Prepare(ctx, w.house, w.day, nil, solve.Budget{}, func(string) {})
		if err != nil {
			return nil, err
		}
		w.last = p
	}
	return w.last, nil
}

// Pin sets a person's choice for a piece.
func (w *Workshop) Pin(ctx context.Context, pin show.Pin) error {
	return why.Bad("", "not yet", "")
}

// Unpin takes a pin out.
func (w *Workshop) Unpin(ctx context.Context, id show.PieceID) error {
	return why.Bad("", "not yet", "")
}

// SetHowFar notes how far a piece has come.
func (w *Workshop) SetHowFar(ctx context.Context, id show.PieceID, far show.HowFar) error {
	return why.Bad("", "not yet", "")
}

// Undo takes the last deed back, Redo does it again.
func (w *Workshop) Undo(ctx context.Context) error { return why.Bad("", "not yet", "") }

// Redo does again what was undone.
func (w *Workshop) Redo(ctx context.Context) error { return why.Bad("", "not yet", "") }

// LastDeed says what was done last, and whether something undone can be done
// again.
func (w *Workshop) LastDeed() (string, bool) { return "", false }

// ForPages is a house held in memory, for looking at pages.
func ForPages(h show.House, day units.Date) *Workshop {
	return &Workshop{house: h, day: day, clock: time.Now, log: slog.Default()}
}
