package sourcing

import (
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var (
	ruleServes  = why.Declare("sourcing.find-serves", "It would be {piece}: {minutes} of work instead of {instead}.", trade)
	ruleUpTo    = why.Declare("sourcing.find-up-to", "At {price} the plan's own choice would be as good.", why.House)
	ruleLimit   = why.Declare("sourcing.find-limit", "Your own limit for {piece} is {price}.", why.Common)
	rulePurse   = why.Declare("sourcing.find-purse", "{price} is free; {n} more of its kind are wanted, about {each} each.", why.Exact)
	ruleNobody  = why.Declare("sourcing.find-nobody", "It serves no piece better than what the plan has now.", why.House)
	ruleNoPrice = why.Declare("sourcing.find-no-price", "The price is not known; it is worth up to {price}.", why.House)
)

// Appraise says what a find would do beside a plan: which pieces it could be
// after what work, what that saves, and up to which price it is worth it. It
// is quick: only the find is judged, nothing is shared out anew.
func Appraise(in Input, plan answer.Plan, find show.Find) answer.Appraisal {
	alone := *in.House
	probe := find
	probe.Decision = ""
	probe.Price = units.Some(units.Money(0))
	alone.Garments, alone.Loans, alone.Finds = nil, nil, []show.Find{probe}
	one := in
	one.House = &alone
	m := newMarket(one)
	a := answer.Appraisal{Left: in.Money}
	for _, c := range plan.Choices {
		p := in.House.Piece(c.Piece)
		if p == nil || c.Pinned {
			continue
		}
		if p.Category == find.Garment.Category && (c.Money > 0 || c.Source == answer.GoWithout) {
			a.Wanted++
		}
		if s, ok := m.serves(p, c); ok {
			a.Serves = append(a.Serves, s)
		}
	}
	sort.SliceStable(a.Serves, func(i, j int) bool { return a.Serves[i].UpTo > a.Serves[j].UpTo })
	return advised(in, a, find)
}

// serves says whether the find is better for a piece than the plan's choice,
// and up to which price.
func (m *market) serves(p *show.Piece, c answer.Choice) (answer.Served, bool) {
	opts, _, _ := m.fromGarments(p)
	w := weigher{m, p, m.eyeOf(p)}
	best := -1
	for i := range opts {
		w.price(&opts[i])
		if best < 0 || opts[i].Cost < opts[best].Cost {
			best = i
		}
	}
	if best < 0 || opts[best].Cost >= c.Cost {
		return answer.Served{}, false
	}
	o := opts[best]
	s := answer.Served{Piece: p.ID, Option: o, Instead: c.Source, UpTo: units.Money((c.Cost - o.Cost) * 1000 / coinMinutes),
		Saves: (c.Minutes() - o.Minutes()).Times(redoNum, redoDen), Other: w.colourLook(&o) > 0}
	if p.PriceLimit.Known {
		s.UpTo = min(s.UpTo, p.PriceLimit.V)
	}
	return s, true
}

// advised settles the advice, with its reasons.
func advised(in Input, a answer.Appraisal, find show.Find) answer.Appraisal {
	if len(a.Serves) == 0 {
		a.Advice = answer.LeaveIt
		a.Why = []why.Reason{ruleNobody.Because(why.No)}
		return a
	}
	first := a.Serves[0]
	a.Second = len(a.Serves) > 1
	a.Work = first.Option.Minutes()
	a.UpTo = min(first.UpTo, max(in.Money, 0))
	p := in.House.Piece(first.Piece)
	a.Why = append(a.Why, ruleServes.Because(why.Work, why.Of("piece", p.Name), why.Of("minutes", a.Work), why.Of("instead", string(first.Instead))))
	if p.PriceLimit.Known && p.PriceLimit.V == first.UpTo {
		a.Why = append(a.Why, ruleLimit.Because(why.Work, why.Of("piece", p.Name), why.Of("price", p.PriceLimit.V)))
	} else {
		a.Why = append(a.Why, ruleUpTo.Because(why.Work, why.Of("price", first.UpTo)))
	}
	if a.Wanted > 0 {
		a.Why = append(a.Why, rulePurse.Because(why.Work, why.Of("price", in.Money), why.Of("n", a.Wanted), why.Of("each", in.Money/units.Money(a.Wanted))))
	}
	a.Advice = answer.LeaveIt
	switch {
	case !find.Price.Known:
		a.Why = append(a.Why, ruleNoPrice.Because(why.Unknown, why.Of("price", a.UpTo)))
		if a.UpTo > 0 {
			a.Advice = answer.BuyIt
		}
	case find.Price.V <= a.UpTo:
		a.Advice = answer.BuyIt
	}
	return a
}
