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

// amounts adds up money, cloth and hours. What pins take stands, also beyond
// what there is.
func (c *checker) amounts(plan answer.Plan) {
	all, pins := totals{}, totals{}
	for _, ch := range plan.Choices {
		all.add(ch.Option)
		if ch.Held != "" {
			ch.Money = 0 // what is held stands as well, but never spends what is not there
		}
		if ch.Pinned || ch.Held != "" {
			pins.add(ch.Option)
		}
	}
	if all.money > max(0, c.in.Money, pins.money) {
		c.wrong("it spends %s of %s", all.money, c.in.Money)
	}
	for _, k := range c.in.House.Cloths {
		if all.cloth[k.ID] > max(k.Length, pins.cloth[k.ID]) {
			c.wrong("%s is cut for more than it is long", k.ID)
		}
	}
	for _, h := range c.in.Hours {
		sum, pinned := all.minutes(h.Skills), pins.minutes(h.Skills)
		if sum+sum/4 > max(h.Minutes, pinned+pinned/4)+units.Minutes(len(plan.Choices)) { // each choice may round up by one
			c.wrong("%s: %s with redoing, of %s", h.Name, sum+sum/4, h.Minutes)
		}
	}
}

// totals is what choices take together.
type totals struct {
	money units.Money
	cloth map[show.ClothID]units.Length
	skill map[answer.Skill]units.Minutes
}

func (t *totals) add(o answer.Option) {
	if t.cloth == nil {
		t.cloth, t.skill = map[show.ClothID]units.Length{}, map[answer.Skill]units.Minutes{}
	}
	t.money += o.Money
	t.cloth[o.Cloth] += o.ClothLength
	for _, w := range o.Work {
		t.skill[w.Skill] += w.Minutes
	}
}

func (t *totals) minutes(skills []answer.Skill) units.Minutes {
	var sum units.Minutes
	for _, s := range skills {
		sum += t.skill[s]
	}
	return sum
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
