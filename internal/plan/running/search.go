package running

import (
	"encoding/binary"
	"slices"
	"sort"
)

// placed is a job given to dressers.
type placed struct {
	way, start    int
	first, second int // dressers; second is -1 where one is enough
}

// proof says how a search ended.
type proof int

const (
	gaveUp proof = iota // looked too often
	no                  // every order was tried
	yes
)

// search looks for a way to serve every job with so many dressers. It goes
// through the jobs in the order of their begins, each as early as its dresser
// can be there: if there is a way at all, there is one of this kind. What was
// tried in vain is remembered.
type search struct {
	t            *table
	jobs         []job
	free         []int  // when each dresser is free
	at           []int8 // and where; -1 at the beginning: anywhere
	kind         []int  // the first dresser who stands just so
	group        []int  // dressers of one group may do the same jobs
	done         []bool
	out          []placed
	twin         []int // the job before this one that is just like it, or -1
	byLate       []int
	vain         map[string]bool
	most, looked int // how often it may look, and has looked, at a dresser for a job
	open         int
	last         int
}

// serve looks for a way to serve the jobs with n dressers; dresser k may do a
// job if bit k of its may is set. It gives up after looking at most dressers for
// a job; how often it looked is added to looked.
func (t *table) serve(jobs []job, n, most int, looked *int) ([]placed, proof) {
	if len(jobs) == 0 {
		return nil, yes
	}
	if n == 0 {
		return nil, no
	}
	s := &search{t: t, jobs: jobs, most: most}
	defer func() { *looked += s.looked }()
	s.prepare(n)
	for _, rule := range []int{0, 1} {
		if s.greedy(rule) {
			return s.out, yes
		}
		s.reset(n)
	}
	switch found := s.deepen(); {
	case found:
		return s.out, yes
	case s.looked >= s.most:
		return nil, gaveUp
	}
	return nil, no
}

func (s *search) prepare(n int) {
	s.vain = map[string]bool{}
	s.twin = make([]int, len(s.jobs))
	for i := range s.jobs {
		s.twin[i] = -1
		for k := i - 1; k >= 0 && s.twin[i] < 0; k-- {
			a, b := &s.jobs[i], &s.jobs[k]
			if a.takes == b.takes && a.hands == b.hands && a.may == b.may && slices.Equal(a.ways, b.ways) {
				s.twin[i] = k
			}
		}
		s.byLate = append(s.byLate, i)
	}
	sort.SliceStable(s.byLate, func(a, b int) bool { return s.jobs[s.byLate[a]].late() < s.jobs[s.byLate[b]].late() })
	s.group, s.kind = make([]int, n), make([]int, n)
	for k := range n {
		s.group[k] = k
		for o := range k {
			if s.alike(o, k) {
				s.group[k] = o
				break
			}
		}
	}
	s.reset(n)
}

// alike says whether two dressers may do the same jobs.
func (s *search) alike(a, b int) bool {
	for i := range s.jobs {
		if s.jobs[i].allows(a) != s.jobs[i].allows(b) {
			return false
		}
	}
	return true
}

// allows says whether the dresser with this number may do the job; from the
// 64th on everybody may who may as the 64th.
func (j *job) allows(k int) bool { return j.may&(1<<min(k, 63)) != 0 }

func (s *search) reset(n int) {
	s.free, s.at = make([]int, n), make([]int8, n)
	for k := range s.at {
		s.at[k], s.free[k] = -1, -1<<30
	}
	s.done, s.out, s.open, s.last = make([]bool, len(s.jobs)), make([]placed, len(s.jobs)), len(s.jobs), -1<<30
}

// ready is when a dresser can begin at a place.
func (s *search) ready(k int, place int8) int {
	if s.at[k] < 0 {
		return s.free[k]
	}
	return s.free[k] + s.t.travel(s.at[k], place)
}

// offer is one way to go on.
type offer struct {
	job int
	placed
}

// offers lists every way to go on with one job; hope is false where none will
// ever come.
func (s *search) offers(i int, into []offer) (out []offer, hope bool) {
	j := &s.jobs[i]
	for w, way := range j.ways {
		s.looked += len(s.free)
		for a := range s.free {
			if !j.allows(a) || s.kind[a] != a {
				continue
			}
			start := max(way.from, s.ready(a, way.place))
			if start+j.takes > way.till {
				continue
			}
			if j.hands == 1 {
				hope = true
				if start >= s.last {
					into = append(into, offer{i, placed{w, start, a, -1}})
				}
				continue
			}
			s.looked += len(s.free)
			twin := false
			for b := a + 1; b < len(s.free); b++ {
				if !j.allows(b) || s.kind[b] != b && (s.kind[b] != a || twin) {
					continue
				}
				twin = twin || s.kind[b] == a
				both := max(start, s.ready(b, way.place))
				if both+j.takes > way.till {
					continue
				}
				hope = true
				if both >= s.last {
					into = append(into, offer{i, placed{w, both, a, b}})
				}
			}
		}
	}
	return into, hope
}

