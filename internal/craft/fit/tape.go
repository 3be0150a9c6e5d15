package fit

import (
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Tape is what is known of a performer for drafting: every measure as a
// range, in ink or pencil, unknown where nothing tells; the heel of the show
// shoe; and whether anything in it is pencil. Numbers held back stay out.
func Tape(h *show.House, p *show.Performer) (spans [body.Kinds]units.Span, heel units.Length, pencil [body.Kinds]bool) {
	w := wearerOf(h, p)
	for _, k := range body.All() {
		spans[k], pencil[k] = w.at[k].span, w.at[k].from != ""
	}
	return spans, w.heel, pencil
}
