// Package running finds who is on stage when, every change of look, how many
// seconds there are for it and how many it wants, and how many people change
// at once. Times are exact to the second; seconds wanted are estimates.
package running

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Fast is the time under which a change is planned for: 180 s. A change under
// Rehearse wants rehearsing, one under Redesign a different garment. The
// first is from a teaching text for costume technicians, the others are
// house figures.
const (
	Fast     = 180
	Rehearse = 120
	Redesign = 45
)

var teaching = why.Basis{Key: "fast-changes", Kind: why.Handbook, Title: "teaching texts on fast changes"}

// Timelines computes the timeline of every cast there is, A first.
func Timelines(h *show.House) []answer.Timeline { return new(Memory).Timelines(h) }

// Timeline computes who is on when and every change of one cast.
func Timeline(h *show.House, cast show.Cast) answer.Timeline { return new(Memory).Timeline(h, cast) }

// Memory keeps what was worked out before, so that a small change of the show
// is worked out again quickly. What it hands out never depends on what it
// remembers. The zero value is empty.
type Memory struct {
	served map[string]served
}

// Timelines computes the timeline of every cast there is, A first.
func (m *Memory) Timelines(h *show.House) []answer.Timeline {
	var out []answer.Timeline
	for _, c := range h.Casts() {
		out = append(out, m.Timeline(h, c))
	}
	return out
}

// Timeline computes who is on when and every change of one cast, what could be
// on underneath, how few dressers suffice, who helps whom, and what to ask of
// the director.
func (m *Memory) Timeline(h *show.House, cast show.Cast) answer.Timeline {
	c := newClock(h, cast, shipped.Of(h.Tables))
	t := answer.Timeline{Cast: cast}
	t.Starts, t.End, t.Playing = h.Starts()
	t.Stretches = c.stretches(t.Starts)
	t.Changes, t.Clashes = c.changes(t.Stretches)
	t.MostAtOnce, t.MostAt = most(t.Changes)
	t.Dressers, t.Duties = c.dress(m, t.Changes)
	c.under(m, &t)
	t.Travels = travels(t.Changes)
	t.Asks = c.asks(m, &t)
	t.Notes = c.notes(t)
	return t
}

// changes finds every change of look, by time, and judges it; and every time
// somebody would be in two places.
func (c *clock) changes(stretches []answer.Stretch) (all []answer.Change, clashes []answer.Stretch) {
	last := answer.Stretch{} // of the performer in hand, the one that ends latest
	for _, next := range stretches {
		switch {
		case next.Performer != last.Performer:
			last = next
			continue
		case next.From < last.To:
			clashes = append(clashes, next)
		case next.Look != last.Look:
			all = append(all, c.change(last, next))
		}
		if next.To >= last.To {
			last = next
		}
	}
	slices.SortStableFunc(all, func(a, b answer.Change) int {
		return cmp.Or(cmp.Compare(a.Leaves, b.Leaves), cmp.Compare(a.Performer, b.Performer))
	})
	c.rehearsed(all)
	for i := range all {
		c.judge(&all[i])
	}
	return all, clashes
}

// stretches lists the times on stage by performer, then time. An appearance
// that ends before it begins is left out; see notes.
func (c *clock) stretches(starts map[show.SceneID]time.Duration) []answer.Stretch {
	out := make([]answer.Stretch, 0, len(c.h.Appearances))
	for _, a := range c.h.Appearances {
		start, known := starts[a.Scene]
		who := c.who(a.Role)
		if !known || who == "" || a.Exit <= a.Enter {
			continue
		}
		out = append(out, answer.Stretch{
			Performer: who, Role: a.Role, Look: a.Look, Scene: a.Scene,
			From: start + a.Enter, To: start + a.Exit, EnterSide: a.EnterSide, ExitSide: a.ExitSide,
		})
	}
	slices.SortStableFunc(out, func(a, b answer.Stretch) int {
		return cmp.Or(cmp.Compare(a.Performer, b.Performer), cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return out
}

// most sweeps over the fast changes and finds the most people changing at
// once; a change that ends as another begins does not meet it.
func most(changes []answer.Change) (int, time.Duration) {
	type edge struct {
		at   time.Duration
		step int
	}
	var edges []edge
	for _, c := range changes {
		if c.Seconds < Fast {
			edges = append(edges, edge{c.Leaves, 1}, edge{c.Enters, -1})
		}
	}
	sort.Slice(edges, func(i, j int) bool {
		if edges[i].at != edges[j].at {
			return edges[i].at < edges[j].at
		}
		return edges[i].step < edges[j].step
	})
	best, now, at := 0, 0, time.Duration(0)
	for _, e := range edges {
		if now += e.step; now > best {
			best, at = now, e.at
		}
	}
	return best, at
}
