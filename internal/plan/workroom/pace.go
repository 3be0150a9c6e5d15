package workroom

import (
	"hemwright/internal/craft/fit"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var rulePace = why.Declare("workroom.pace", "{helper} took {measured} in 100 of what was thought, logged {n} times; the pace is taken at {pace} in 100 of the lead's, said {said}.", why.Credibility)

// prior is the weight of the pace that was said, in logged times (house).
const prior = 3

// Pace is a helper's pace in hundredths of the lead's: what was said, as far
// as logged work has corrected it.
func Pace(h *show.House, p show.Helper) int {
	n, sum := logged(h, p.ID)
	if n == 0 || p.Pace <= 0 {
		return p.Pace
	}
	return max(1, p.Pace*100*(n+prior)/(sum+100*prior))
}

// logged is how often a helper's work was logged with what it was thought to
// take, and the shares it took of that, in hundredths, added up; what the
// operations themselves were found to take does not count against the hand.
func logged(h *show.House, id show.HelperID) (n, sum int) {
	taken := fit.Taken(h)
	for _, l := range h.Logged {
		if l.Helper == id && l.Thought > 0 && l.Minutes > 0 {
			n++
			sum += fit.Share(l) * 100 / taken(l.What)
		}
	}
	return n, sum
}

// paces says whose pace logged work has changed.
func paces(h *show.House) []why.Reason {
	var out []why.Reason
	for _, p := range h.Helpers {
		if n, sum := logged(h, p.ID); n > 0 && Pace(h, p) != p.Pace {
			out = append(out, rulePace.Because(why.Work, why.Of("helper", why.Ref{Kind: "helper", Code: string(p.ID)}),
				why.Of("measured", sum/n), why.Of("n", n), why.Of("pace", Pace(h, p)), why.Of("said", p.Pace)))
		}
	}
	return out
}
