package running

import (
	"encoding/binary"
	"math/bits"
	"slices"
	"sort"
	"time"

	"hemwright/internal/engine/flow"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// How often one search may look at a dresser for a job; all searches for the
// least harm of one cluster together; and each of the quick ones among them.
const (
	effort     = 300_000
	harmEffort = 200_000
	quickLook  = 5_000
)

var (
	ruleLeast     = why.Declare("running.least", "Dressers wanted for every change that wants help: {n}. Fewer do not suffice.", why.Exact)
	ruleLeastOpen = why.Declare("running.least-open", "Dressers wanted: {n} suffice, fewer than {bound} do not; for those between nothing is shown.", why.Exact)
	ruleThere     = why.Declare("running.dressers-there", "Dressers there: {n}. Changes without help: {alone}.", why.Exact)
	ruleAllServed = why.Declare("running.all-served", "Dressers there: {n}. Every change that wants help has it.", why.Exact)
	ruleChaperone = why.Declare("running.chaperones", "Chaperones who could dress: {n}. They have no other duty.", chaperones)
	ruleHopeless  = why.Declare("running.hopeless", "Too short even with two dressers. Wear something underneath, close it another way, or ask for time.", why.House)
	ruleAlone     = why.Declare("running.alone", "Nobody is free. Of the changes that clash here, {n} in all, this one does the least harm without help.", why.Exact)
	ruleNotBy     = why.Declare("running.not-by", "Those who could help here are not to dress {who}. Find somebody else, or leave time to change alone.", why.Exact)
	ruleMay       = why.Declare("running.may-not", "The least number holds if everybody may dress everybody.", why.Exact)

	chaperones = why.Basis{Key: "chaperones", Kind: why.Handbook, Title: "council guidance on chaperones under SI 2014/3309; other places differ"}
)

// served is what was found out about one cluster; its numbers count within
// the cluster.
type served struct {
	least, bound int
	shown        answer.Shown
	way          []placed // for those there; of the jobs that are not alone
	alone        []int
	clashes      []clashing
	harm, under  int
	looked       int // at so many dressers for a job
}

// dress finds the fewest dressers, and who of those there does which.
func (c *clock) dress(m *Memory, all []answer.Change) (answer.Dressers, []answer.Duty) {
	d := answer.Dressers{Walk: c.t.walkSame, Across: c.t.walkAcross, Look: c.t.lookOver}
	held := 0
	for _, p := range c.h.Helpers {
		switch {
		case p.Dresser && p.Chaperone:
			held++
		case p.Dresser:
			d.There = append(d.There, p.ID)
		}
	}
	jobs := c.jobs(all, &d)
	var duties []answer.Duty
	share := newShare(d.There)
	d.Proof = solve.Best
	for _, cluster := range c.t.clusters(jobs) {
		s := m.cluster(c.t, cluster, len(d.There))
		d.Harm, d.HarmBound = d.Harm+s.harm, d.HarmBound+s.under
		if s.bound > d.Bound {
			d.Bound, d.Shown = s.bound, nil
		}
		if s.bound == d.Bound {
			d.Shown = append(d.Shown, c.t.inWords(s.shown, cluster, all))
		}
		d.Least = max(d.Least, s.least)
		for _, clash := range s.clashes {
			d.Clashes = append(d.Clashes, c.t.inWords(answer.Shown{Kind: "cannot", Changes: clash.jobs, Smallest: clash.smallest, Needs: len(d.There) + 1}, cluster, all))
		}
		duties = append(duties, share.out(cluster, s, all)...)
		for _, i := range s.alone {
			d.Alone = append(d.Alone, cluster[i].change)
			r := ruleAlone.Because(why.No, why.Of("n", clashSize(s.clashes, i)))
			if j := &cluster[i]; bits.OnesCount64(j.may&everybody(len(d.There))) < min(j.hands, len(d.There)) {
				r = ruleNotBy.Because(why.No, why.Of("who", string(all[j.change].Performer)))
			}
			duties = append(duties, waiting(&cluster[i], r))
		}
	}
	if d.Bound < d.Least {
		d.Proof = solve.Found
	}
	for _, i := range d.Hopeless {
		j, _ := c.t.jobOf(i, &all[i], false)
		duties = append(duties, waiting(&j, ruleHopeless.Because(why.No)))
	}
	sort.SliceStable(duties, func(i, j int) bool {
		a, b := duties[i], duties[j]
		return a.Begins < b.Begins || a.Begins == b.Begins && a.Change < b.Change
	})
	sort.Ints(d.Alone)
	sort.SliceStable(d.Clashes, func(i, j int) bool { return len(d.Clashes[i].Changes) < len(d.Clashes[j].Changes) })
	d.Reasons = saying(d, held)
	return d, duties
}

func saying(d answer.Dressers, held int) []why.Reason {
	var out []why.Reason
	if d.Proof == solve.Best {
		out = append(out, ruleLeast.Because(why.Yes, why.Of("n", d.Least)))
	} else {
		out = append(out, ruleLeastOpen.Because(why.Likely, why.Of("n", d.Least), why.Of("bound", d.Bound)))
	}
	out = append(out, ruleMay.Because(why.Yes))
	if len(d.Alone) == 0 {
		out = append(out, ruleAllServed.Because(why.Yes, why.Of("n", len(d.There))))
	} else {
		out = append(out, ruleThere.Because(why.No, why.Of("n", len(d.There)), why.Of("alone", len(d.Alone))))
	}
	if held > 0 {
		out = append(out, ruleChaperone.Because(why.Unknown, why.Of("n", held)))
	}
	return out
}

// jobs lists the changes that want help, by their first second, and keeps
// those that no help can make fit.
func (c *clock) jobs(all []answer.Change, d *answer.Dressers) []job {
	var jobs []job
	for i := range all {
		ch := &all[i]
		if !wantsHelp(ch) {
			continue
		}
		j, fits := c.t.jobOf(i, ch, c.young(ch.Performer))
		if !fits {
			d.Hopeless = append(d.Hopeless, i)
			continue
		}
		j.may = c.may(ch.Performer, d.There)
		jobs = append(jobs, j)
	}
	sort.SliceStable(jobs, func(i, j int) bool { return jobs[i].early() < jobs[j].early() })
	return jobs
}

// everybody is a mark for each of so many dressers; from the 64th on they
// share one.
func everybody(n int) uint64 { return ^uint64(0) >> (64 - min(n, 64)) }

// may marks the dressers there who may dress somebody.
func (c *clock) may(who show.PerformerID, there []show.HelperID) uint64 {
	may := ^uint64(0)
	if p := c.h.Performer(who); p != nil {
		for k, id := range there {
			if slices.Contains(p.NotBy, id) {
				may &^= 1 << min(k, 63)
			}
		}
	}
	return may
}

func clashSize(clashes []clashing, i int) int {
	for _, c := range clashes {
		for _, k := range c.jobs {
			if k == i {
				return len(c.jobs)
			}
		}
	}
	return 1
}

// waiting is the duty nobody has.
func waiting(j *job, r why.Reason) answer.Duty {
	w := j.ways[0]
	return answer.Duty{Change: j.change, Hands: j.hands, Side: sideOf(w.place), Begins: time.Duration(w.from) * time.Second,
		Ends: time.Duration(w.from+j.takes) * time.Second, Why: &r}
}

// cluster works one cluster out, or remembers it.
func (m *Memory) cluster(t *table, jobs []job, there int) served {
	bytes := binary.AppendVarint(binary.AppendVarint(nil, int64(there)), int64(t.walkAcross))
	for i := range jobs {
		j := &jobs[i]
		for _, n := range []int{j.takes, j.hands, j.harm, int(j.may), len(j.ways)} {
			bytes = binary.AppendVarint(bytes, int64(n))
		}
		for _, w := range j.ways {
			bytes = binary.AppendVarint(binary.AppendVarint(append(bytes, byte(w.place)), int64(w.from)), int64(w.till))
		}
	}
	key := string(bytes)
	s, ok := m.served[key]
	if !ok {
		if m.served == nil {
			m.served = map[string]served{}
		}
		s = t.cluster(jobs, there)
		m.served[key] = s
	}
	return s
}

func (t *table) cluster(jobs []job, there int) served {
	s := served{shown: t.bound(jobs)}
	anybody := make([]job, len(jobs))
	for i, j := range jobs {
		j.may = ^uint64(0)
		anybody[i] = j
	}
	s.bound = s.shown.Needs
	for s.least = s.bound; ; s.least++ {
		_, p := t.serve(anybody, s.least, effort, &s.looked)
		if p == yes {
			break
		}
		if p == no && s.bound == s.least {
			s.bound++
			s.shown = answer.Shown{Kind: "search", Needs: s.bound, Changes: whole(len(jobs))}
		}
	}
	var p proof
	if s.way, p = t.serve(jobs, there, effort, &s.looked); p != yes {
		t.leastHarm(jobs, there, &s)
	}
	return s
}

func whole(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// share gives the anonymous dressers of each cluster their names.
type share struct {
	there []show.HelperID
	load  []int64
	knows map[show.PerformerID]map[int]bool
}

func newShare(there []show.HelperID) *share {
	return &share{there, make([]int64, len(there)), map[show.PerformerID]map[int]bool{}}
}

// sameHand is what it is worth, in square seconds, that a performer keeps the
// dresser who helped before: a house figure, small against the load.
const sameHand = 4000

// out names the dressers of a cluster so that the work is even, by squares,
// and performers keep theirs: the cheapest flow from chains to people.
func (s *share) out(jobs []job, found served, all []answer.Change) []answer.Duty {
	if len(found.way) == 0 {
		return nil
	}
	n := len(s.there)
	work, who, barred := make([]int64, n), make([][]show.PerformerID, n), make([]uint64, n)
	rest := others(len(jobs), found.alone)
	for x, i := range rest {
		p := found.way[x]
		for _, k := range []int{p.first, p.second} {
			if k >= 0 {
				work[k] += int64(jobs[i].takes)
				who[k] = append(who[k], all[jobs[i].change].Performer)
				barred[k] |= ^jobs[i].may
			}
		}
	}
	net := flow.New(2*n + 2)
	arcs := make([][]int, n)
	for k := range n {
		net.Add(2*n, k, 1, 0)
		net.Add(n+k, 2*n+1, 1, 0)
		for d := range n {
			capacity, cost := int64(1), 2*s.load[d]*work[k]
			if barred[k]&(1<<min(d, 63)) != 0 {
				capacity = 0
			}
			for _, id := range who[k] {
				if s.knows[id][d] {
					cost -= sameHand
				}
			}
			arcs[k] = append(arcs[k], net.Add(k, n+d, capacity, cost))
		}
	}
	net.Cheapest(2*n, 2*n+1, int64(n))
	named := make([]int, n)
	for k := range n {
		for d, a := range arcs[k] {
			if net.Flow(a) > 0 {
				named[k] = d
			}
		}
		s.load[named[k]] += work[k]
		for _, id := range who[k] {
			if s.knows[id] == nil {
				s.knows[id] = map[int]bool{}
			}
			s.knows[id][named[k]] = true
		}
	}
	var out []answer.Duty
	for x, i := range rest {
		p, j := found.way[x], &jobs[i]
		d := answer.Duty{Change: j.change, Hands: j.hands, Dresser: s.there[named[p.first]], Side: sideOf(j.ways[p.way].place),
			Begins: time.Duration(p.start) * time.Second, Ends: time.Duration(p.start+j.takes) * time.Second}
		if p.second >= 0 {
			d.Second = s.there[named[p.second]]
		}
		out = append(out, d)
	}
	return out
}

// others lists 0..n-1 without some.
func others(n int, without []int) []int {
	var out []int
	for i := range n {
		gone := false
		for _, w := range without {
			gone = gone || w == i
		}
		if !gone {
			out = append(out, i)
		}
	}
	return out
}
