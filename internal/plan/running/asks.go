package running

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// House figures of asking: how many places are looked at, and by how many
// seconds later an entrance is asked to be.
const (
	askEffort   = 5_000_000 // looks at a dresser for a job, see dress; then no more is asked
	askedPlaces = 12
	askedToKeep = 8 // at each place
)

var laterBy = []int{5, 10, 15, 20, 30, 45, 60}

var (
	ruleAskSide  = why.Declare("running.ask.side", "May {who} come on in {to} on the side they went off in {from}? {repairs}", why.Exact)
	ruleAskLater = why.Declare("running.ask.later", "May {who} come on in {to} {later} later? {repairs}", why.Exact)
	ruleAskKeep  = why.Declare("running.ask.keep", "May {who} stay in {look} from {from} through {to}? {repairs}", why.Exact)
)

// asks finds what the director could grant that would repair something: an
// entrance on the side of the exit, a later entrance, a look kept on. Each is
// worked out with the change made; the most useful comes first.
func (c *clock) asks(m *Memory, t *answer.Timeline) []answer.Favour {
	a := &asking{c: c, m: m, t: t, before: stand(t.Changes, t.Dressers)}
	var d answer.Dressers
	a.clusters = c.t.clusters(c.jobs(t.Changes, &d))
	for _, cluster := range a.clusters {
		a.served = append(a.served, m.cluster(c.t, cluster, len(t.Dressers.There)))
	}
	var out []answer.Favour
	for _, place := range a.places() {
		if a.looked > askEffort {
			break
		}
		out = append(out, a.side(place)...)
		out = append(out, a.later(place)...)
		out = append(out, a.keep(place)...)
	}
	sort.SliceStable(out, func(i, j int) bool { return useful(out[i], out[j]) })
	return out
}

type asking struct {
	c      *clock
	m      *Memory
	t      *answer.Timeline
	before answer.Stand

	clusters [][]job
	served   []served
	looked   int
}

// stand counts how a show stands.
func stand(changes []answer.Change, d answer.Dressers) answer.Stand {
	s := answer.Stand{Alone: len(d.Alone), Harm: d.Harm, Least: d.Least}
	for i := range changes {
		count(&s, &changes[i], 1)
	}
	return s
}

// count adds what one change counts for, or takes it away.
func count(s *answer.Stand, ch *answer.Change, n int) {
	if ch.Verdict.Grade == why.No {
		s.Short += n
		s.LateBy += n * max(0, ch.Wanted.Lo-ch.Seconds)
	}
	if ch.Seconds < Fast && crosses(ch) && !ch.InView {
		s.Crossing += n
	}
	if wantsHelp(ch) {
		s.FastWork += n * ch.Hands
	}
}

// place is the changes between the same two scenes that are in trouble, and
// how much.
type place struct {
	changes []int
	trouble int
}

// places gathers the changes in trouble by the scenes they lie between, the
// worst first: too short, without help, more than the dressers there, crossing
// or long in a fast change.
func (a *asking) places() []place {
	weight := map[int]int{}
	for _, i := range a.t.Dressers.Alone {
		weight[i] += 1000
	}
	if a.t.Dressers.Least > len(a.t.Dressers.There) {
		for _, s := range a.t.Dressers.Shown {
			for _, i := range s.Changes {
				weight[i] += 100
			}
		}
	}
	for i := range a.t.Changes {
		ch := &a.t.Changes[i]
		if ch.Verdict.Grade == why.No {
			weight[i] += 10_000
		}
		if ch.Seconds < Fast && !ch.InView && (crosses(ch) || ch.Hands > a.c.t.twoFrom) {
			weight[i] += ch.Hands
		}
	}
	type key struct{ from, to show.SceneID }
	at := map[key]int{}
	var out []place
	for i := range a.t.Changes {
		if weight[i] == 0 {
			continue
		}
		k := key{a.t.Changes[i].FromScene, a.t.Changes[i].ToScene}
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k] = n
			out = append(out, place{})
		}
		out[n].changes = append(out[n].changes, i)
		out[n].trouble += weight[i]
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].trouble > out[j].trouble })
	return out[:min(len(out), askedPlaces)]
}

