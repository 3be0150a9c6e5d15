package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

type clothView struct {
	ID, Name, Colour, Hex, Says, Sheet, Wash, Missing string
	Drawing                                           template.HTML
	Pieces                                            []pieceLink
}

type shortView struct {
	Says   string
	Pieces []pieceLink
}

func (s *server) shelf(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Says   string
		Ruler  string
		Short  []shortView
		Cloths []clothView
		Sold   []string
	}{Sold: intake.Sold(), Ruler: lengthWords(p.House.Units, sheet.RulerStep(p.House.Units))}
	for _, x := range p.Cutting.Short {
		view.Short = append(view.Short, shortView{x.Why.Sentence(p.House.Units), pieceLinks(&p.House, x.Pieces)})
	}
	var colours []string
	parts, missing := 0, 0
	for i := range p.House.Cloths {
		c := &p.House.Cloths[i]
		lay := p.LayOf(c.ID)
		if lay != nil {
			parts += len(lay.Placed)
			missing += len(lay.Missing)
		}
		view.Cloths = append(view.Cloths, clothOf(p, c, lay))
		colours = append(colours, c.Colour)
	}
	switch {
	case len(p.House.Cloths) == 0:
		view.Says = "The shelf is empty."
	default:
		view.Says = fmt.Sprintf("%d parts are laid on %d of %d cloths.", parts, len(p.Cutting.Lays), len(p.House.Cloths))
	}
	if missing > 0 {
		view.Says += fmt.Sprintf(" No place was found for %d more, which proves nothing.", missing)
	}
	view.Frame = s.frame(p, "The shelf", "/shelf", colours)
	return s.show(w, http.StatusOK, "shelf", view)
}

// clothOf is a cloth with its lay, or with nothing laid where that is nil.
func clothOf(p *workshop.Prepared, c *show.Cloth, lay *answer.Lay) clothView {
	v := clothView{ID: string(c.ID), Name: c.Name, Colour: c.Colour, Hex: hexOf(&p.House, c.Colour), Says: "Nothing is cut from it."}
	if c.Washed == "no" {
		v.Wash = "Not washed yet."
	}
	if lay == nil {
		v.Drawing = drawCloth(&p.House, c, answer.Lay{Cloth: c.ID})
		return v
	}
	v.Says, v.Sheet = words(p.House.Units, lay.Verdict), "cut-"+string(c.ID)
	var pieces []show.PieceID
	for _, q := range lay.Placed {
		if !slices.Contains(pieces, q.Piece) {
			pieces = append(pieces, q.Piece)
		}
	}
	v.Pieces = pieceLinks(&p.House, pieces)
	var none []string
	for _, q := range lay.Missing {
		none = append(none, string(q.Piece)+" "+q.Part)
	}
	v.Missing = strings.Join(none, ", ")
	v.Drawing = drawCloth(&p.House, c, *lay)
	return v
}

// clothScale is pixels a centimetre, one for the whole page.
const clothScale = 1.15

// pens are the stroke, width and dash of each pen of a sheet.
var pens = map[sheet.Pen]struct {
	stroke, dash string
	width        float64
}{
	sheet.Solid: {"ink", "", 1}, sheet.Heavy: {"ink", "", 1.5}, sheet.Dots: {"ink", "1.5 2.5", 1}, sheet.Offer: {"ink", "7 4", 1},
	sheet.Chain: {"ink", "9 3 2 3", 1}, sheet.Fine: {"line2", "", .8}, sheet.Hatch: {"ink", "", .8},
}

// drawCloth draws the lay of a cloth from the same strokes as the sheet; the
// cloth itself is the first of them.
func drawCloth(h *show.House, c *show.Cloth, lay answer.Lay) template.HTML {
	d := sheet.LayDrawing(h.Units, c, lay)
	px := func(l units.Length) float64 { return l.Cm()*clothScale + 6 }
	s := begin(px(d.W)+6, px(d.H)+6, "lay", fmt.Sprintf("%s, %s. %s", c.ID, c.Name, d.Says))
	for i, st := range d.Strokes {
		var b strings.Builder
		for k, q := range st.Points {
			fmt.Fprintf(&b, "%c%s %s", "ML"[min(k, 1)], f(px(q.X)), f(px(q.Y)))
		}
		fill := "none"
		if st.Closed {
			b.WriteString("Z")
			if st.Fill != "" {
				fill = st.Fill
			}
		}
		pen := pens[st.Pen]
		if hex := hexOf(h, c.Colour); i == 0 && hex != "" {
			s.open(`fill-opacity=".45"`)
			s.path(b.String(), hex, "", 0, "")
			s.close()
		}
		s.path(b.String(), fill, pen.stroke, pen.width, pen.dash)
	}
	for _, l := range d.Labels {
		if l.Turn != 0 {
			s.turned(px(l.At.X)+3, px(l.At.Y), 9.5, "n halo", l.Text)
		} else {
			s.text(px(l.At.X), px(l.At.Y)+3, 9.5, "middle", "n halo", l.Text)
		}
	}
	return s.end()
}
