// Package pattern drafts simple garments from measures: flat outlines with
// seams and hems inside, grain running along y. Drafts follow published
// teaching texts where the comment names one, and house practice otherwise.
package pattern

import (
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Measures is what a draft needs, over everything worn underneath. Zero means
// not known. Long is the finished length, from the waist or the nape as the
// draft counts it, hem not included.
type Measures struct {
	Chest, Waist, Hip, Neck, NapeToWaist, WaistToKnee, WaistToFloor units.Length
	InsideLeg, Arm, Across, UpperArm, Head                          units.Length
	Long                                                            units.Length
	Extra                                                           units.Length // ease wanted beyond the draft's own, round
}

const (
	mm = units.Millimetre
	cm = units.Centimetre
)

var (
	schoolText = why.Basis{Key: "drafting", Kind: why.Handbook, Title: "school sewing and drafting texts, 1906 to 1924, for block, sleeve, T-cut and band"}

	ruleDrafted = why.Declare("pattern.drafted", "Drafted as {name} from measures; seams of {seam} and the hem are inside.", schoolText)
	ruleMissing = why.Declare("pattern.missing", "The {name} needs {what}, which is not known.", why.Common)
	ruleNone    = why.Declare("pattern.none", "There is no draft for a {kind}; it is found, not drafted.", why.Common)
)

// draft is one kind of pattern: what it needs, and how it is drawn on cloth
// of a width.
type draft struct {
	name  string
	needs func(m Measures) string // the first measure missing, or ""
	draw  func(s *Seams, m Measures, width units.Length) []answer.DraftPart
}

// drafts by kind, see Kind.
var drafts = map[string]draft{
	"gathered skirt": {"gathered skirt", needWaistLong, gatheredSkirt},
	"wrap skirt":     {"wrap skirt", needWaistLong, wrapSkirt},
	"petticoat":      {"gathered petticoat", needWaistLong, petticoat},
	"roll":           {"hip roll", needWaist, hipRoll},
	"roll petticoat": {"hip roll on a petticoat", needWaistLong, rollPetticoat},
	"cloak":          {"half-circle cloak", needNeckLong, halfCircleCloak},
	"smock":          {"T-cut smock", needChestLong, tSmock},
	"shirt":          {"square-cut shirt", needShirt, squareShirt},
	"blouse":         {"elastic-neck blouse", needShirt, elasticBlouse},
	"apron":          {"half apron", needWaistLong, halfApron},
	"bib apron":      {"bib apron", needBib, bibApron},
	"waistcoat":      {"waistcoat", needBlock, waistcoat},
	"false front":    {"false front", needBlock, falseFront},
	"bodice":         {"bodice block", needBlock, bodice},
	"gown":           {"bodice and gathered skirt", needGown, gown},
	"coat":           {"unlined coat", needCoat, coat},
	"trousers":       {"elastic trousers", needTrousers, elasticTrousers},
	"breeches":       {"breeches", needBreeches, breeches},
}

// Draft draws a kind for measures on cloth of a width. Parts that depend on
// the width (skirts in whole widths) come out differently on another. Grade
// Unknown means a measure is missing or there is no such draft.
func (s *Seams) Draft(kind string, m Measures, width units.Length) (string, []answer.DraftPart, why.Verdict) {
	d, ok := drafts[kind]
	if !ok {
		return "", nil, why.Verdict{Reasons: []why.Reason{ruleNone.Because(why.Unknown, why.Of("kind", kind))}}
	}
	if missing := d.needs(m); missing != "" {
		return d.name, nil, why.Verdict{Reasons: []why.Reason{ruleMissing.Because(why.Unknown, why.Of("name", d.name), why.Of("what", missing))}}
	}
	return d.name, d.draw(s, m, width), why.Verdict{Grade: why.Yes, Reasons: []why.Reason{
		ruleDrafted.Because(why.Yes, why.Of("name", d.name), why.Of("seam", s.seam))}}
}

// Kind chooses the draft for a piece by its kind of garment, its fit and its
// closure; empty where it is found rather than drafted.
func Kind(noun, fit, closure, name string) string {
	switch noun {
	case "skirt":
		if fit == "wrap" || closure == "wrap and snap" {
			return "wrap skirt"
		}
		return "gathered skirt"
	case "petticoat":
		if strings.Contains(name, "roll") {
			return "roll petticoat"
		}
		return "petticoat"
	case "shirt":
		if closure == "elastic neck" || closure == "pull-over" {
			return "blouse"
		}
		return "shirt"
	case "shift", "nightgown":
		return "shirt"
	case "apron":
		if strings.Contains(name, "bib") || strings.Contains(name, "leather") || strings.Contains(name, "oilcloth") {
			return "bib apron"
		}
		return "apron"
	case "waistcoat":
		if strings.Contains(name, "false front") {
			return "false front"
		}
		return "waistcoat"
	case "stays":
		return "bodice"
	case "dress":
		return "gown"
	case "jacket":
		return "coat"
	case "gown", "smock", "bodice", "coat", "cloak", "trousers", "breeches", "roll":
		return noun
	}
	return ""
}

// rect is a rectangular part, w across the grain and l along it.
func rect(name string, w, l units.Length, copies int) answer.DraftPart {
	return answer.DraftPart{Name: name, Copies: copies, Outline: geom.Rect(w, l)}
}

// pt is a point in centimetres of a drawing in hand.
func pt(x, y units.Length) geom.Point { return geom.Point{X: x, Y: y} }

// first names the first zero among the measures given by name.
func first(names []string, ls ...units.Length) string {
	for i, l := range ls {
		if l <= 0 {
			return names[i]
		}
	}
	return ""
}

func needWaist(m Measures) string { return first([]string{"the waist"}, m.Waist) }
func needWaistLong(m Measures) string {
	return first([]string{"the waist", "the length from the waist"}, m.Waist, m.Long)
}
func needNeckLong(m Measures) string {
	return first([]string{"the neck", "the length from the nape"}, m.Neck, m.Long)
}
func needChestLong(m Measures) string {
	return first([]string{"the chest", "the length from the nape", "shoulder to wrist", "across shoulders"}, m.Chest, m.Long, m.Arm, m.Across)
}
func needShirt(m Measures) string {
	return first([]string{"the chest", "nape to waist", "shoulder to wrist", "across shoulders", "the upper arm", "the neck"},
		m.Chest, m.NapeToWaist, m.Arm, m.Across, m.UpperArm, m.Neck)
}
func needBib(m Measures) string {
	return first([]string{"the waist", "the chest", "the length from the waist"}, m.Waist, m.Chest, m.Long)
}
func needBlock(m Measures) string {
	return first([]string{"the chest", "the waist", "nape to waist", "across shoulders", "the neck"}, m.Chest, m.Waist, m.NapeToWaist, m.Across, m.Neck)
}
func needGown(m Measures) string {
	if s := needBlock(m); s != "" {
		return s
	}
	return first([]string{"the length from the waist"}, m.Long)
}
func needCoat(m Measures) string {
	if s := needBlock(m); s != "" {
		return s
	}
	return first([]string{"shoulder to wrist", "the upper arm", "the length from the nape"}, m.Arm, m.UpperArm, m.Long)
}
func needTrousers(m Measures) string {
	return first([]string{"the hip", "the inside leg", "waist to floor", "the length from the waist"}, m.Hip, m.InsideLeg, m.WaistToFloor, m.Long)
}
func needBreeches(m Measures) string {
	return first([]string{"the hip", "the waist", "the inside leg", "waist to floor", "waist to knee"}, m.Hip, m.Waist, m.InsideLeg, m.WaistToFloor, m.WaistToKnee)
}
