package fit

import (
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Tape is what is known of a performer: every measure as a range, unknown
// where nothing tells; the heel of the show shoe; and what a measure in pencil
// was taken from, empty for ink. Numbers held back stay out.
func Tape(h *show.House, p *show.Performer) (spans [body.Kinds]units.Span, heel units.Length, from [body.Kinds]string) {
	w := wearerOf(h, p)
	for _, k := range body.All() {
		spans[k], from[k] = w.at[k].span, w.at[k].from
	}
	return spans, w.heel, from
}
