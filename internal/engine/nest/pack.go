package nest

import (
	"context"

	"hemwright/internal/value/solve"
)

// Pack looks for a layout of all pieces, on as little of the strip as it can.
// It always returns a legal layout, if need be with pieces missing; an error
// means that the problem is malformed. One step is the search of a better
// place for one piece, about 150 places looked at. Stopped through ctx or the
// budget it returns the best layout so far.
func Pack(ctx context.Context, p Problem, budget solve.Budget) (Layout, error) {
	if err := p.validate(); err != nil {
		return Layout{}, err
	}
	s := newSearch(ctx, &p, budget)
	s.start()
	s.improve()
	return s.answer(), nil
}
