package running

import (
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var (
	ruleTwice     = why.Declare("running.two-places", "{who} is on twice at once: as {role} in {scene}. Change one of the two; the changes round it are left out.", why.Exact)
	ruleNoPieces  = why.Declare("running.look-without-pieces", "Look {look} has no pieces: nothing is reckoned for taking it off or putting it on. Add its pieces.", why.Exact)
	ruleNoLength  = why.Declare("running.scene-without-length", "Scene {scene} lasts no time. Say how long it runs.", why.Exact)
	ruleBackwards = why.Declare("running.exit-first", "{role} goes off in {scene} no later than coming on; this is left out. Put the exit after the entrance.", why.Exact)
	ruleNoScene   = why.Declare("running.no-such-scene", "{role} is on in {scene}, which is no scene of the show; this is left out.", why.Exact)
	ruleNobody    = why.Declare("running.nobody-plays", "Nobody plays {role} in cast {cast}; its {n} appearances are left out. Cast it.", why.Exact)
	ruleOddSide   = why.Declare("running.odd-side", "Sides written {side}: {n}. That is neither L nor R and is taken as not known.", why.Exact)
)

// notes says what could not be understood and what was done about it. The
// rest is reckoned all the same.
func (c *clock) notes(t answer.Timeline) []why.Reason {
	var out []why.Reason
	say := func(r why.Rule, facts ...why.Fact) { out = append(out, r.Because(why.Unknown, facts...)) }
	for _, s := range c.h.Scenes {
		if s.Running <= 0 {
			say(ruleNoLength, why.Of("scene", string(s.ID)))
		}
	}
	bare, sides, nobody := map[show.LookID]bool{}, map[show.Side]int{}, map[show.RoleID]int{}
	for _, a := range c.h.Appearances {
		switch _, there := c.scenes[a.Scene]; {
		case !there:
			say(ruleNoScene, why.Of("role", string(a.Role)), why.Of("scene", string(a.Scene)))
			continue
		case a.Exit <= a.Enter:
			say(ruleBackwards, why.Of("role", string(a.Role)), why.Of("scene", string(a.Scene)))
		case c.who(a.Role) == "":
			nobody[a.Role]++
		}
		if len(c.pieces[a.Look]) == 0 {
			bare[a.Look] = true
		}
		for _, s := range []show.Side{a.EnterSide, a.ExitSide} {
			if s != "" && !known(s) {
				sides[s]++
			}
		}
	}
	for _, l := range inOrder(bare) {
		say(ruleNoPieces, why.Of("look", string(l)))
	}
	for _, s := range inOrder(sides) {
		say(ruleOddSide, why.Of("side", string(s)), why.Of("n", sides[s]))
	}
	for _, r := range inOrder(nobody) {
		say(ruleNobody, why.Of("role", string(r)), why.Of("cast", string(c.cast)), why.Of("n", nobody[r]))
	}
	for _, s := range t.Clashes {
		who := string(s.Performer)
		if p := c.people[s.Performer]; p != nil && p.Name != "" {
			who = p.Name
		}
		say(ruleTwice, why.Of("who", who), why.Of("role", string(s.Role)), why.Of("scene", string(s.Scene)))
	}
	return out
}

func inOrder[K ~string, V any](m map[K]V) []K {
	out := make([]K, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}
