package workshop

import (
	"context"
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
