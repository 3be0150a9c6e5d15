package schedule

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

func mustArrange(t testing.TB, p Problem, b solve.Budget) Timetable {
	tt, err := Arrange(context.Background(), p, b)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range Check(p, tt) {
		t.Error(r.Sentence(units.Metric))
	}
	return tt
}

// from: by hand. Two people, the slower one with half the pace: 60 minutes
// take the one 60, the other 120 by the clock. The second task waits.
func ExampleArrange() {
	p := Problem{Skills: 2, Tasks: []Task{
		{Work: 60, Skill: 0, Due: 200},
		{Work: 30, Skill: 1, After: []int{0}, Due: 200},
		{Work: 60, Skill: 0, Due: 200},
	}, People: []Person{
		{Skills: []int{0, 1}, Pace: 100, Sessions: []Session{{0, 80}, {100, 200}}},
		{Skills: []int{0}, Pace: 50, Sessions: []Session{{0, 150}}},
	}}
	t, _ := Arrange(context.Background(), p, solve.Budget{})
	fmt.Println(t.Ready, t.Outcome.Proof)
	// Output: [60 110 120] best
}

func TestByHand(t *testing.T) {
	one := []Person{{Skills: []int{0}, Pace: 100, Sessions: []Session{{0, 100}, {200, 300}}}}
	// Resumed over the break: 100 of 120 in the first session, 20 in the next.
	tt := mustArrange(t, Problem{Skills: 1, Tasks: []Task{{Work: 120, Due: None}}, People: one}, solve.Budget{})
	if want := []Slot{{0, 0, 0, 100}, {0, 0, 200, 220}}; !reflect.DeepEqual(tt.Slots, want) {
		t.Errorf("%v; want %v", tt.Slots, want)
	}
	// Whole: it has no room before the second session, and none at all at 101.
	tt = mustArrange(t, Problem{Skills: 1, Tasks: []Task{{Work: 30, Start: 80, Due: None, Whole: true}, {Work: 101, Due: None, Whole: true}}, People: one}, solve.Budget{})
	if tt.Ready[0] != 230 || tt.Ready[1] != None || len(tt.Left) != 1 {
		t.Errorf("ready %v, left %v", tt.Ready, tt.Left)
	}
	// Too short a stretch is not worth sitting down for.
	tt = mustArrange(t, Problem{Skills: 1, Least: 15, Tasks: []Task{{Work: 30, Start: 90, Due: None}}, People: one}, solve.Budget{})
	if tt.Ready[0] != 230 {
		t.Errorf("ready at %d; want 230", tt.Ready[0])
	}
	// 250 minutes wanted, 200 there: 50 must be late, and that is proved.
	tt = mustArrange(t, Problem{Skills: 1, Tasks: []Task{{Work: 50, Due: 300}, {Work: 120, Due: 300}, {Work: 80, Due: 300}}, People: one}, solve.Budget{})
	if tt.Short == nil || tt.Short.Wanted != 250 || tt.Short.Have != 200 || tt.Outcome.Value != 50 || tt.Outcome.Proof != solve.Best {
		t.Errorf("%+v %+v", tt.Short, tt.Outcome)
	}
}

func TestMalformed(t *testing.T) {
	for name, p := range map[string]Problem{
		"circle":        {Skills: 1, Tasks: []Task{{After: []int{1}}, {After: []int{0}}}},
		"no such skill": {Skills: 1, Tasks: []Task{{Skill: 1}}},
		"no pace":       {Skills: 1, People: []Person{{}}},
		"overlap":       {Skills: 1, People: []Person{{Pace: 100, Sessions: []Session{{0, 10}, {5, 20}}}}},
	} {
		if _, err := Arrange(context.Background(), p, solve.Budget{}); err == nil {
			t.Errorf("%s gave no error", name)
		}
	}
}

// from: brute force over all orders of one person's tasks.
func TestAgainstAllOrders(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 7))
		p := Problem{Skills: 1, People: []Person{{Skills: []int{0}, Pace: 100, Sessions: []Session{{0, 60 + r.IntN(60)}, {150, 150 + r.IntN(120)}}}}}
		for range 6 {
			p.Tasks = append(p.Tasks, Task{Work: 10 + r.IntN(50), Due: 40 + r.IntN(230), Start: r.IntN(40)})
		}
		m := newModel(&p)
		best := int64(1 << 62)
		orders([]int{0, 1, 2, 3, 4, 5}, 0, func(o []int) { best = min(best, m.build(o).score.late) })
		tt := mustArrange(t, p, solve.Budget{Effort: solve.Thorough})
		if int64(tt.Outcome.Value) != best {
			t.Errorf("seed %d: late %g; the best order gives %d", seed, tt.Outcome.Value, best)
		}
		if tt.Outcome.Bound > float64(best) {
			t.Errorf("seed %d: bound %g above the best %d", seed, tt.Outcome.Bound, best)
		}
	}
}

func orders(o []int, k int, f func([]int)) {
	if k == len(o) {
		f(o)
		return
	}
	for i := k; i < len(o); i++ {
		o[k], o[i] = o[i], o[k]
		orders(o, k+1, f)
		o[k], o[i] = o[i], o[k]
	}
}

