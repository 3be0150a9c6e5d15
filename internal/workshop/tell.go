package workshop

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Heard is a text as it was taken.
type Heard struct {
	Text    string
	File    string // the file it was, or empty
	Told    map[int]intake.Told
	Said    []intake.Said
	Guesses []intake.Guess // what each of its tables was taken for
	Act     int64          // the deed it was, 0 where nothing changed by it
}

// Tell takes what somebody pasted or typed into the house, and says line by
// line what was understood; the rest is kept.
func (w *Workshop) Tell(ctx context.Context, text string) (Heard, error) {
	return w.TellAs(ctx, text, nil, 0)
}

// TellAs takes a text as Tell does, and obeys what is told of its tables.
// instead, if not 0, is the deed of an earlier reading that goes first: what
// it put in is taken out again. Where that cannot be, for what was changed
// since, nothing is done.
func (w *Workshop) TellAs(ctx context.Context, text string, told map[int]intake.Told, instead int64) (Heard, error) {
	heard := Heard{Text: text, Told: told}
	if err := something(text); err != nil {
		return heard, err
	}
	err := w.readAnew(ctx, instead, &heard, "Told: "+firstLine(text), func(h *show.House) error {
		*h, heard.Said, heard.Guesses = intake.TextAs(*h, firstLine(text), text, w.Day(h.Show), told)
		return nil
	})
	return heard, err
}

// TakeFile takes one file into the house as TellAs takes a text; told is by
// the names of its tables, as the guesses give them.
func (w *Workshop) TakeFile(ctx context.Context, f intake.File, told map[string]intake.Told, instead int64) (Heard, error) {
	heard := Heard{File: f.Name, Told: map[int]intake.Told{}}
	err := w.readAnew(ctx, instead, &heard, f.Name+" brought in", func(h *show.House) error {
		taken, rep, err := intake.TakeAs(*h, []intake.File{f}, told)
		if err != nil {
			return err
		}
		*h, heard.Said, heard.Guesses = taken, rep.Said(), rep.Guesses
		return nil
	})
	for i, g := range heard.Guesses {
		if t, is := told[g.File]; is {
			heard.Told[i] = t
		}
	}
	return heard, err
}

// readAnew takes something in, in the place of what an earlier deed took in,
// and notes which deed it was.
func (w *Workshop) readAnew(ctx context.Context, instead int64, heard *Heard, words string, take func(*show.House) error) error {
	if instead != 0 {
		if err := w.undoAct(ctx, instead); err != nil {
			return err
		}
	}
	before, err := w.store.LastAct()
	if err != nil {
		return err
	}
	if err := w.act(ctx, words, take); err != nil {
		if instead != 0 {
			_, again := w.Redo(ctx)
			err = errors.Join(err, again)
		}
		return err
	}
	after, err := w.store.LastAct()
	if after != before {
		heard.Act = after
	}
	return err
}

// Look says what a text would be taken for, and takes nothing.
func (w *Workshop) Look(text string, told map[int]intake.Told) (Heard, error) {
	heard := Heard{Text: text, Told: told}
	if err := something(text); err != nil {
		return heard, err
	}
	h, err := w.store.House()
	if err != nil {
		return heard, err
	}
	_, heard.Said, heard.Guesses = intake.TextAs(h, firstLine(text), text, w.Day(h.Show), told)
	return heard, nil
}

// undoAct takes back one deed: the last that stands, or one nothing was built
// on since.
func (w *Workshop) undoAct(ctx context.Context, id int64) error {
	w.lock()
	defer w.mu.Unlock()
	acts, err := w.store.Acts(50)
	if err != nil {
		return err
	}
	for _, a := range acts {
		if a.Kind != "undo" && !a.Gone {
			if a.ID != id {
				break
			}
			_, err := w.store.Undo(ctx, "you", w.clock())
			return err
		}
	}
	_, err = w.store.UndoAct(ctx, id, "you", w.clock())
	return err
}

func something(text string) error {
	if strings.TrimSpace(text) == "" {
		return why.Bad("text", "There is nothing in the box.", "Paste or type whatever you have; a cast list is enough.")
	}
	return nil
}

// firstLine names a text by how it begins.
func firstLine(text string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(text), "\n")
	if r := []rune(strings.TrimSpace(line)); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return strings.TrimSpace(line)
}

// Kept is what becomes of a line that was kept as text.
type Kept string

// A kept line is told again in other words, noted as something to see to, or
// let go.
const (
	Again Kept = "again"
	Noted Kept = "note"
	LetGo Kept = "let go"
)

// SettleKept sees to one kept line: n is its place in the list, was its text, so
// that no other line is meant; words are the new words where it is told again.
func (w *Workshop) SettleKept(ctx context.Context, n int, was string, how Kept, words string) ([]intake.Said, error) {
	var said []intake.Said
	deed := map[Kept]string{Again: "A kept line told again", Noted: "A kept line noted", LetGo: "A kept line let go"}[how]
	if deed == "" {
		return nil, why.Bad("how", fmt.Sprintf("%q is nothing one can do with a line.", how), "Tell it again, note it, or let it go.")
	}
	err := w.act(ctx, deed, func(h *show.House) error {
		if n < 0 || n >= len(h.Unread) || h.Unread[n].Text != was {
			return &why.Error{Kind: why.Conflict, Field: "line", What: "That line is not there any more.", Try: "Look at the list again."}
		}
		line := h.Unread[n]
		h.Unread = slices.Delete(slices.Clone(h.Unread), n, n+1)
		switch how {
		case Again:
			*h, said = intake.Text(*h, line.File+", again", words, w.Day(h.Show))
		case Noted:
			h.Notes = intake.Note(h.Notes, was, w.Day(h.Show))
		}
		return nil
	})
	return said, err
}
