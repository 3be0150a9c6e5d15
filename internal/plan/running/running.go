// Package running finds who is on stage when, every change of look, how many
// seconds there are for it and how many it wants, and how many people change
// at once. Times are exact to the second; seconds wanted are estimates.
package running

import (
	"slices"
	"sort"
	"strings"
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

var (
	teaching = why.Basis{Key: "fast-changes", Kind: why.Handbook, Title: "teaching texts on fast changes"}

	ruleEnough = why.Declare("running.enough", "{have} off stage; {wanted} wanted, walking and looking over included.", why.House)
	ruleHelp   = why.Declare("running.with-help", "{have} off stage; alone it takes {alone}, with a dresser {wanted}.", why.House)
	ruleShort  = why.Declare("running.too-short", "{have} off stage, {wanted} wanted with one dresser: {short} short.", why.House)
	ruleFast   = why.Declare("running.fast", "Under 3 minutes: {have}. Plan who helps.", teaching)
	ruleView   = why.Declare("running.in-view", "Done in view: {have}.", why.Common)
	ruleKeep   = why.Declare("running.keep", "{n} of the pieces stay on.", why.Exact)
	ruleSides  = why.Declare("running.side-not-known", "The side is not known; a crossing takes {more} more.", why.House)
)

// Timelines computes the timeline of every cast there is, A first.
func Timelines(h *show.House) []answer.Timeline {
	var out []answer.Timeline
	for _, c := range h.Casts() {
		out = append(out, Timeline(h, c))
	}
	return out
}

// Timeline computes who is on when and every change of one cast.
func Timeline(h *show.House, cast show.Cast) answer.Timeline {
	t := answer.Timeline{Cast: cast}
	t.Starts, t.End, t.Playing = h.Starts()
	t.Stretches = stretches(h, cast, t.Starts)
	c := newClock(h)
	last := answer.Stretch{} // of the performer in hand, the one that ends latest
	for _, next := range t.Stretches {
		switch {
		case next.Performer != last.Performer:
			last = next
			continue
		case next.From < last.To:
			t.Clashes = append(t.Clashes, next)
		case next.Look != last.Look:
			t.Changes = append(t.Changes, c.change(cast, last, next))
		}
		if next.To >= last.To {
			last = next
		}
	}
	sort.SliceStable(t.Changes, func(i, j int) bool {
		a, b := t.Changes[i], t.Changes[j]
		if a.Leaves != b.Leaves {
			return a.Leaves < b.Leaves
		}
		return a.Performer < b.Performer
	})
	t.MostAtOnce, t.MostAt = most(t.Changes)
	t.Duties = dress(h, t.Changes)
	return t
}

// stretches lists the times on stage by performer, then time.
func stretches(h *show.House, cast show.Cast, starts map[show.SceneID]time.Duration) []answer.Stretch {
	out := make([]answer.Stretch, 0, len(h.Appearances))
	for _, a := range h.Appearances {
		start, known := starts[a.Scene]
		who := h.PlayedBy(a.Role, cast)
		if !known || who == "" {
			continue
		}
		out = append(out, answer.Stretch{
			Performer: who, Role: a.Role, Look: a.Look, Scene: a.Scene,
			From: start + a.Enter, To: start + a.Exit, EnterSide: a.EnterSide, ExitSide: a.ExitSide,
		})
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Performer != b.Performer:
			return a.Performer < b.Performer
		case a.From != b.From:
			return a.From < b.From
		}
		return a.To < b.To
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

// clock knows what one change needs: the pieces of each look and who wears
// them.
type clock struct {
	h      *show.House
	pieces map[show.LookID][]*show.Piece
}

func newClock(h *show.House) *clock {
	c := &clock{h, map[show.LookID][]*show.Piece{}}
	for _, l := range h.Looks {
		c.pieces[l.ID] = h.LookPieces(l.ID)
	}
	return c
}

func (c *clock) change(cast show.Cast, from, to answer.Stretch) answer.Change {
	ch := answer.Change{
		Cast: cast, Performer: from.Performer, FromScene: from.Scene, ToScene: to.Scene,
		FromLook: from.Look, ToLook: to.Look, Leaves: from.To, Enters: to.From,
		Seconds: int((to.From - from.To) / time.Second), FromSide: from.ExitSide, ToSide: to.EnterSide,
	}
	scene := c.h.Scene(from.Scene)
	ch.InView = from.Scene == to.Scene && scene != nil && hasWord(scene.Movement, "change in view")
	before, after := c.pieces[from.Look], c.pieces[to.Look]
	for i := len(before) - 1; i >= 0; i-- {
		if slices.Contains(after, before[i]) {
			ch.Stays = append(ch.Stays, before[i].ID)
		} else {
			ch.Off = append(ch.Off, before[i].ID)
		}
	}
	for _, p := range after {
		if !slices.Contains(before, p) {
			ch.On = append(ch.On, p.ID)
		}
	}
	c.weigh(&ch)
	return ch
}

// weigh estimates the seconds wanted and judges the change.
func (c *clock) weigh(ch *answer.Change) {
	hands := c.fastenings(ch)
	walkLo, walkHi := walk(ch)
	ch.Wanted = answer.Seconds{Lo: hands + walkLo + lookCheck, Hi: hands*3/2 + walkHi + lookCheck}
	have, wanted := why.Seconds("have", ch.Seconds), why.Seconds("wanted", ch.Wanted.Lo)
	v := &ch.Verdict
	switch {
	case ch.InView:
		ch.Wanted = answer.Seconds{}
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleView.Because(why.Work, have))
	case ch.Seconds < ch.Wanted.Lo:
		v.Grade = why.No
		v.Reasons = append(v.Reasons, ruleShort.Because(why.No, have, wanted, why.Seconds("short", ch.Wanted.Lo-ch.Seconds)))
	case ch.Seconds < ch.Wanted.Hi:
		v.Grade = why.Work
		v.Reasons = append(v.Reasons, ruleHelp.Because(why.Work, have, wanted, why.Seconds("alone", ch.Wanted.Hi)))
	default:
		v.Grade = why.Yes
		v.Reasons = append(v.Reasons, ruleEnough.Because(why.Yes, have, why.Seconds("wanted", ch.Wanted.Hi)))
	}
	if ch.Seconds < Fast && !ch.InView {
		v.Reasons = append(v.Reasons, ruleFast.Because(why.Work, have))
	}
	if len(ch.Stays) > 0 {
		v.Reasons = append(v.Reasons, ruleKeep.Because(why.Yes, why.Of("n", len(ch.Stays))))
	}
	if ch.FromSide == "" || ch.ToSide == "" {
		v.Reasons = append(v.Reasons, ruleSides.Because(why.Unknown, why.Seconds("more", walkHi-walkLo)))
	}
}

func hasWord(list []string, word string) bool {
	for _, s := range list {
		if strings.EqualFold(strings.TrimSpace(s), word) {
			return true
		}
	}
	return false
}
