package running

import (
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// dress gives the changes that want help to the dressers there are, in the
// order of time, each to the one free soonest and, of these, the one who
// helped this performer last. It is a plain list rule, not a proof of how few
// dressers suffice. A chaperone dresses nobody: the duty is single where the
// rule on chaperones holds.
func dress(h *show.House, changes []answer.Change) []answer.Duty {
	type dresser struct {
		id   show.HelperID
		free time.Duration
	}
	var all []dresser
	for _, p := range h.Helpers {
		if p.Dresser && !p.Chaperone {
			all = append(all, dresser{id: p.ID})
		}
	}
	last := map[show.PerformerID]show.HelperID{}
	var out []answer.Duty
	for i, c := range changes {
		if c.InView || c.Verdict.Grade == why.Yes && c.Seconds >= Fast {
			continue
		}
		walkLo, _ := walk(&c)
		d := answer.Duty{Change: i, Begins: c.Leaves + time.Duration(walkLo/2)*time.Second}
		d.Ends = d.Begins + time.Duration(c.Wanted.Lo-walkLo-lookCheck)*time.Second
		latest := c.Enters - time.Duration(lookCheck+walkLo/2)*time.Second
		best := -1
		for k := range all {
			start := max(all[k].free, d.Begins)
			if start+(d.Ends-d.Begins) > latest && all[k].free > d.Begins {
				continue
			}
			if best < 0 || start < max(all[best].free, d.Begins) || start == max(all[best].free, d.Begins) && all[k].id == last[c.Performer] {
				best = k
			}
		}
		if best >= 0 {
			start := max(all[best].free, d.Begins)
			d.Dresser, d.Begins, d.Ends = all[best].id, start, start+(d.Ends-d.Begins)
			all[best].free, last[c.Performer] = d.Ends, d.Dresser
		}
		out = append(out, d)
	}
	return out
}
