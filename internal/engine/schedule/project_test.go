package schedule

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/solve"
)

func anyProject(t *rapid.T) Project {
	p := Project{Capacity: []int{rapid.IntRange(1, 4).Draw(t, "have"), rapid.IntRange(1, 4).Draw(t, "have")}}
	for j := range rapid.IntRange(1, 6).Draw(t, "jobs") {
		job := Job{Length: rapid.IntRange(0, 4).Draw(t, "length")}
		for _, have := range p.Capacity {
			job.Draws = append(job.Draws, rapid.IntRange(0, have).Draw(t, "draws"))
		}
		for a := range j {
			if rapid.IntRange(0, 3).Draw(t, "after") == 0 {
				job.After = append(job.After, a)
			}
		}
		p.Jobs = append(p.Jobs, job)
	}
	return p
}

// shortest tries every order of the jobs: the serial scheme reaches the best
// schedule by some order (Kolisch, European Journal of Operational Research
// 90, 1996).
func shortest(p Project) int {
	g, err := newGraph(p)
	if err != nil {
		return -1
	}
	best, key := g.total, make([]int, len(p.Jobs))
	used := make([]bool, len(p.Jobs))
	var try func(at int)
	try = func(at int) {
		if at == len(key) {
			best = min(best, g.end(g.serial(key)))
			return
		}
		for j := range used {
			if !used[j] {
				used[j], key[j] = true, at
				try(at + 1)
				used[j] = false
			}
		}
	}
	try(0)
	return best
}

func TestProjectsAgainstAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProject(t)
		s, err := Shorten(context.Background(), p, solve.Budget{Steps: 600})
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range CheckProject(p, s) {
			t.Fatal(bad.Sentence(0))
		}
		want := shortest(p)
		if s.Makespan != want || s.Outcome.Bound > float64(want) {
			t.Fatalf("%d with bound %v, the shortest is %d", s.Makespan, s.Outcome.Bound, want)
		}
	})
}

func TestProjectsThatCannotBe(t *testing.T) {
	for what, p := range map[string]Project{
		"a circle":          {Jobs: []Job{{Length: 1, After: []int{1}}, {Length: 1, After: []int{0}}}},
		"too much at once":  {Capacity: []int{1}, Jobs: []Job{{Length: 1, Draws: []int{2}}}},
		"after nothing":     {Jobs: []Job{{Length: 1, After: []int{7}}}},
		"less than no time": {Jobs: []Job{{Length: -1}}},
	} {
		if _, err := Shorten(context.Background(), p, solve.Budget{}); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
}

func TestCheckProjectSees(t *testing.T) {
	p := Project{Capacity: []int{1}, Jobs: []Job{{Length: 2, Draws: []int{1}}, {Length: 2, Draws: []int{1}}, {Length: 1, Draws: []int{0}, After: []int{0}}}}
	for what, s := range map[string]Starts{
		"two on one machine": {Start: []int{0, 1, 2}, Makespan: 3},
		"before it may":      {Start: []int{0, 2, 1}, Makespan: 4},
		"a wrong end":        {Start: []int{0, 2, 2}, Makespan: 5},
		"a job left out":     {Start: []int{0, 2}, Makespan: 4},
	} {
		if len(CheckProject(p, s)) == 0 {
			t.Errorf("%s is not seen", what)
		}
	}
	if bad := CheckProject(p, Starts{Start: []int{0, 2, 2}, Makespan: 4}); len(bad) > 0 {
		t.Error(bad[0].Sentence(0))
	}
}
