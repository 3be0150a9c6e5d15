package nest_test

import (
	"context"
	"fmt"

	"hemwright/internal/engine/nest"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// Two panels exactly as wide as the cloth, and a strip across its end.
func Example() {
	m := units.Metre
	p := nest.Problem{
		Pieces: []nest.Piece{
			{ID: "panel", Outline: geom.Rect(m, m*7/10), Copies: 2, Turns: []int{0, 180}},
			{ID: "band", Outline: geom.Rect(m/10, m*14/10), Copies: 1, Turns: []int{0, 180}},
		},
		Cloths: []nest.Cloth{{ID: "linen", Outline: geom.Rect(3*m, m*14/10), Strip: true}},
	}
	l, err := nest.Pack(context.Background(), p, solve.Budget{Effort: solve.Quick})
	fmt.Println(len(l.Placed), l.Length.Cm(), l.Outcome.Proof, len(nest.Check(p, l)), err)
	// Output: 3 110 best 0 <nil>
}
