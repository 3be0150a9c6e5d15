package workshop

import (
	"context"
	"fmt"
	"slices"

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

// Longer lays a cloth again with more effort and keeps the lay where it is
// shorter, or where more has a place; it gives the one before and the one now.
func (w *Workshop) Longer(ctx context.Context, id show.ClothID) (was, now answer.Lay, err error) {
	p, err := w.Prepared(ctx)
	if err != nil {
		return was, now, err
	}
	l := p.LayOf(id)
	if l == nil {
		return was, now, &why.Error{Kind: why.Conflict, Field: "cloth", What: fmt.Sprintf("Nothing is laid on %s.", id), Try: "The plan says what is made of it."}
	}
	was = *l
	if now, err = cutting.Longer(ctx, &p.House, p.Cutting, id, solve.Budget{Effort: solve.Normal, Seed: 2}); err != nil || now.Used == was.Used && len(now.Missing) == len(was.Missing) {
		return was, now, err
	}
	better := *p // pages may still be reading the one before
	better.Cutting.Lays = slices.Clone(p.Cutting.Lays)
	for i := range better.Cutting.Lays {
		if better.Cutting.Lays[i].Cloth == id {
			better.Cutting.Lays[i] = now
		}
	}
	if bad := cutting.Check(&better.House, better.Cutting); len(bad) > 0 {
		return was, was, fmt.Errorf("%s", bad[0].Sentence(better.House.Units))
	}
	w.now.Lock()
	hash := w.hash
	same := w.last == p
	if same {
		w.last = &better
	}
	w.now.Unlock()
	if !same {
		return was, was, nil // something was done meanwhile: the plan may be another
	}
	return was, now, w.keep(ctx, &better, hash)
}

// PutByHand says which parts lie on a cloth where a person put them; the rest
// is laid round them. Where one cannot lie there nothing is kept, and the error
// says which and why.
func (w *Workshop) PutByHand(ctx context.Context, id show.ClothID, laid []show.HandLaid) error {
	p, err := w.Prepared(ctx)
	if err != nil {
		return err
	}
	if bad := cutting.ByHand(&p.House, p.Cutting.Drafts, id, laid); len(bad) > 0 {
		return &why.Error{Kind: why.Conflict, Field: "lay", What: bad[0].Sentence(p.House.Units), Try: "Move it, or let it be laid."}
	}
	return w.act(ctx, fmt.Sprintf("%d parts put on %s by hand", len(laid), id), func(h *show.House) error {
		if h.Cloth(id) == nil {
			return why.NotFound("cloth", string(id))
		}
		h.HandLaid = slices.DeleteFunc(slices.Clone(h.HandLaid), func(l show.HandLaid) bool { return l.Cloth == id })
		h.HandLaid = append(h.HandLaid, laid...)
		return nil
	})
}
