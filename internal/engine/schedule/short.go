package schedule

import (
	"slices"
)

// mostSkills bounds the subsets looked at; beyond it only single skills and
// all together are tested, which stays a valid bound.
const mostSkills = 8

// shortage looks for the due minute and set of skills where the work wanted
// exceeds most what the people with any of those skills can do by then. Tasks
// without a due minute have to find room before the last session ends. Only a
// task's own due minute counts, as only its own work is then late.
func (m *model) shortage() *Short {
	last := 0
	for _, q := range m.p.People {
		if n := len(q.Sessions); n > 0 {
			last = max(last, q.Sessions[n-1].To)
		}
	}
	due := make([]int, len(m.p.Tasks))
	for i, t := range m.p.Tasks {
		due[i] = last
		if t.Due != None {
			due[i] = min(t.Due, last)
		}
	}
	var worst *Short
	for _, d := range deadlines(due) {
		for _, set := range m.subsets() {
			wanted := 0
			for i, t := range m.p.Tasks {
				if due[i] <= d && set&(1<<t.Skill) != 0 {
					wanted += t.Work
				}
			}
			have := 0
			for _, q := range m.p.People {
				if slices.ContainsFunc(q.Skills, func(s int) bool { return set&(1<<s) != 0 }) {
					have += minutesBefore(q, d) * q.Pace
				}
			}
			have /= 100
			if over := wanted - have; over > 0 && (worst == nil || over > worst.Wanted-worst.Have) {
				worst = &Short{Due: d, Skills: members(set), Wanted: wanted, Have: have}
			}
		}
	}
	return worst
}

// deadlines lists the distinct due minutes in order.
func deadlines(due []int) []int {
	ds := slices.Clone(due)
	slices.Sort(ds)
	return slices.Compact(ds)
}

func (m *model) subsets() []uint64 {
	all := uint64(1)<<m.p.Skills - 1
	var sets []uint64
	if m.p.Skills <= mostSkills {
		for s := uint64(1); s <= all; s++ {
			sets = append(sets, s)
		}
		return sets
	}
	for s := range min(m.p.Skills, 63) {
		sets = append(sets, 1<<s)
	}
	return append(sets, all)
}

func members(set uint64) []int {
	var out []int
	for s := range 64 {
		if set&(1<<s) != 0 {
			out = append(out, s)
		}
	}
	return out
}

func minutesBefore(q Person, d int) int {
	n := 0
	for _, s := range q.Sessions {
		n += max(0, min(s.To, d)-s.From)
	}
	return n
}
