package workroom

import (
	"slices"
	"strings"
	"unicode"

	"hemwright/internal/engine/schedule"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// vocabulary turns the trade's words for what somebody can do into skills: a
// word stands for its skill and all easier ones, but trimming stands alone.
var vocabulary = []struct {
	word  string
	skill answer.Skill
}{
	{"any sewing", answer.Tailor}, {"tailor", answer.Tailor}, {"coats", answer.Tailor},
	{"dressmak", answer.Maker}, {"pattern", answer.Maker}, {"bodices", answer.Maker}, {"corset", answer.Maker}, {"stays", answer.Maker},
	{"zips", answer.Maker}, {"trousers", answer.Maker}, {"waistcoats", answer.Maker}, {"fit", answer.Maker}, {"cut", answer.Maker}, {"draft", answer.Maker},
	{"seams", answer.Straight}, {"gathers", answer.Straight}, {"elastic", answer.Straight}, {"hems", answer.Straight},
	{"overlock", answer.Straight}, {"sews", answer.Straight}, {"sewing", answer.Straight},
	{"unpick", answer.Beginner}, {"pressing", answer.Beginner}, {"buttons", answer.Beginner}, {"snaps", answer.Beginner},
	{"beginner", answer.Beginner}, {"mending", answer.Beginner},
	{"hats", answer.Trim}, {"millin", answer.Trim}, {"masks", answer.Trim}, {"trims", answer.Trim}, {"paint", answer.Trim}, {"glue", answer.Trim},
}

// byHand is a hem that asks for no machine.
const byHand = "hand hems"

// skillsOf reads the words of a helper. Somebody who says beginner is no
// more than that; a chaperone has one duty and does not sew.
func skillsOf(p show.Helper) []answer.Skill {
	if p.Chaperone {
		return nil
	}
	said := strings.ToLower(strings.Join(p.Skills, "; "))
	level, trim := -1, false
	if strings.Contains(said, byHand) {
		level = 0
	}
	plain := strings.ReplaceAll(said, byHand, "")
	words := strings.FieldsFunc(plain, func(r rune) bool { return !unicode.IsLetter(r) })
	for _, v := range vocabulary {
		switch {
		case len(v.word) <= 3 && !slices.Contains(words, v.word) || !strings.Contains(plain, v.word):
		case v.skill == answer.Trim:
			trim = true
		default:
			level = max(level, number(v.skill))
		}
	}
	if strings.Contains(said, "beginner") {
		level = 0
	}
	var out []answer.Skill
	for i := 0; i <= level && i < number(answer.Trim); i++ {
		out = append(out, skills[i])
	}
	if trim {
		out = append(out, answer.Trim)
	}
	return out
}

// calendars makes the sessions of everybody who sews: the hours a week, first
// in the sewing Saturdays of the calendar, the rest in the evenings. What is
// offered counts to the parade; a few days more are laid out so that late
// work has a day.
func calendars(h *show.House, day, parade units.Date) ([]schedule.Person, []answer.Offer) {
	var people []schedule.Person
	var offers []answer.Offer
	for _, p := range h.Helpers {
		can := skillsOf(p)
		if len(can) == 0 || p.Pace <= 0 || p.Hours <= 0 {
			continue
		}
		from, to := max(day, p.From), parade
		if p.To != 0 {
			to = min(to, p.To+1)
		}
		if to <= from {
			continue
		}
		pace := Pace(h, p)
		o := answer.Offer{Helper: p.ID, Skills: can, Pace: pace, Minutes: p.Hours.Times(int64(to-from), 7)}
		o.Lead = o.Minutes.Times(int64(pace), 100)
		person := schedule.Person{Pace: pace, Sessions: sessions(h, p, from, to)}
		if to == parade {
			last := parade + after
			if p.To != 0 {
				last = min(last, p.To+1)
			}
			person.Sessions = append(person.Sessions, sessions(h, p, parade, last)...)
		}
		for _, s := range can {
			person.Skills = append(person.Skills, number(s))
		}
		people, offers = append(people, person), append(offers, o)
	}
	return people, offers
}

// evenings are the days after the sewing Saturday, in the order they are
// filled: not too many evenings a week, none longer than two and a half hours
// if it can be helped. Weekdays count from Sunday.
var evenings = []int{3, 4, 2, 0, 1, 6, 5}

const (
	evening units.Minutes = 150
	longest units.Minutes = 300
	sixPM                 = 18 * 60
	tenAM                 = 10 * 60
)

// sessions spreads the hours of a helper over the days from one to another,
// week by week.
func sessions(h *show.House, p show.Helper, from, to units.Date) []schedule.Session {
	var out []schedule.Session
	var spent units.Minutes
	for monday := from - units.Date((from.Weekday()+6)%7); monday < to; monday += 7 {
		begin, end := max(from, monday), min(to, monday+7)
		// What is due by the end of the week, less what was given out: the
		// roundings do not add up.
		left := p.Hours.Times(int64(end-from), 7) - spent
		week := fill(h, p, begin, end, left)
		for _, s := range week {
			spent += units.Minutes(s.To - s.From)
		}
		out = append(out, week...)
	}
	return out
}

// fill lays the minutes of one week out.
func fill(h *show.House, p show.Helper, begin, end units.Date, left units.Minutes) []schedule.Session {
	given := map[units.Date]schedule.Session{}
	for _, e := range h.Calendar {
		if e.Kind == "make" && e.Day >= begin && e.Day < end && asked(e, p) && left > 0 {
			m := min(left, e.Minutes)
			given[e.Day] = schedule.Session{From: minute(e.Day) + int(e.Start), To: minute(e.Day) + int(e.Start) + int(m)}
			left -= m
		}
	}
	only := onlyOn(p)
	for _, cap := range []units.Minutes{evening, longest, 14 * 60} {
		for _, busy := range []bool{false, true} {
			for _, wd := range evenings {
				for d := begin; d < end && left > 0; d++ {
					if d.Weekday() != wd || only >= 0 && wd != only || engaged(h, d) != busy {
						continue
					}
					left -= stretch(given, d, min(left, cap))
				}
			}
		}
	}
	var out []schedule.Session
	for d := begin; d < end; d++ {
		if s, ok := given[d]; ok {
			out = append(out, s)
		}
	}
	return out
}

// stretch lengthens the session of a day to hold so many minutes and says by
// how much it grew.
func stretch(given map[units.Date]schedule.Session, d units.Date, m units.Minutes) units.Minutes {
	s, ok := given[d]
	if !ok {
		start := sixPM
		if wd := d.Weekday(); wd == 0 || wd == 6 || m > longest {
			start = tenAM
		}
		s = schedule.Session{From: minute(d) + start, To: minute(d) + start}
	}
	room := minute(d+1) - s.To
	grow := min(int(m), room)
	if ok {
		grow = min(max(0, int(longest)-(s.To-s.From)), grow)
	}
	s.To += grow
	if grow > 0 {
		given[d] = s
	}
	return units.Minutes(grow)
}

// asked says whether a sewing day is for a helper.
func asked(e show.Entry, p show.Helper) bool {
	return slices.Contains(e.Who, "helpers") || slices.Contains(e.Who, "all") || slices.Contains(e.Who, string(p.ID))
}

// engaged says whether the show has something else on a day.
func engaged(h *show.House, d units.Date) bool {
	return slices.ContainsFunc(h.Calendar, func(e show.Entry) bool {
		return e.Day == d && e.Kind != "make"
	})
}

// onlyOn reads "Saturdays only" in a helper's note; -1 where any day goes.
func onlyOn(p show.Helper) int {
	note := strings.ToLower(p.Note)
	for i, d := range []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"} {
		if strings.Contains(note, d+"s only") {
			return i
		}
	}
	return -1
}
