package period

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/value/units"
)

func day(t *testing.T, y, m, d int) units.Date {
	t.Helper()
	out, err := units.Day(y, m, d)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// from: a printed calendar of 2027: 14 May is a Friday, 26 March seven weeks
// before it too, with a Saturday the day after.
func TestCountBack(t *testing.T) {
	all, err := ReadCalendar("# a note\n\n12 | | 18:00 | 60 | cast list | all | plan | x\n7 | Sat | 10:00 | 300 | fittings | R01; R02 | fit | x\n2.5 | | 18:00 | 60 | trial | all | rehearse | x\n4d | | 17:00 | 240 | technical | all | rehearse | x\n0d | | 19:00 | 140 | opening night | all | show | x\n-1d | | 10:00 | 240 | strike | helpers | strike | x\n-1 | Mon | 10:00 | 60 | wash | | care | x\n")
	if err != nil {
		t.Fatal(err)
	}
	opening, last := day(t, 2027, 5, 14), day(t, 2027, 5, 22)
	want := []units.Date{day(t, 2027, 2, 19), day(t, 2027, 3, 27), day(t, 2027, 4, 26), day(t, 2027, 5, 10), opening, day(t, 2027, 5, 23), day(t, 2027, 5, 31)}
	for i, e := range CountBack(all, opening, last) {
		if e.Day != want[i] {
			t.Errorf("%s falls on %s, not %s", e.What, e.Day, want[i])
		}
	}
	if got := CountBack(all, opening, 0)[5].Day; got != opening+1 {
		t.Errorf("with one night known, strike is on %s", got)
	}
	if e := CountBack(all, opening, last)[1]; len(e.Who) != 2 || e.Who[1] != "R02" || e.Start != 600 || e.Minutes != 300 || e.Kind != "fit" {
		t.Errorf("%+v", e)
	}
}

// from: the standard library's weekdays.
func TestCountBackWeekdays(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		opening := day(t, 2020, 1, 1) + units.Date(rapid.IntRange(0, 9000).Draw(rt, "opening"))
		weeks := rapid.IntRange(-20, 50).Draw(rt, "days")
		wd := rapid.IntRange(0, 6).Draw(rt, "weekday")
		got := CountBack([]Milestone{{Days: weeks, Weekday: wd}}, opening, 0)[0].Day
		y, m, d := got.YMD()
		if is := int(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Weekday()); is != wd {
			rt.Fatalf("%s is a %d, not %d", got, is, wd)
		}
		if off := opening - units.Date(weeks) - got; off < -3 || off > 3 {
			rt.Fatalf("%s is %d days from the one counted", got, off)
		}
	})
}

// The table that ships: every line has a mark, days run down to the opening,
// and the days everybody knows are in it.
func TestTheCalendarThatShips(t *testing.T) {
	all := Calendar()
	before := 1000
	seen := map[string]int{}
	for _, m := range all {
		if m.Days > before && m.Days >= 0 {
			t.Errorf("%q stands after a later day", m.What)
		}
		before = m.Days
		seen[m.Kind]++
	}
	for _, kind := range kindsOfDay {
		if seen[kind] == 0 {
			t.Errorf("no day is for %s", kind)
		}
	}
	parade := 0
	for _, e := range CountBack(all, day(t, 2027, 5, 14), 0) {
		if e.Kind == "rehearse" && strings.Contains(e.What, "parade") {
			parade++
			if e.Day != day(t, 2027, 5, 8) {
				t.Errorf("the parade is on %s", e.Day)
			}
		}
	}
	if parade != 1 {
		t.Errorf("%d parades", parade)
	}
}

func TestReadCalendarFaults(t *testing.T) {
	for text, want := range map[string]string{
		"12 | | 18:00 | 60 | a | all | plan":                                         "7 fields",
		"soon | | 18:00 | 60 | a | all | plan | x":                                   "no number of weeks",
		"1 | Samstag | 18:00 | 60 | a | all | plan | x":                              "no weekday",
		"1 | | noon | 60 | a | all | plan | x":                                       "time of day",
		"1 | | 18:00 | long | a | all | plan | x":                                    "no number of minutes",
		"1 | | 18:00 | 60 | a | all | party | x":                                     "none of plan",
		"1 | | 18:00 | 60 | a | all | plan |":                                        "where its number comes from",
		"1 | | 18:00 | 60 | a | all | plan | x\n\n2 | | 18:00 | 60 | a | | plan | x": "line 3: \"a\" stands twice",
	} {
		if _, err := ReadCalendar(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
