package workshop

import (
	"context"
	"fmt"

	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// SetEach writes one value into one column of several rows of a list.
func (w *Workshop) SetEach(ctx context.Context, kind string, codes []string, key, value string) error {
	return w.several(ctx, fmt.Sprintf("%s set in %s", key, rowsOf(kind, codes)), codes, func(h *show.House) error {
		out, err := intake.SetEach(*h, kind, codes, key, value)
		*h = out
		return err
	})
}

// RemoveEach takes several rows out of a list.
func (w *Workshop) RemoveEach(ctx context.Context, kind string, codes []string) error {
	return w.several(ctx, rowsOf(kind, codes)+" taken out", codes, func(h *show.House) error {
		out, err := intake.RemoveEach(*h, kind, codes)
		*h = out
		return err
	})
}

// Again copies several rows, up a size where up is set, and gives the codes
// of the copies.
func (w *Workshop) Again(ctx context.Context, kind string, codes []string, up bool) ([]string, error) {
	words := "The same again: "
	if up {
		words = "The same, one size up: "
	}
	var made []string
	err := w.several(ctx, words+rowsOf(kind, codes), codes, func(h *show.House) error {
		out, m, err := intake.Again(*h, kind, codes, up, w.Day(h.Show))
		*h, made = out, m
		return err
	})
	return made, err
}

// ToGroup copies looks or pieces to everybody else in a group of roles, and
// gives the codes of the new pieces.
func (w *Workshop) ToGroup(ctx context.Context, kind string, codes []string, group string) ([]string, error) {
	var made []string
	err := w.several(ctx, fmt.Sprintf("%s copied to %s", rowsOf(kind, codes), group), codes, func(h *show.House) error {
		out, m, err := intake.ToGroup(*h, kind, codes, group, w.Day(h.Show))
		*h, made = out, m
		return err
	})
	return made, err
}

func (w *Workshop) several(ctx context.Context, words string, codes []string, change func(*show.House) error) error {
	if len(codes) == 0 {
		return why.Bad("row", "No row is ticked.", "Tick the rows it is meant for.")
	}
	return w.act(ctx, words, change)
}

// rowsOf names rows in the words of a deed.
func rowsOf(kind string, codes []string) string {
	switch len(codes) {
	case 0:
		return kind
	case 1:
		return kind + " " + codes[0]
	}
	return fmt.Sprintf("%s %s and %d more", kind, codes[0], len(codes)-1)
}
