package fittings

import (
	"fmt"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// worked are the sources after which a piece is tried on.
var worked = []answer.Source{answer.Alter, answer.Remake, answer.Make, answer.Buy}

// Check goes over the appointments by themselves: everybody with a piece to
// try on is there once or named unplaced, every appointment lies in a fitting
// day of the calendar, no station and nobody is taken twice, nobody is in
// rehearsal, and places of each day are empty.
func Check(h *show.House, day units.Date, plan answer.Plan, f answer.Fittings) []why.Reason {
	var bad []why.Reason
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	times, s := map[show.PerformerID]int{}, shipped.Of(h.Tables)
	for _, a := range append(slices.Clone(f.Appointments), f.Unplaced...) {
		times[a.Performer]++
	}
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		loose := p == nil || p.Fit != "fitted" && p.Fit != "easy" || p.Category == show.Accessory
		if loose || p.HowFar == show.Finished || p.HowFar == show.Hung || !slices.Contains(worked, c.Source) {
			continue
		}
		for _, who := range h.Wearers(p) {
			if times[who] != 1 {
				wrong("%s is on the list %d times", who, times[who])
			}
		}
	}
	used := map[units.Date]units.Minutes{}
	for i, a := range f.Appointments {
		k := slices.IndexFunc(h.Calendar, func(e show.Entry) bool {
			return e.Kind == "fit" && e.Day == a.Day && e.Start <= a.Start && int(a.Start)+int(a.Minutes) <= int(e.Start)+int(e.Minutes)
		})
		if k < 0 || a.Day < day || a.Station < 1 || a.Station > s.stations {
			wrong("%s is fitted where no fitting is", a.Performer)
			continue
		}
		used[a.Day] += a.Minutes
		for _, o := range f.Appointments[:i] {
			if o.Day == a.Day && o.Station == a.Station && o.Start < a.Start+units.Clock(a.Minutes) && a.Start < o.Start+units.Clock(o.Minutes) {
				wrong("%s and %s are at one station at once", o.Performer, a.Performer)
			}
		}
		for _, e := range h.Calendar {
			if (e.Kind == "rehearse" || e.Kind == "show") && e.Day == a.Day && e.Start < a.Start+units.Clock(a.Minutes) && int(a.Start) < int(e.Start)+int(e.Minutes) && plays(h, e, a.Performer) {
				wrong("%s is in rehearsal when fitted", a.Performer)
			}
		}
	}
	for _, e := range h.Calendar {
		if m := used[e.Day]; e.Kind == "fit" && int(m)*s.emptyOne > int(open(h, e.Day))*s.stations*(s.emptyOne-1) {
			wrong("%s has no place left empty", e.Day)
			delete(used, e.Day)
		}
	}
	return bad
}

// open counts the minutes of a day in which there is any fitting.
func open(h *show.House, d units.Date) units.Minutes {
	var in [24 * 60]bool
	var n units.Minutes
	for _, e := range h.Calendar {
		for m := int(e.Start); e.Kind == "fit" && e.Day == d && m < int(e.Start)+int(e.Minutes) && m < len(in); m++ {
			if !in[m] {
				in[m] = true
				n++
			}
		}
	}
	return n
}

// plays says whether somebody plays one of the roles an entry calls.
func plays(h *show.House, e show.Entry, who show.PerformerID) bool {
	roles, _ := fit.Called(h, e)
	for _, c := range h.Casts() {
		if slices.ContainsFunc(roles, func(r show.RoleID) bool { return h.PlayedBy(r, c) == who }) {
			return true
		}
	}
	return false
}
