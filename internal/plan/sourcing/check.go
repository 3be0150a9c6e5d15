package sourcing

import (
	"fmt"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Check adds the whole plan up again from its choices and the house's rows,
// knowing nothing of how it was found: every piece once, money and hours
// inside their limits, no cloth used twice over, every garment in one place
// at a time, nothing borrowed cut, pins respected.
func Check(in Input, plan answer.Plan) []why.Reason {
	c := checker{in: in}
	c.everyPieceOnce(plan)
	c.amounts(plan)
	c.garments(plan)
	c.cutUp(plan)
	return c.bad
}

type checker struct {
	in  Input
	bad []why.Reason
}

func (c *checker) wrong(format string, args ...any) {
	c.bad = append(c.bad, ruleWrong.Because(why.No, why.Of("what", fmt.Sprintf(format, args...))))
}

func (c *checker) everyPieceOnce(plan answer.Plan) {
	times := map[show.PieceID]int{}
	for _, ch := range plan.Choices {
		times[ch.Piece]++
		if pin := c.in.House.PinOf(ch.Piece); pin != nil && pin.Source != string(ch.Source) {
			c.wrong("%s is pinned to %s and got %s", ch.Piece, pin.Source, ch.Source)
		}
	}
	for _, p := range c.in.House.Pieces {
		if times[p.ID] != 1 {
			c.wrong("%s has %d sources", p.ID, times[p.ID])
		}
	}
}

func (c *checker) amounts(plan answer.Plan) {
	var money units.Money
	cloth := map[show.ClothID]units.Length{}
	bySkill := map[answer.Skill]units.Minutes{}
	for _, ch := range plan.Choices {
		money += ch.Money
		cloth[ch.Cloth] += ch.ClothLength
		for _, w := range ch.Work {
			bySkill[w.Skill] += w.Minutes
		}
	}
	if money > max(0, c.in.Money) {
		c.wrong("it spends %s of %s", money, c.in.Money)
	}
	for _, k := range c.in.House.Cloths {
		if cloth[k.ID] > k.Length {
			c.wrong("%s is cut for more than it is long", k.ID)
		}
	}
	for _, h := range c.in.Hours {
		var sum units.Minutes
		for _, s := range h.Skills {
			sum += bySkill[s]
		}
		if sum+sum/4 > h.Minutes+units.Minutes(len(plan.Choices)) { // each choice may round up by one
			c.wrong("%s: %s with redoing, of %s", h.Name, sum+sum/4, h.Minutes)
		}
	}
}

func (c *checker) garments(plan answer.Plan) {
	h := c.in.House
	scenesOf := func(id show.PieceID) map[int]bool {
		out := map[int]bool{}
		for _, l := range h.Piece(id).Looks {
			for _, a := range h.Appearances {
				for k, s := range h.Scenes {
					if a.Look == l && a.Scene == s.ID {
						out[k] = true
					}
				}
			}
		}
		return out
	}
	users := map[show.GarmentID][]answer.Choice{}
	for _, ch := range plan.Choices {
		if ch.Garment == "" {
			continue
		}
		g := h.Garment(ch.Garment)
		if g == nil {
			c.wrong("%s comes from %s, which does not exist", ch.Piece, ch.Garment)
			continue
		}
		if ch.Cuts && !g.MayCut && !ch.Pinned {
			c.wrong("%s cuts %s, which may not be cut", ch.Piece, ch.Garment)
		}
		if len(ch.Apart) > 0 { // cutUp looks at those
			continue
		}
		for _, other := range users[ch.Garment] {
			if len(ch.Work) > 0 || len(other.Work) > 0 {
				c.wrong("%s is worked on for %s and for %s", ch.Garment, other.Piece, ch.Piece)
			}
			theirs := scenesOf(other.Piece)
			for k := range scenesOf(ch.Piece) {
				if theirs[k] || theirs[k+1] || theirs[k-1] {
					c.wrong("%s is worn for %s and for %s without time to pass it on", ch.Garment, other.Piece, ch.Piece)
					break
				}
			}
		}
		users[ch.Garment] = append(users[ch.Garment], ch)
	}
}
