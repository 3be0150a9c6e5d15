package sourcing

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"hemwright/internal/engine/assign"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// table turns pieces and options into the sharing-out's numbers and back.
type table struct {
	m       *market
	problem assign.Problem
	options [][]answer.Option
	missed  [][]why.Reason
	limits  []answer.Limit // one for each budget
	hours   []HoursFor
	cloths  map[show.ClothID]int // budget of each cloth
	things  map[show.GarmentID]int
	parts   map[string]int // budget of each part of a garment that may be cut up
	acted   map[show.PieceID]acted
	taken   map[show.GarmentID]bool // garments of pins
	held    map[int]string          // needs held to what was acted on, with what was done
	bared   map[int]bool            // pieces with an option that only their pin gives
}

func newTable(m *market, in Input) *table {
	t := &table{m: m, hours: in.Hours, cloths: map[show.ClothID]int{}, things: map[show.GarmentID]int{}, acted: map[show.PieceID]acted{}, held: map[int]string{}, taken: map[show.GarmentID]bool{}, bared: map[int]bool{}, parts: map[string]int{}}
	t.budget(answer.Limit{Name: "money", Unit: "coins", Have: max(0, int64(in.Money))})
	for _, h := range in.Hours {
		t.budget(answer.Limit{Name: "hours " + h.Name, Unit: "minutes", Have: int64(h.Minutes)})
	}
	for _, c := range in.House.Cloths {
		have := c.Length
		if held, ok := in.Holds[c.ID]; ok {
			have = min(have, held)
		}
		t.cloths[c.ID] = t.budget(answer.Limit{Name: "cloth " + string(c.ID), Unit: "um", Have: int64(have)})
	}
	for i := range m.garments {
		t.things[m.garments[i].g.ID] = i
	}
	t.problem.Things = len(m.garments)
	for _, pin := range in.House.Pins {
		t.taken[pin.Garment], t.taken[show.GarmentID(pin.Find)] = true, true
	}
	t.countParts(in)
	if in.Previous != nil {
		done := map[show.PieceID]string{}
		for _, d := range in.House.Done {
			done[d.Piece] = d.What
		}
		for i := range in.Previous.Choices {
			if c := &in.Previous.Choices[i]; done[c.Piece] != "" {
				t.acted[c.Piece] = acted{&c.Option, done[c.Piece]}
			}
		}
	}
	return t
}

// acted is a choice that was acted on: bought, cut or told to somebody.
type acted struct {
	was  *answer.Option
	what string
}

// filled is the table of everything: all pieces with all their options.
func filled(m *market, in Input) *table {
	t := newTable(m, in)
	for i := range in.House.Pieces {
		t.addPiece(&in.House.Pieces[i])
	}
	t.grant(&t.problem)
	return t
}

// countParts makes a budget of every part of a garment that some piece could
// be cut from.
func (t *table) countParts(in Input) {
	for _, e := range in.Estimates {
		for _, w := range e.Apart {
			for _, q := range w.Parts {
				key := partKey(q.Garment, q.Part)
				k, there := t.parts[key]
				if !there {
					k = t.budget(answer.Limit{Name: "part " + key, Unit: partUnit})
					t.parts[key] = k
				}
				t.limits[k].Have = max(t.limits[k].Have, int64(q.Of))
				t.problem.Budgets[k] = t.limits[k].Have
			}
		}
	}
}

// partUnit is the unit of a budget of parts. Such limits stay in the room.
const partUnit = "parts"

func partKey(g show.GarmentID, part string) string { return string(g) + " " + part }

func (t *table) budget(l answer.Limit) int {
	t.limits = append(t.limits, l)
	t.problem.Budgets = append(t.problem.Budgets, l.Have)
	return len(t.limits) - 1
}

func (t *table) addPiece(p *show.Piece) {
	opts, rest, missed := t.m.optionsOf(p)
	need := assign.Need{Group: assign.None, Pin: assign.None}
	slots := map[int]bool{}
	for _, l := range p.Looks {
		for _, s := range t.m.slots[l] {
			slots[s] = true
		}
	}
	for s := range slots {
		need.Slots = append(need.Slots, s)
	}
	sort.Ints(need.Slots)
	if pin := t.m.h.PinOf(p.ID); pin != nil {
		need.Pin = t.pinned(opts, pin)
		if need.Pin == assign.None {
			opts = append(opts, t.bare(p, pin))
			need.Pin = len(opts) - 1
			t.bared[len(t.options)] = true
		}
		opts[need.Pin].Why.Reasons = append([]why.Reason{rulePinned.Because(why.Work)}, opts[need.Pin].Why.Reasons...)
	}
	if was, there := t.acted[p.ID]; there && need.Pin == assign.None {
		if need.Pin = heldTo(was.was, opts); need.Pin != assign.None {
			t.held[len(t.options)] = was.what
			opts[need.Pin].Why.Reasons = append([]why.Reason{ruleHeld.Because(why.Work, why.Of("what", was.what))}, opts[need.Pin].Why.Reasons...)
		}
	}
	for _, o := range opts {
		need.Options = append(need.Options, t.flat(p, o))
	}
	for _, o := range aside(p, rest) {
		need.Options = append(need.Options, t.unlisted(p, o))
	}
	t.options, t.missed = append(t.options, opts), append(t.missed, missed)
	t.problem.Needs = append(t.problem.Needs, need)
}

