package schedule

import (
	"context"
	"fmt"
	"slices"
	"sort"

	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// Project is work without people: jobs of whole lengths that draw on scarce
// machines while they run, to be over as early as can be.
type Project struct {
	Jobs     []Job
	Capacity []int // of each machine
}

// Job is one piece of work that is not interrupted.
type Job struct {
	Length int
	Draws  []int // on each machine
	After  []int // jobs that must be over before
}

// Starts is an answer: when each job starts. Makespan is when the last is
// over; Outcome.Bound the longest chain of jobs.
type Starts struct {
	Start    []int
	Makespan int
	Outcome  solve.Outcome
}

// Shorten looks for the shortest schedule: serial schedule generation (Kelley
// 1963), each schedule justified to the right and back to the left (Valls,
// Ballestín and Quintanilla, European Journal of Operational Research 165,
// 2005), in a genetic search whose children take the times inside a window
// from one parent and the rest from the other. Steps count schedules, justified
// ones too. An error means the project cannot be carried out at all.
func Shorten(ctx context.Context, p Project, b solve.Budget) (Starts, error) {
	g, err := newGraph(p)
	if err != nil {
		return Starts{}, err
	}
	s := &shortener{g: g, mirror: g.mirrored(), steps: b.StepsFor(1000, 5000, 50000)}
	s.bound = g.longest()
	s.breed(ctx, b)
	out := Starts{Start: s.best, Makespan: g.end(s.best)}
	out.Outcome = solve.Outcome{Proof: solve.Found, Value: float64(out.Makespan), Bound: float64(s.bound), HasBound: true, Steps: s.used, Seed: b.SeedOr1(), Stopped: ctx.Err() != nil}
	if out.Makespan == s.bound {
		out.Outcome.Proof = solve.Best
	}
	return out, nil
}

// graph is a project with its successors and an order of precedence.
type graph struct {
	p     Project
	next  [][]int
	order []int
	total int
}

func newGraph(p Project) (*graph, error) {
	g := &graph{p: p, next: make([][]int, len(p.Jobs))}
	waits := make([]int, len(p.Jobs))
	for j, job := range p.Jobs {
		if job.Length < 0 || len(job.Draws) != len(p.Capacity) {
			return nil, fmt.Errorf("job %d has a length below nothing, or draws on other machines than there are", j)
		}
		for r, d := range job.Draws {
			if d < 0 || d > p.Capacity[r] && job.Length > 0 {
				return nil, fmt.Errorf("job %d draws %d on machine %d, which has %d", j, d, r, p.Capacity[r])
			}
		}
		g.total += job.Length
		for _, a := range job.After {
			if a < 0 || a >= len(p.Jobs) {
				return nil, fmt.Errorf("job %d comes after job %d, which does not exist", j, a)
			}
			g.next[a] = append(g.next[a], j)
			waits[j]++
		}
	}
	for j, w := range waits {
		if w == 0 {
			g.order = append(g.order, j)
		}
	}
	for k := 0; k < len(g.order); k++ {
		for _, n := range g.next[g.order[k]] {
			if waits[n]--; waits[n] == 0 {
				g.order = append(g.order, n)
			}
		}
	}
	if len(g.order) < len(p.Jobs) {
		return nil, fmt.Errorf("the jobs wait for each other in a circle")
	}
	return g, nil
}

// mirrored is the same project run backwards.
func (g *graph) mirrored() *graph {
	m := &graph{p: Project{Capacity: g.p.Capacity}, next: make([][]int, len(g.next)), total: g.total}
	for j, job := range g.p.Jobs {
		m.p.Jobs = append(m.p.Jobs, Job{job.Length, job.Draws, g.next[j]})
		m.next[j] = job.After
	}
	m.order = slices.Clone(g.order)
	slices.Reverse(m.order)
	return m
}

// longest is the longest chain of jobs: no schedule is shorter.
func (g *graph) longest() int {
	over := make([]int, len(g.p.Jobs))
	long := 0
	for _, j := range g.order {
		for _, a := range g.p.Jobs[j].After {
			over[j] = max(over[j], over[a])
		}
		over[j] += g.p.Jobs[j].Length
		long = max(long, over[j])
	}
	return long
}

func (g *graph) end(start []int) int {
	end := 0
	for j, s := range start {
		end = max(end, s+g.p.Jobs[j].Length)
	}
	return end
}

// serial puts the jobs one after the other, the least key first among those
// whose predecessors are placed, each as early as it fits.
func (g *graph) serial(key []int) []int {
	n := len(g.p.Jobs)
	start, waits := make([]int, n), make([]int, n)
	free := make([][]int, len(g.p.Capacity))
	for r := range free {
		free[r] = make([]int, g.total+1)
		for t := range free[r] {
			free[r][t] = g.p.Capacity[r]
		}
	}
	var ready []int
	for j, job := range g.p.Jobs {
		if waits[j] = len(job.After); waits[j] == 0 {
			ready = append(ready, j)
		}
	}
	for range n {
		k := 0
		for i := range ready {
			if a, b := ready[i], ready[k]; key[a] < key[b] || key[a] == key[b] && a < b {
				k = i
			}
		}
		j := ready[k]
		ready[k] = ready[len(ready)-1]
		ready = ready[:len(ready)-1]
		t := 0
		for _, a := range g.p.Jobs[j].After {
			t = max(t, start[a]+g.p.Jobs[a].Length)
		}
		start[j] = g.place(j, t, free)
		for _, m := range g.next[j] {
			if waits[m]--; waits[m] == 0 {
				ready = append(ready, m)
			}
		}
	}
	return start
}

// place finds the earliest time from t at which a job fits and takes its
// machines. The window is looked at from its end, so that a violation skips
// as far as it can.
func (g *graph) place(j, t int, free [][]int) int {
	job := g.p.Jobs[j]
	for again := true; again; {
		again = false
		for r, d := range job.Draws {
			for u := t + job.Length - 1; d > 0 && u >= t; u-- {
				if free[r][u] < d {
					t, again = u+1, true
					break
				}
			}
		}
	}
	for r, d := range job.Draws {
		for u := t; u < t+job.Length; u++ {
			free[r][u] -= d
		}
	}
	return t
}

// shortener is the search.
type shortener struct {
	g, mirror   *graph
	bound       int
	best        []int
	steps, used int64
}

// justify pushes a schedule to the right and back to the left: it never gets
// longer. Two schedules are spent.
func (s *shortener) justify(start []int) []int {
	key := make([]int, len(start))
	for j, t := range start {
		key[j] = -(t + s.g.p.Jobs[j].Length)
	}
	right := s.mirror.serial(key)
	end := s.mirror.end(right)
	for j, t := range right {
		key[j] = end - t - s.g.p.Jobs[j].Length
	}
	s.used += 2
	return s.g.serial(key)
}

// offspring makes a justified schedule from keys and keeps the best.
func (s *shortener) offspring(key []int) []int {
	s.used++
	start := s.justify(s.g.serial(key))
	if s.best == nil || s.g.end(start) < s.g.end(s.best) {
		s.best = start
	}
	return start
}

func (s *shortener) breed(ctx context.Context, b solve.Budget) {
	n := len(s.g.p.Jobs)
	size := 16
	if s.steps > 20000 {
		size = 50
	}
	var pool [][]int
	for birth := int64(1); s.used == 0 || s.used+3 <= s.steps && !b.Over(ctx) && s.g.end(s.best) > s.bound; birth++ {
		chance := b.Chance(birth)
		key := make([]int, n)
		if len(pool) < size {
			for j := range key {
				key[j] = chance.IntN(s.g.total + 1)
			}
			pool = append(pool, s.offspring(key))
			continue
		}
		x, y := pool[tournament(s.g, pool, chance)], pool[tournament(s.g, pool, chance)]
		end := s.g.end(x)
		long := end/4 + chance.IntN(end/2+1)
		from := chance.IntN(max(end-long, 1))
		for j := range key {
			if key[j] = x[j]; x[j] >= from && x[j] < from+long {
				key[j] = y[j]
			}
			if chance.IntN(max(12, n*n/75)) == 0 {
				key[j] = chance.IntN(end + 1)
			}
		}
		child := s.offspring(key)
		sort.SliceStable(pool, func(i, k int) bool { return s.g.end(pool[i]) < s.g.end(pool[k]) })
		if worst := len(pool) - 1; s.g.end(child) <= s.g.end(pool[worst]) && !slices.ContainsFunc(pool, func(q []int) bool { return slices.Equal(q, child) }) {
			pool[worst] = child
		}
		b.Tell(solve.Progress{Step: s.used, Steps: s.steps, Value: float64(s.g.end(s.best)), Bound: float64(s.bound), HasBound: true, Words: "looking for a shorter schedule"})
	}
}

// tournament is the better of two drawn from the pool.
func tournament(g *graph, pool [][]int, chance *solve.Chance) int {
	a, b := chance.IntN(len(pool)), chance.IntN(len(pool))
	if g.end(pool[b]) < g.end(pool[a]) {
		return b
	}
	return a
}

var ruleProject = why.Declare("schedule.project", "The schedule does not hold: {what}.", why.Exact)

// CheckProject looks at a schedule moment by moment, knowing nothing of how it
// was made.
func CheckProject(p Project, s Starts) []why.Reason {
	var bad []why.Reason
	wrong := func(format string, args ...any) {
		bad = append(bad, ruleProject.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
	}
	if len(s.Start) != len(p.Jobs) {
		wrong("%d starts for %d jobs", len(s.Start), len(p.Jobs))
		return bad
	}
	end := 0
	for j, job := range p.Jobs {
		end = max(end, s.Start[j]+job.Length)
		for _, a := range job.After {
			if s.Start[j] < s.Start[a]+p.Jobs[a].Length {
				wrong("job %d starts before job %d is over", j, a)
			}
		}
	}
	for t := 0; t < end; t++ {
		for r, have := range p.Capacity {
			drawn := 0
			for j, job := range p.Jobs {
				if s.Start[j] <= t && t < s.Start[j]+job.Length {
					drawn += job.Draws[r]
				}
			}
			if drawn > have {
				wrong("machine %d: %d drawn of %d at %d", r, drawn, have, t)
			}
		}
	}
	if end != s.Makespan {
		wrong("it ends at %d, not %d", end, s.Makespan)
	}
	return bad
}
