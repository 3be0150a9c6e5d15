package running

import (
	"sort"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// priorWeight is the weight of an estimate, in measured changes (house).
const priorWeight = 2

var (
	ruleTimed = why.Declare("running.timed", "Timed in rehearsal: {best} at best, {reckoned} reckoned. The best time counts.", why.Exact)
	ruleLike  = why.Declare("running.like-timed", "Like changes took {measured} in 100 of what was reckoned, in {n} timed; this one is taken at {share} in 100.", why.Credibility)
)

// rehearsed puts the best measured time in the place of the estimate, and
// draws the estimates of like changes, of the same performer or with the same
// closures, towards what was measured.
func (c *clock) rehearsed(all []answer.Change) {
	type key struct {
		who      show.PerformerID
		from, to show.SceneID
	}
	best := map[key]int{}
	for _, r := range c.h.Rehearsed {
		k := key{r.Performer, r.From, r.To}
		if b, ok := best[k]; r.Seconds > 0 && (!ok || r.Seconds < b) {
			best[k] = r.Seconds
		}
	}
	if len(best) == 0 {
		return
	}
	byWho, byClosure := map[show.PerformerID][]int{}, map[string][]int{}
	ratio := map[int]int{} // of the timed changes, in thousandths of the estimate
	for i := range all {
		ch := &all[i]
		took, ok := best[key{ch.Performer, ch.FromScene, ch.ToScene}]
		if !ok {
			continue
		}
		rest := 0
		if !ch.InView {
			lo, _ := c.t.walk(ch)
			rest = lo + c.t.lookOver
		}
		reckoned := ch.Hands
		ch.Timed, ch.Hands = took, max(1, took-rest)
		ch.Verdict.Reasons = append(ch.Verdict.Reasons, ruleTimed.Because(why.Yes, why.Seconds("best", took), why.Seconds("reckoned", reckoned+rest)))
		if reckoned > 0 {
			ratio[i] = ch.Hands * 1000 / reckoned
			byWho[ch.Performer] = append(byWho[ch.Performer], i)
			byClosure[closures(ch)] = append(byClosure[closures(ch)], i)
		}
	}
	for i := range all {
		if ch := &all[i]; ch.Timed == 0 && ch.Hands > 0 {
			draw(ch, ratio, byWho[ch.Performer], byClosure[closures(ch)])
		}
	}
}

// draw corrects one estimate by the timed changes like it: the ratio taken is
// (sum of the ratios + k) / (n + k).
func draw(ch *answer.Change, ratio map[int]int, lists ...[]int) {
	like := map[int]bool{}
	sum := 0
	for _, list := range lists {
		for _, i := range list {
			if !like[i] {
				like[i] = true
				sum += ratio[i]
			}
		}
	}
	n := len(like)
	if n == 0 {
		return
	}
	share := (sum + priorWeight*1000) / (n + priorWeight)
	ch.Hands = max(1, ch.Hands*share/1000)
	ch.Verdict.Reasons = append(ch.Verdict.Reasons, ruleLike.Because(why.Likely, why.Of("measured", sum/n/10), why.Of("n", n), why.Of("share", share/10)))
}

// closures names what is done in a change, whatever the pieces.
func closures(ch *answer.Change) string {
	var did []string
	for _, s := range ch.Steps {
		did = append(did, s.Do+" "+s.By)
	}
	sort.Strings(did)
	return strings.Join(did, ";")
}
