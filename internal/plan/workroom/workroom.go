// Package workroom says who does what when in the sewing room, whether the
// hours are enough, and what could be let go with least harm.
package workroom

import (
	"context"

	"hemwright/internal/engine/schedule"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// noParade is the season in days where neither a parade nor an opening is set.
const noParade = 56

// after is how many days beyond the parade are still looked at, so that what
// is late has a day.
const after = 6

// patience is how much later work may be done for the sake of an easier hand:
// two weeks.
const patience = 14 * 24 * 60

var (
	ruleOffer  = why.Declare("workroom.offer", "From {from} to the parade on {parade} {count} who sew offer {offered} at the lead's pace: hours a week times pace. {wanted} is wanted, a quarter for redoing in it. Fittings, planning and shopping are not taken off.", why.House)
	ruleShort  = why.Declare("workroom.short", "By {due} the work for {skills} wants {wanted}; {have} is there, so at least {over} comes late.", why.Exact)
	ruleLate   = why.Declare("workroom.late", "{piece} is ready on {ready}, after {due}: {left} of its work has no hands before.", why.Exact)
	ruleNever  = why.Declare("workroom.never", "{piece}: {left} of its work finds no hands with the skill {skill}.", why.Exact)
	ruleBroken = why.Declare("workroom.check", "The workroom does not add up: {what}.", why.Exact)
)

// skills are the skills by number, easiest first.
var skills = []answer.Skill{answer.Beginner, answer.Straight, answer.Maker, answer.Tailor, answer.Trim}

func number(s answer.Skill) int {
	for i, x := range skills {
		if x == s {
			return i
		}
	}
	return 1 // an unknown skill is taken as straight sewing
}

// minute is the start of a day on the timeline of the timetable.
func minute(d units.Date) int { return int(d) * 24 * 60 }

// Offers is what each helper who sews offers from a day to the parade.
func Offers(h *show.House, day units.Date) []answer.Offer {
	parade := h.Parade()
	if parade <= day {
		parade = day + noParade
	}
	_, hands := calendars(h, day, parade)
	return hands
}

// Arrange plans the work of a plan from a day to the parade. It does not
// search long; the same input gives the same answer.
func Arrange(h *show.House, day units.Date, plan answer.Plan) answer.Workroom {
	parade := h.Parade()
	if parade <= day {
		parade = day + noParade
	}
	w := answer.Workroom{}
	people, hands := calendars(h, day, parade)
	w.Tasks = tasks(h, day, parade, plan)
	problem := schedule.Problem{Skills: len(skills), Least: 15, Wait: patience, People: people}
	at := map[string]int{}
	for i, t := range w.Tasks {
		at[t.ID] = i
		task := schedule.Task{Work: int(t.Minutes), Skill: number(t.Skill), Start: minute(max(t.NotBefore, day)), Due: minute(t.Due)}
		for _, a := range t.After {
			task.After = append(task.After, at[a])
		}
		problem.Tasks = append(problem.Tasks, task)
		w.Wanted += t.Minutes
	}
	for _, c := range plan.Choices {
		if works(h, c) {
			w.Plain += c.Minutes()
		}
	}
	table, err := schedule.Arrange(context.Background(), problem, solve.Budget{Effort: solve.Quick})
	if err != nil {
		w.Verdict = why.Verdict{Grade: why.Unknown, Reasons: []why.Reason{ruleBroken.Because(why.Unknown, why.Of("what", err.Error()))}}
		return w
	}
	w.Outcome = table.Outcome
	w.Offers = hands
	for _, s := range table.Slots {
		o := &w.Offers[s.Person]
		w.Slots = append(w.Slots, answer.Slot{Task: w.Tasks[s.Task].ID, Helper: o.Helper, Day: units.Date(s.From / minute(1)),
			Start: units.Clock(s.From % minute(1)), Minutes: units.Minutes(s.To - s.From)})
		o.Given += units.Minutes(s.To-s.From).Times(int64(people[s.Person].Pace), 100)
	}
	for _, o := range w.Offers {
		w.Offered += o.Lead
	}
	w.Late = late(w.Tasks, problem, table)
	w.Savings = savings(h, plan)
	w.Back = putBack(h, plan)
	w.Verdict = verdict(w, day, parade, table)
	w.Verdict.Reasons = append(w.Verdict.Reasons, paces(h)...)
	return w
}

// late gathers the tasks that are late or left out by piece.
func late(tasks []answer.Task, p schedule.Problem, t schedule.Timetable) []answer.Late {
	var out []answer.Late
	at := map[show.PieceID]int{}
	skill := map[show.PieceID]answer.Skill{}
	for i, task := range tasks {
		ready := t.Ready[i]
		if ready != schedule.None && ready <= p.Tasks[i].Due {
			continue
		}
		k, ok := at[task.Piece]
		if !ok {
			k = len(out)
			at[task.Piece] = k
			out = append(out, answer.Late{Piece: task.Piece, Due: task.Due, Ready: task.Due})
		}
		l := &out[k]
		l.Left += task.Minutes
		switch {
		case ready == schedule.None:
			l.Ready = 0
			if skill[task.Piece] == "" {
				skill[task.Piece] = task.Skill
			}
		case l.Ready != 0:
			l.Ready = max(l.Ready, units.Date((ready-1)/minute(1)))
		}
	}
	for i := range out {
		l := &out[i]
		piece := why.Of("piece", why.Ref{Kind: "piece", Code: string(l.Piece)})
		if l.Ready == 0 {
			l.Why = ruleNever.Because(why.No, piece, why.Of("left", l.Left), why.Of("skill", string(skill[l.Piece])))
		} else {
			l.Why = ruleLate.Because(why.No, piece, why.Of("ready", l.Ready), why.Of("due", l.Due), why.Of("left", l.Left))
		}
	}
	return out
}

func verdict(w answer.Workroom, day, parade units.Date, t schedule.Timetable) why.Verdict {
	v := why.Verdict{Grade: why.Yes}
	if len(w.Late) > 0 {
		v.Grade = why.No
	}
	v.Reasons = append(v.Reasons, ruleOffer.Because(v.Grade, why.Of("from", day), why.Of("parade", parade), why.Of("count", len(w.Offers)),
		why.Of("offered", w.Offered), why.Of("wanted", w.Wanted)))
	if s := t.Short; s != nil {
		v.Reasons = append(v.Reasons, ruleShort.Because(why.No, why.Of("due", units.Date(s.Due/minute(1))), why.Of("skills", words(s.Skills)),
			why.Of("wanted", units.Minutes(s.Wanted)), why.Of("have", units.Minutes(s.Have)), why.Of("over", units.Minutes(s.Wanted-s.Have))))
	}
	return v
}

func words(set []int) string {
	s := ""
	for i, k := range set {
		switch {
		case i > 0 && i == len(set)-1:
			s += " and "
		case i > 0:
			s += ", "
		}
		s += string(skills[k])
	}
	return s
}