// with works the show out again with some performers' stretches changed: their
// changes anew, and the clusters of changes these fall into. Where changes
// were timed, one can move the estimate of another, and all is done anew.
func (a *asking) with(who []show.PerformerID, edit func(s *answer.Stretch)) answer.Stand {
	var stretches []answer.Stretch
	for _, s := range a.t.Stretches {
		theirs := slices.Contains(who, s.Performer)
		if theirs {
			edit(&s)
		}
		if theirs || len(a.c.h.Rehearsed) > 0 {
			stretches = append(stretches, s)
		}
	}
	changes, _ := a.c.changes(stretches)
	if len(a.c.h.Rehearsed) > 0 {
		d, _ := a.c.dress(a.m, changes)
		return stand(changes, d)
	}
	after, gone := a.before, map[int]bool{}
	for i := range a.t.Changes {
		if slices.Contains(who, a.t.Changes[i].Performer) {
			gone[i] = true
			count(&after, &a.t.Changes[i], -1)
		}
	}
	for i := range changes {
		count(&after, &changes[i], 1)
	}
	var d answer.Dressers
	a.serve(gone, a.c.jobs(changes, &d), &after)
	return after
}

// serve puts other jobs in the place of some and serves the clusters they
// touch; the rest is as it was.
func (a *asking) serve(gone map[int]bool, jobs []job, after *answer.Stand) {
	fresh := len(jobs)
	after.Least = 0
	for n, cluster := range a.clusters {
		touched := false
		for i := range cluster {
			touched = touched || gone[cluster[i].change]
			for k := range jobs[:fresh] {
				gap := a.c.t.walkAcross
				touched = touched || cluster[i].early() < jobs[k].late()+gap && jobs[k].early() < cluster[i].late()+gap
			}
		}
		if !touched {
			after.Least = max(after.Least, a.served[n].least)
			continue
		}
		after.Alone, after.Harm = after.Alone-len(a.served[n].alone), after.Harm-a.served[n].harm
		for _, j := range cluster {
			if !gone[j.change] {
				jobs = append(jobs, j)
			}
		}
	}
	sort.SliceStable(jobs, func(i, j int) bool { return jobs[i].early() < jobs[j].early() })
	for _, cluster := range a.c.t.clusters(jobs) {
		s := a.m.cluster(a.c.t, cluster, len(a.t.Dressers.There))
		a.looked += s.looked
		after.Alone, after.Harm, after.Least = after.Alone+len(s.alone), after.Harm+s.harm, max(after.Least, s.least)
	}
}

// side asks all of a place who cross to come on where they went off.
func (a *asking) side(p place) []answer.Favour {
	var who []int
	for _, i := range p.changes {
		if crosses(&a.t.Changes[i]) {
			who = append(who, i)
		}
	}
	if len(who) == 0 {
		return nil
	}
	f := a.favour("side", who)
	f.After = a.with(f.Who, func(s *answer.Stretch) {
		if i := a.enters(s, who); i >= 0 {
			s.EnterSide = a.t.Changes[i].FromSide
		}
	})
	return a.put(f, ruleAskSide)
}

// later asks those of a place who are too short or without help to come on
// later, by as little as repairs all of them, or as much as is asked at most.
func (a *asking) later(p place) []answer.Favour {
	var who []int
	for _, i := range p.changes {
		if a.t.Changes[i].Verdict.Grade == why.No || slices.Contains(a.t.Dressers.Alone, i) {
			who = append(who, i)
		}
	}
	if len(who) == 0 {
		return nil
	}
	f := a.favour("later", who)
	for _, n := range laterBy {
		room := true
		after := a.with(f.Who, func(s *answer.Stretch) {
			if a.enters(s, who) >= 0 {
				s.From += time.Duration(n) * time.Second
				room = room && s.From < s.To
			}
		})
		if !room {
			break
		}
		if f.Seconds == 0 || less(after, f.After) {
			f.Seconds, f.After = n, after
		}
		if after.Short+after.Alone <= a.before.Short+a.before.Alone-len(who) {
			break
		}
	}
	return a.put(f, ruleAskLater)
}

