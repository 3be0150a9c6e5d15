package fit

import (
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// from: by hand, with the prior of 3: three times one and a half of what was
// thought is taken at (3 x 150 + 3 x 100) / 6 = 125 in 100, so lined side seams
// of 50 minutes at 62 or 63. What nobody logged stays.
func TestLoggedWorkIsLearned(t *testing.T) {
	h, p := stage(whole, gown())
	plain := Judge(Wanted(h, p), satin(94, 67, 94, 138))
	for range 3 {
		h.Logged = append(h.Logged, show.Logged{What: "take in the side seams", Minutes: 75, Thought: 50})
	}
	h.Logged = append(h.Logged, show.Logged{What: "take in the side seams", Minutes: 90}) // nobody said what was thought
	f := Judge(Wanted(h, p), satin(94, 67, 94, 138))
	if m := f.Alterations[0].Minutes; m != 62 && m != 63 {
		t.Errorf("side seams at %s", m)
	}
	if f.Alterations[1] != plain.Alterations[1] {
		t.Errorf("the hem moved: %v", f.Alterations[1])
	}
	said := false
	for _, r := range f.Verdict.Reasons {
		said = said || r.Rule == ruleLearned.ID && r.Basis() == why.Credibility
	}
	if !said {
		t.Error("nobody says why")
	}
	// a task of several steps teaches each of them
	h.Logged = []show.Logged{{What: "take in the side seams, hem up by machine", Minutes: 100, Thought: 50}}
	if got := Taken(h)("hem up by machine"); got != (200+300)/4 {
		t.Errorf("the hem is taken at %d", got)
	}
	if got := Taken(h)("sew"); got != 100 {
		t.Errorf("sewing is taken at %d", got)
	}
	// what took ten times as long was something else: it counts as five
	if got := Share(show.Logged{Minutes: 500, Thought: 50}); got != 500 {
		t.Errorf("ten times counts as %d", got)
	}
}