// pinned finds the option a pin means: the source, and the garment or cloth
// where it names one; else the best with a garment that no other pin has, if
// there is one.
func (t *table) pinned(opts []answer.Option, pin *show.Pin) int {
	garment := pin.Garment
	if garment == "" {
		garment = show.GarmentID(pin.Find)
	}
	first := assign.None
	for j, o := range opts {
		if string(o.Source) != pin.Source || garment != "" && o.Garment != garment || pin.Cloth != "" && o.Cloth != pin.Cloth {
			continue
		}
		if garment != "" || o.Garment == "" || !t.taken[o.Garment] {
			t.taken[o.Garment] = true
			return j
		}
		if first == assign.None {
			first = j
		}
	}
	return first
}

// bare is an option for a pin nothing on offer answers to: it stands at the
// price of its find, or at the limit of one's own for a thing to be bought;
// what else it takes is not known.
func (t *table) bare(p *show.Piece, pin *show.Pin) answer.Option {
	o := answer.Option{Piece: p.ID, Source: answer.Source(pin.Source), Garment: pin.Garment, Cloth: pin.Cloth, Pencil: true, Look: 10}
	if o.Garment == "" {
		o.Garment = show.GarmentID(pin.Find)
	}
	if f := t.m.h.Find(show.FindID(o.Garment)); f != nil && f.Decision != "bought" {
		o.Money = f.Price.Or(0)
	} else if o.Source == answer.Buy && o.Garment == "" {
		o.Money = p.PriceLimit.Or(0)
	}
	if h, ok := t.m.hours.of(p); ok && o.Source == answer.Make {
		o.Work = []answer.Work{{Skill: h.skill, Minutes: h.minutes}}
	}
	weigher{t.m, p, t.m.eyeOf(p)}.price(&o)
	return o
}

// grant raises the budgets to what the pins take together: a pin stands, also
// beyond what there is. Nothing else is then given of it. So with what is held,
// but that it never spends what is not there. Needs pinned otherwise than in
// the table count for nothing.
func (t *table) grant(p *assign.Problem) {
	pinned := make([]int64, len(t.limits))
	for i, n := range p.Needs {
		if n.Pin == assign.None || n.Pin != t.problem.Needs[i].Pin {
			continue
		}
		for _, u := range n.Options[n.Pin].Uses {
			if u.Budget > 0 || t.held[i] == "" {
				pinned[u.Budget] += u.Amount
			}
		}
	}
	for k, l := range t.limits {
		if l.Unit != partUnit { // no pin makes a garment give more than it has
			p.Budgets[k] = max(p.Budgets[k], pinned[k])
		}
	}
}

// clash says which pins want one garment, where no plan holds them all.
func (t *table) clash() error {
	first := map[show.GarmentID]show.PieceID{}
	for i, n := range t.problem.Needs {
		if n.Pin == assign.None {
			continue
		}
		o := &t.options[i][n.Pin]
		if other, there := first[o.Garment]; there && o.Garment != "" {
			return why.Bad("pin", fmt.Sprintf("%s and %s are both pinned to %s, which cannot be both.", other, o.Piece, o.Garment), "Take one of the two pins out.")
		}
		first[o.Garment] = o.Piece
	}
	return why.Bad("pin", "The pins cannot all hold.", "Take the last one out.")
}

// release lets go of what is held: what has still to be paid or clashes with a
// pin, or everything.
func (t *table) release(all bool) {
	pinned := map[show.GarmentID]bool{}
	for i, n := range t.problem.Needs {
		if n.Pin != assign.None && t.held[i] == "" {
			pinned[t.options[i][n.Pin].Garment] = true
			for _, g := range t.options[i][n.Pin].Apart {
				pinned[g] = true
			}
		}
	}
	delete(pinned, "")
	for i := range t.held {
		n := &t.problem.Needs[i]
		o := &t.options[i][n.Pin]
		if all || o.Money > 0 || pinned[o.Garment] || slices.ContainsFunc(o.Apart, func(g show.GarmentID) bool { return pinned[g] }) {
			n.Pin = assign.None
			o.Why.Reasons = o.Why.Reasons[1:]
			delete(t.held, i)
		}
	}
}

// heldTo finds what an earlier choice has become among the options: the same,
// or the same garment had in another way, as a find that was bought since.
func heldTo(was *answer.Option, opts []answer.Option) int {
	if j := nearestTo(was, opts); j != assign.None || was.Garment == "" || len(was.Apart) > 0 || was.Source == answer.Remake {
		return j
	}
	return slices.IndexFunc(opts, func(o answer.Option) bool {
		return o.Garment == was.Garment && len(o.Apart) == 0 && o.Source != answer.Remake
	})
}

