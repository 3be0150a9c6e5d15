package assign

import "math"

// descend makes every single improvement there is, pushing one blocker aside
// where that pays.
func (s *search) descend() {
	for better := true; better; {
		better = false
		for i := range s.m.p.Needs {
			better = s.improveOne(i, true) || better
		}
	}
}

// settle improves the needs just put back, pushing others aside, then lets
// every need take a better option that has come free.
func (s *search) settle(touched []int) {
	for better := true; better; {
		better = false
		for _, i := range touched {
			better = s.improveOne(i, true) || better
		}
		for i := range s.m.p.Needs {
			better = s.improveOne(i, false) || better
		}
	}
}

// move is a better option for a need, and one other need pushed aside for it.
type move struct {
	to     int
	gain   int64
	pushed int
	where  int
}

// improveOne moves a need to its best better option, if it has one.
func (s *search) improveOne(i int, push bool) bool {
	was := s.chosen[i]
	old := s.m.option(i, was).Cost
	order := s.m.byCost[i]
	if s.m.option(i, order[0]).Cost >= old {
		return false
	}
	s.take(i)
	best := move{to: was, pushed: None}
	for _, j := range order {
		o := s.m.option(i, j)
		if old-o.Cost <= best.gain {
			break
		}
		if s.fits(i, j) {
			best = move{to: j, gain: old - o.Cost, pushed: None}
			break
		}
		if push && s.m.alive[s.m.first[i]+j] {
			s.makeRoom(i, j, old-o.Cost, &best)
		}
	}
	if best.pushed != None {
		s.take(best.pushed)
	}
	s.put(i, best.to)
	if best.pushed != None {
		s.put(best.pushed, best.where)
	}
	return best.gain > 0
}

// makeRoom looks for one need to push aside so that need i can take option j:
// the one that holds its thing, or one that draws on a budget it lacks.
func (s *search) makeRoom(i, j int, gain int64, best *move) {
	o := s.m.option(i, j)
	if k := s.blocker(i, o); k != None {
		s.push(i, j, k, gain, best)
		return
	}
	short := None
	for _, u := range o.Uses {
		if s.used[u.Budget]+u.Amount > s.m.p.Budgets[u.Budget] {
			if short != None || s.m.broad[u.Budget] {
				return
			}
			short = u.Budget
		}
	}
	if short == None {
		return
	}
	for q := 0; q < len(s.drawers[short]); q++ { // push leaves the list as long as it was
		s.push(i, j, s.drawers[short][q], gain, best)
	}
}

// push tries to move need k out of the way of option j of need i and keeps
// the move if it gains more than the best so far.
func (s *search) push(i, j, k int, gain int64, best *move) {
	was := s.chosen[k]
	old := s.m.option(k, was).Cost
	s.take(k)
	if s.fits(i, j) {
		s.put(i, j)
		for _, q := range s.m.byCost[k] {
			g := gain + old - s.m.option(k, q).Cost
			if g <= best.gain {
				break
			}
			if s.fits(k, q) {
				*best = move{j, g, k, q}
				break
			}
		}
		s.take(i)
	}
	s.put(k, was)
}

// chooseFamily picks a family for a group none of whose members has
// committed one: each is tried by filling the group by rank, one of the best
// is drawn. It returns None where no family fits.
func (s *search) chooseFamily(g int, draw func() float64) int {
	var fams []int
	var sums []float64
	for f := range s.m.p.Families {
		sum := s.tryFamily(g, f)
		if math.IsInf(sum, 1) {
			continue
		}
		at := len(sums)
		for at > 0 && sums[at-1] > sum {
			at--
		}
		fams, sums = append(fams, 0), append(sums, 0)
		copy(fams[at+1:], fams[at:])
		copy(sums[at+1:], sums[at:])
		fams[at], sums[at] = f, sum
	}
	for k, f := range fams {
		if k == len(fams)-1 || draw() < 0.5 {
			return f
		}
	}
	return None
}

// tryFamily is what a group would rank at in a family, its members served one
// after the other; infinite where one finds nothing.
func (s *search) tryFamily(g, f int) float64 {
	s.hold(g, f)
	sum, put := 0.0, s.put1[:0]
	for _, i := range s.m.groups[g] {
		if s.chosen[i] != None {
			continue
		}
		j, _ := s.bestTwo(i, s.rank)
		if j == None {
			sum = math.Inf(1)
			break
		}
		sum += s.rank[s.m.first[i]+j]
		s.put(i, j)
		put = append(put, i)
	}
	for _, i := range put {
		s.take(i)
	}
	s.put1 = put
	s.release(g)
	return sum
}

// hold commits a group to a family until release.
func (s *search) hold(g, f int) {
	s.famOf[g] = f
	s.famCount[g]++
}

func (s *search) release(g int) {
	if s.famCount[g]--; s.famCount[g] == 0 {
		s.famOf[g] = None
	}
}
