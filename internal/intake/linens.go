package intake

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// linen is household linen by its size as sold when new. from: charity and
// retail size tables; where marked so, memory.
type linen struct {
	name          string
	width, length units.Length
	round         bool
	mark          string
	words         []string // all of which name it where a note gives no size
}

//go:embed linens.txt
var linensText string

var linens = readLinens(linensText)

// readLinens reads the table; a broken one is a broken program and panics.
func readLinens(text string) []linen {
	var out []linen
	for _, r := range rows.Read(text) {
		part := r.Cells
		l := linen{name: part[0]}
		var w, h float64
		size := part[1]
		if _, err := fmt.Sscanf(size, "round %g", &w); err == nil {
			l.round, h = true, w
		} else if _, err := fmt.Sscanf(size, "%g x %g", &w, &h); err != nil {
			panic(fmt.Sprintf("linens.txt: line %d: %v", r.Line, err))
		}
		l.width, l.length = units.Cm(w), units.Cm(h)
		l.mark = part[2]
		for _, w := range strings.Split(part[3], ",") {
			if w = strings.TrimSpace(w); w != "" {
				l.words = append(l.words, w)
			}
		}
		out = append(out, l)
	}
	return out
}

// linenOf is which linen a note names, -1 for none.
func linenOf(low string) int {
	return slices.IndexFunc(linens, func(l linen) bool {
		return len(l.words) > 0 && !slices.ContainsFunc(l.words, func(w string) bool { return !strings.Contains(low, w) })
	})
}

// Sold names the household linens whose size as sold is known.
func Sold() []string {
	var out []string
	for _, l := range linens {
		out = append(out, l.name)
	}
	return out
}

// AsSold gives a cloth the width and the length, or the diameter, of linen as
// it is sold; they stay in pencil until it is measured.
func AsSold(h *show.House, c *show.Cloth, name string, day units.Date) error {
	i := slices.IndexFunc(linens, func(l linen) bool { return l.name == name })
	if i < 0 {
		return why.Bad("sold", fmt.Sprintf("%q is not in the list of linens.", name), "Choose one of the list, or write the width and the length.")
	}
	l := linens[i]
	c.Shape, c.Width, c.Length, c.Outline = "rectangle", l.width, l.length, nil
	c.Diameter = units.Maybe[units.Length]{}
	if l.round {
		c.Shape, c.Diameter = "round", units.Some(l.width)
	}
	h.Origins = slices.DeleteFunc(slices.Clone(h.Origins), func(o show.Origin) bool {
		return o.Kind == "cloth" && o.Code == string(c.ID) && slices.Contains([]string{"width", "length", "outline"}, o.Field)
	})
	for _, field := range []string{"width", "length"} {
		h.Origins = append(h.Origins, show.Origin{Kind: "cloth", Code: string(c.ID), Field: field, How: show.Assumed, Rule: "as sold new (" + l.mark + "); measure it", Day: day})
	}
	return nil
}