// flat puts an option into numbers.
func (t *table) flat(p *show.Piece, o answer.Option) assign.Option {
	f := assign.Option{Cost: o.Cost, Thing: assign.None, Family: assign.None}
	if o.Money > 0 {
		f.Uses = append(f.Uses, assign.Use{Budget: 0, Amount: int64(o.Money)})
	}
	for k, h := range t.hours {
		if m := minutesOf(o, h.Skills); m > 0 {
			f.Uses = append(f.Uses, assign.Use{Budget: 1 + k, Amount: int64(m.Times(redoNum, redoDen))})
		}
	}
	if k, ok := t.cloths[o.Cloth]; ok && o.ClothLength > 0 {
		f.Uses = append(f.Uses, assign.Use{Budget: k, Amount: int64(o.ClothLength)})
	}
	for _, g := range o.Apart {
		f.Apart = append(f.Apart, t.things[g])
	}
	for _, q := range o.Parts {
		if k, ok := t.parts[partKey(show.GarmentID(q.From.Code), q.What)]; ok && len(o.Apart) > 0 {
			f.Uses = append(f.Uses, assign.Use{Budget: k, Amount: int64(q.Count)})
		}
	}
	if k, ok := t.things[o.Garment]; ok && o.Garment != "" && len(o.Apart) == 0 {
		f.Thing = k
		f.Exclusive = o.Cuts || len(o.Work) > 0
	}
	return f
}

// unlisted puts what stands for options not looked at into numbers. Which
// skills their work asks for is not known: it counts where all do.
func (t *table) unlisted(p *show.Piece, o answer.Option) assign.Option {
	f := assign.Option{Cost: o.Cost, Thing: assign.None, Family: assign.None, Unlisted: true}
	if o.Money > 0 {
		f.Uses = append(f.Uses, assign.Use{Budget: 0, Amount: int64(o.Money)})
	}
	for k, h := range t.hours {
		if m := o.Minutes(); m > 0 && len(h.Skills) == len(answer.Skills()) {
			f.Uses = append(f.Uses, assign.Use{Budget: 1 + k, Amount: int64(m.Times(redoNum, redoDen))})
		}
	}
	return f
}

func minutesOf(o answer.Option, skills []answer.Skill) units.Minutes {
	var sum units.Minutes
	for _, w := range o.Work {
		for _, s := range skills {
			if w.Skill == s {
				sum += w.Minutes
			}
		}
	}
	return sum
}

func same(a, b answer.Option) bool {
	return a.Source == b.Source && a.Garment == b.Garment && a.Cloth == b.Cloth && slices.Equal(a.Apart, b.Apart)
}

// warm turns an earlier plan into a start.
func (t *table) warm(prev *answer.Plan) []int {
	if prev == nil || len(prev.Choices) != len(t.options) {
		return nil
	}
	out := make([]int, len(t.options))
	for i, opts := range t.options {
		out[i] = nearestTo(&prev.Choices[i].Option, opts)
	}
	return out
}

// nearestTo finds an earlier choice among the options: the same with the same
// work, or else the first from the same place.
func nearestTo(was *answer.Option, opts []answer.Option) int {
	first := assign.None
	for j := range opts {
		o := &opts[j]
		if was.Piece != o.Piece || !same(*was, *o) {
			continue
		}
		if was.Minutes() == o.Minutes() && was.Money == o.Money && was.Look == o.Look {
			return j
		}
		if first == assign.None {
			first = j
		}
	}
	return first
}

// unpack turns the numbers back into a plan.
func (t *table) unpack(res assign.Plan, in Input) answer.Plan {
	plan := answer.Plan{Outcome: res.Outcome}
	if res.Chosen == nil {
		return plan
	}
	used := make([]int64, len(t.limits))
	for i, j := range res.Chosen {
		o := t.options[i][j]
		c := answer.Choice{Option: o, Pinned: t.problem.Needs[i].Pin != assign.None && t.held[i] == "", Held: t.held[i], Missed: t.missed[i], Next: t.next(i, j)}
		if (c.Pinned || c.Held != "") && res.Reduced[i][j] > 0 {
			c.Price = res.Reduced[i][j]
		}
		for _, u := range t.problem.Needs[i].Options[j].Uses {
			used[u.Budget] += u.Amount
		}
		plan.Choices = append(plan.Choices, c)
	}
	for k, l := range t.limits {
		if l.Unit == partUnit {
			continue
		}
		l.Used, l.Worth = used[k], int64(math.Round(res.Worth[k]*1000))
		plan.Limits = append(plan.Limits, l)
	}
	if res.Outcome.Proof != solve.Best {
		plan.Saves = units.Minutes(res.Outcome.Value - res.Outcome.Bound)
	}
	return plan
}

// next lists the options others does.
func (t *table) next(i, chosen int) []answer.Option {
	var out []answer.Option
	for _, j := range t.others(i, chosen) {
		out = append(out, t.options[i][j])
	}
	return out
}

// others are the best option of every other source, and the best other of the
// same, the cheapest first.
func (t *table) others(i, chosen int) []int {
	var out []int
	had := map[answer.Source]bool{}
	for j, o := range t.options[i] {
		if j != chosen && !had[o.Source] {
			had[o.Source] = true
			out = append(out, j)
		}
	}
	return out
}
