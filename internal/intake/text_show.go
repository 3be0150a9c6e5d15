package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// What is taken for a scene until somebody says: minutes on stage, seconds to
// the next, minutes of the interval. House figures.
const (
	sceneTaken    = 5 * time.Minute
	gapTaken      = 15 * time.Second
	intervalTaken = 15 * time.Minute
)

var (
	intervalLine = regexp.MustCompile(`(?i)^(?:interval|pause|break)\b(?: *(?:of|:))? *(\d{1,2})?(?: *min(?:utes)?)?(?: *after *(?:scene *)?(\w+))?$`)
	sceneLine    = regexp.MustCompile(`(?i)^(?:scene +|sc\. *|s)?(\d{1,3})(?:[.):]|\s)\s*(.*?)(?:[\t ,(-]+(\d{1,2}(?:[.,]\d)?)(?: *min(?:utes)?)?\)?)?$`)
	sumLine      = regexp.MustCompile(`(?i)^(?:money|budget)[: ]+(?:€|£|\$)?(\d[\d ., ']*)(?:[ ,]+(?:keep|hold|of it)? *(\d[\d.]*)(?: *(?:held)? *back)?)?$`)
	openLine     = regexp.MustCompile(`(?i)^(opening|first night|premiere|parade|last night|strike)(?: on)?[: ]+(.+)$`)
	hoursLine    = regexp.MustCompile(`(?i)^(.*?)[ ,:]+(\d{1,2}(?:[.,]\d)?) ?h(?:ours?)?(?: *(?:a|per|/) *w(?:ee)?k)?(.*)$`)
	untilWords   = regexp.MustCompile(`(?i)\buntil +(?:(early|mid|late|the end of|end of) +)?(?:(\d{1,2}) +)?([A-Za-z]{3,9})`)
)

// interval takes "INTERVAL 15 after 9".
func (r *jotting) interval(n int, text string) bool {
	m := intervalLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	at := r.sceneNamed(m[2])
	if m[2] == "" && len(r.h.Scenes) > 0 {
		at = len(r.h.Scenes) - 1
	}
	if at < 0 {
		r.keep(n, text, "After which scene? Write the scenes first.")
		return true
	}
	s := &r.h.Scenes[at]
	s.Interval = intervalTaken
	if m[1] != "" {
		min, _ := strconv.Atoi(m[1])
		s.Interval = time.Duration(min) * time.Minute
		r.state("scene", string(s.ID), "interval_after")
	} else {
		r.assume("scene", string(s.ID), "interval_after", "15 minutes until you say")
	}
	r.take(n, text, "The interval, %d minutes after %s %s.", int(s.Interval.Minutes()), s.ID, s.Title)
	return true
}

// sceneNamed finds a scene by its number, code or title; -1 where none is.
func (r *jotting) sceneNamed(s string) int {
	s = strings.TrimSpace(s)
	if s == "" {
		return -1
	}
	num := strings.TrimLeft(strings.TrimPrefix(strings.ToUpper(s), "S"), "0 ")
	for i, sc := range r.h.Scenes {
		if strings.EqualFold(string(sc.ID), s) || fold(sc.Title) == fold(s) || num != "" && strings.TrimLeft(strings.TrimPrefix(string(sc.ID), "S"), "0") == num {
			return i
		}
	}
	return -1
}

// scene takes "7 Storm Warning  4.5" under a heading about scenes, or any
// line that begins with "scene" and a number.
func (r *jotting) scene(n int, text string) bool {
	if r.topic != "scenes" && !strings.HasPrefix(strings.ToLower(text), "scene ") && !strings.HasPrefix(strings.ToLower(text), "sc.") {
		return false
	}
	m := sceneLine.FindStringSubmatch(text)
	if m == nil || strings.TrimSpace(m[2]) == "" {
		return false
	}
	r.addScene(n, text, m[1], strings.TrimSpace(m[2]), m[3])
	return true
}

