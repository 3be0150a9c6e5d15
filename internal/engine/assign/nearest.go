package assign

import (
	"context"
	"math"
	"slices"

	"hemwright/internal/value/solve"
)

// Nearest brings a plan nearer to base, the plan of a problem near this one,
// so that what is left of the difference is owed to how the two problems
// differ. Changes that gain nothing are taken back, and so are changes that
// base could have made by itself, in its own problem of. The answer is a plan
// of p; where base is the best of its problem, it costs no more than before.
// Nothing is proved anew.
func Nearest(of Problem, base []int, p Problem, plan Plan) Plan {
	if len(base) != len(p.Needs) || len(plan.Chosen) != len(p.Needs) {
		return plan
	}
	before := newSearch(newModel(&of))
	before.load(base)
	return nearer(before, base, p, plan)
}

// Calm takes back every change from base that gains nothing. base is a plan of
// a problem near p, None where its option is gone.
func Calm(base []int, p Problem, plan Plan) Plan {
	if len(base) != len(p.Needs) || len(plan.Chosen) != len(p.Needs) {
		return plan
	}
	return nearer(nil, base, p, plan)
}

// nearer brings a plan nearer to base. before is base in its own problem, or
// nil where what it could have done there is no reason.
func nearer(before *search, base []int, p Problem, plan Plan) Plan {
	near := p
	near.Needs = slices.Clone(p.Needs)
	scale := int64(len(p.Needs) + 1) // so that no number of changes outweighs one cost point
	for i, n := range near.Needs {
		n.Options = slices.Clone(n.Options)
		for j := range n.Options {
			n.Options[j].Cost *= scale
			if j != base[i] {
				n.Options[j].Cost++
			}
		}
		near.Needs[i] = n
	}
	s := newSearch(newModel(&near))
	s.load(plan.Chosen)
	s.takeBackAll(before, base)
	if plan.Outcome.Proof == solve.Best { // no move can save anything but changes
		s.keep()
		s.improve(context.Background(), dual{lambda: make([]float64, len(s.m.have)), value: math.Inf(-1)}, solve.Budget{}, nearestRounds)
		s.load(s.best)
		s.takeBackAll(before, base)
	}
	out := plan
	out.Chosen, out.Cost = slices.Clone(s.chosen), 0
	for i, j := range out.Chosen {
		out.Cost += p.Needs[i].Options[j].Cost
	}
	out.Outcome.Value = float64(out.Cost)
	return out
}

// nearestRounds is how long it is tried to come nearer than taking back comes.
const nearestRounds = 400

// takeBackAll takes back what it can: the needs that hand things on among
// them together, then those that draw on one cloth as well.
func (s *search) takeBackAll(before *search, base []int) {
	for s.takeBack(before, base, false) || s.takeBack(before, base, true) {
	}
}

// takeBack gives the needs that changed together what they had before where
// that costs no more, or where they could have changed all the same before.
// It returns whether any went back.
func (s *search) takeBack(before *search, base []int, cloths bool) bool {
	any := false
	for _, part := range s.changedTogether(base, cloths) {
		now, cost := make([]int, len(part)), s.cost
		for k, i := range part {
			now[k] = s.chosen[i]
		}
		if s.swap(part, now, of(base, part)) && (s.cost < cost || before != nil && before.could(part, now)) {
			any = true
			continue
		}
		s.swap(part, of(s.chosen, part), now)
	}
	return any
}

// of are the entries of a choice that belong to a part.
func of(chosen, part []int) []int {
	out := make([]int, len(part))
	for k, i := range part {
		out[k] = chosen[i]
	}
	return out
}

// swap moves a part over to other options and returns true, or leaves
// everything as it was.
func (s *search) swap(part, from, to []int) bool {
	for _, i := range part {
		s.take(i)
	}
	for k, i := range part {
		if to[k] >= 0 && s.fits(i, to[k]) {
			s.put(i, to[k])
			continue
		}
		for _, q := range part[:k] {
			s.take(q)
		}
		for q, i := range part {
			s.put(i, from[q])
		}
		return false
	}
	return true
}

// could says whether a part has room to change in the plan in hand, and leaves
// the plan as it was.
func (s *search) could(part, to []int) bool {
	from := of(s.chosen, part)
	if !s.swap(part, from, to) {
		return false
	}
	s.swap(part, to, from)
	return true
}

// changedTogether sorts the needs that differ from base into parts that share
// no thing, no group and, where cloths are asked for, no budget that only some
// draw on, before or after.
func (s *search) changedTogether(base []int, cloths bool) [][]int {
	var parts [][]int
	partOf := map[int]int{}      // need to part
	holder := map[[2]int]int{}   // thing, group or budget to a need that has it
	join := func(i, other int) { // the part of other goes over into that of i
		from, to := partOf[other], partOf[i]
		if from == to {
			return
		}
		for _, k := range parts[from] {
			partOf[k] = to
		}
		parts[to] = append(parts[to], parts[from]...)
		parts[from] = nil
	}
	for i, j := range s.chosen {
		if j == base[i] {
			continue
		}
		partOf[i] = len(parts)
		parts = append(parts, []int{i})
		for _, k := range s.shared(i, []int{j, base[i]}, cloths) {
			if other, ok := holder[k]; ok {
				join(i, other)
			}
			holder[k] = i
		}
	}
	return slices.DeleteFunc(parts, func(p []int) bool { return len(p) == 0 })
}

// shared are the things, the group and the budgets that options of a need take
// part in, each as a kind and a number.
func (s *search) shared(i int, options []int, cloths bool) [][2]int {
	var keys [][2]int
	if g := s.m.p.Needs[i].Group; g != None {
		keys = append(keys, [2]int{1, g})
	}
	for _, j := range options {
		if j < 0 {
			continue
		}
		o := s.m.option(i, j)
		if o.Thing != None {
			keys = append(keys, [2]int{0, o.Thing})
		}
		for _, t := range o.Apart {
			keys = append(keys, [2]int{0, t})
		}
		for _, u := range o.Uses {
			if cloths && u.Amount > 0 && !s.m.broad[u.Budget] {
				keys = append(keys, [2]int{2, u.Budget})
			}
		}
	}
	return keys
}
