package schedule

import (
	"cmp"
	"slices"
)

// model is a problem made ready for building many timetables.
type model struct {
	p     *Problem
	topo  []int
	able  [][]int // per task: who can do it, fewest skills first
	tail  []int   // work that waits for each task, along the longest way
	total []int   // tail with the task's own work
	due   []int   // the earliest due minute of a task and of what waits for it
	ends  []int   // room for hand to work in
}

// score orders timetables: late work first, then minutes of lateness, then
// when all is done.
type score struct{ late, minutes, end int64 }

func (s score) before(o score) bool {
	if c := cmp.Compare(s.late, o.late); c != 0 {
		return c < 0
	}
	if c := cmp.Compare(s.minutes, o.minutes); c != 0 {
		return c < 0
	}
	return s.end < o.end
}

// built is a timetable with the order it came from.
type built struct {
	order []int
	ready []int
	slots []Slot
	score score
}

func newModel(p *Problem) *model {
	m := &model{p: p, topo: inOrder(p), able: make([][]int, len(p.Tasks)), tail: make([]int, len(p.Tasks)), total: make([]int, len(p.Tasks))}
	for i, t := range p.Tasks {
		for w, q := range p.People {
			if slices.Contains(q.Skills, t.Skill) && (len(t.Only) == 0 || slices.Contains(t.Only, w)) {
				m.able[i] = append(m.able[i], w)
			}
		}
		slices.SortStableFunc(m.able[i], func(a, b int) int { return cmp.Compare(len(p.People[a].Skills), len(p.People[b].Skills)) })
	}
	for k := len(m.topo) - 1; k >= 0; k-- {
		i := m.topo[k]
		m.total[i] = m.tail[i] + p.Tasks[i].Work
		for _, a := range p.Tasks[i].After {
			m.tail[a] = max(m.tail[a], m.total[i])
		}
	}
	m.due = m.inherited()
	return m
}

// bestRule builds one timetable for each plain rule of priority and keeps the
// best: least slack, shortest first, longest first, rarest skill first.
func (m *model) bestRule() built {
	due := m.due
	rules := []func(a, b int) int{
		func(a, b int) int { return cmp.Compare(due[a]-m.total[a], due[b]-m.total[b]) },
		func(a, b int) int {
			return cmp.Or(cmp.Compare(due[a], due[b]), cmp.Compare(m.total[a], m.total[b]))
		},
		func(a, b int) int {
			return cmp.Or(cmp.Compare(due[a], due[b]), cmp.Compare(m.total[b], m.total[a]))
		},
		func(a, b int) int {
			return cmp.Or(cmp.Compare(len(m.able[a]), len(m.able[b])), cmp.Compare(due[a], due[b]))
		},
	}
	var best built
	for i, rule := range rules {
		order := slices.Clone(m.topo)
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(rule(a, b), cmp.Compare(a, b)) })
		if try := m.build(order); i == 0 || try.score.before(best.score) {
			best = try
		}
	}
	return best
}

// inherited gives each task the earliest due minute of itself and of what
// waits for it, far away where there is none.
func (m *model) inherited() []int {
	const far = 1 << 40
	due := make([]int, len(m.p.Tasks))
	for i, t := range m.p.Tasks {
		due[i] = far
		if t.Due != None {
			due[i] = t.Due
		}
	}
	for k := len(m.topo) - 1; k >= 0; k-- {
		for _, a := range m.p.Tasks[m.topo[k]].After {
			due[a] = min(due[a], due[m.topo[k]])
		}
	}
	return due
}

// build takes the tasks in the order given, each as soon as what it waits for
// has been placed, and gives it to whoever has it done first.
func (m *model) build(order []int) built {
	p := m.p
	b := built{order: order, ready: make([]int, len(p.Tasks))}
	free := make([][]Session, len(p.People))
	for w, q := range p.People {
		free[w] = slices.Clone(q.Sessions)
	}
	placed := make([]bool, len(p.Tasks))
	for n := 0; n < len(order); {
		for _, i := range order {
			if placed[i] || slices.ContainsFunc(p.Tasks[i].After, func(a int) bool { return !placed[a] }) {
				continue
			}
			placed[i] = true
			n++
			m.place(&b, free, i)
		}
	}
	for i, t := range p.Tasks {
		if r := b.ready[i]; r == None {
			b.score.late += int64(t.Work)
		} else {
			if t.Due != None && r > t.Due {
				b.score.late += int64(t.Work)
				b.score.minutes += int64(r - t.Due)
			}
			b.score.end += int64(r)
		}
	}
	return b
}

