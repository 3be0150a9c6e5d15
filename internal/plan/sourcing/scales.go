package sourcing

import (
	"context"
	"slices"
	"sort"

	"hemwright/internal/engine/assign"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Scales hold other plans for the whole show against the one in hand. Every
// answer is a plan worked out anew from the one in hand with one thing
// changed, not a price read off. Safe for readers at once.
type Scales struct {
	in   Input
	t    *table
	base assign.Plan
	b    solve.Budget
}

// NewScales puts a plan on the scales. in is what the plan was made from. An
// error means that the plan is not one of in's.
func NewScales(ctx context.Context, in Input, plan answer.Plan, b solve.Budget) (*Scales, error) {
	in.Previous = &plan
	s := &Scales{in: in, t: filled(newMarket(in), in), b: b}
	warm := s.t.warm(&plan)
	if warm == nil || slices.Contains(warm, assign.None) {
		return nil, why.Bad("plan", "The plan is not one of this house.", "Have it worked out again.")
	}
	var err error
	if s.base, err = assign.Priced(ctx, s.t.problem, assign.Plan{Chosen: warm}, b); err != nil {
		return nil, why.Bad("plan", "The plan does not hold any more.", "Have it worked out again.")
	}
	if plan.Outcome.Proof == solve.Best { // what was proved once is not proved again
		s.base.Outcome.Proof = solve.Best
	}
	return s, nil
}

// resolve works the plan out with the problem changed.
func (s *Scales) resolve(ctx context.Context, change func(p *assign.Problem)) (assign.Plan, error) {
	p := s.t.problem
	p.Budgets, p.Needs = nil, slices.Clone(p.Needs)
	for _, l := range s.t.limits {
		p.Budgets = append(p.Budgets, l.Have)
	}
	change(&p)
	s.t.grant(&p)
	res, err := assign.From(ctx, s.calmed(p), s.base, s.b)
	if err != nil || res.Chosen == nil {
		return res, err
	}
	res = assign.Nearest(s.t.problem, s.base.Chosen, p, res)
	if bad := assign.Check(p, res); len(bad) > 0 {
		return res, why.Bad("plan", "The sharing-out contradicts itself: "+bad[0].Sentence(units.Metric), "Please report it with the file.")
	}
	return res, nil
}

// aMove is what a change of one piece has to gain where the plan in hand is not
// proved best, in lead-minutes. A house figure.
const aMove = 3

// calmed is the problem the other plan is searched in. Where the plan in hand
// is proved best, all the other gains is owed to what was changed; where it is
// not, luck would find plans that differ in much and gain little, so that each
// piece has to pay for its move.
func (s *Scales) calmed(p assign.Problem) assign.Problem {
	if s.base.Outcome.Proof == solve.Best {
		return p
	}
	p.Needs = slices.Clone(p.Needs)
	for i, n := range p.Needs {
		n.Options = slices.Clone(n.Options)
		for j := range n.Options {
			if j != s.base.Chosen[i] {
				n.Options[j].Cost += aMove
			}
		}
		p.Needs[i] = n
	}
	return p
}

// against is another plan less the one in hand.
func (s *Scales) against(other assign.Plan) answer.Difference {
	d := answer.Difference{Cost: other.Cost - s.base.Cost, Proved: other.Outcome.Proof == solve.Best && s.base.Outcome.Proof == solve.Best}
	for i, j := range other.Chosen {
		if was := s.base.Chosen[i]; was != j {
			one := alone(s.t.options[i][was], s.t.options[i][j])
			d.Minutes, d.Money, d.Look = d.Minutes+one.Minutes, d.Money+one.Money, d.Look+one.Look
			d.Moves = append(d.Moves, answer.Move{Piece: s.t.options[i][j].Piece, Was: s.t.options[i][was].Taken(), Now: s.t.options[i][j].Taken()})
		}
	}
	return d
}

// alone is one option less another of the same piece.
func alone(was, now answer.Option) answer.Difference {
	return answer.Difference{Cost: now.Cost - was.Cost, Minutes: now.Minutes() - was.Minutes(), Money: now.Money - was.Money, Look: now.Look - was.Look}
}

// How much more of something is asked about: ten of money, ten hours, half a
// metre of a cloth.
const (
	moreCoins   = 10_00
	moreMinutes = 10 * 60
	moreCloth   = int64(50 * units.Centimetre)
)

// mostCloths is how many cloths are tried, those first of which more is worth
// most.
const mostCloths = 5

var (
	ruleMore     = why.Declare("sourcing.more", "The plan was worked out again with {amount} more of it.", why.Exact)
	ruleNoMore   = why.Declare("sourcing.no-more", "Worked out again with {amount} more of it, nothing new comes within reach.", why.Exact)
	ruleProved   = why.Declare("sourcing.proved", "Both plans are proved best, so the difference is exact.", why.Exact)
	ruleFound    = why.Declare("sourcing.found", "Both plans are the best found; neither is proved, so the difference may be off.", why.Exact)
	ruleNoPin    = why.Declare("sourcing.no-pin", "The plan was worked out again without the pin.", why.Exact)
	ruleLetGo    = why.Declare("sourcing.let-go", "The plan was worked out again with it free to move.", why.Exact)
	ruleInstead  = why.Declare("sourcing.instead", "The plan was worked out again with {piece} held to it.", why.Exact)
	ruleShorter  = why.Declare("sourcing.shorter", "With {minutes} less of work, redoing counted at a quarter, it would be as good.", why.Exact)
	ruleCheaper  = why.Declare("sourcing.cheaper", "At {price} less it would be as good.", why.Exact)
	ruleNeither  = why.Declare("sourcing.neither", "Neither less work nor a lower price alone would make it as good.", why.Exact)
	ruleNeverFit = why.Declare("sourcing.never", "No plan has it: it clashes with a pin, or asks for more than there is.", why.Exact)
)

// proof is the reason that says what a difference is worth.
func proof(d answer.Difference) why.Reason {
	if d.Proved {
		return ruleProved.Because(why.Yes)
	}
	return ruleFound.Because(why.Likely)
}

// Short says what is short in the whole show and what more of it would buy,
// and what each pin costs.
func (s *Scales) Short(ctx context.Context) (answer.Short, error) {
	var out answer.Short
	for _, k := range s.asked() {
		x, err := s.more(ctx, k)
		if err != nil {
			return out, err
		}
		out.Scarce = append(out.Scarce, x)
	}
	sort.SliceStable(out.Scarce, func(i, j int) bool { return out.Scarce[i].Buys.Cost < out.Scarce[j].Buys.Cost })
	for i := range s.t.problem.Needs {
		if s.t.problem.Needs[i].Pin == assign.None {
			continue
		}
		x, err := s.unpinned(ctx, i)
		if err != nil {
			return out, err
		}
		out.Pins = append(out.Pins, x)
	}
	return out, nil
}

// asked are the limits worth asking about: money and hours always, and the
// cloths that have a price.
func (s *Scales) asked() []int {
	var out, cloths []int
	for k, l := range s.t.limits {
		switch {
		case l.Unit == "coins" || l.Unit == "minutes":
			out = append(out, k)
		case l.Unit == "um" && s.base.Worth[k] > 0:
			cloths = append(cloths, k)
		}
	}
	sort.SliceStable(cloths, func(i, j int) bool { return s.base.Worth[cloths[i]] > s.base.Worth[cloths[j]] })
	return append(out, cloths[:min(mostCloths, len(cloths))]...)
}

// more works the plan out with more of one limit. Hours of a skill are hours
// of somebody who has it, and so count in every group that asks for it.
func (s *Scales) more(ctx context.Context, k int) (answer.Scarce, error) {
	l := s.t.limits[k]
	x := answer.Scarce{Name: l.Name, Unit: l.Unit, Have: l.Have}
	for i, j := range s.base.Chosen {
		for _, u := range s.t.problem.Needs[i].Options[j].Uses {
			if u.Budget == k {
				x.Used += u.Amount
			}
		}
	}
	raised := []int{k}
	var amount why.Fact
	switch l.Unit {
	case "coins":
		x.More, amount = moreCoins, why.Of("amount", units.Money(moreCoins))
	case "minutes":
		x.More, amount = moreMinutes, why.Of("amount", units.Minutes(moreMinutes))
		raised = s.groupsOf(k)
	default:
		x.More, amount = moreCloth, why.Of("amount", units.Length(moreCloth))
	}
	res, err := s.resolve(ctx, func(p *assign.Problem) {
		for _, r := range raised {
			p.Budgets[r] += x.More
		}
	})
	if err != nil {
		return x, err
	}
	x.Buys = s.against(res)
	x.Short = x.Buys.Cost < 0 && s.overdrawn(res)
	if !x.Short {
		x.Buys = answer.Difference{Proved: x.Buys.Proved}
		x.Why = []why.Reason{ruleNoMore.Because(why.Yes, amount), proof(x.Buys)}
		return x, nil
	}
	x.Why = []why.Reason{ruleMore.Because(why.Work, amount), proof(x.Buys)}
	return x, nil
}

// groupsOf are the groups of hours that somebody with the skills of one
// counts in.
func (s *Scales) groupsOf(k int) []int {
	var out []int
	for q, h := range s.t.hours {
		if slices.ContainsFunc(s.t.hours[k-1].Skills, func(x answer.Skill) bool { return slices.Contains(h.Skills, x) }) && len(h.Skills) >= len(s.t.hours[k-1].Skills) {
			out = append(out, 1+q)
		}
	}
	return out
}

// overdrawn says whether a plan takes more of something than there is: only
// then was it the raised limit that made it.
func (s *Scales) overdrawn(other assign.Plan) bool {
	used := make([]int64, len(s.t.limits))
	for i, j := range other.Chosen {
		for _, u := range s.t.problem.Needs[i].Options[j].Uses {
			used[u.Budget] += u.Amount
		}
	}
	for k, u := range used {
		if u > s.t.problem.Budgets[k] {
			return true
		}
	}
	return false
}

// never is the weight of a source that only a pin can give.
const never = 1 << 30

// unpinned works the plan out without one pin. What the pin alone stood for,
// with nothing on offer that answers to it, goes with it.
func (s *Scales) unpinned(ctx context.Context, i int) (answer.PinCost, error) {
	n := s.t.problem.Needs[i]
	o := s.t.options[i][n.Pin]
	x := answer.PinCost{Piece: o.Piece, Pinned: o.Taken(), Held: s.t.held[i]}
	res, err := s.resolve(ctx, func(p *assign.Problem) {
		free := n
		free.Pin = assign.None
		if s.t.bared[i] {
			free.Options = slices.Clone(n.Options)
			free.Options[n.Pin].Cost = never
		}
		p.Needs[i] = free
	})
	if err != nil {
		return x, err
	}
	x.Without = s.against(res)
	x.Why = []why.Reason{ruleNoPin.Because(why.Work), proof(x.Without)}
	if x.Held != "" {
		x.Why[0] = ruleLetGo.Because(why.Work)
	}
	return x, nil
}

// Pinned is what the pin on a piece costs, or holding to what was acted on;
// false where it is free.
func (s *Scales) Pinned(ctx context.Context, id show.PieceID) (answer.PinCost, bool, error) {
	i := s.need(id)
	if i < 0 || s.t.problem.Needs[i].Pin == assign.None {
		return answer.PinCost{}, false, nil
	}
	x, err := s.unpinned(ctx, i)
	return x, err == nil, err
}

// need is the number of a piece, or below 0.
func (s *Scales) need(id show.PieceID) int {
	return slices.IndexFunc(s.t.options, func(o []answer.Option) bool { return o[0].Piece == id })
}

// mostInstead is how many other options of a piece are worked out.
const mostInstead = 4

// Instead says, for a piece, what the next options would cost the whole plan,
// the least first, and what would have to change for each to be as good. A
// pinned piece is held to the other option in the place of its pin. Nil where
// there is no such piece.
func (s *Scales) Instead(ctx context.Context, id show.PieceID) ([]answer.Instead, error) {
	i := s.need(id)
	if i < 0 {
		return nil, nil
	}
	was := s.base.Chosen[i]
	var out []answer.Instead
	for _, j := range s.t.others(i, was) {
		if len(out) == mostInstead {
			break
		}
		x, err := s.instead(ctx, i, j)
		if err != nil {
			return nil, err
		}
		x.Alone = alone(s.t.options[i][was], x.Option)
		out = append(out, x)
	}
	sort.SliceStable(out, func(a, b int) bool {
		if out[a].Never != out[b].Never {
			return out[b].Never
		}
		return out[a].Whole.Cost < out[b].Whole.Cost
	})
	return out, nil
}

func (s *Scales) instead(ctx context.Context, i, j int) (answer.Instead, error) {
	x := answer.Instead{Option: s.t.options[i][j]}
	res, err := s.resolve(ctx, func(p *assign.Problem) { p.Needs[i].Pin = j })
	if err != nil {
		return x, err
	}
	if res.Chosen == nil {
		x.Never, x.Why = true, []why.Reason{ruleNeverFit.Because(why.No)}
		return x, nil
	}
	x.Whole = s.against(res)
	x.Why = []why.Reason{ruleInstead.Because(why.Work, why.Of("piece", string(x.Option.Piece))), proof(x.Whole)}
	toWin(&x)
	return x, nil
}

// toWin says how much less work, or how much lower a price, would make the
// option as good as what the plan has. Less work leaves the evenings no
// fuller and a lower price the purse no emptier, so that much is enough.
func toWin(x *answer.Instead) {
	lack, o := x.Whole.Cost, &x.Option
	if lack <= 0 {
		return
	}
	work := func(m units.Minutes) int64 { return int64(m.Times(redoNum, redoDen)) }
	shorter := units.Minutes((lack - 1) * redoDen / redoNum)
	for shorter <= o.Minutes() && work(o.Minutes())-work(o.Minutes()-shorter) < lack {
		shorter++
	}
	coins := func(m units.Money) int64 { return int64(m) * coinMinutes / 1000 }
	cheaper := units.Money((lack - 1) * 1000 / coinMinutes)
	for cheaper <= o.Money && coins(o.Money)-coins(o.Money-cheaper) < lack {
		cheaper++
	}
	if shorter <= o.Minutes() {
		x.Shorter = shorter
		x.Why = append(x.Why, ruleShorter.Because(why.Likely, why.Of("minutes", shorter)))
	}
	if cheaper <= o.Money {
		x.Cheaper = cheaper
		x.Why = append(x.Why, ruleCheaper.Because(why.Likely, why.Of("price", cheaper)))
	}
	if x.Shorter == 0 && x.Cheaper == 0 {
		x.Why = append(x.Why, ruleNeither.Because(why.No))
	}
}