// keep asks one performer at a time to stay in the look they are in.
func (a *asking) keep(p place) []answer.Favour {
	var out []answer.Favour
	for _, i := range p.changes {
		ch := &a.t.Changes[i]
		if len(out) == askedToKeep || a.looked > askEffort {
			break
		}
		if ch.Hands <= a.c.t.twoFrom && ch.Verdict.Grade != why.No && !slices.Contains(a.t.Dressers.Alone, i) || ch.InView {
			continue
		}
		f := a.favour("keep", []int{i})
		f.Look = ch.FromLook
		until := a.until(i)
		f.After = a.with(f.Who, func(s *answer.Stretch) {
			if s.Performer == ch.Performer && s.From >= ch.Enters && s.From < until && s.Look == ch.ToLook {
				s.Look, f.To = ch.FromLook, s.Scene
			}
		})
		out = append(out, a.put(f, ruleAskKeep)...)
	}
	return out
}

// until is when the look that change i begins is changed again.
func (a *asking) until(i int) time.Duration {
	for k := i + 1; k < len(a.t.Changes); k++ {
		if a.t.Changes[k].Performer == a.t.Changes[i].Performer {
			return a.t.Changes[k].Leaves
		}
	}
	return a.t.End + 1
}

// enters says which of the changes ends with this time on stage; -1 for none.
func (a *asking) enters(s *answer.Stretch, which []int) int {
	for _, i := range which {
		if ch := &a.t.Changes[i]; s.Performer == ch.Performer && s.Scene == ch.ToScene && s.From == ch.Enters {
			return i
		}
	}
	return -1
}

func (a *asking) favour(kind string, who []int) answer.Favour {
	first := &a.t.Changes[who[0]]
	f := answer.Favour{Kind: kind, From: first.FromScene, To: first.ToScene, Before: a.before}
	for _, i := range who {
		f.Who = append(f.Who, a.t.Changes[i].Performer)
	}
	return f
}

// put keeps a favour that repairs something, with its words.
func (a *asking) put(f answer.Favour, rule why.Rule) []answer.Favour {
	repairs := repaired(f.Before, f.After)
	if repairs == "" || !less(f.After, f.Before) {
		return nil
	}
	var names []string
	for _, id := range f.Who {
		name := string(id)
		if p := a.c.people[id]; p != nil && p.Name != "" {
			name, _, _ = strings.Cut(p.Name, " ")
		}
		names = append(names, name)
	}
	look := string(f.Look)
	if l := a.c.h.Look(f.Look); l != nil && l.Name != "" {
		look = l.Name
	}
	f.Why = rule.Because(why.Work, why.Of("who", strings.Join(names, ", ")), why.Of("from", string(f.From)), why.Of("to", string(f.To)),
		why.Of("look", look), why.Seconds("later", f.Seconds), why.Of("repairs", repairs))
	return []answer.Favour{f}
}

// repaired says in words what becomes less.
func repaired(b, a answer.Stand) string {
	var out []string
	say := func(before, after int, words string) {
		if after < before {
			out = append(out, fmt.Sprintf(words, before, after))
		}
	}
	say(b.Short, a.Short, "changes too short: %d become %d")
	say(b.Alone, a.Alone, "changes without help: %d become %d")
	say(b.Least, a.Least, "dressers wanted: %d become %d")
	say(b.Crossing, a.Crossing, "fast changes that cross: %d become %d")
	say(b.FastWork, a.FastWork, "dresser seconds in all: %d become %d")
	if len(out) == 0 {
		return ""
	}
	return why.Capital(strings.Join(out, "; ")) + "."
}

// less says whether a show stands better one way than the other.
func less(a, b answer.Stand) bool {
	x, y := ladder(a), ladder(b)
	return slices.Compare(x, y) < 0
}

func ladder(s answer.Stand) []int {
	return []int{s.Short, s.LateBy, s.Alone, s.Harm, s.Least, s.Crossing, s.FastWork}
}

// useful orders favours: by what they repair, and of those alike the one that
// asks for least.
func useful(a, b answer.Favour) bool {
	x, y := ladder(a.After)[:5], ladder(b.After)[:5]
	if c := slices.Compare(x, y); c != 0 {
		return c < 0
	}
	asks := map[string]int{"side": 0, "later": 1, "keep": 2}
	if asks[a.Kind] != asks[b.Kind] {
		return asks[a.Kind] < asks[b.Kind]
	}
	return a.Before.FastWork-a.After.FastWork > b.Before.FastWork-b.After.FastWork
}
