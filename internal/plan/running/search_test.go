package running

import (
	"math/bits"
	"sort"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
)

// quick is a table of small figures, so that everything can be tried.
var quick = table{walkSame: 2, walkAcross: 4, lookOver: 1, twoFrom: 3, twoLeave: 67, alone: 150}

// bare is a change as the brute force sees it, in its own words: it begins on
// the side where the performer goes out after the first half of a short walk
// and ends before the rest of the way; or on the other side the other way
// round.
type bare struct {
	leaves, enters, work, hands int
	from, to                    show.Side
	may                         [12]bool
	harm                        int
}

// slots lists every side and span where a change may be done.
func (b bare) slots() (out [][3]int) {
	side := func(s show.Side) int { return map[show.Side]int{"L": 1, "R": 2}[s] }
	ready := b.enters - 1
	switch {
	case b.from == "" || b.to == "" || b.from == b.to:
		s := side(b.from)
		if b.from == "" || b.to == "" {
			s = 0
		}
		return append(out, [3]int{s, b.leaves + 1, ready - 1})
	}
	return append(out, [3]int{side(b.from), b.leaves + 1, ready - 3}, [3]int{side(b.to), b.leaves + 3, ready - 1})
}

// bruteServes tries every side, second and dresser for every change.
func bruteServes(all []bare, n int) bool {
	type stint struct{ side, from, till int }
	busy := make([][]stint, n)
	free := func(k int, s stint) bool {
		for _, o := range busy[k] {
			gap := 0
			if o.side != s.side || s.side == 0 {
				gap = 4
			}
			if s.from < o.till+gap && o.from < s.till+gap {
				return false
			}
		}
		return true
	}
	var try func(i int) bool
	try = func(i int) bool {
		if i == len(all) {
			return true
		}
		b := all[i]
		for _, slot := range b.slots() {
			for at := slot[1]; at+b.work <= slot[2]; at++ {
				s := stint{slot[0], at, at + b.work}
				for k := range n {
					for o := k; o < n; o++ {
						if (o == k) != (b.hands == 1) || !b.may[k] || !b.may[o] || !free(k, s) || !free(o, s) {
							continue
						}
						busy[k] = append(busy[k], s)
						if o != k {
							busy[o] = append(busy[o], s)
						}
						if try(i + 1) {
							return true
						}
						busy[k] = busy[k][:len(busy[k])-1]
						if o != k {
							busy[o] = busy[o][:len(busy[o])-1]
						}
					}
				}
			}
		}
		return false
	}
	return try(0)
}

// drawChanges draws up to six changes and what the brute force makes of them;
// those that do not fit with two dressers are left out of both.
func drawChanges(t *rapid.T) ([]answer.Change, []bare, []job) {
	var changes []answer.Change
	var all []bare
	var jobs []job
	sides := []show.Side{"L", "R", "L", "R", ""}
	for range rapid.IntRange(1, 6).Draw(t, "changes") {
		b := bare{leaves: rapid.IntRange(0, 8).Draw(t, "leaves"), work: rapid.IntRange(1, 7).Draw(t, "work"), hands: 1,
			from: rapid.SampledFrom(sides).Draw(t, "out"), to: rapid.SampledFrom(sides).Draw(t, "in"), may: [12]bool{true, true, true, true, true, true, true, true, true, true, true, true}}
		b.enters = b.leaves + rapid.IntRange(5, 13).Draw(t, "there")
		ch := answer.Change{Leaves: time.Duration(b.leaves) * time.Second, Enters: time.Duration(b.enters) * time.Second, Seconds: b.enters - b.leaves,
			Hands: b.work, FromSide: b.from, ToSide: b.to, Wanted: answer.Seconds{Hi: 2 * b.work}}
		ch.Verdict.Grade = 2
		room := b.slots()[0][2] - b.slots()[0][1]
		if b.work > room {
			if two := (b.work*67 + 99) / 100; b.work > 3 && two <= room {
				b.work, b.hands = two, 2
			} else {
				continue
			}
		}
		j, fits := quick.jobOf(len(changes), &ch, false)
		if !fits || j.takes != b.work || j.hands != b.hands {
			t.Fatalf("%+v: reckoned as %+v", b, j)
		}
		b.harm = 1 + 10*max(0, 2*ch.Hands-ch.Seconds)
		if b.harm != j.harm {
			t.Fatalf("harm %d, by hand %d", j.harm, b.harm)
		}
		changes, all, jobs = append(changes, ch), append(all, b), append(jobs, j)
	}
	sort.SliceStable(jobs, func(i, k int) bool { return jobs[i].early() < jobs[k].early() })
	return changes, all, jobs
}