// addScene finds or adds a scene; minutes "" is not said.
func (r *jotting) addScene(n int, text, number, title, minutes string) {
	at := r.sceneNamed(number)
	if at < 0 {
		at = r.sceneNamed(title)
	}
	isNew := at < 0
	if isNew {
		if number == "" {
			number = strconv.Itoa(len(r.h.Scenes) + 1)
		}
		num, _ := strconv.Atoi(number)
		r.h.Scenes = append(r.h.Scenes, show.Scene{ID: show.SceneID(fmt.Sprintf("S%02d", num)), Title: title, Running: sceneTaken, GapAfter: gapTaken})
		at = len(r.h.Scenes) - 1
		r.assume("scene", string(r.h.Scenes[at].ID), "running", "5 minutes a scene until you say")
		r.assume("scene", string(r.h.Scenes[at].ID), "gap_after", "15 seconds between scenes until you say")
	}
	s := &r.h.Scenes[at]
	if title != "" {
		s.Title = title
	}
	said := "5 minutes assumed"
	if run, f := (cell{text: minutes, unit: "min"}).times(1); minutes != "" && f == nil && run > 0 {
		s.Running = time.Duration(run) * time.Second
		r.state("scene", string(s.ID), "running")
		said = minutes + " minutes"
		r.stretch(s)
	} else if !isNew {
		said = "as it was"
	}
	r.take(n, text, "Scene %s, %s: %s.", s.ID, s.Title, said)
}

// stretch lets those taken to be on for a whole scene stay on to its end.
func (r *jotting) stretch(s *show.Scene) {
	for i := range r.h.Appearances {
		a := &r.h.Appearances[i]
		if a.Scene == s.ID && r.h.Origin("appearance", string(a.Scene)+" "+string(a.Role), "enter") != nil {
			a.Exit = s.Running
		}
	}
}

// sums takes "money 1150, keep 150 back".
func (r *jotting) sums(n int, text string) bool {
	m := sumLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	all, err := units.Coins(plain(strings.TrimRight(m[1], " ,.")))
	if err != nil || all < 0 {
		return false
	}
	back, _ := units.Coins(m[2])
	lines := []show.BudgetLine{{Line: "all of it", Planned: all - back}}
	if m[2] != "" {
		lines = append(lines, show.BudgetLine{Line: "held back", Planned: back, HeldBack: true})
	}
	if back > all {
		r.keep(n, text, fmt.Sprintf("More is held back (%s) than there is (%s). Which of the two is right?", back, all))
		return true
	}
	for _, l := range lines {
		r.budget(l)
	}
	r.take(n, text, "%s in all, %s of it held back.", all, back)
	return true
}

func (r *jotting) budget(l show.BudgetLine) {
	for i := range r.h.Budget {
		if r.h.Budget[i].Line == l.Line {
			r.h.Budget[i] = l
			return
		}
	}
	r.h.Budget = append(r.h.Budget, l)
}

// dates takes "opening 14 May": the next such day from today on.
func (r *jotting) dates(n int, text string) bool {
	m := openLine.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	day, err := r.dayIn(m[2])
	if err != nil {
		r.keep(n, text, "Which day? Write it as 14 May 2027.")
		return true
	}
	what := strings.ToLower(m[1])
	switch what {
	case "opening", "first night", "premiere":
		for _, p := range r.h.Performances {
			if p.Day == day {
				r.take(n, text, "The opening, %s, noted already.", day.Long())
				return true
			}
		}
		id := next("N", 1, func(c string) bool {
			for _, p := range r.h.Performances {
				if string(p.ID) == c {
					return true
				}
			}
			return false
		})
		r.h.Performances = append(r.h.Performances, show.Performance{ID: show.PerformanceID(id), Day: day, Start: 19 * 60, Cast: "A"})
		r.assume("performance", id, "start_time", "19:00 until you say")
		r.take(n, text, "The opening is on %s.", day.Long())
	default:
		r.enter(show.Entry{Day: day, What: what, Kind: "rehearse", Who: []string{"all"}})
		r.take(n, text, "%s on %s.", why.Capital(what), day.Long())
	}
	return true
}

