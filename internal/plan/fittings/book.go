package fittings

import (
	"slices"
	"strings"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// book is the list of appointments while it is being made.
type book struct {
	h      *show.House
	slots  slots
	guests []guest
	days   []session
}

// put gives somebody the first day with room; where all are full, it moves
// one other person to another of their days.
func (b *book) put(g int) bool {
	for _, d := range b.guests[g].days {
		if b.add(d, g) {
			return true
		}
	}
	for _, d := range b.guests[g].days {
		for _, other := range slices.Clone(b.days[d].who) {
			if b.move(other, d, g) {
				return true
			}
		}
	}
	return false
}

// move sends somebody from a day to another of theirs to make room.
func (b *book) move(other, d, g int) bool {
	kept := b.days[d].who
	b.days[d].who = slices.DeleteFunc(slices.Clone(kept), func(x int) bool { return x == other })
	for _, to := range b.guests[other].days {
		if to == d || !b.add(to, other) {
			continue
		}
		if b.add(d, g) {
			return true
		}
		b.days[to].who = slices.DeleteFunc(b.days[to].who, func(x int) bool { return x == other })
	}
	b.days[d].who = kept
	return false
}

func (b *book) add(d, g int) bool {
	who := append(slices.Clone(b.days[d].who), g)
	if _, ok := b.lay(d, who); !ok {
		return false
	}
	b.days[d].who = who
	return true
}

// holds is how many minutes of fitting a day takes beside the places left
// empty.
func (s slots) holds(e show.Entry) units.Minutes {
	return e.Minutes * units.Minutes(s.stations) * units.Minutes(s.emptyOne-1) / units.Minutes(s.emptyOne)
}

// lay puts the people of a day on the stations one after the other, in the
// order of the performers; false where they do not fit. Every so often a place
// is left empty.
func (b *book) lay(d int, who []int) ([]answer.Appointment, bool) {
	who = slices.Clone(who)
	slices.SortFunc(who, func(x, y int) int { return b.guests[x].order - b.guests[y].order })
	e := b.days[d].e
	free, count := make([]units.Clock, b.slots.stations), make([]int, b.slots.stations)
	for s := range free {
		free[s] = e.Start
	}
	var sum units.Minutes
	var out []answer.Appointment
	for _, g := range who {
		s := 0
		for k := range free {
			if free[k] < free[s] {
				s = k
			}
		}
		m := b.guests[g].minutes
		start := b.clear(g, e.Day, free[s])
		free[s] = start + units.Clock(m)
		if count[s]++; count[s]%(b.slots.emptyOne-1) == 0 && free[s]+units.Clock(m) <= end(e) {
			free[s] += units.Clock(m)
		}
		if sum += m; start+units.Clock(m) > end(e) || sum > b.slots.holds(e) {
			return nil, false
		}
		out = append(out, answer.Appointment{Performer: b.guests[g].id, Kind: "first", Day: e.Day, Start: start, Minutes: m, Station: s + 1, Pieces: b.guests[g].pieces,
			Why: ruleSlot.Because(why.Yes, why.Of("minutes", m), why.Of("pieces", len(b.guests[g].pieces)), why.Of("called", strings.Join(e.Who, ", ")))})
	}
	return out, true
}

func end(e show.Entry) units.Clock { return e.Start + units.Clock(e.Minutes) }

// clear is the first minute from start on at which somebody is not wanted in
// rehearsal for as long as the fitting takes.
func (b *book) clear(g int, day units.Date, start units.Clock) units.Clock {
	for again := true; again; {
		again = false
		for _, e := range b.h.Calendar {
			if e.Day != day || e.Kind != "rehearse" && e.Kind != "show" {
				continue
			}
			if e.Start < start+units.Clock(b.guests[g].minutes) && start < end(e) && wanted(b.h, e, b.guests[g].id) {
				start, again = end(e), true
			}
		}
	}
	return start
}

// wanted says whether an entry of the calendar wants a performer.
func wanted(h *show.House, e show.Entry, id show.PerformerID) bool {
	roles, _ := fit.Called(h, e)
	for _, r := range roles {
		for _, c := range h.Casts() {
			if h.PlayedBy(r, c) == id {
				return true
			}
		}
	}
	return false
}

// whyNot says why somebody has no place, and whether that is proved: no day
// calls them, or those bound to their days want more than the days hold.
func (b *book) whyNot(g int) (why.Reason, bool) {
	who := why.Of("who", why.Ref{Kind: "performer", Code: string(b.guests[g].id)})
	mine := b.guests[g].days
	if len(mine) == 0 {
		return ruleNoDay.Because(why.No, who), true
	}
	var have, want units.Minutes
	for _, d := range mine {
		have += b.slots.holds(b.days[d].e)
	}
	for _, o := range b.guests {
		if len(o.days) > 0 && !slices.ContainsFunc(o.days, func(d int) bool { return !slices.Contains(mine, d) }) {
			want += o.minutes
		}
	}
	if want > have {
		return ruleFull.Because(why.No, who, why.Of("have", have), why.Of("wanted", want)), true
	}
	return ruleNoRoom.Because(why.Unknown, who, why.Of("days", len(mine))), false
}
