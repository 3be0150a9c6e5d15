package workshop

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Tell takes what somebody pasted or typed into the house, and says line by
// line what was understood; the rest is kept.
func (w *Workshop) Tell(ctx context.Context, text string) ([]intake.Said, error) {
	if strings.TrimSpace(text) == "" {
		return nil, why.Bad("text", "There is nothing in the box.", "Paste or type whatever you have; a cast list is enough.")
	}
	var said []intake.Said
	err := w.act(ctx, "Told: "+firstLine(text), func(h *show.House) error {
		*h, said = intake.Text(*h, firstLine(text), text, w.Day(h.Show))
		return nil
	})
	return said, err
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
