package workshop

import (
	"context"
	"fmt"
	"slices"

	"hemwright/internal/craft/period"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// CountedDate is a day of the calendar as counted back from the opening.
type CountedDate struct {
	period.Milestone
	Entry  show.Entry
	Was    units.Date // its day in the calendar now, or not there
	Pencil bool       // that day is in pencil, and moves
}

// Counted is a calendar counted back.
type Counted struct {
	Opening units.Date
	Dates   []CountedDate
}

// CountBack counts a calendar back from an opening, by a file calendar.txt
// beside the house, else the one that ships; it changes nothing.
func (w *Workshop) CountBack(h *show.House, opening units.Date) (Counted, error) {
	all, err := w.milestones()
	if err != nil || opening == 0 {
		return Counted{Opening: opening}, err
	}
	out := Counted{Opening: opening}
	for i, e := range period.CountBack(all, opening, lastNight(h, opening)) {
		d := CountedDate{Milestone: all[i], Entry: e}
		if o, there, pencil := intake.DateStands(h, e.What); there {
			d.Was, d.Pencil = o.Day, pencil
		}
		out.Dates = append(out.Dates, d)
	}
	return out, nil
}

// TakeDates puts the dates counted back from an opening with these words into
// the calendar, in pencil; those in pencil already move. An opening not known
// yet becomes the first performance.
func (w *Workshop) TakeDates(ctx context.Context, opening units.Date, what []string) error {
	if opening == 0 {
		return why.Bad("opening", "The opening is not known.", "Write its day, as 14 May 2027.")
	}
	if len(what) == 0 {
		return why.Bad("what", "No date is ticked.", "Tick those you want in the calendar.")
	}
	return w.act(ctx, fmt.Sprintf("%d dates counted back from %s", len(what), opening.Short()), func(h *show.House) error {
		counted, err := w.CountBack(h, opening)
		if err != nil {
			return err
		}
		var entries []show.Entry
		var rules []string
		for _, d := range counted.Dates {
			if slices.Contains(what, d.What) {
				entries = append(entries, d.Entry)
				rules = append(rules, "counted back from the opening: "+d.Mark)
			}
		}
		if len(entries) == 0 {
			return why.NotFound("date", what[0])
		}
		*h, _, _ = intake.PutDates(*h, entries, rules, w.Day(h.Show))
		if h.Opening() == 0 {
			id := show.PerformanceID(intake.NextCode(h, "N", 1))
			h.Performances = append(h.Performances, show.Performance{ID: id, Day: opening, Start: 19 * 60, Cast: h.Casts()[0]})
			h.Origins = append(h.Origins, show.Origin{Kind: "performance", Code: string(id), Field: "start_time", How: show.Assumed, Rule: "19:00 until you say", Day: w.Day(h.Show)})
		}
		return nil
	})
}

// lastNight is the last performance, if it is not before an opening.
func lastNight(h *show.House, opening units.Date) units.Date {
	last := opening
	if h.Opening() != opening {
		return last // the nights known are of another opening
	}
	for _, p := range h.Performances {
		last = max(last, p.Day)
	}
	return last
}

func (w *Workshop) milestones() ([]period.Milestone, error) {
	all := period.Calendar()
	_, _, err := w.beside("calendar", func(text string) (err error) {
		all, err = period.ReadCalendar(text)
		return err
	})
	return all, err
}
