package workshop

import (
	"context"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
)

// ClothDoes says whether a cloth does for some pieces, and what to change so
// that it does.
func (w *Workshop) ClothDoes(ctx context.Context, cloth show.ClothID, pieces []show.PieceID) (answer.ClothDoes, error) {
	p, _, err := w.Glance()
	if err != nil {
		return answer.ClothDoes{}, err
	}
	return cutting.Does(ctx, &p.House, cloth, pieces, solve.Budget{Effort: solve.Quick, Seed: 1})
}
