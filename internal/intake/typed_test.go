package intake

import (
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// What was typed is kept beside the exact length, and follows the value: the
// lengths are worked out by hand, an inch being 25.4 mm.
func TestTypedWordsAreKept(t *testing.T) {
	const mm = int64(units.Millimetre)
	h, _ := mustTake(t, show.House{}, file("cast.csv", "performer_id,name,height_cm,chest_flat_cm,waist_in\nP1,Ann,5'4\",40,28.5\nP2,Bo,142,41,28 1/2\n"),
		file("rail.csv", "stock_id,category,garment,length_cm,chest_flat_in\nG1,dress,gown,\"1,36 m\",19\nG2,dress,gown,118,18.50\n"))
	for _, c := range []struct {
		list        []show.Typed
		kind, code  string
		field, want string
		is          int64
	}{
		{h.PeopleTyped, "performer", "P1", "height", "5'4\"", 1625600},
		{h.PeopleTyped, "performer", "P1", "chest", "40 cm flat", 800 * mm},
		{h.PeopleTyped, "performer", "P1", "waist", "28.5 in", 723900},
		{h.PeopleTyped, "performer", "P2", "height", "", 1420 * mm}, // 142 cm prints as 142
		{h.PeopleTyped, "performer", "P2", "waist", "28 1/2 in", 723900},
		{h.PeopleTyped, "performer", "P2", "waist", "", 723901}, // the value has changed since
		{h.Typed, "garment", "G1", "length", "1,36 m", 1360 * mm},
		{h.Typed, "garment", "G1", "chest", "19 in flat", 965200},
		{h.Typed, "garment", "G2", "length", "", 1180 * mm},
		{h.Typed, "garment", "G2", "chest", "18.50 in flat", 939800},
	} {
		if got := show.TypedAs(c.list, c.kind, c.code, c.field, c.is); got != c.want {
			t.Errorf("%s %s: typed %q, want %q", c.code, c.field, got, c.want)
		}
	}
	if w := h.Performer("P1").Body; int64(w[2].Span.Lo) == 0 {
		t.Error("the waist was not read")
	}
	again, _ := mustTake(t, h, file("cast.csv", "performer_id,name,waist_cm\nP1,Ann,73\n"))
	if got := show.TypedAs(again.PeopleTyped, "performer", "P1", "waist", 730*mm); got != "" || len(again.PeopleTyped) != len(h.PeopleTyped)-1 {
		t.Errorf("words of a value that is gone are still there: %v", again.PeopleTyped)
	}
}

// The first sheets of an empty house choose what lengths are shown in; later
// ones do not.
func TestUnitsFollowTheFirstSheets(t *testing.T) {
	inches := file("cast.csv", "performer_id,name,height_in,chest_in,waist_cm\nP1,Ann,58,29,64\n")
	h, rep := mustTake(t, show.House{}, inches)
	if h.Units != units.Imperial || rep.Taken[len(rep.Taken)-1].Try != "For centimetres: hemwright units cm" {
		t.Errorf("most are inches, shown in %s: %v", h.Units.Unit(), rep.Taken)
	}
	h, _ = mustTake(t, show.House{}, file("cast.csv", "performer_id,name,height_cm\nP1,Ann,150\n"))
	if h, _ = mustTake(t, h, inches); h.Units != units.Metric {
		t.Error("a later sheet changed what lengths are shown in")
	}
}
