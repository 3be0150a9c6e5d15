// Package file writes what leaves the program as a file of an open format:
// calendars and the bundle for the next person.
package file

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// Calendar writes the dates of a helper, or of the lead where helper is "",
// as iCalendar (RFC 5545): what stands in the calendar, the performances, and
// the helper's own work, a day an entry. It holds no date of a child: fittings
// are there as the hours they take, without names. Times are local to the
// house: they carry no zone.
func Calendar(w io.Writer, p *workshop.Prepared, helper show.HelperID, stamp time.Time) error {
	cal := ical.NewCalendar()
	cal.Props.SetText(ical.PropVersion, "2.0")
	cal.Props.SetText(ical.PropProductID, "-//Hemwright//EN")
	n := 0
	add := func(day units.Date, start units.Clock, minutes units.Minutes, what string) {
		if day == 0 {
			return
		}
		n++
		y, m, d := day.YMD()
		e := ical.NewEvent()
		e.Props.SetText(ical.PropUID, fmt.Sprintf("%s-%d-%s@hemwright", day, n, helper))
		e.Props.SetDateTime(ical.PropDateTimeStamp, stamp.UTC())
		e.Props.SetText(ical.PropSummary, what)
		from := time.Date(y, time.Month(m), d, int(start)/60, int(start)%60, 0, 0, time.UTC)
		if start == 0 && minutes == 0 {
			setDate(e, ical.PropDateTimeStart, from)
		} else {
			setLocal(e, ical.PropDateTimeStart, from)
			setLocal(e, ical.PropDateTimeEnd, from.Add(time.Duration(max(minutes, 15))*time.Minute))
		}
		cal.Children = append(cal.Children, e.Component)
	}
	for _, e := range p.House.Calendar {
		add(e.Day, e.Start, e.Minutes, e.What)
	}
	for _, q := range p.House.Performances {
		add(q.Day, q.Start, 150, "performance "+string(q.ID))
	}
	for _, day := range workDays(p, helper) {
		add(day.day, day.start, day.minutes, fmt.Sprintf("costumes: %d pieces of work", day.n))
	}
	if n == 0 { // a calendar must hold something; RFC 5545, 3.6
		add(p.Day, 0, 0, "no dates yet")
	}
	var b bytes.Buffer
	if err := ical.NewEncoder(&b).Encode(cal); err != nil {
		return err
	}
	for _, line := range strings.Split(strings.TrimSuffix(b.String(), "\r\n"), "\r\n") {
		if _, err := io.WriteString(w, folded(line)); err != nil {
			return err
		}
	}
	return nil
}

// folded breaks a line after at most 75 octets, never inside a letter
// (RFC 5545, 3.1).
func folded(line string) string {
	var b strings.Builder
	room := 75
	for _, c := range line {
		if n := utf8.RuneLen(c); n > room {
			b.WriteString("\r\n ")
			room = 74 - n
		} else {
			room -= n
		}
		b.WriteRune(c)
	}
	b.WriteString("\r\n")
	return b.String()
}

// setLocal writes a time without a zone, as a clock on the wall shows it.
func setLocal(e *ical.Event, name string, t time.Time) {
	prop := ical.NewProp(name)
	prop.Value = t.Format("20060102T150405")
	e.Props.Set(prop)
}

func setDate(e *ical.Event, name string, t time.Time) {
	prop := ical.NewProp(name)
	prop.Params.Set(ical.ParamValue, string(ical.ValueDate))
	prop.Value = t.Format("20060102")
	e.Props.Set(prop)
}

type workDay struct {
	day     units.Date
	start   units.Clock
	minutes units.Minutes
	n       int
}

// workDays adds up the work of a helper by day; the lead is the first helper.
func workDays(p *workshop.Prepared, helper show.HelperID) []workDay {
	if helper == "" && len(p.House.Helpers) > 0 {
		helper = p.House.Helpers[0].ID
	}
	var out []workDay
	at := map[units.Date]int{}
	for _, s := range p.Workroom.Slots {
		if s.Helper != helper {
			continue
		}
		i, there := at[s.Day]
		if !there {
			i = len(out)
			at[s.Day] = i
			out = append(out, workDay{day: s.Day, start: s.Start})
		}
		out[i].start = min(out[i].start, s.Start)
		out[i].minutes += s.Minutes
		out[i].n++
	}
	return out
}
