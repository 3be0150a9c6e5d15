package running

import (
	"slices"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

var ruleTravel = why.Declare("running.travel", "{piece} comes off {off} in {from} and is wanted {on} in {to}: {have} to carry it across.", why.Exact)

// travels finds the pieces that come off on one side and go on next on the
// other. A change is done on the side of the exit; where a side is not known
// nothing is said.
func travels(changes []answer.Change) []answer.Travel {
	dropped := map[show.PieceID]int{} // the change it came off in last
	var out []answer.Travel
	for i := range changes { // by the time of leaving
		c := &changes[i]
		for _, id := range c.On {
			k, there := dropped[id]
			if !there || !known(changes[k].FromSide) || !known(c.FromSide) || changes[k].FromSide == c.FromSide {
				continue
			}
			d := &changes[k]
			have := int(max(0, c.Leaves-d.Enters) / time.Second)
			out = append(out, answer.Travel{Piece: id, Off: k, On: i, Dropped: d.Enters, Wanted: c.Leaves,
				Why: ruleTravel.Because(why.Work, why.Of("piece", string(id)), why.Of("off", sideWord(d.FromSide)), why.Of("from", string(d.ToScene)),
					why.Of("on", sideWord(c.FromSide)), why.Of("to", string(c.ToScene)), why.Seconds("have", have))})
		}
		for _, id := range c.Off {
			dropped[id] = i
		}
	}
	slices.SortStableFunc(out, func(a, b answer.Travel) int { return int((a.Wanted - b.Wanted) / time.Second) })
	return out
}

func sideWord(s show.Side) string {
	if s == "L" {
		return "left"
	}
	return "right"
}
