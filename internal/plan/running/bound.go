package running

import (
	"fmt"
	"sort"

	"hemwright/internal/engine/flow"
	"hemwright/internal/show/answer"
	"hemwright/internal/value/why"
)

var (
	ruleClash  = why.Declare("running.clash", "Changes at {at} of which no dresser can do two: {n}. Dressers wanted: {needs}.", why.Exact)
	ruleEnergy = why.Declare("running.energy", "Changes round {at}: {n}. Of their work {work} have to be done inside {span}. Dressers wanted: {needs}.", why.Exact)
	ruleOrders = why.Declare("running.orders", "Changes round {at}: {n}. Every order was tried. Dressers wanted: {needs}.", why.Exact)
	ruleFewest = why.Declare("running.cannot.fewest", "Changes round {at} that the dressers there, {there} in number, cannot all do in time: {n}. No fewer stand in one another's way here.", why.Exact)
	ruleCannot = why.Declare("running.cannot", "Changes round {at} that the dressers there, {there} in number, cannot all do in time: {n}. Without any one of them the others can be done.", why.Exact)
)

// clash finds the largest set of jobs of which no dresser can do two, among
// those that leave less time than they take: for these "can be done after" is
// an order, and the fewest chains in it are as many as the largest such set.
func (t *table) clash(jobs []job) answer.Shown {
	var tight []int
	for i := range jobs {
		if j := &jobs[i]; j.late()-j.early()-j.takes < j.takes {
			for range j.hands {
				tight = append(tight, i)
			}
		}
	}
	after := make([][]int, len(tight))
	for a, i := range tight {
		for b, k := range tight {
			if i != k && t.canFollow(&jobs[i], &jobs[k]) {
				after[a] = append(after[a], b)
			}
		}
	}
	chains, err := flow.Fewest(len(tight), after)
	if err != nil {
		return answer.Shown{}
	}
	out := answer.Shown{Kind: "clash", Needs: len(chains.Apart)}
	for n, a := range chains.Apart {
		if c := tight[a]; n == 0 || out.Changes[len(out.Changes)-1] != c {
			out.Changes = append(out.Changes, c)
		}
	}
	return out
}

// canFollow says whether one dresser can do a, then b.
func (t *table) canFollow(a, b *job) bool {
	for _, w := range a.ways {
		for _, v := range b.ways {
			if w.from+a.takes+t.travel(w.place, v.place) <= v.till-b.takes {
				return true
			}
		}
	}
	return false
}

// energy finds the fewest dressers that could do the work if every job could
// be broken off and taken up again at will and nobody had to walk (W. Horn,
// "Some simple scheduling algorithms", Naval Research Logistics Quarterly 21,
// 1974), and the jobs and spans in which one fewer cannot.
//
// It begins with n dressers; if they are enough, nothing is shown.
func (t *table) energy(jobs []job, n int) answer.Shown {
	marks := spans(jobs)
	out := answer.Shown{Kind: "energy"}
	for ; ; n++ {
		net, source, sink, want := energyNet(jobs, marks, n)
		if net.Max(source, sink) == want {
			out.Needs = n
			return out
		}
		near := net.Near(source)
		out.Changes, out.Spans = nil, nil
		for i := range jobs {
			if near[i] {
				out.Changes = append(out.Changes, i)
			}
		}
		for m := range len(marks) - 1 {
			if !near[len(jobs)+m] {
				continue
			}
			if l := len(out.Spans); l > 0 && out.Spans[l-1][1] == marks[m] {
				out.Spans[l-1][1] = marks[m+1]
			} else {
				out.Spans = append(out.Spans, [2]int{marks[m], marks[m+1]})
			}
		}
	}
}

func spans(jobs []job) []int {
	have := map[int]bool{}
	for i := range jobs {
		for _, w := range jobs[i].ways {
			have[w.from], have[w.till] = true, true
		}
	}
	marks := make([]int, 0, len(have))
	for m := range have {
		marks = append(marks, m)
	}
	sort.Ints(marks)
	return marks
}

func energyNet(jobs []job, marks []int, n int) (net *flow.Net, source, sink int, want int64) {
	source, sink = len(jobs)+len(marks), len(jobs)+len(marks)+1
	net = flow.New(sink + 1)
	for i := range jobs {
		j := &jobs[i]
		net.Add(source, i, int64(j.takes*j.hands), 0)
		want += int64(j.takes * j.hands)
		for m := range len(marks) - 1 {
			if inside(j, marks[m], marks[m+1]) {
				net.Add(i, len(jobs)+m, int64(j.hands*(marks[m+1]-marks[m])), 0)
			}
		}
	}
	for m := range len(marks) - 1 {
		net.Add(len(jobs)+m, sink, int64(n*(marks[m+1]-marks[m])), 0)
	}
	return net, source, sink, want
}

func inside(j *job, from, till int) bool {
	for _, w := range j.ways {
		if w.from <= from && till <= w.till {
			return true
		}
	}
	return false
}

// bound is the better of the two proofs; its changes count within the jobs.
func (t *table) bound(jobs []job) answer.Shown {
	c := t.clash(jobs)
	if e := t.energy(jobs, max(0, c.Needs-1)); e.Needs > c.Needs || c.Needs == 0 {
		return e
	}
	return c
}

// inWords names the changes of a proof by their places in the whole show, and
// puts it into words.
func (t *table) inWords(s answer.Shown, jobs []job, all []answer.Change) answer.Shown {
	out, first := s, 1<<30
	out.Changes = nil
	for _, i := range s.Changes {
		out.Changes = append(out.Changes, jobs[i].change)
		first = min(first, seconds(all[jobs[i].change].Leaves))
	}
	n, at, needs := why.Of("n", len(s.Changes)), why.Of("at", clockWords(first)), why.Of("needs", s.Needs)
	switch s.Kind {
	case "clash":
		out.Why = ruleClash.Because(why.No, n, at, needs)
	case "energy":
		span := 0
		for _, x := range s.Spans {
			span += x[1] - x[0]
		}
		out.Why = ruleEnergy.Because(why.No, n, at, why.Seconds("work", must(jobs, s)), why.Seconds("span", span), needs)
	case "cannot":
		rule := ruleCannot
		if s.Smallest {
			rule = ruleFewest
		}
		out.Why = rule.Because(why.No, n, at, why.Of("there", s.Needs-1))
	default:
		out.Why = ruleOrders.Because(why.No, n, at, needs)
	}
	return out
}

// must is the work of the shown jobs that cannot lie outside the spans.
func must(jobs []job, e answer.Shown) int {
	in := map[int]bool{}
	for _, i := range e.Changes {
		in[i] = true
	}
	marks, sum := spans(jobs), 0
	for i := range jobs {
		j := &jobs[i]
		if !in[i] {
			continue
		}
		outside := 0
		for m := range len(marks) - 1 {
			if inside(j, marks[m], marks[m+1]) && !within(e.Spans, marks[m], marks[m+1]) {
				outside += marks[m+1] - marks[m]
			}
		}
		sum += j.hands * max(0, j.takes-outside)
	}
	return sum
}

func within(spans [][2]int, from, till int) bool {
	for _, s := range spans {
		if s[0] <= from && till <= s[1] {
			return true
		}
	}
	return false
}

// clockWords says a second of the show as it stands on the sheets, in minutes
// and seconds from curtain up: 99:05.
func clockWords(s int) string { return fmt.Sprintf("%d:%02d", s/60, s%60) }