// enter puts an entry into the calendar, once.
func (r *jotting) enter(e show.Entry) {
	for _, o := range r.h.Calendar {
		if o.Day == e.Day && o.Start == e.Start && o.What == e.What {
			return
		}
	}
	r.h.Calendar = append(r.h.Calendar, e)
}

// dayIn reads a day; without a year it is the next such day from today.
func (r *jotting) dayIn(s string) (units.Date, error) {
	s = strings.Trim(strings.TrimSpace(s), ".")
	if f := strings.Fields(s); len(f) == 3 && len(f[0]) <= 9 && strings.HasSuffix(strings.ToLower(f[0]), "day") {
		s = f[1] + " " + f[2]
	}
	if d, err := units.ParseDate(s); err == nil && d != 0 {
		return d, nil
	}
	year, _, _ := r.day.YMD()
	for y := year; y <= year+1; y++ {
		d, err := units.ParseDate(fmt.Sprintf("%s %d", s, y))
		if err != nil {
			return 0, err
		}
		if d >= r.day {
			return d, nil
		}
	}
	return 0, fmt.Errorf("%q is not a day", s)
}

// helper takes "Priya 5 h a week until mid May, straight seams".
func (r *jotting) helper(n int, text string) bool {
	m := hoursLine.FindStringSubmatch(text)
	if m == nil || !startsBig(m[1]) && r.topic != "helpers" || !isName(m[1]) {
		return false
	}
	week, f := cell{text: m[2], unit: "h"}.times(60)
	if f != nil {
		return false
	}
	p := r.helperNamed(m[1])
	if p == nil {
		id := next("H", 1, func(c string) bool { return r.h.Helper(show.HelperID(c)) != nil })
		r.h.Helpers = append(r.h.Helpers, show.Helper{ID: show.HelperID(id), Name: m[1], Pace: 100})
		p = &r.h.Helpers[len(r.h.Helpers)-1]
		r.assume("helper", id, "pace", "as fast as the lead until you say")
	}
	p.Hours = units.Minutes(week)
	says := fmt.Sprintf("%s helps %s h a week", p.Name, m[2])
	rest := m[3]
	if u := untilWords.FindStringSubmatchIndex(rest); u != nil {
		if day, ok := r.untilDay(untilWords.FindStringSubmatch(rest)); ok {
			p.To = day
			says += ", until about " + day.Words()
			rest = rest[:u[0]] + rest[u[1]:]
		}
	}
	var skills []string
	for _, s := range strings.Split(rest, ",") {
		if s = strings.TrimSpace(s); s != "" {
			skills = append(skills, s)
		}
	}
	if len(skills) > 0 {
		p.Skills = skills
		says += ": " + strings.Join(skills, ", ")
		if contains(skills, "beginner") {
			p.Pace = 40 // beginners take two and a half times as long; house figure
			r.assume("helper", string(p.ID), "pace", "a beginner takes two and a half times as long")
		}
	}
	r.take(n, text, "%s.", says)
	return true
}

func (r *jotting) helperNamed(name string) *show.Helper {
	for i := range r.h.Helpers {
		if have := fold(r.h.Helpers[i].Name); have == fold(name) || strings.HasPrefix(have, fold(name)+" ") {
			return &r.h.Helpers[i]
		}
	}
	return nil
}

// untilDay puts a day on "mid May": the 5th, 15th or 25th, else the last.
func (r *jotting) untilDay(m []string) (units.Date, bool) {
	day := m[2]
	switch strings.ToLower(m[1]) {
	case "early":
		day = "5"
	case "mid":
		day = "15"
	case "late":
		day = "25"
	}
	if day != "" {
		d, err := r.dayIn(day + " " + m[3])
		return d, err == nil
	}
	for last := 31; last >= 28; last-- {
		if d, err := r.dayIn(fmt.Sprintf("%d %s", last, m[3])); err == nil {
			return d, true
		}
	}
	return 0, false
}
