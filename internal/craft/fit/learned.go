package fit

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var ruleLearned = why.Declare("fit.learned", "To {do} took {measured} in 100 of what was thought, logged {n} times; it is taken at {share} in 100.", why.Credibility)

// prior is the weight of an estimate of the table, in logged times (house).
const prior = 3

// lesson is what logged work says of one operation: how often, what it took in
// hundredths of what was thought, and what it is taken at.
type lesson struct{ n, measured, share int }

// learned is what the house's logged work says of each operation, by its place
// in the table: the sum of the shares and the prior, over their number and the
// prior (Bühlmann, 1967). Nil where nothing was logged.
func learned(h *show.House) []lesson {
	if len(h.Logged) == 0 {
		return nil
	}
	f := figuresOf(h)
	out := make([]lesson, len(f.ops))
	for _, l := range h.Logged {
		if l.Thought <= 0 || l.Minutes <= 0 {
			continue
		}
		share := Share(l)
		for _, i := range f.stepsOf(l.What) {
			out[i].n++
			out[i].measured += share
		}
	}
	for i := range out {
		if n := out[i].n; n > 0 {
			out[i].share = (out[i].measured + 100*prior) / (n + prior)
			out[i].measured /= n
		}
	}
	return out
}

// Taken is what the operations in a task are taken at after what was logged,
// in hundredths of the table: the mean over those it holds, 100 where it holds
// none that was.
func Taken(h *show.House) func(task string) int {
	lessons, f := learned(h), figuresOf(h)
	return func(task string) int {
		if lessons == nil {
			return 100
		}
		n, sum := 0, 0
		for _, i := range f.stepsOf(task) {
			if lessons[i].n > 0 {
				n++
				sum += lessons[i].share
			}
		}
		if n == 0 {
			return 100
		}
		return sum / n
	}
}

// Share is what logged work took, in hundredths of what was thought, kept
// between a fifth and five times: beyond that something else was done.
func Share(l show.Logged) int {
	return int(min(max(l.Minutes.Times(100, int64(l.Thought)), 20), 500))
}
