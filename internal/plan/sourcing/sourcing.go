// Package sourcing decides where every piece comes from: use as is, alter,
// remake, make, borrow, buy, own or go without. It makes the options, weighs
// them, and shares them out for the whole show under money, hours and cloth,
// with each garment in one place at a time.
package sourcing

import (
	"context"
	"slices"
	"time"

	"hemwright/internal/craft/fit"
	"hemwright/internal/engine/assign"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/colour"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	trade = why.Basis{Key: "making-hours", Kind: why.Estimate, Title: "making hours from hobby and practice logs; house estimates where there are none"}

	ruleHours    = why.Declare("sourcing.hours", "A {kind} takes {minutes} of making ({n} in one go).", trade)
	ruleCloth    = why.Declare("sourcing.cloth", "{length} of {cloth}.", why.Common)
	ruleBuyCloth = why.Declare("sourcing.buy-cloth", "{length} of cloth {width} wide to be bought, about {price}.", why.House)
	ruleSimple   = why.Declare("sourcing.simple", "Made simply, unlined and edges taped: {minutes} less.", why.House)
	ruleNotSeen  = why.Declare("sourcing.not-seen", "Nobody has seen one yet; at most {price}.", why.House)
	ruleWithout  = why.Declare("sourcing.without", "Nothing there where a look wants it: {n} in all.", why.Exact)
	ruleNothing  = why.Declare("sourcing.nothing", "Nothing on the rail or among the finds passes for a {kind}.", why.Common)
	ruleHeld     = why.Declare("sourcing.held", "It is marked as {what} and stays so; pin it to something else to have it moved.", why.House)
	rulePinned   = why.Declare("sourcing.pinned", "You pinned it; the pin stands.", why.Common)
	ruleWrong    = why.Declare("sourcing.check", "The plan does not add up: {what}.", why.Exact)
)

// Redoing adds a quarter to all work: a house estimate every log bears out.
const (
	redoNum, redoDen = 5, 4
)

// HoursFor is what a group of skills offers in lead-minutes. Work that asks
// for one of the skills counts against it.
type HoursFor struct {
	Name    string         `json:"name"`
	Skills  []answer.Skill `json:"skills"`
	Minutes units.Minutes  `json:"minutes"`
}

// Input is everything a sharing-out rests on.
type Input struct {
	House     *show.House
	Estimates []answer.Estimate
	Money     units.Money // still free to spend
	Hours     []HoursFor
	Barred    map[show.PieceID][]show.ClothID // cloths a piece was tried on and found no place
	Holds     map[show.ClothID]units.Length   // of cloths on which not all found a place: what did, by rule of thumb
	Previous  *answer.Plan                    // where the search starts; what was acted on is held to it
	Deed      bool                            // the previous plan is of the same day, before a deed
	Memory    *Memory                         // of the sharing-out before; nil where nothing is remembered
}

// Memory is what a sharing-out leaves for the next, so that a small change is
// worked out in a moment. The zero value remembers nothing.
type Memory struct {
	pieces []show.PieceID
	plan   assign.Plan
	gap    float64 // of the plan last worked out from nothing
}

// market is everything on offer, looked up once.
type market struct {
	h         *show.House
	garments  []offered
	estimates map[show.PieceID]answer.Estimate
	labs      map[string]colour.Lab
	barred    map[show.PieceID][]show.ClothID
	hours     *hours
	longRail  int                              // more garments than this are not all judged
	longList  int                              // how many of them are, for a piece
	hung      []fit.Hung                       // a long rail, ready for weighing
	noun      []string                         // of each garment of a long rail
	named     map[show.PieceID]map[string]bool // by a pin or by the plan before: judged in any case
	off       map[[2]string]int                // what is seen of one colour for another
	seen      map[show.LookID]time.Duration
	slots     map[show.LookID][]int
}

// offered is a garment with how it can be had.
type offered struct {
	g        show.Garment
	price    units.Money
	borrowed bool
	toBuy    bool
	find     bool
}

func (o *offered) ref() why.Ref {
	if o.find {
		return why.Ref{Kind: "find", Code: string(o.g.ID)}
	}
	return why.Ref{Kind: "garment", Code: string(o.g.ID)}
}

func newMarket(in Input) *market {
	m := &market{h: in.House, barred: in.Barred, hours: shipped.Of(in.House.Tables), estimates: map[show.PieceID]answer.Estimate{}, labs: map[string]colour.Lab{},
		seen: map[show.LookID]time.Duration{}, slots: map[show.LookID][]int{}, longRail: longRail, longList: longList,
		named: map[show.PieceID]map[string]bool{}, off: map[[2]string]int{}}
	for _, e := range in.Estimates {
		m.estimates[e.Piece] = e
	}
	for _, c := range in.House.Colours {
		if lab, err := colour.ParseHex(c.Hex); err == nil {
			m.labs[c.Name] = lab
		}
	}
	m.offers()
	m.occupy()
	for _, pin := range in.House.Pins {
		m.name(pin.Piece, string(pin.Garment), string(pin.Find), string(pin.Cloth))
	}
	if in.Previous != nil {
		for _, c := range in.Previous.Choices {
			m.name(c.Piece, string(c.Garment), string(c.Cloth))
		}
	}
	return m
}

