package running

import (
	"math/bits"
	"slices"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// House figures of what underdressing is worth: a second short against
// hundredths of a dresser's second, and what each piece hidden has to save
// before it is worth the warmth, or the asking.
const (
	costShort  = 1_000_000
	costSecond = 100
	costHidden = 5 * costSecond
	costAsked  = 10 * costSecond
	candidates = 12 // of one stretch
	pause      = 10 * time.Minute
)

// wear is an unbroken run of one look; a pause long enough to dress anew in
// peace ends it as well.
type wear struct {
	look        show.LookID
	first, last answer.Stretch
	minutes     int // on stage, dancing counted twice
	change      int // the change that ends it; -1 where the look stays
	worn        uint64
	may         uint64 // what could be on underneath
	asked       uint64 // of these, what has to be asked
	said        map[int]why.Verdict
	states      []uint64
	cut         bool // there were more candidates than are looked at
}

// wardrobe is one performer's evening.
type wardrobe struct {
	c      *clock
	young  bool
	wears  []wear
	pieces []*show.Piece
	off    []int
	on     []int
}

// under finds, for every performer with a change that wants help, which pieces
// to wear underneath when, so that first the seconds short, then the dresser
// seconds of the changes that want help are fewest, each piece hidden being
// charged for. Performers do not touch one another here, so the best of each
// is the best of all.
func (c *clock) under(m *Memory, t *answer.Timeline) {
	u := &t.Under
	u.Outcome.Proof = solve.Best
	changed := slices.Clone(t.Changes)
	for _, w := range c.wardrobes(t) {
		w.list(t)
		path, cost, whole := w.best(t)
		if !whole {
			u.Outcome.Proof = solve.Found
		}
		u.Outcome.Value += float64(cost)
		w.take(path, changed, u)
	}
	u.Outcome.Bound, u.Outcome.HasBound = u.Outcome.Value, u.Outcome.Proof == solve.Best
	for i := range changed {
		ch := &changed[i]
		if u.Wanted[i] == 0 {
			continue
		}
		old := t.Changes[i].Hands
		ch.Verdict, ch.Timed = why.Verdict{}, 0
		c.judge(ch)
		u.Wanted[i] = ch.Wanted.Lo
		if tight(&t.Changes[i]) {
			u.Saves += old - ch.Hands
		}
	}
	for i := range changed {
		if changed[i].Verdict.Grade == why.No {
			u.Short++
		}
	}
	var d answer.Dressers
	for _, cluster := range c.t.clusters(c.jobs(changed, &d)) {
		s := m.cluster(c.t, cluster, len(t.Dressers.There))
		u.Least, u.Bound, u.Alone = max(u.Least, s.least), max(u.Bound, s.bound), u.Alone+len(s.alone)
	}
}

// wardrobes takes every performer's evening apart; those without a change that
// wants help, and those in two places, are left out.
func (c *clock) wardrobes(t *answer.Timeline) []*wardrobe {
	number := map[show.PerformerID][]int{}
	wants := map[show.PerformerID]bool{}
	for i := range t.Changes {
		ch := &t.Changes[i]
		number[ch.Performer] = append(number[ch.Performer], i)
		wants[ch.Performer] = wants[ch.Performer] || wantsHelp(ch)
	}
	for _, s := range t.Clashes {
		wants[s.Performer] = false
	}
	var out []*wardrobe
	for a := 0; a < len(t.Stretches); {
		b := a
		for b < len(t.Stretches) && t.Stretches[b].Performer == t.Stretches[a].Performer {
			b++
		}
		if id := t.Stretches[a].Performer; wants[id] {
			out = append(out, c.wardrobe(t.Stretches[a:b], number[id], c.young(id)))
		}
		a = b
	}
	return out
}

func (c *clock) wardrobe(stretches []answer.Stretch, changes []int, young bool) *wardrobe {
	w := &wardrobe{c: c, young: young}
	index := map[*show.Piece]int{}
	for _, s := range stretches {
		n := len(w.wears)
		if n == 0 || w.wears[n-1].look != s.Look || s.From-w.wears[n-1].last.To >= pause {
			if n > 0 {
				w.wears[n-1].change = -1
				if w.wears[n-1].look != s.Look && len(changes) > 0 {
					w.wears[n-1].change, changes = changes[0], changes[1:]
				}
			}
			w.wears = append(w.wears, wear{look: s.Look, first: s, change: -1, said: map[int]why.Verdict{}})
			n++
			for _, p := range c.pieces[s.Look] {
				if _, ok := index[p]; !ok && len(w.pieces) < 64 {
					index[p] = len(w.pieces)
					w.pieces = append(w.pieces, p)
					f := c.of(p)
					w.off, w.on = append(w.off, f.off), append(w.on, f.on)
				}
				if i, ok := index[p]; ok {
					w.wears[n-1].worn |= 1 << i
				}
			}
		}
		last := &w.wears[n-1]
		last.last = s
		on := int((s.To - s.From + time.Minute - 1) / time.Minute)
		if c.word(s.Scene, "dance") {
			on *= 2
		}
		last.minutes += on
	}
	return w
}

// list finds what could be on under each wear: what is worn next to it in
// time, or hidden there, if it may be; and which of it together.
func (w *wardrobe) list(t *answer.Timeline) {
	for _, forward := range []bool{true, false, true} {
		for n := range w.wears {
			i, near := n, n-1
			if !forward {
				i = len(w.wears) - 1 - n
				near = i + 1
			}
			if near < 0 || near >= len(w.wears) {
				continue
			}
			w.judge(i, w.wears[near].worn|w.wears[near].may)
		}
	}
	for i := range w.wears {
		if ch := w.wears[i].change; ch >= 0 && wantsHelp(&t.Changes[ch]) {
			w.tell(i, &t.Changes[ch])
		}
		w.states(i)
	}
}

func (w *wardrobe) judge(i int, near uint64) {
	at := &w.wears[i]
	var worn []*show.Piece
	for k, p := range w.pieces {
		if at.worn&(1<<k) != 0 {
			worn = append(worn, p)
		}
	}
	for k, p := range w.pieces {
		if _, done := at.said[k]; done || near&(1<<k) == 0 || at.worn&(1<<k) != 0 {
			continue
		}
		v := under(p, worn, at.minutes)
		at.said[k] = v
		if v.Grade != why.No {
			at.may |= 1 << k
		}
		if v.Grade == why.Unknown {
			at.asked |= 1 << k
		}
	}
}

// tell writes down for one change what could be on underneath, and what each
// would save by itself.
func (w *wardrobe) tell(i int, ch *answer.Change) {
	sum, before, after := w.plain(ch), &w.wears[i], &w.wears[i+1]
	for k, p := range w.pieces {
		if v, ok := before.said[k]; ok && after.worn&(1<<k) != 0 {
			ch.Beneath = append(ch.Beneath, answer.Beneath{Piece: p.ID, When: "already", Saves: w.scale(ch, sum, w.on[k]), Verdict: v})
		}
		if v, ok := after.said[k]; ok && before.worn&(1<<k) != 0 {
			ch.Beneath = append(ch.Beneath, answer.Beneath{Piece: p.ID, When: "stays", Saves: w.scale(ch, sum, w.off[k]), Verdict: v})
		}
	}
}

func (w *wardrobe) plain(ch *answer.Change) int {
	sum := 0
	for _, s := range ch.Steps {
		sum += s.Seconds
	}
	return sum
}

// scale turns seconds of the table into seconds of this change.
func (w *wardrobe) scale(ch *answer.Change, sum, part int) int {
	if sum == 0 {
		return part
	}
	return ch.Hands * part / sum
}

// states lists the sets that may be hidden together: in each zone at most two
// more where all that covers it is loose, else one, and three layers in all,
// two on the young.
func (w *wardrobe) states(i int) {
	at := &w.wears[i]
	room := w.room(at)
	var list []int
	for m := at.may; m != 0; m &= m - 1 {
		k := bits.TrailingZeros64(m)
		z := zones(w.pieces[k])
		if z&top != 0 && room[0] == 0 || z&bottom != 0 && room[1] == 0 {
			continue
		}
		if at.cut = len(list) == candidates; at.cut {
			break
		}
		list = append(list, k)
	}
	var add func(n int, set uint64, room [2]int)
	add = func(n int, set uint64, room [2]int) {
		if n == len(list) {
			at.states = append(at.states, set)
			return
		}
		add(n+1, set, room)
		for z := range room {
			if zones(w.pieces[list[n]])&(1<<z) != 0 {
				room[z]--
			}
		}
		if room[0] >= 0 && room[1] >= 0 {
			add(n+1, set|1<<list[n], room)
		}
	}
	add(0, 0, room)
}

// room is how many more layers a wear takes above and below the waist.
func (w *wardrobe) room(at *wear) (room [2]int) {
	most := layersMost
	if w.young {
		most = layersOf
	}
	for z := range room {
		layers, loose := 0, true
		for k, p := range w.pieces {
			if at.worn&(1<<k) != 0 && p.Layer >= 3 && zones(p)&(1<<z) != 0 {
				layers++
				loose = loose && p.Fit == "loose"
			}
		}
		room[z] = min(2, max(0, most-layers))
		if !loose {
			room[z] = min(room[z], 1)
		}
	}
	return room
}

// hands is a dresser's work in a change with these hidden before and after;
// what is hidden and lies under something that stays costs that as well.
func (w *wardrobe) hands(i int, ch *answer.Change, before, after uint64) int {
	a, b := w.wears[i].worn|before, w.wears[i+1].worn|after
	sum := 0
	for _, s := range ch.Steps {
		if s.Piece == "" {
			sum += s.Seconds
		}
	}
	for m := a &^ b; m != 0; m &= m - 1 {
		sum += w.off[bits.TrailingZeros64(m)]
	}
	for m := b &^ a; m != 0; m &= m - 1 {
		sum += w.on[bits.TrailingZeros64(m)]
	}
	moved := (before &^ b) | (after &^ a)
	for s := w.wears[i].worn & w.wears[i+1].worn; s != 0 && moved != 0; s &= s - 1 {
		k := bits.TrailingZeros64(s)
		for m := moved; m != 0; m &= m - 1 {
			x := w.pieces[bits.TrailingZeros64(m)]
			if zones(x)&zones(w.pieces[k]) != 0 {
				sum += w.off[k] + w.on[k]
				break
			}
		}
	}
	if plain := w.plain(ch); plain > 0 {
		return ch.Hands * sum / plain
	}
	return sum
}

func (w *wardrobe) cost(i int, ch *answer.Change, before, after uint64) int64 {
	work := w.hands(i, ch, before, after)
	lo, _ := w.c.t.walk(ch)
	rest := lo + w.c.t.lookOver
	if ch.InView {
		rest = 0
		if before != 0 || after != 0 {
			return 1 << 50 // in view nothing is done that is not written down
		}
	}
	cost := int64(costShort) * int64(max(0, work+rest-ch.Seconds))
	if tight(ch) {
		cost += int64(costSecond * work)
	}
	return cost
}

// best goes through the evening, from what may be hidden to what may be hidden
// next, and keeps the cheapest way to each. whole says that nothing was left
// out of the choice.
func (w *wardrobe) best(t *answer.Timeline) (path []uint64, cost int64, whole bool) {
	whole = len(w.pieces) < 64
	from := make([][]int, len(w.wears))
	var price []int64
	for i := range w.wears {
		at := &w.wears[i]
		whole = whole && !at.cut
		next := make([]int64, len(at.states))
		from[i] = make([]int, len(at.states))
		for b, set := range at.states {
			next[b] = -1
			for a := range price {
				c := price[a]
				if ch := w.wears[i-1].change; ch >= 0 {
					c += w.cost(i-1, &t.Changes[ch], w.wears[i-1].states[a], set)
				}
				if next[b] < 0 || c < next[b] {
					next[b], from[i][b] = c, a
				}
			}
			next[b] = max(0, next[b]) + int64(costHidden*bits.OnesCount64(set&^at.asked)+costAsked*bits.OnesCount64(set&at.asked))
		}
		price = next
	}
	last := 0
	for b := range price {
		if price[b] < price[last] {
			last = b
		}
	}
	cost = price[last]
	path = make([]uint64, len(w.wears))
	for i := len(w.wears) - 1; i >= 0; i-- {
		path[i] = w.wears[i].states[last]
		last = from[i][last]
	}
	return path, cost, whole
}

// take writes the choice down and changes the changes by it.
func (w *wardrobe) take(path []uint64, changes []answer.Change, u *answer.Under) {
	for i := range w.wears {
		at := &w.wears[i]
		for m := path[i]; m != 0; m &= m - 1 {
			k := bits.TrailingZeros64(m)
			u.Hidden = append(u.Hidden, answer.Hidden{Performer: at.first.Performer, Piece: w.pieces[k].ID, Look: at.look,
				From: at.first.Scene, To: at.last.Scene, Begins: at.first.From, Ends: at.last.To, Verdict: at.said[k]})
		}
		if at.change < 0 || path[i] == 0 && path[i+1] == 0 {
			continue
		}
		ch := &changes[at.change]
		if u.Wanted == nil {
			u.Wanted = map[int]int{}
		}
		ch.Hands = w.hands(i, ch, path[i], path[i+1])
		u.Wanted[at.change] = 1
	}
}
