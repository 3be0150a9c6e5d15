package sourcing

import (
	"strings"
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// The first line that fits counts, and a table of one's own in the place of the
// one that ships: four skirts alike at 100 minutes, each further one at half of
// it, take 62 each.
//
// from: by hand: (100 + 3 x 50) / 4 = 62.5, cut to whole minutes or up.
func TestHoursOfMaking(t *testing.T) {
	own := "next copy | 50 | ours\nskirt | wrap | 40 | beginner | 0 | cloth | ours\nskirt | any | 100 | straight | 80 | cloth | ours"
	h := show.House{Tables: map[string]string{"making": own}, Sets: []show.Set{{ID: "M1", Alike: "alike", Pieces: []show.PieceID{"X1", "X2", "X3", "X4"}}}}
	for _, id := range h.Sets[0].Pieces {
		h.Pieces = append(h.Pieces, show.Piece{ID: id, Name: "skirt", Fit: "easy", Set: "M1", FirstThought: "build"})
	}
	m := newMarket(Input{House: &h})
	how, ok := m.hours.of(&h.Pieces[0])
	if each, n := m.batched(&h.Pieces[0], how); !ok || how.simple != 80 || n != 4 || each < 62 || each > 63 {
		t.Errorf("%+v: %v each of %d", how, each, n)
	}
	if how, ok := m.hours.of(&show.Piece{Name: "skirt", Fit: "wrap"}); !ok || how.minutes != 40 {
		t.Errorf("a wrap skirt: %+v", how)
	}
	if _, ok := m.hours.of(&show.Piece{Name: "coat"}); ok {
		t.Error("a coat is not in this table")
	}
	for _, text := range []string{"", "skirt | any | 100 | straight | 80 | cloth | ours", strings.Replace(own, "| 100 |", "| long |", 1), strings.Replace(own, "beginner", "somebody", 1), strings.Replace(own, "50", "500", 1)} {
		if why.KindOf(Text.Check(text)) != why.Invalid {
			t.Errorf("%q is taken", text)
		}
	}
}
