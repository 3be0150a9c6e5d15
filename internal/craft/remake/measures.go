package remake

import (
	"slices"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// reckoned is a reason why a measure is not as it was taken.
type reckoned struct {
	measure string
	why.Reason
}

// measuresOf are the measures of a garment by the names the table has for
// them, with reasons for those that are reckoned from others. What is not
// known is not there.
func measuresOf(g *show.Garment) (map[string]units.Span, []reckoned) {
	m := map[string]units.Span{"chest": g.Chest, "waist": g.Waist, "hip": g.Hip, "hem": g.HemRound, "length": g.Length, "sleeve": g.Sleeve, "skirt": g.Length}
	var rs []reckoned
	if g.Waist.Known { // the Hi of a waist is let out or stretched: the panels are no wider
		m["waist"] = units.Exactly(g.Waist.Lo)
	} else if w := waistFrom(g); w.Known {
		m["waist"] = w
		rs = append(rs, reckoned{"waist", ruleGirth.Because(why.Likely, why.Of("waist", w))})
	}
	switch g.LengthFrom {
	case "waist":
	case "nape":
		above := aboveWaist(g)
		m["skirt"] = g.Length.Minus(above)
		rs = append(rs, reckoned{"skirt", ruleWaist.Because(why.Likely, why.Of("above", above))})
	default:
		m["skirt"] = units.Span{}
	}
	return m, rs
}

// waistFrom reckons a waist as 70 to 100 in 100 of the hip, or of the chest;
// without both it is one of those that hang on rails, 56 to 90 cm (house
// estimates).
func waistFrom(g *show.Garment) units.Span {
	for _, girth := range []units.Span{g.Hip, g.Chest} {
		if girth.Known {
			return units.Between(girth.Lo.Times(70, 100), girth.Hi)
		}
	}
	return units.Between(units.Cm(56), units.Cm(90))
}

// aboveWaist is what lies between nape and waist: 34 to 44 cm in a grown
// garment, and 38 to 47 in 100 of the chest in a smaller one (house estimate).
func aboveWaist(g *show.Garment) units.Span {
	lo, hi := units.Cm(34), units.Cm(44)
	if g.Chest.Known {
		lo, hi = min(lo, g.Chest.Lo.Times(38, 100)), min(hi, g.Chest.Hi.Times(47, 100))
	}
	return units.Between(lo, hi)
}

// closes leaves out zips and buttons where the garment is known to close by
// something else, and names what it closes by.
func closes(ns []answer.GivenNotion, closure string) []answer.GivenNotion {
	if closure == "" {
		return ns
	}
	var out []answer.GivenNotion
	for _, n := range ns {
		by := ""
		for _, w := range []string{"zip", "elastic"} {
			if strings.HasPrefix(n.Name, w) {
				by = w
			}
		}
		if by == "" || strings.Contains(closure, by) || by == "zip" && strings.Contains(closure, "fly") {
			out = append(out, n)
		}
	}
	for _, w := range []string{"button", "hook", "lacing", "elastic", "zip", "snap"} {
		has := slices.ContainsFunc(out, func(n answer.GivenNotion) bool { return strings.Contains(n.Name, w) })
		if strings.Contains(closure, w) && !has {
			out = append(out, answer.GivenNotion{Name: w}) // how many is not known
		}
	}
	return out
}

// oneWay says whether a cloth has a nap or a shine that turns with the
// direction.
func oneWay(fibre, name string) bool {
	for _, w := range []string{"velvet", "satin", "corduroy", "brocade"} {
		if strings.Contains(fibre, w) || strings.Contains(name, w) {
			return true
		}
	}
	return false
}

// ofFibre is what to look out for in a cloth, common practice.
func ofFibre(fibre string) []string {
	var out []string
	for _, f := range []struct{ word, says string }{
		{"coated", "Coated: every pin hole stays. Pin inside the old seams only; no iron on it."},
		{"polyester", "Polyester melts under a hot iron: try it on a seam."},
		{"nylon", "Nylon melts under a hot iron: try it on a seam."},
		{"wool", "Wool may shrink under steam, and itches: look for moth before it goes on the shelf."},
		{"viscose", "Viscose shrinks 3 to 7 in 100 and is weak when wet: wash it before it is cut."},
		{"net", "Net scratches: line it where it lies on skin."},
	} {
		if strings.Contains(fibre, f.word) {
			out = append(out, f.says)
		}
	}
	return out
}
