package trace

import (
	"fmt"
	"math"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Walked is an outline measured with a tape. The zero value has no corner.
type Walked struct {
	Outline geom.Outline // from the upper left of its box, Y down, whole millimetres
	Apart   units.Length // how far the numbers disagree: the closing error, or that of the check
}

// loose is how far the numbers of a walk may disagree: so many hundredths of
// the way round. A tape laid on cloth does better; more is a slip of the pen.
const loose = 2

// Diagonals is the outline of a cloth by its sides in order, the first from
// corner 1 to corner 2, and the ways from corner 1 across to corners 3, 4 and
// so on: triangles, so no angle need be measured. Corner 1 has to see all the
// others across cloth. Side 1 lies along the top. check is the way from
// corner 2 to the last one, or 0; the outline does not follow it, it only says
// how far off it is. More than 2 in 100 off is refused.
func Diagonals(sides, across []units.Length, check units.Length) (Walked, error) {
	n := len(sides)
	switch {
	case n < 3:
		return Walked{}, why.Bad("sides", fmt.Sprintf("A cloth has three sides at least; here are %d.", n), "Write them in the order one walks, with spaces or semicolons between.")
	case len(across) != n-3:
		return Walked{}, why.Bad("across", fmt.Sprintf("With %d sides the ways across from corner 1 are %d; here are %d.", n, n-3, len(across)), "Measure from corner 1 to each corner that is not its neighbour.")
	}
	if err := measured(sides, "sides"); err != nil {
		return Walked{}, err
	}
	if err := measured(across, "across"); err != nil {
		return Walked{}, err
	}
	spokes := append(append([]units.Length{sides[0]}, across...), sides[n-1])
	at := []Spot{{0, 0}, {float64(sides[0]), 0}}
	angle := 0.0
	for i := 1; i < len(spokes); i++ {
		a, b, c := float64(spokes[i-1]), float64(spokes[i]), float64(sides[i])
		cos := (a*a + b*b - c*c) / (2 * a * b)
		if cos <= -1 || cos >= 1 {
			return Walked{}, why.Bad("across", fmt.Sprintf("There is no triangle of corners 1, %d and %d: its sides would be %s, %s and %s cm.", i+1, i+2, cm(a), cm(b), cm(c)), "Each is shorter than the two others together. Measure these three again.")
		}
		angle += math.Acos(cos)
		at = append(at, Spot{b * math.Cos(angle), b * math.Sin(angle)})
	}
	w, err := placed(at)
	if err != nil || check == 0 {
		return w, err
	}
	off := math.Abs(at[1].apart(at[n-1]) - float64(check))
	w.Apart = units.Length(math.Round(off))
	if off*100 > loose*float64(check) {
		return Walked{}, why.Bad("check", fmt.Sprintf("By the other numbers it is %s cm from corner 2 to the last one, not %s.", cm(at[1].apart(at[n-1])), cm(float64(check))), "One of the numbers is a slip; measure again.")
	}
	return w, nil
}

// Turns is the outline of a cloth by its sides and the turns between them, in
// degrees to the right, negative to the left; the turn after the last side may
// be left out. What is missing at the end is spread along the sides by their
// lengths (the compass rule of surveyors, N. Bowditch 1808; from memory); more
// than 2 in 100 of the way round is refused.
func Turns(sides []units.Length, turns []float64) (Walked, error) {
	n := len(sides)
	if n < 3 {
		return Walked{}, why.Bad("sides", fmt.Sprintf("A cloth has three sides at least; here are %d.", n), "Write them in the order one walks, with spaces or semicolons between.")
	}
	if len(turns) != n && len(turns) != n-1 {
		return Walked{}, why.Bad("turns", fmt.Sprintf("Between %d sides are %d turns; here are %d.", n, n-1, len(turns)), "Write one turn after each side but the last: 90 for a square corner to the right.")
	}
	if err := measured(sides, "sides"); err != nil {
		return Walked{}, err
	}
	at, p, angle, round := []Spot{}, Spot{}, 0.0, 0.0
	for i, s := range sides {
		at = append(at, p)
		p = p.plus(Spot{math.Cos(angle), math.Sin(angle)}.by(float64(s)))
		round += float64(s)
		if i < len(turns) {
			if math.Abs(turns[i]) >= 180 || math.IsNaN(turns[i]) {
				return Walked{}, why.Bad("turns", fmt.Sprintf("Nobody turns by %g degrees at a corner.", turns[i]), "Turns lie between -180 and 180; straight on is 0.")
			}
			angle += turns[i] * math.Pi / 180
		}
	}
	off := p.long()
	if off*100 > loose*round {
		return Walked{}, why.Bad("turns", fmt.Sprintf("The walk ends %s cm from where it began, of %s cm round.", cm(off), cm(round)), "One of the numbers is a slip, or a turn to the left wants a minus.")
	}
	gone := 0.0
	for i := range at {
		at[i] = at[i].minus(p.by(gone / round))
		gone += float64(sides[i])
	}
	w, err := placed(at)
	w.Apart = units.Length(math.Round(off))
	return w, err
}

func measured(s []units.Length, field string) error {
	for i, v := range s {
		if v <= 0 || v > 100_000_000 {
			return why.Bad(field, fmt.Sprintf("Number %d is %s cm.", i+1, cm(float64(v))), "Each lies between 0 and 100 m.")
		}
	}
	return nil
}

// placed moves corners into the corner of their box.
func placed(at []Spot) (Walked, error) {
	least := at[0]
	for _, p := range at {
		least = Spot{min(least.X, p.X), min(least.Y, p.Y)}
	}
	var o geom.Outline
	for _, p := range at {
		q := p.minus(least)
		o = append(o, geom.Point{X: units.Length(math.Round(q.X/1000)) * 1000, Y: units.Length(math.Round(q.Y/1000)) * 1000})
	}
	if what := o.Fault(); what != "" {
		return Walked{}, why.Bad("sides", "The outline "+what+".", "Walk round the cloth corner by corner, always the same way.")
	}
	return Walked{Outline: o}, nil
}

func cm(um float64) string { return fmt.Sprintf("%.1f", um/10_000) }