// The fewest dressers equal those found by trying everything, and the bound
// never lies above them; over whole shows, so that the parting into clusters
// is tried as well.
func TestFewestAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 30 {
			_, all, jobs := drawChanges(t)
			least := 0
			for _, cluster := range quick.clusters(jobs) {
				s := quick.cluster(cluster, 0)
				if s.bound != s.least {
					t.Fatalf("not proved: %+v", s)
				}
				if s.shown.Needs > s.least || s.shown.Needs < s.bound {
					t.Fatalf("shown for %d of %d", s.shown.Needs, s.least)
				}
				least = max(least, s.least)
			}
			want := 0
			for n := range 12 {
				if bruteServes(all, n) {
					want = n
					break
				}
			}
			if least != want {
				t.Fatalf("%d dressers, %d by trying everything: %+v", least, want, all)
			}
		}
	})
}

// With two or three dressers and pairs that may not be: what is left alone
// does no more harm than the best of all choices, and the duties hold.
func TestLeastHarmAgainstBruteForce(t *testing.T) {
	smallest := 0
	defer func() {
		if smallest == 0 {
			t.Error("no smallest clash was ever met")
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			_, all, jobs := drawChanges(t)
			n := rapid.IntRange(0, 3).Draw(t, "dressers")
			for i := range jobs {
				b := &all[jobs[i].change]
				jobs[i].may = 0
				for k := range n {
					if b.may[k] = rapid.IntRange(0, 3).Draw(t, "may") > 0; b.may[k] {
						jobs[i].may |= 1 << k
					}
				}
			}
			harm, under := 0, 0
			for _, cluster := range quick.clusters(jobs) {
				s := quick.cluster(cluster, n)
				harm, under = harm+s.harm, under+s.under
				holds(t, cluster, s, all, n)
				if len(s.clashes) > 0 && s.clashes[0].smallest {
					smallest++
					noFewer(t, cluster, len(s.clashes[0].jobs), all, n)
				}
			}
			best := 1 << 30
			for set := range 1 << len(all) {
				var rest []bare
				cost := 0
				for i, b := range all {
					if set&(1<<i) != 0 {
						cost += b.harm
					} else {
						rest = append(rest, b)
					}
				}
				if cost < best && bruteServes(rest, n) {
					best = cost
				}
			}
			if harm != best || under != best {
				t.Fatalf("harm %d, at least %d; by trying everything %d", harm, under, best)
			}
		}
	})
}

// noFewer tries every set of fewer changes of a cluster than the clash has: all
// can be served.
func noFewer(t *rapid.T, cluster []job, size int, all []bare, n int) {
	for set := range 1 << len(cluster) {
		if bits.OnesCount(uint(set)) >= size {
			continue
		}
		var some []bare
		for i := range cluster {
			if set>>i&1 == 1 {
				some = append(some, all[cluster[i].change])
			}
		}
		if !bruteServes(some, n) {
			t.Fatalf("%d changes are called the fewest that clash, and %d of them cannot be served", size, len(some))
		}
	}
}

// holds looks at the way that was found: each change by people who may, in its
// window, and nobody in two places.
func holds(t *rapid.T, jobs []job, s served, all []bare, n int) {
	type stint struct{ side, from, till int }
	busy := map[int][]stint{}
	for x, i := range others(len(jobs), s.alone) {
		p, b := s.way[x], all[jobs[i].change]
		slot := b.slots()[p.way]
		if p.start < slot[1] || p.start+b.work > slot[2] || (p.second >= 0) != (b.hands == 2) || p.first == p.second {
			t.Fatalf("%+v does not fit %+v", p, b)
		}
		for _, k := range []int{p.first, p.second} {
			if k < 0 {
				continue
			}
			if k >= n || !b.may[k] {
				t.Fatalf("%d may not", k)
			}
			for _, o := range busy[k] {
				gap := 0
				if o.side != slot[0] || o.side == 0 {
					gap = 4
				}
				if p.start < o.till+gap && o.from < p.start+b.work+gap {
					t.Fatalf("%d is in two places", k)
				}
			}
			busy[k] = append(busy[k], stint{slot[0], p.start, p.start + b.work})
		}
	}
}

// The search alone, without the plain rules that mostly find a way at once.
func TestSearchAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 30 {
			_, all, jobs := drawChanges(t)
			n := rapid.IntRange(1, 4).Draw(t, "dressers")
			s := &search{t: &quick, jobs: jobs, most: 1 << 30}
			s.prepare(n)
			if found, want := len(jobs) == 0 || s.deepen(), bruteServes(all, n); found != want {
				t.Fatalf("found %v, by trying everything %v: %d dressers, %+v", found, want, n, all)
			}
		}
	})
}
