package workshop

import (
	"context"
	"fmt"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
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

// CutOff cuts a cloth across below its lay: what is left becomes a cloth of
// its own, or several. It gives their codes.
func (w *Workshop) CutOff(ctx context.Context, id show.ClothID) ([]show.ClothID, error) {
	p, err := w.Prepared(ctx)
	if err != nil {
		return nil, err
	}
	lay := p.LayOf(id)
	var made []show.ClothID
	err = w.act(ctx, fmt.Sprintf("What is left of %s cut off", id), func(h *show.House) error {
		c := h.Cloth(id)
		switch {
		case c == nil:
			return why.NotFound("cloth", string(id))
		case lay == nil || len(lay.Placed) == 0:
			return &why.Error{Kind: why.Conflict, Field: "cloth", What: fmt.Sprintf("Nothing is laid on %s.", id), Try: "It is whole as it is."}
		case c.Washed == "no":
			return &why.Error{Kind: why.Conflict, Field: "cloth", What: fmt.Sprintf("%s is not washed yet.", id), Try: "Wash it, measure it again, and cut it then."}
		}
		rest, off := cutting.CutOff(*c, *lay, func(x show.ClothID) bool { return h.Cloth(x) != nil })
		if len(off) == 0 {
			return &why.Error{Kind: why.Conflict, Field: "cloth", What: fmt.Sprintf("Nothing worth keeping is left of %s.", id), Try: "What holds no circle of 12 cm goes to the scraps."}
		}
		*c = rest
		h.Cloths = append(h.Cloths, off...)
		for _, x := range off {
			made = append(made, x.ID)
		}
		return nil
	})
	return made, err
}
