package workshop

import (
	"context"
	"fmt"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Backup writes a whole copy of the file.
func (w *Workshop) Backup(path string) error {
	if err := w.store.Backup(path); err != nil {
		return err
	}
	return w.left("copy", path)
}

// Copies lists the copies the program made by itself, the newest first.
func (w *Workshop) Copies() []store.Copy { return w.store.Copies() }

// NotCopied says why no copy could be made when the house was opened; nil
// where one was made or none was needed.
func (w *Workshop) NotCopied() error { return w.store.NotCopied() }

// Restore makes the house what it was in one of its copies; that can be
// undone.
func (w *Workshop) Restore(ctx context.Context, copy int) error {
	w.lock()
	defer w.mu.Unlock()
	return w.store.Restore(ctx, copy, w.deed(fmt.Sprintf("The house of copy %d taken back", copy)))
}

// Repair makes a new file of what can be read of a damaged one, which is not
// touched.
func Repair(ctx context.Context, path string) (store.Repaired, error) {
	return store.Repair(ctx, path, store.Act{Who: "you", Words: "Repaired from a damaged file", When: time.Now()})
}

// Printed notes that sheets went onto paper or into files, so that an erasing
// can name them.
func (w *Workshop) Printed(name string) error { return w.left("paper", name) }

func (w *Workshop) left(kind, name string) error {
	return w.store.Left(kind, name, w.clock().Format("2006-01-02"))
}

// afterLast is how long after the last performance people's rows are kept
// where nobody said otherwise: time to count in and to give things back. A
// house figure.
const afterLast = 14

// EraseDay is the day people's rows are to be erased; pencil says that it is
// assumed. No day where no performance is known.
func EraseDay(h *show.House) (day units.Date, pencil bool) {
	if h.Show.EraseOn != 0 {
		return h.Show.EraseOn, !h.Show.EraseOnInk
	}
	for _, p := range h.Performances {
		day = max(day, p.Day)
	}
	if day == 0 {
		return 0, true
	}
	return day + afterLast, true
}

// EraseDue says whether the day to erase people has come and somebody is
// still kept. Nothing is ever erased without a person's yes.
func (p *Prepared) EraseDue() bool {
	day, _ := EraseDay(&p.House)
	return day != 0 && p.Day >= day && p.Kept
}

// kept says whether anything about a person is kept.
func kept(h *show.House) bool {
	for i := range h.Performers {
		p := h.Performers[i]
		if p.Name != "" || p.Note != "" || len(p.Care) > 0 || len(p.NotBy) > 0 || h.FeetOf(p.ID) != nil {
			return true
		}
		for _, m := range p.Body {
			if m.Span.Known {
				return true
			}
		}
	}
	return false
}

// SetEraseDay says when people are to be erased.
func (w *Workshop) SetEraseDay(ctx context.Context, day units.Date) error {
	if day == 0 {
		return why.Bad("erase_on", "A day is missing.", "Write it as 2027-06-30.")
	}
	return w.act(ctx, "People are to be erased on "+day.Words(), func(h *show.House) error {
		h.Show.EraseOn, h.Show.EraseOnInk = day, true
		return nil
	})
}

// erasing finds who is meant: one performer by the code, or everybody of the
// show where who is empty. In kept texts each is called by the role; with
// small, also where the name is written small.
func (w *Workshop) erasing(who show.PerformerID, small bool) (store.Erase, error) {
	h, err := w.store.House()
	if err != nil {
		return store.Erase{}, err
	}
	e := store.Erase{Roles: rolesOf(&h), Small: small}
	e.Act = w.deed("All people of the show erased")
	if who != "" {
		if h.Performer(who) == nil {
			return e, why.NotFound("performer", string(who))
		}
		e.Performers, e.Act = []show.PerformerID{who}, w.deed(fmt.Sprintf("%s erased", who))
	}
	return e, nil
}

// BeforeErasing says what erasing somebody, or everybody, would take away:
// the lines with a name are to be seen first. Nothing is changed.
func (w *Workshop) BeforeErasing(ctx context.Context, who show.PerformerID, small bool) (store.Erasing, error) {
	w.lock()
	defer w.mu.Unlock()
	e, err := w.erasing(who, small)
	if err != nil {
		return store.Erasing{}, err
	}
	return w.store.Preview(ctx, e)
}

// Erase forgets somebody, or everybody of the show, for good, in the house
// and in every copy the program made. It cannot be undone. The answer lists
// the papers and files outside that are to be destroyed by hand.
func (w *Workshop) Erase(ctx context.Context, who show.PerformerID, small bool) (store.Erasing, error) {
	w.lock()
	defer w.mu.Unlock()
	e, err := w.erasing(who, small)
	if err != nil {
		return store.Erasing{}, err
	}
	w.remember(nil, "")
	return w.store.Erase(ctx, e)
}
