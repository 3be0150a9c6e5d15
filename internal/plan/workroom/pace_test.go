package workroom

import (
	"testing"

	"hemwright/internal/show/show"
)

// from: by hand, with the prior of 3: somebody said to be at 80 in 100 of the
// lead's pace who took twice as long as thought three times has the share
// (600 + 300) / 6 = 150, and 80 / 1.5 is 53. Work whose operation is known to
// take longer than the table says does not count against her.
func TestPaceIsLearned(t *testing.T) {
	p := show.Helper{ID: "H1", Pace: 80}
	h := &show.House{Helpers: []show.Helper{p}}
	if Pace(h, p) != 80 || len(paces(h)) != 0 {
		t.Errorf("without a log: %d", Pace(h, p))
	}
	for range 3 {
		h.Logged = append(h.Logged, show.Logged{Helper: "H1", What: "sew", Minutes: 60, Thought: 30})
	}
	if Pace(h, p) != 53 || len(paces(h)) != 1 {
		t.Errorf("with three: %d", Pace(h, p))
	}
	if q := (show.Helper{ID: "H2", Pace: 80}); Pace(h, q) != 80 {
		t.Errorf("another's log counts: %d", Pace(h, q))
	}
	for i := range h.Logged {
		h.Logged[i].What = "take in the side seams"
	}
	if got := Pace(h, p); got <= 53 || got > 80 {
		t.Errorf("seams that take longer with everybody: %d", got)
	}
}