// name has garments and cloths among the options of a piece in any case.
func (m *market) name(p show.PieceID, codes ...string) {
	if m.named[p] == nil {
		m.named[p] = map[string]bool{}
	}
	for _, c := range codes {
		if c != "" {
			m.named[p][c] = true
		}
	}
}

// offers lists the rail, what was bought and what was only seen.
func (m *market) offers() {
	borrowed := map[show.GarmentID]bool{}
	for _, l := range m.h.Loans {
		borrowed[l.Garment] = !l.Out
	}
	for _, g := range m.h.Garments {
		if g.Fate == "cut" || g.PromisedTo != "" && g.PromisedTo != m.h.Show.Code {
			continue
		}
		m.garments = append(m.garments, offered{g: g, borrowed: borrowed[g.ID] || g.ReturnBy != 0})
	}
	for _, f := range m.h.Finds {
		o := offered{g: f.Garment, find: true, toBuy: f.Decision != "bought"}
		if o.toBuy {
			if !f.Price.Known {
				continue // not known is not a gift
			}
			o.price = f.Price.V
		}
		m.garments = append(m.garments, o)
	}
}

// occupy gives every look the slots in which its garments are in use: its
// scenes, and the joins before and after, in which a garment cannot travel to
// somebody else.
func (m *market) occupy() {
	at := map[show.SceneID]int{}
	for i, s := range m.h.Scenes {
		at[s.ID] = i
	}
	for _, a := range m.h.Appearances {
		m.seen[a.Look] += a.Exit - a.Enter
		if k, ok := at[a.Scene]; ok {
			m.slots[a.Look] = append(m.slots[a.Look], 2*k, 2*k+1, 2*k+2)
		}
	}
}

// Options lists every option of one piece, cheapest first.
func Options(in Input, id show.PieceID) []answer.Option {
	m := newMarket(in)
	p := in.House.Piece(id)
	if p == nil {
		return nil
	}
	opts, _, _ := m.optionsOf(p)
	return opts
}

// Share shares everything out. An error means the input contradicts itself, or
// two pins each other.
func Share(ctx context.Context, in Input, b solve.Budget) (answer.Plan, error) {
	t := filled(newMarket(in), in)
	res, err := t.solve(ctx, in, b)
	for _, all := range []bool{false, true} {
		if err == nil && res.Chosen == nil && len(t.held) > 0 {
			t.release(all)
			res, err = t.solve(ctx, in, b)
		}
	}
	if err != nil {
		return answer.Plan{}, err
	}
	if res.Chosen == nil && len(in.House.Pieces) > 0 {
		return answer.Plan{}, t.clash()
	}
	if bad := assign.Check(t.problem, res); len(bad) > 0 {
		return answer.Plan{}, why.Bad("plan", "The sharing-out contradicts itself: "+bad[0].Sentence(units.Metric), "Please report it with the file.")
	}
	return t.unpack(res, in), nil
}

// openGap is how far a plan may fall behind what working it out from nothing
// came to, before that is done again: further after a deed of the same day.
// House figures.
func (in *Input) openGap() float64 {
	if in.Deed {
		return 0.005
	}
	return 0.002
}

// solve works the problem out: from the plan before where it is remembered,
// with a short look and a longer one, as long as that comes near enough to the
// bound; else from nothing.
func (t *table) solve(ctx context.Context, in Input, b solve.Budget) (assign.Plan, error) {
	warm := t.warm(in.Previous)
	if in.Memory != nil && warm != nil && slices.Equal(in.Memory.pieces, t.pieces()) {
		near := in.Memory.plan
		near.Chosen = warm
		for _, effort := range []solve.Effort{b.Effort, solve.Thorough} {
			b := b
			b.Effort = effort
			res, err := t.again(ctx, near, b)
			if err != nil || res.Chosen == nil {
				return res, err
			}
			if near = res; res.Outcome.Gap() <= in.Memory.gap+in.openGap() || ctx.Err() != nil {
				in.Memory.plan = res
				return res, nil
			}
		}
	}
	res, err := assign.Solve(ctx, t.problem, warm, b)
	if in.Memory != nil && err == nil {
		*in.Memory = Memory{t.pieces(), res, res.Outcome.Gap()}
	}
	return res, err
}

// again works the problem out from a plan nearby. Nothing moves that gains
// nothing.
func (t *table) again(ctx context.Context, near assign.Plan, b solve.Budget) (assign.Plan, error) {
	res, err := assign.From(ctx, t.problem, near, b)
	if err != nil || res.Chosen == nil {
		return res, err
	}
	res = assign.Calm(near.Chosen, t.problem, res)
	if res.Outcome.Proof == solve.Best {
		return res, nil
	}
	steps := res.Outcome.Steps
	res, err = assign.Priced(ctx, t.problem, res, b)
	res.Outcome.Steps = steps
	return res, err
}

func (t *table) pieces() []show.PieceID {
	var out []show.PieceID
	for i := range t.m.h.Pieces {
		out = append(out, t.m.h.Pieces[i].ID)
	}
	return out
}
