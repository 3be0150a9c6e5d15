package workroom

import (
	"fmt"
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Check goes over a workroom's plan from its rows alone: every choice's work
// stands in its tasks, every slot is in a helper's time and skill, nobody
// does two things at once, nothing begins before what it waits for, and what
// is not finished in time is named.
func Check(h *show.House, day units.Date, plan answer.Plan, w answer.Workroom) []why.Reason {
	var bad []why.Reason
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleBroken.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	task := map[string]answer.Task{}
	planned := map[show.PieceID]units.Minutes{}
	for _, t := range w.Tasks {
		task[t.ID] = t
		planned[t.Piece] += t.Minutes
	}
	for _, c := range plan.Choices {
		if p := h.Piece(c.Piece); p == nil || p.HowFar == show.Finished || p.HowFar == show.Hung {
			continue
		}
		var m units.Minutes
		for _, x := range c.Work {
			m += x.Minutes
		}
		if got := planned[c.Piece]; got < m+m/4 || got > m+m/4+1 {
			wrong("the steps of %s take %s, its work is %s", c.Piece, got, m)
		}
	}
	finished := checkSlots(wrong, h, day, w, task)
	for _, t := range w.Tasks { // a fitting is done when it may be and what is before it is done
		if t.Minutes == 0 {
			finished[t.ID] = int(t.NotBefore) * 1440
			for _, a := range t.After {
				finished[t.ID] = max(finished[t.ID], finished[a])
			}
		}
	}
	late := map[show.PieceID]bool{}
	for _, l := range w.Late {
		late[l.Piece] = true
	}
	for _, t := range w.Tasks {
		for _, s := range w.Slots {
			for _, a := range t.After {
				if s.Task == t.ID && begins(s) < finished[a] {
					wrong("%s does not wait for %s", t.ID, a)
				}
			}
		}
		end, there := finished[t.ID]
		if t.Minutes > 0 && (!there || end > int(t.Due)*1440) && !late[t.Piece] {
			wrong("%s is late and not named", t.Piece)
		}
	}
	return bad
}

func begins(s answer.Slot) int { return int(s.Day)*1440 + int(s.Start) }

// checkSlots looks at every slot and says when each task is finished.
func checkSlots(wrong func(string, ...any), h *show.House, day units.Date, w answer.Workroom, task map[string]answer.Task) map[string]int {
	finished, done := map[string]int{}, map[string]units.Minutes{}
	for i, s := range w.Slots {
		t, ok := task[s.Task]
		p := h.Helper(s.Helper)
		k := slices.IndexFunc(w.Offers, func(o answer.Offer) bool { return o.Helper == s.Helper })
		if !ok || p == nil || k < 0 || !slices.Contains(w.Offers[k].Skills, t.Skill) {
			wrong("slot %d is for work that is not there or a hand that cannot", i)
			continue
		}
		if s.Day < day || s.Day < p.From || p.To != 0 && s.Day > p.To || s.Day < t.NotBefore {
			wrong("%s is planned on %s, outside its time or the helper's", s.Task, s.Day)
		}
		for _, o := range w.Slots[:i] {
			if o.Helper == s.Helper && begins(o) < begins(s)+int(s.Minutes) && begins(s) < begins(o)+int(o.Minutes) {
				wrong("%s has two things at once on %s", s.Helper, s.Day)
			}
		}
		finished[s.Task] = max(finished[s.Task], begins(s)+int(s.Minutes))
		done[s.Task] += s.Minutes * units.Minutes(w.Offers[k].Pace)
	}
	for id, m := range done {
		if m < task[id].Minutes*100 {
			wrong("%s is done too little", id)
		}
	}
	return finished
}
