package fit

import (
	_ "embed" // the table
	"fmt"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

//go:embed labels.txt
var labelsText string

var ruleLabel = why.Declare("fit.label", "The {where} of {garment} is in pencil, from its label, {off} either way: measure it.", labelBasis)

var labelBasis = why.Basis{Key: "labels", Kind: why.Standard, Title: "EN 13402-3, size designation of clothes, from secondary copies; other labels as charity charts print them and from memory"}

// labelled is what a label says of the chest it was cut for.
type labelled struct {
	chest units.Span
	off   units.Length
}

var labels = func() map[string]labelled {
	out := map[string]labelled{}
	for _, r := range rows.Read(labelsText) {
		var n [3]float64
		for i := range n {
			_, _ = fmt.Sscan(r.Cells[i+1], &n[i])
		}
		out[r.Cells[0]] = labelled{units.Between(units.Cm(n[0]), units.Cm(n[1])), units.Cm(n[2])}
	}
	return out
}()

// byLabel is what a garment measures round chest, waist and hip by its label:
// the body it was cut for and the usual ease, and how far it may be off; not
// known where the label says nothing. A children's label is a height; the
// garment is cut for the middle of it and may be one size, 4 cm, off.
func byLabel(g *show.Garment) (at [3]units.Span) {
	chestOf, off := units.Span{}, units.Length(0)
	waistHip := [2]units.Span{}
	if h, ok := labelHeight(g.Label); ok {
		l := body.Guess([body.Kinds]units.Span{body.Height: units.Exactly(h - 20*mm)}, body.Age{}, false, "")
		chestOf, off = units.Exactly(l.At[body.Chest].Mid()), 40*mm
		waistHip = [2]units.Span{units.Exactly(l.At[body.Waist].Mid()), units.Exactly(l.At[body.Hip].Mid())}
	} else if x, ok := labels[strings.ToUpper(strings.Join(strings.Fields(g.Label), " "))]; ok {
		chestOf, off = x.chest, x.off
	}
	if !chestOf.Known {
		return at
	}
	usual := shipped.easeOf(&show.Piece{Category: g.Category, Fit: "easy"}, kindOf(g.Category, g.Name))
	for i, s := range []units.Span{chestOf, waistHip[0], waistHip[1]} {
		if s.Known && usual[i].on {
			at[i] = units.Between(s.Lo+usual[i].lo-off, s.Hi+usual[i].lo+off)
		}
	}
	return at
}
