// Package schedule puts tasks on people with skills and calendars.
//
// It builds timetables by the serial scheme (Kelley 1963): take the tasks in
// an order of priority and give each to the person who has it done first. The
// order starts from due dates and slack and is then improved by moving tasks
// about in it. The least work that must come late is shown by an energy test
// for each due date and each set of skills, in the manner of Hall's theorem.
package schedule

import (
	"context"
	"fmt"
	"slices"

	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// None stands for no due minute, and for not ready.
const None = -1

// Problem is complete and plain. Minutes count from any common origin.
type Problem struct {
	Tasks  []Task
	People []Person
	Skills int // skills are numbered from 0
	Least  int // a stretch shorter than this is not worth sitting down for, unless it ends the task
	Wait   int // how much later a task may end for the sake of a hand with fewer skills
}

// Task is work that wants one skill. It may be put down at the end of a
// session and taken up again by the same person, unless it is Whole.
type Task struct {
	Work  int // minutes at pace 100
	Skill int
	After []int // tasks that have to be done before
	Start int   // not before this minute
	Due   int   // done by this minute, or None
	Whole bool  // done in one go
	Only  []int // the people who may do it, empty for anybody with the skill
}

// Person has skills, a pace in hundredths, and sessions in order of time.
type Person struct {
	Skills   []int
	Pace     int // 100 does one minute of work in a minute, 50 in two
	Sessions []Session
}

// Session is free time from a minute to another.
type Session struct{ From, To int }

// Slot is a task, or part of one, with a person.
type Slot struct{ Task, Person, From, To int }

// Short is a proof that not everything can be in time: the tasks of these
// skills due by a minute want more work than there is.
type Short struct {
	Due    int
	Skills []int
	Wanted int // minutes at pace 100
	Have   int
}

// Timetable is an answer. A task that finds no place whole is left out and
// named in Left; one that ends after its due minute in Late. What waits for a
// task that is left out is left out too.
type Timetable struct {
	Slots   []Slot // by start, then person
	Ready   []int  // the minute each task is done, or None
	Left    []int  // tasks without a place, in order
	Late    []int  // tasks done after their due minute, in order
	Short   *Short // the worst shortage proved, if any
	Outcome solve.Outcome
}

// Arrange makes a timetable with as little late work as it can find. Its
// value is the work, in minutes at pace 100, that is late or left out; its
// bound is the shortage proved. An error means the problem is malformed.
func Arrange(ctx context.Context, p Problem, b solve.Budget) (Timetable, error) {
	if err := p.wellFormed(); err != nil {
		return Timetable{}, err
	}
	m := newModel(&p)
	short := m.shortage()
	best := m.bestRule()
	steps := b.StepsFor(50, 400, 4000)
	out := solve.Outcome{Seed: b.SeedOr1(), HasBound: true}
	if short != nil {
		out.Bound = float64(short.Wanted - short.Have)
	}
	now, stale := best, 0
	for out.Steps < steps && best.score.late > int64(out.Bound) {
		if b.Over(ctx) {
			out.Stopped = true
			break
		}
		order := shaken(now.order, b, out.Steps)
		if stale > patience*len(order) {
			order, stale = shuffled(now.order, b, out.Steps), 0
			now = m.build(order)
		}
		stale++
		if try := m.build(order); !now.score.before(try.score) {
			if try.score.before(now.score) {
				stale = 0
			}
			now = try
		}
		if now.score.before(best.score) {
			best = now
		}
		out.Steps++
		b.Tell(solve.Progress{Step: out.Steps, Steps: steps, Value: float64(best.score.late), Bound: out.Bound, HasBound: true, Words: "ordering the work"})
	}
	t := m.timetable(best)
	t.Short, t.Outcome = short, out
	t.Outcome.Value, t.Outcome.Proof = float64(best.score.late), solve.Found
	if best.score.late <= int64(out.Bound) {
		t.Outcome.Proof = solve.Best
	}
	return t, nil
}

// shaken is the order with one to three tasks moved to another place, and
// now and then a good many.
func shaken(order []int, b solve.Budget, step int64) []int {
	order = slices.Clone(order)
	if len(order) < 2 {
		return order
	}
	r := b.Chance(step)
	moves := 1 + r.IntN(3)
	if r.IntN(8) == 0 {
		moves = 1 + r.IntN(len(order))
	}
	for ; moves > 0; moves-- {
		from, to := r.IntN(len(order)), r.IntN(len(order))
		t := order[from]
		order = slices.Delete(order, from, from+1)
		order = slices.Insert(order, to, t)
	}
	return order
}

// patience is how many steps for each task go without a gain before the order
// is shuffled and the search begins anew.
const patience = 20

func shuffled(order []int, b solve.Budget, step int64) []int {
	order = slices.Clone(order)
	b.Chance(step).Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
	return order
}

func (p *Problem) wellFormed() error {
	for i, t := range p.Tasks {
		if t.Work < 0 || t.Skill < 0 || t.Skill >= p.Skills || slices.ContainsFunc(t.Only, func(w int) bool { return w < 0 || w >= len(p.People) }) {
			return fmt.Errorf("task %d has less than no work, or names a skill or person that does not exist", i)
		}
		for _, a := range t.After {
			if a < 0 || a >= len(p.Tasks) || a == i {
				return fmt.Errorf("task %d waits for task %d, which it cannot", i, a)
			}
		}
	}
	for i, q := range p.People {
		if q.Pace <= 0 {
			return fmt.Errorf("person %d has no pace", i)
		}
		end := -1 << 62
		for _, s := range q.Sessions {
			if s.From < end || s.To < s.From {
				return fmt.Errorf("person %d has sessions that overlap or run backwards", i)
			}
			end = s.To
		}
	}
	if inOrder(p) == nil && len(p.Tasks) > 0 {
		return fmt.Errorf("some tasks wait for each other in a circle")
	}
	return nil
}

// inOrder lists the tasks so that each comes after what it waits for; nil
// where they wait in a circle.
func inOrder(p *Problem) []int {
	waits := make([]int, len(p.Tasks))
	next := make([][]int, len(p.Tasks))
	for i, t := range p.Tasks {
		waits[i] = len(t.After)
		for _, a := range t.After {
			next[a] = append(next[a], i)
		}
	}
	var order []int
	for i := range waits {
		if waits[i] == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ {
		for _, n := range next[order[k]] {
			if waits[n]--; waits[n] == 0 {
				order = append(order, n)
			}
		}
	}
	if len(order) < len(p.Tasks) {
		return nil
	}
	return order
}

var ruleWrong = why.Declare("schedule.check", "The timetable does not add up: {what}.", why.Exact)

// Check goes over a timetable without using anything Arrange made: sessions,
// overlaps, skills, work done, waiting, and what is named late and left out.
func Check(p Problem, t Timetable) []why.Reason {
	var bad []why.Reason
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	first, last := make([]int, len(p.Tasks)), make([]int, len(p.Tasks))
	done, parts := make([]int, len(p.Tasks)), make([]int, len(p.Tasks))
	who := make([]int, len(p.Tasks))
	for i, s := range t.Slots {
		if s.Task < 0 || s.Task >= len(p.Tasks) || s.Person < 0 || s.Person >= len(p.People) || s.To <= s.From {
			wrong("slot %d is for nobody, for nothing, or for no time", i)
			continue
		}
		task, person := p.Tasks[s.Task], p.People[s.Person]
		if !slices.Contains(person.Skills, task.Skill) || len(task.Only) > 0 && !slices.Contains(task.Only, s.Person) || parts[s.Task] > 0 && who[s.Task] != s.Person {
			wrong("person %d may not do task %d", s.Person, s.Task)
		}
		if !slices.ContainsFunc(person.Sessions, func(x Session) bool { return x.From <= s.From && s.To <= x.To }) {
			wrong("slot %d lies outside the sessions of person %d", i, s.Person)
		}
		for j, o := range t.Slots[:i] {
			if o.Person == s.Person && o.From < s.To && s.From < o.To {
				wrong("slots %d and %d want person %d at once", j, i, s.Person)
			}
		}
		if parts[s.Task] == 0 || s.From < first[s.Task] {
			first[s.Task] = s.From
		}
		last[s.Task] = max(last[s.Task], s.To)
		if parts[s.Task]++; parts[s.Task] > 1 && task.Whole {
			wrong("task %d is cut in two", s.Task)
		}
		done[s.Task] += (s.To - s.From) * person.Pace
		who[s.Task] = s.Person
	}
	for i, task := range p.Tasks {
		checkTask(wrong, p, t, i, parts[i], done[i], first[i], last[i], task)
	}
	return bad
}

func checkTask(wrong func(string, ...any), p Problem, t Timetable, i, parts, done, first, last int, task Task) {
	if slices.Contains(t.Left, i) != (t.Ready[i] == None) {
		wrong("task %d is both left out and ready, or neither", i)
	}
	if t.Ready[i] == None {
		if parts > 0 {
			wrong("task %d is left out and has slots", i)
		}
		return
	}
	if done < task.Work*100 {
		wrong("task %d is done too little", i)
	}
	if parts > 0 && (first < task.Start || t.Ready[i] != last) {
		wrong("task %d begins too early or ends at another minute than said", i)
	}
	for _, a := range task.After {
		if t.Ready[a] == None || parts > 0 && first < t.Ready[a] {
			wrong("task %d does not wait for task %d", i, a)
		}
	}
	if late := task.Due != None && t.Ready[i] > task.Due; late != slices.Contains(t.Late, i) {
		wrong("task %d is late and not named so, or the other way round", i)
	}
}
