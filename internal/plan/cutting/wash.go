package cutting

import (
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// shrinks is how much of its length a cloth that is not washed yet is taken to
// lose, in thousandths: unbleached cotton 100 (tests of light sheeting found 83
// to 102), other plant fibres and wool 50, what is made of oil 10. House
// figures beside; the tape after the wash decides.
func shrinks(c *show.Cloth) int64 {
	if c.Washed != "no" {
		return 0
	}
	is := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(strings.ToLower(c.Fibre), w) })
	}
	switch {
	case is("cotton") && (strings.Contains(c.Name, "calico") || c.Colour == "unbleached"):
		return 100
	case is("cotton", "linen", "viscose", "wool", "hemp"):
		return 50
	}
	return 10
}

// asWashed is a cloth as it will lie after its first wash: shorter, its outline
// and flaws with it.
func asWashed(c show.Cloth) show.Cloth {
	s := shrinks(&c)
	if s == 0 {
		return c
	}
	less := func(l units.Length) units.Length { return l.Times(1000-s, 1000) }
	c.Length = less(c.Length)
	c.Outline = slices.Clone(c.Outline)
	for i := range c.Outline {
		c.Outline[i][1] = less(c.Outline[i][1])
	}
	c.Flaws = slices.Clone(c.Flaws)
	for i := range c.Flaws {
		c.Flaws[i].Y, c.Flaws[i].H = less(c.Flaws[i].Y), less(c.Flaws[i].H)
	}
	if c.Diameter.Known {
		c.Diameter = units.Some(less(c.Diameter.V))
	}
	return c
}

// washed is the house with every cloth as it will lie when it is cut.
func washed(h *show.House) *show.House {
	out := *h
	out.Cloths = make([]show.Cloth, len(h.Cloths))
	for i := range h.Cloths {
		out.Cloths[i] = asWashed(h.Cloths[i])
	}
	return &out
}