// place gives one task to a hand that has it done early.
func (m *model) place(b *built, free [][]Session, i int) {
	t := &m.p.Tasks[i]
	b.ready[i] = None
	start := t.Start
	for _, a := range t.After {
		if b.ready[a] == None {
			return
		}
		start = max(start, b.ready[a])
	}
	if t.Work == 0 {
		b.ready[i] = start
		return
	}
	who, end := m.hand(free, i, start)
	if who == None {
		return
	}
	b.ready[i] = end
	b.slots = m.book(b.slots, free, i, who, start)
}

// hand chooses who does a task: whoever has it done first, or one with fewer
// skills who needs little longer and no more than a quarter of the time left
// to the due minute. That keeps those who can do everything for what only
// they can do.
func (m *model) hand(free [][]Session, i, start int) (who, end int) {
	ends := m.ends[:0]
	first := None
	for _, w := range m.able[i] {
		e, ok := m.finish(free[w], i, w, start)
		if !ok {
			e = None
		} else if first == None || e < first {
			first = e
		}
		ends = append(ends, e)
	}
	m.ends = ends
	if first == None {
		return None, 0
	}
	limit := first + max(0, min(m.p.Wait, (m.due[i]-first)/4))
	who = None
	for k, w := range m.able[i] {
		e := ends[k]
		if e == None || e > limit {
			continue
		}
		if who == None || len(m.p.People[w].Skills) == len(m.p.People[who].Skills) && e < end {
			who, end = w, e
		}
	}
	return who, end
}

// clock is how long the work takes a person, by the clock.
func (m *model) clock(i, w int) int {
	pace := m.p.People[w].Pace
	return (m.p.Tasks[i].Work*100 + pace - 1) / pace
}

// usable says how much of a free stretch a task takes, from which minute.
func (m *model) usable(s Session, i, start, left int) (from, take int) {
	from = max(s.From, start)
	room := s.To - from
	take = min(room, left)
	if take < left && (m.p.Tasks[i].Whole || take < m.p.Least) {
		return from, 0
	}
	return from, max(take, 0)
}

// finish is when a person would have a task done.
func (m *model) finish(free []Session, i, w, start int) (int, bool) {
	left := m.clock(i, w)
	for _, s := range free {
		from, take := m.usable(s, i, start, left)
		if take <= 0 {
			continue
		}
		if left -= take; left == 0 {
			return from + take, true
		}
	}
	return 0, false
}

// book takes the time out of the person's free stretches.
func (m *model) book(slots []Slot, free [][]Session, i, w, start int) []Slot {
	left := m.clock(i, w)
	var rest []Session
	for k, s := range free[w] {
		from, take := m.usable(s, i, start, left)
		if left == 0 || take <= 0 {
			rest = append(rest, s)
			continue
		}
		slots = append(slots, Slot{i, w, from, from + take})
		if from > s.From {
			rest = append(rest, Session{s.From, from})
		}
		if from+take < s.To {
			rest = append(rest, Session{from + take, s.To})
		}
		if left -= take; left == 0 {
			rest = append(rest, free[w][k+1:]...)
			break
		}
	}
	free[w] = rest
	return slots
}

// timetable puts a built one into its final form.
func (m *model) timetable(b built) Timetable {
	t := Timetable{Slots: b.slots, Ready: b.ready}
	slices.SortFunc(t.Slots, func(a, b Slot) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.Person, b.Person), cmp.Compare(a.Task, b.Task))
	})
	for i, task := range m.p.Tasks {
		switch {
		case b.ready[i] == None:
			t.Left = append(t.Left, i)
		case task.Due != None && b.ready[i] > task.Due:
			t.Late = append(t.Late, i)
		}
	}
	return t
}
