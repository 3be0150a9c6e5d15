package workshop

import (
	"context"
	"fmt"
	"sort"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Fits judges garments against pieces: every garment and find for a piece, or
// every piece of its kind for a garment. Those that go come first, by the
// minutes they take.
func (w *Workshop) Fits(ctx context.Context, code string) ([]answer.Fit, error) {
	p, err := w.Prepared(ctx)
	if err != nil {
		return nil, err
	}
	h := &p.House
	var out []answer.Fit
	switch piece, garment := h.Piece(show.PieceID(code)), h.Garment(show.GarmentID(code)); {
	case piece != nil:
		wanted := fit.Wanted(h, piece)
		for _, g := range h.OnOffer() {
			if g.Category == piece.Category {
				out = append(out, fit.Judge(wanted, g))
			}
		}
	case garment != nil:
		return fit.OfGarment(h, garment), nil
	default:
		return nil, why.NotFound("piece or garment", code)
	}
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := goes(out[i]), goes(out[j]); a != b {
			return a
		}
		return out[i].Minutes() < out[j].Minutes()
	})
	return out, nil
}

func goes(f answer.Fit) bool { return f.Verdict.Grade >= why.Work }

// Altered says that a garment's alterations in the plan are done: it measures
// so now, and what was let out is remembered.
func (w *Workshop) Altered(ctx context.Context, id show.GarmentID) error {
	p, err := w.Prepared(ctx)
	if err != nil {
		return err
	}
	var work []answer.Alteration
	for _, c := range p.Plan.Choices {
		if c.Garment == id {
			work = c.Alterations
		}
	}
	return w.act(ctx, fmt.Sprintf("%s is altered", id), func(h *show.House) error {
		if len(work) == 0 {
			return &why.Error{Kind: why.Conflict, Field: "garment", What: fmt.Sprintf("The plan alters nothing on %s.", id), Try: "Write what it measures now on its page."}
		}
		for i := range h.Garments {
			if h.Garments[i].ID == id {
				g, kept := fit.Done(h, h.Garments[i], work, w.Day(h.Show))
				h.Garments[i] = g
				h.LetDowns = append(h.LetDowns, kept...)
				return nil
			}
		}
		for i := range h.Finds {
			if h.Finds[i].Garment.ID == id {
				h.Finds[i].Garment, _ = fit.Done(h, h.Finds[i].Garment, work, w.Day(h.Show))
				return nil
			}
		}
		return why.NotFound("garment", string(id))
	})
}
