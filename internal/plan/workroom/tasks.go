package workroom

import (
	"fmt"
	"slices"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// whole is the work that is not cut into steps.
const whole units.Minutes = 45

// Redoing adds a quarter of the work, a house figure.
const redoNum, redoDen = 1, 4

// works says whether a choice makes work for the room: it has some, and the
// piece is not finished yet.
func works(h *show.House, c answer.Choice) bool {
	p := h.Piece(c.Piece)
	return p != nil && p.HowFar != show.Finished && p.HowFar != show.Hung && c.Minutes() > 0
}

// tasks cuts the work of every choice into steps: what comes before the
// fitting, the fitting, what comes after it, and a quarter for redoing. The
// minutes of the steps add up to the option's work exactly.
func tasks(h *show.House, day, parade units.Date, plan answer.Plan) []answer.Task {
	var out []answer.Task
	days := fittingDays(h, day, parade)
	for _, c := range plan.Choices {
		if !works(h, c) {
			continue
		}
		s := steps{c: c, due: parade}
		p := h.Piece(c.Piece)
		before, after := split(c)
		if c.Minutes() <= whole || len(before) == 0 || !fitted(p, c) {
			for _, k := range append(before, after...) {
				s.add(k.do, k.skill, k.minutes, 0)
			}
		} else {
			for _, k := range before {
				s.add(k.do, k.skill, k.minutes, 0)
			}
			s.add("fitting", answer.Maker, 0, fittingDay(h, days, p))
			for _, k := range after {
				s.add(k.do, k.skill, k.minutes, 0)
			}
		}
		s.add("put right", heaviest(c), c.Minutes().Times(redoNum, redoDen), 0)
		out = append(out, s.out...)
	}
	return out
}

// steps strings the tasks of one piece together.
type steps struct {
	c   answer.Choice
	due units.Date
	out []answer.Task
}

func (s *steps) add(do string, skill answer.Skill, m units.Minutes, notBefore units.Date) {
	if m == 0 && do != "fitting" {
		return
	}
	t := answer.Task{ID: fmt.Sprintf("%s.%d", s.c.Piece, len(s.out)+1), Piece: s.c.Piece, Do: do, Minutes: m, Skill: skill, NotBefore: notBefore, Due: s.due}
	if n := len(s.out); n > 0 {
		t.After = []string{s.out[n-1].ID}
	}
	s.out = append(s.out, t)
}

// step is a piece of work before it becomes a task.
type step struct {
	do      string
	skill   answer.Skill
	minutes units.Minutes
}

// split sorts the work into what is done before the fitting and after it.
// Making is cut one fifth, sewn more than half, and finished by a quarter
// (house shares). Alterations follow the option's own list: lengths and
// pressing wait for the fitting.
func split(c answer.Choice) (before, after []step) {
	altering := len(c.Alterations)
	if altering > len(c.Work) {
		altering = 0
	}
	making := len(c.Work) - altering
	for i, w := range c.Work {
		switch {
		case i >= making:
			a := c.Alterations[i-making]
			k := step{a.Op, w.Skill, w.Minutes}
			if a.Where == "length" || a.Where == "sleeve" || a.Undo == "yes" && a.By == 0 {
				after = append(after, k)
			} else {
				before = append(before, k)
			}
		case c.Source == answer.Make || c.Source == answer.Remake && w.Minutes > whole:
			cut, finish := w.Minutes.Times(20, 100), w.Minutes.Times(25, 100)
			before = append(before, step{first(c), w.Skill, cut}, step{"sew", w.Skill, w.Minutes - cut - finish})
			after = append(after, step{"finish", w.Skill, finish})
		default:
			before = append(before, step{plain(c), w.Skill, w.Minutes})
		}
	}
	return joined(before), joined(after)
}

func first(c answer.Choice) string {
	if c.Source == answer.Remake {
		return "take apart and cut"
	}
	return "cut"
}

func plain(c answer.Choice) string {
	switch c.Source {
	case answer.Remake:
		return "remake"
	case answer.Buy:
		return "shop and make ready"
	}
	return "make ready"
}

// joined puts neighbouring steps of the same skill together where one is too
// small to be worth a line.
func joined(in []step) []step {
	var out []step
	for _, k := range in {
		if n := len(out); k.minutes == 0 {
			continue
		} else if n > 0 && out[n-1].skill == k.skill && (k.minutes < 10 || out[n-1].minutes < 10) {
			out[n-1].minutes += k.minutes
			if out[n-1].do != k.do {
				out[n-1].do += ", " + k.do
			}
			continue
		}
		out = append(out, k)
	}
	return out
}

func heaviest(c answer.Choice) answer.Skill {
	best := c.Work[0]
	for _, w := range c.Work {
		if w.Minutes > best.Minutes {
			best = w
		}
	}
	return best.Skill
}

// fitted says whether a piece is tried on before it is finished.
func fitted(p *show.Piece, c answer.Choice) bool {
	switch c.Source {
	case answer.Alter, answer.Remake, answer.Make, answer.Buy:
		return p.Fit == "fitted" || p.Fit == "easy"
	}
	return false
}

// called is a fitting day with the roles it is for.
type called struct {
	day   units.Date
	roles []show.RoleID
}

// fittingDays lists the coming fitting days before the parade.
func fittingDays(h *show.House, day, parade units.Date) []called {
	var out []called
	for _, e := range h.Calendar {
		if e.Kind != "fit" || e.Day < day || e.Day >= parade {
			continue
		}
		if roles, listed := fit.Called(h, e); !listed && len(roles) > 0 {
			out = append(out, called{e.Day, roles})
		}
	}
	slices.SortStableFunc(out, func(a, b called) int { return int(a.day - b.day) })
	return out
}

// fittingDay is the day after the first fitting of anybody who wears the
// piece, in the role it is worn in; not set where none is planned.
func fittingDay(h *show.House, days []called, p *show.Piece) units.Date {
	for _, d := range days {
		for _, l := range p.Looks {
			if look := h.Look(l); look != nil && slices.Contains(d.roles, look.Role) {
				return d.day + 1
			}
		}
	}
	return 0
}
