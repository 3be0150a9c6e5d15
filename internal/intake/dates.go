package intake

import (
	"slices"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// entryKind is what an origin calls a row of the calendar.
const entryKind = "entry of the calendar"

// PutDates puts entries into the calendar in pencil, each by its rule. One
// that is there already, by its words, is moved where its day is still in
// pencil, and left alone where it is not. It gives how many were put in and
// how many moved.
func PutDates(h show.House, entries []show.Entry, rules []string, day units.Date) (out show.House, put, moved int) {
	h = h.Own()
	for i, e := range entries {
		at := slices.IndexFunc(h.Calendar, func(o show.Entry) bool { return Fold(o.What) == Fold(e.What) })
		if at < 0 {
			h.Calendar = append(h.Calendar, e)
			h.Origins = append(h.Origins, show.Origin{Kind: entryKind, Code: calendar.keys[0](&e), Field: "date", How: show.Assumed, Rule: rules[i], Day: day})
			put++
			continue
		}
		there := &h.Calendar[at]
		o := h.Origin(entryKind, calendar.keys[0](there), "date")
		if o == nil || there.Day == e.Day {
			continue
		}
		there.Day = e.Day
		o.Code, o.Rule, o.Day = calendar.keys[0](there), rules[i], day
		moved++
	}
	slices.SortStableFunc(h.Calendar, func(a, b show.Entry) int {
		if a.Day != b.Day {
			return int(a.Day - b.Day)
		}
		return int(a.Start - b.Start)
	})
	return h, put, moved
}

// DateStands says how a day of the calendar with these words stands: not
// there, in pencil, or in ink.
func DateStands(h *show.House, what string) (e show.Entry, there, pencil bool) {
	for i := range h.Calendar {
		if Fold(h.Calendar[i].What) == Fold(what) {
			e = h.Calendar[i]
			return e, true, h.Origin(entryKind, calendar.keys[0](&e), "date") != nil
		}
	}
	return e, false, false
}
