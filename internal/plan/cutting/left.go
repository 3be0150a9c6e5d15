package cutting

import (
	"context"
	"fmt"
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// leastLeft is the radius of the largest circle a remnant must hold to be worth
// its place on the shelf (house).
const leastLeft = 6 * units.Centimetre

// CutOff cuts a cloth straight across below the last part of its lay: the cloth
// keeps what holds the lay, and every piece below that is worth keeping becomes
// a cloth of its own, with its true outline and the flaws on it. Nothing comes
// off where nothing is laid, or nothing worth keeping is left.
func CutOff(c show.Cloth, lay answer.Lay, taken func(show.ClothID) bool) (rest show.Cloth, off []show.Cloth) {
	edge := geom.Fill(asRegion(&c))
	across := lay.Used + Gap
	if lay.Used <= 0 || across >= edge.Box().Max.Y {
		return c, nil
	}
	big := geom.Region{geom.Rect(edge.Box().Max.X+units.Metre, edge.Box().Max.Y+units.Metre).Move(geom.Point{X: -units.Metre / 2, Y: across})}
	n := 1
	for _, o := range edge.Intersect(big) {
		if o.Twice() <= 0 {
			continue // a hole
		}
		if _, r := (geom.Region{o}).Pole(units.Millimetre); r < leastLeft {
			continue
		}
		id := show.ClothID("")
		for ; id == "" || taken(id); n++ {
			id = show.ClothID(fmt.Sprintf("%s-%d", c.ID, n))
		}
		off = append(off, remnant(&c, o, id))
	}
	if len(off) == 0 {
		return c, nil
	}
	return keeping(c, edge.Minus(big)), off
}

// Longer lays what lies on a cloth again, from its lay, with more effort; the
// lay it gives is no longer than the one before.
func Longer(ctx context.Context, h *show.House, cut answer.Cutting, id show.ClothID, b solve.Budget) (answer.Lay, error) {
	h = washed(h)
	c := h.Cloth(id)
	if c == nil {
		return answer.Lay{}, why.NotFound("cloth", string(id))
	}
	was := answer.Lay{Cloth: id}
	on := map[show.PieceID]bool{}
	for _, l := range cut.Lays {
		if l.Cloth == id {
			was = l
			for _, q := range l.Placed {
				on[q.Piece] = true
			}
			for _, q := range l.Missing {
				on[q.Piece] = true
			}
		}
	}
	var drafts []answer.Draft
	for _, d := range cut.Drafts {
		if on[d.Piece] {
			drafts = append(drafts, d)
		}
	}
	fixed, _ := putDown(c, drafts, h.HandLaid)
	lay, err := layOn(ctx, c, drafts, fixed, b, true)
	if err != nil || len(lay.Missing) > len(was.Missing) || len(lay.Missing) == len(was.Missing) && lay.Used >= was.Used {
		return was, err
	}
	return lay, nil
}

func asRegion(c *show.Cloth) geom.Outline { return Outline(c).CounterClockwise() }

// remnant is a cloth cut from another along an outline.
func remnant(c *show.Cloth, o geom.Outline, id show.ClothID) show.Cloth {
	box := o.Box()
	r := *c
	r.ID, r.Name, r.Source = id, "rest of "+c.Name, "left of "+string(c.ID)
	r.Cost = units.Maybe[units.Money]{}
	shaped(&r, o)
	r.Flaws = nil
	for _, f := range c.Flaws {
		if g, ok := within(f, box); ok {
			g.X, g.Y = g.X-box.Min.X, g.Y-box.Min.Y
			r.Flaws = append(r.Flaws, g)
		}
	}
	return r
}

// keeping is the cloth that keeps the lay.
func keeping(c show.Cloth, r geom.Region) show.Cloth {
	if len(r) != 1 {
		return c // it falls apart: nobody cuts it so
	}
	box := r.Box()
	if box.Min != (geom.Point{}) {
		return c
	}
	var flaws []show.Flaw
	for _, f := range c.Flaws {
		if g, ok := within(f, box); ok {
			flaws = append(flaws, g)
		}
	}
	shaped(&c, r[0])
	c.Flaws = flaws
	return c
}

// shaped gives a cloth an outline, from its own top left: plain where it is a
// rectangle.
func shaped(c *show.Cloth, o geom.Outline) {
	box := o.Box()
	c.Width, c.Length, c.Diameter, c.Outline, c.Shape = box.Width(), box.Height(), units.Maybe[units.Length]{}, nil, "rectangle"
	if o.Area() == box.Outline().Area() {
		return
	}
	c.Shape = "irregular"
	for _, q := range geom.Shrink(o, 5*100*units.Millimetre.By(units.Millimetre)) {
		c.Outline = append(c.Outline, [2]units.Length{q.X - box.Min.X, q.Y - box.Min.Y})
	}
	slices.Reverse(c.Outline)
}

// within is the part of a flaw inside a box.
func within(f show.Flaw, b geom.Box) (show.Flaw, bool) {
	x, y := max(f.X, b.Min.X), max(f.Y, b.Min.Y)
	w, h := min(f.X+f.W, b.Max.X)-x, min(f.Y+f.H, b.Max.Y)-y
	return show.Flaw{X: x, Y: y, W: w, H: h}, w > 0 && h > 0
}