func anyProblem(t *rapid.T) Problem {
	n := func(name string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, name) }
	p := Problem{Skills: 3, Least: n("least", 0, 15), Wait: n("wait", 0, 200)}
	for i := range n("tasks", 0, 12) {
		task := Task{Work: n("work", 0, 90), Skill: n("skill", 0, 2), Start: n("start", 0, 100), Due: n("due", -1, 500), Whole: n("whole", 0, 3) == 0}
		if i > 0 && n("waits", 0, 1) == 0 {
			task.After = []int{n("for", 0, i-1)}
		}
		p.Tasks = append(p.Tasks, task)
	}
	for range n("people", 0, 4) {
		q := Person{Pace: n("pace", 30, 130)}
		for s := range 3 {
			if n("knows", 0, 1) == 0 {
				q.Skills = append(q.Skills, s)
			}
		}
		at := 0
		for range n("sessions", 0, 4) {
			from := at + n("pause", 0, 60)
			at = from + n("long", 0, 120)
			q.Sessions = append(q.Sessions, Session{from, at})
		}
		p.People = append(p.People, q)
	}
	return p
}

// Whatever comes in: the check agrees, the bound holds, the same seed gives
// the same timetable, and one more evening never makes it later.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t)
		b := solve.Budget{Steps: 30}
		tt, err := Arrange(context.Background(), p, b)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range Check(p, tt) {
			t.Fatal(r.Sentence(units.Metric))
		}
		if tt.Outcome.Bound > tt.Outcome.Value {
			t.Fatalf("bound %g above %g", tt.Outcome.Bound, tt.Outcome.Value)
		}
		again, _ := Arrange(context.Background(), p, b)
		if !reflect.DeepEqual(tt, again) {
			t.Fatal("the same seed gave another timetable")
		}
		ctx, stop := context.WithCancel(context.Background())
		stop()
		if s, _ := Arrange(ctx, p, b); len(Check(p, s)) > 0 {
			t.Fatal("stopped early it does not hold")
		}
	})
}

// Check has to see what is wrong.
func TestCheckSees(t *testing.T) {
	p := Problem{Skills: 1, Tasks: []Task{{Work: 30, Due: 100}, {Work: 30, Due: 100, After: []int{0}}},
		People: []Person{{Skills: []int{0}, Pace: 100, Sessions: []Session{{0, 100}}}}}
	good := mustArrange(t, p, solve.Budget{})
	for name, spoil := range map[string]func(*Timetable){
		"too little":       func(t *Timetable) { t.Slots[0].To -= 5 },
		"overlap, early":   func(t *Timetable) { t.Slots[1].From, t.Slots[1].To = 20, 50 },
		"outside":          func(t *Timetable) { t.Slots[1].From, t.Slots[1].To, t.Ready[1] = 110, 140, 140 },
		"lateness unnamed": func(t *Timetable) { t.Late = []int{0} },
		"left and ready":   func(t *Timetable) { t.Left = []int{1} },
	} {
		bad := good
		bad.Slots, bad.Ready = append([]Slot{}, good.Slots...), append([]int{}, good.Ready...)
		spoil(&bad)
		if len(Check(p, bad)) == 0 {
			t.Errorf("%s passes the check", name)
		}
	}
}

func BenchmarkArrange(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 3))
	p := Problem{Skills: 5, Least: 15}
	for i := range 600 {
		task := Task{Work: 10 + r.IntN(180), Skill: r.IntN(5), Due: 60 * 24 * 60}
		if i%4 > 0 {
			task.After = []int{i - 1}
		}
		p.Tasks = append(p.Tasks, task)
	}
	for range 8 {
		q := Person{Pace: 50 + r.IntN(60), Skills: []int{r.IntN(5), r.IntN(5)}}
		for d := range 50 {
			q.Sessions = append(q.Sessions, Session{d*1440 + 1080, d*1440 + 1200})
		}
		p.People = append(p.People, q)
	}
	b.ReportAllocs()
	for b.Loop() {
		mustArrange(b, p, solve.Budget{Effort: solve.Quick})
	}
}

// from: by hand. Easy work goes to the one who can do only that, though the
// other would have it done sooner, as long as there is time.
func TestEasyWorkToTheEasyHand(t *testing.T) {
	p := Problem{Skills: 2, Wait: 1000, Tasks: []Task{{Work: 60, Due: 1000}}, People: []Person{
		{Skills: []int{0, 1}, Pace: 100, Sessions: []Session{{0, 100}}},
		{Skills: []int{0}, Pace: 50, Sessions: []Session{{0, 400}}},
	}}
	if tt := mustArrange(t, p, solve.Budget{}); tt.Slots[0].Person != 1 || tt.Ready[0] != 120 {
		t.Errorf("%v", tt.Slots)
	}
	p.Tasks[0].Due = 150 // a quarter of 90 is too little to wait for
	if tt := mustArrange(t, p, solve.Budget{}); tt.Slots[0].Person != 0 {
		t.Errorf("%v", tt.Slots)
	}
}
