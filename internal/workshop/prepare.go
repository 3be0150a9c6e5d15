package workshop

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"hemwright/internal/plan/caution"
	"hemwright/internal/plan/cutting"
	"hemwright/internal/plan/fittings"
	"hemwright/internal/plan/money"
	"hemwright/internal/plan/needs"
	"hemwright/internal/plan/running"
	"hemwright/internal/plan/sourcing"
	"hemwright/internal/plan/today"
	"hemwright/internal/plan/workroom"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Prepare works everything out for a house as it is known on a day: the whole
// story in order. before, if not nil, is the last answer to start from. step
// is told what is being done. Every answer is checked before it is returned.
func Prepare(ctx context.Context, h show.House, day units.Date, before *Prepared, b solve.Budget, step func(string)) (*Prepared, error) {
	p := &Prepared{Day: day}
	p.know(h)
	house := &p.House
	step("who is on when, and every change")
	p.Timelines = running.Timelines(house)
	step("what is needed in all")
	p.Needs = needs.List(house)
	step("how much cloth each piece would take")
	if before != nil {
		p.memory = before.memory
	}
	if p.memory == nil {
		p.memory = new(memory)
	}
	p.Estimates = p.memory.parts.Estimate(house)
	step("where every piece comes from")
	if err := p.settle(ctx, before, b); err != nil {
		return nil, err
	}
	step("who is fitted when")
	p.Fittings = fittings.Arrange(house, day, p.Plan)
	step("money, cautions, and what to do tonight")
	p.Money = money.Report(house, p.Plan)
	p.Receipts = money.Slips(house)
	p.Errands = sourcing.Errands(house, p.Plan)
	p.Cautions = caution.List(house, p.Plan)
	p.Today = today.Look(house, today.Known{Day: day, Timelines: p.Timelines, Plan: p.Plan, Cutting: p.Cutting,
		Workroom: p.Workroom, Fittings: p.Fittings, Money: p.Money, Cautions: p.Cautions})
	return p, p.check()
}

// settle shares out, lays and schedules, and where the cloth or the evenings
// do not hold what was shared out, shares out again with less of them: at
// most three rounds.
func (p *Prepared) settle(ctx context.Context, before *Prepared, b solve.Budget) error {
	in := sourcing.Input{House: &p.House, Estimates: p.Estimates, Money: money.Limit(&p.House), Hours: hours(&p.House, p.Day), Barred: map[show.PieceID][]show.ClothID{}, Holds: map[show.ClothID]units.Length{}, Memory: &p.memory.plan}
	if before != nil {
		in.Previous = &before.Plan
		p.Cutting, in.Deed = before.Cutting, before.Day == p.Day
		if before.Day == p.Day && reflect.DeepEqual(before.House.Cloths, p.House.Cloths) && sameTakes(before.Estimates, p.Estimates) { // what found no place today finds none now
			maps.Copy(in.Barred, before.Barred)
			maps.Copy(in.Holds, before.Holds)
		}
	}
	for p.Rounds = 1; ; p.Rounds++ {
		var err error
		if p.Plan, err = sourcing.Share(ctx, in, b); err != nil {
			return err
		}
		if p.Cutting, err = cutting.Cut(ctx, &p.House, p.Plan, p.Cutting, solve.Budget{Effort: solve.Quick, Seed: b.Seed}); err != nil {
			return err
		}
		p.Workroom = workroom.Arrange(&p.House, p.Day, p.Plan)
		p.Hours, p.Barred, p.Holds = in.Hours, in.Barred, in.Holds
		if p.Rounds == 3 || !p.tighten(&in) {
			return nil
		}
		in.Previous = &p.Plan
	}
}

// sameTakes says whether every piece takes the same of every cloth.
func sameTakes(a, b []answer.Estimate) bool {
	return slices.EqualFunc(a, b, func(x, y answer.Estimate) bool { return x.Piece == y.Piece && slices.Equal(x.Cloths, y.Cloths) })
}

// tighten bars what found no place from its cloth, gives that cloth no more than
// what did find one, and takes from the hours what was not there; false where
// everything held.
func (p *Prepared) tighten(in *sourcing.Input) bool {
	again := false
	for _, lay := range p.Cutting.Lays {
		for _, m := range lay.Missing {
			again = true
			if !slices.Contains(in.Barred[m.Piece], lay.Cloth) {
				in.Barred[m.Piece] = append(slices.Clone(in.Barred[m.Piece]), lay.Cloth)
			}
		}
		if len(lay.Missing) > 0 {
			in.Holds[lay.Cloth] = p.found(lay)
		}
	}
	var late units.Minutes
	for _, l := range p.Workroom.Late {
		late += l.Left
	}
	if late > 0 {
		again = true
		cut := append([]sourcing.HoursFor{}, in.Hours...)
		for i := range cut {
			cut[i].Minutes = max(0, min(cut[i].Minutes, p.Workroom.Wanted)-late)
		}
		in.Hours = cut[:len(cut):len(cut)]
	}
	return again
}

// found is how much of a cloth the pieces take, by rule of thumb, that found a
// place on it whole.
func (p *Prepared) found(lay answer.Lay) units.Length {
	var sum units.Length
	for _, c := range p.Plan.Choices {
		if c.Cloth == lay.Cloth && !slices.ContainsFunc(lay.Missing, func(m answer.Laid) bool { return m.Piece == c.Piece }) {
			sum += c.ClothLength
		}
	}
	return sum
}

// hours groups the offers by what they can do: work for a skill can only be
// given to those who have it, and all of it to all together.
func hours(h *show.House, day units.Date) []sourcing.HoursFor {
	groups := []sourcing.HoursFor{
		{Name: "tailor", Skills: []answer.Skill{answer.Tailor}},
		{Name: "maker", Skills: []answer.Skill{answer.Tailor, answer.Maker}},
		{Name: "trim", Skills: []answer.Skill{answer.Trim}},
		{Name: "all", Skills: []answer.Skill{answer.Tailor, answer.Maker, answer.Straight, answer.Beginner, answer.Trim}},
	}
	for _, o := range workroom.Offers(h, day) {
		for i, g := range groups {
			if shares(o.Skills, g.Skills) {
				groups[i].Minutes += o.Lead
			}
		}
	}
	return groups
}

func shares(a, b []answer.Skill) bool {
	return slices.ContainsFunc(a, func(s answer.Skill) bool { return slices.Contains(b, s) })
}

// check has every answer looked at by code that shares nothing with the one
// that made it.
func (p *Prepared) check() error {
	h := &p.House
	var bad []why.Reason
	for _, t := range p.Timelines {
		bad = append(bad, running.Check(h, t)...)
	}
	bad = append(bad, needs.Check(h, p.Needs)...)
	bad = append(bad, sourcing.Check(p.input(), p.Plan)...)
	bad = append(bad, cutting.Check(h, p.Cutting)...)
	bad = append(bad, workroom.Check(h, p.Day, p.Plan, p.Workroom)...)
	bad = append(bad, fittings.Check(h, p.Day, p.Plan, p.Fittings)...)
	bad = append(bad, money.Check(h, p.Plan, p.Money)...)
	bad = append(bad, caution.Check(h, p.Cautions)...)
	if len(bad) == 0 {
		return nil
	}
	return fmt.Errorf("%d answers do not hold, the first: %s", len(bad), bad[0].Sentence(units.Metric))
}
