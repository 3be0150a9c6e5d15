package remake

import (
	"fmt"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Cloths are the parts of a garment as cloths of the shelf would be, each copy
// by itself, in the order of the harvest: X across the grain and Y along it
// from what was up, as large as the part is at least. Their codes are the
// garment's with a number, S011-1, and Source names the garment they come
// from. Parts without a shape, and those of a usual size nobody has measured,
// are not among them. Not washed: they are pressed and measured first.
func Cloths(g *show.Garment, h answer.Harvest) []show.Cloth {
	var out []show.Cloth
	for _, p := range h.Parts {
		if !p.Known || p.Guess {
			continue
		}
		box := p.Least.Box()
		outline := make([][2]units.Length, len(p.Least))
		for i, q := range p.Least {
			outline[i] = [2]units.Length{q.Y - box.Min.Y, q.X - box.Min.X}
		}
		for n := range p.Count {
			c := show.Cloth{ID: show.ClothID(fmt.Sprintf("%s-%d", g.ID, len(out)+1)), Name: fmt.Sprintf("%s, %d of %d", p.Name, n+1, p.Count),
				Fibre: g.Fibre, Colour: g.Colour, Width: box.Height(), Length: box.Width(), Shape: "irregular", Outline: outline,
				OneWay: h.OneWay, RightSide: "one", Stretch: g.Stretch, Washed: "no", Source: "from " + string(g.ID), Note: p.Label}
			if p.Pair {
				c.Note += " · keep the pair together"
			}
			if p.Bias {
				c.Note += " · the grain runs everywhere"
			}
			out = append(out, c)
		}
	}
	return out
}