// kinds sorts out which dressers stand just as an earlier one does: one of each kind
// is enough to look at, two where two are wanted.
func (s *search) kinds() {
	for k := range s.free {
		s.kind[k] = k
		for o := range k {
			if s.group[o] == s.group[k] && s.at[o] == s.at[k] && s.free[o] == s.free[k] {
				s.kind[k] = o
				break
			}
		}
	}
}

func (s *search) take(o offer) (undo func()) {
	j := &s.jobs[o.job]
	was, last := [4]int{s.free[o.first], int(s.at[o.first])}, s.last
	s.free[o.first], s.at[o.first] = o.start+j.takes, j.ways[o.way].place
	if o.second >= 0 {
		was[2], was[3] = s.free[o.second], int(s.at[o.second])
		s.free[o.second], s.at[o.second] = o.start+j.takes, j.ways[o.way].place
	}
	s.done[o.job], s.out[o.job], s.last = true, o.placed, o.start
	s.open--
	return func() {
		s.free[o.first], s.at[o.first] = was[0], int8(was[1])
		if o.second >= 0 {
			s.free[o.second], s.at[o.second] = was[2], int8(was[3])
		}
		s.done[o.job], s.last = false, last
		s.open++
	}
}

// greedy always takes the offer that a plain rule likes best: the earliest
// begin, or the one that has to end first.
func (s *search) greedy(rule int) bool {
	s.last = -1 << 30
	for s.open > 0 {
		s.kinds()
		best, found := offer{}, false
		for i := range s.jobs {
			if s.done[i] {
				continue
			}
			list, hope := s.offers(i, nil)
			if !hope {
				return false
			}
			for _, o := range list {
				if !found || s.better(o, best, rule) {
					best, found = o, true
				}
			}
		}
		if !found {
			return false
		}
		s.take(best)
		if rule == 1 {
			s.last = -1 << 30
		}
	}
	return true
}

func (s *search) better(a, b offer, rule int) bool {
	la, lb := s.jobs[a.job].late()-s.jobs[a.job].takes, s.jobs[b.job].late()-s.jobs[b.job].takes
	if rule == 0 {
		return a.start < b.start || a.start == b.start && la < lb
	}
	return la < lb || la == lb && a.start < b.start
}

// deepen goes on in every way there is, and back where it ends.
func (s *search) deepen() bool {
	if s.open == 0 {
		return true
	}
	if !s.workFits() {
		return false
	}
	key := s.key()
	if s.vain[key] {
		return false
	}
	s.kinds()
	var list []offer
	for i := range s.jobs {
		if s.done[i] || s.twin[i] >= 0 && !s.done[s.twin[i]] {
			continue
		}
		var hope bool
		if list, hope = s.offers(i, list); !hope {
			return false
		}
	}
	sort.SliceStable(list, func(a, b int) bool { return s.better(list[a], list[b], 0) })
	for _, o := range list {
		undo := s.take(o)
		if s.deepen() {
			return true
		}
		undo()
		if s.looked >= s.most {
			return false
		}
	}
	s.vain[key] = true
	return false
}

// workFits says whether up to every end there is time for the work that has to
// be over by then.
func (s *search) workFits() bool {
	work, first := 0, s.firstOpen()
	for _, i := range s.byLate {
		if s.done[i] {
			continue
		}
		work += s.jobs[i].takes * s.jobs[i].hands
		till, room := s.jobs[i].late(), 0
		for _, f := range s.free {
			room += max(0, till-max(f, s.last, first))
		}
		if work > room {
			return false
		}
	}
	return true
}

func (s *search) firstOpen() int {
	first := 1 << 30
	for i := range s.jobs {
		if !s.done[i] {
			first = min(first, s.jobs[i].early())
		}
	}
	return first
}

// key names what matters for the rest: the jobs still open and where and when
// the dressers are free.
func (s *search) key() string {
	type stand struct {
		group, free int
		at          int8
	}
	all := make([]stand, len(s.free))
	for k := range s.free {
		all[k] = stand{s.group[k], max(s.free[k], s.last-s.t.walkAcross), s.at[k]}
	}
	slices.SortFunc(all, func(a, b stand) int {
		if a.group != b.group {
			return a.group - b.group
		}
		if a.free != b.free {
			return a.free - b.free
		}
		return int(a.at) - int(b.at)
	})
	out := make([]byte, 0, len(s.jobs)/8+1+len(all)*8)
	for i := 0; i < len(s.done); i += 8 {
		var b byte
		for k := i; k < min(i+8, len(s.done)); k++ {
			if s.done[k] {
				b |= 1 << (k - i)
			}
		}
		out = append(out, b)
	}
	out = binary.AppendVarint(out, int64(s.last))
	for _, d := range all {
		out = binary.AppendVarint(out, int64(d.group))
		out = binary.AppendVarint(out, int64(d.free))
		out = append(out, byte(d.at))
	}
	return string(out)
}
