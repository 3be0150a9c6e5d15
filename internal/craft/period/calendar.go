package period

import (
	_ "embed" // the table
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
)

//go:embed calendar.txt
var calendarText string

// Milestone is a date counted back from the opening.
type Milestone struct {
	Days    int // before the opening; below 0 after the last performance
	Weekday int // 0 Sunday to 6 Saturday: the nearest such day; -1 the counted day itself
	Start   units.Clock
	Minutes units.Minutes
	What    string
	Who     []string
	Kind    string
	Mark    string // where the number comes from
}

// Calendar is the calendar that ships with the program: weeks are common
// practice or a house figure, as each says; times of day are house figures.
func Calendar() []Milestone {
	all, err := ReadCalendar(calendarText)
	if err != nil {
		panic(err) // a test reads the table
	}
	return all
}

// ReadCalendar reads a table written as the one that ships. The error names
// the line.
func ReadCalendar(text string) ([]Milestone, error) {
	var out []Milestone
	for _, r := range rows.Read(text) {
		m, err := milestoneIn(r.Cells)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", r.Line, err)
		}
		if slices.ContainsFunc(out, func(o Milestone) bool { return o.What == m.What }) {
			return nil, fmt.Errorf("line %d: %q stands twice", r.Line, m.What)
		}
		out = append(out, m)
	}
	return out, nil
}

var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// kindsOfDay are what a day of the calendar can be for.
var kindsOfDay = []string{"plan", "fit", "source", "money", "make", "rehearse", "show", "care", "strike"}

func milestoneIn(f []string) (Milestone, error) {
	if len(f) != 8 {
		return Milestone{}, fmt.Errorf("%d fields where there are 8", len(f))
	}
	m := Milestone{Weekday: -1, What: f[4], Kind: f[6], Mark: f[7]}
	var err error
	if m.Days, err = daysIn(f[0]); err != nil {
		return m, err
	}
	if f[1] != "" {
		if m.Weekday = slices.Index(weekdays, strings.ToLower(f[1])); m.Weekday < 0 {
			return m, fmt.Errorf("%q is no weekday; write it as Sat", f[1])
		}
	}
	if m.Start, err = units.ParseClock(f[2]); err != nil {
		return m, err
	}
	minutes, err := strconv.Atoi(f[3])
	if err != nil || minutes < 0 {
		return m, fmt.Errorf("%q is no number of minutes", f[3])
	}
	m.Minutes = units.Minutes(minutes)
	for _, who := range strings.Split(f[5], ";") {
		if who = strings.TrimSpace(who); who != "" {
			m.Who = append(m.Who, who)
		}
	}
	if !slices.Contains(kindsOfDay, m.Kind) {
		return m, fmt.Errorf("%q is none of %s", m.Kind, strings.Join(kindsOfDay, ", "))
	}
	if m.What == "" || m.Mark == "" {
		return m, fmt.Errorf("what it is, and where its number comes from, must stand there")
	}
	return m, nil
}

// daysIn reads "2.5", weeks, or "4d", days.
func daysIn(s string) (int, error) {
	days, each := strings.CutSuffix(s, "d")
	n, err := strconv.ParseFloat(days, 64)
	if err != nil || math.Abs(n) > 400 {
		return 0, fmt.Errorf("%q is no number of weeks; write 2.5, or 4d for days", s)
	}
	if !each {
		n *= 7
	}
	return int(math.Round(n)), nil
}

// CountBack gives the entries of a calendar for an opening and the day of the
// last performance, in the order of the table; last 0 is the opening itself.
func CountBack(all []Milestone, opening, last units.Date) []show.Entry {
	var out []show.Entry
	for _, m := range all {
		day := opening - units.Date(m.Days)
		if m.Days < 0 && last > opening {
			day = last - units.Date(m.Days)
		}
		if m.Weekday >= 0 {
			day += units.Date((m.Weekday-day.Weekday()+10)%7 - 3)
		}
		out = append(out, show.Entry{Day: day, Start: m.Start, Minutes: m.Minutes, What: m.What, Who: m.Who, Kind: m.Kind})
	}
	return out
}
