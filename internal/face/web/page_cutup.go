package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// cutPart is one part as a figure.
type cutPart struct {
	HowMany, Name, Across, Along, Rect string
	Guess                              bool
	Drawing                            template.HTML
}

type named struct{ Name, Value, Note string }

type cutView struct {
	Frame
	List, Listed, Edit string
	Cut                workshop.CutUp
	Hex, Says, MayHead string
	May                []string
	Drawn              []cutPart
	Others             string
	Sums, Boxes        []named
	Card               string
}

func (s *server) cutUp(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	code := r.PathValue("id")
	c, err := workshop.CutUpOf(p, code)
	if err != nil {
		return err
	}
	v := cutView{List: "/rail", Listed: "Rail", Edit: "/edit/garment/" + code, Cut: c, Hex: hexOf(&p.House, c.Colour), MayHead: "May it be cut?"}
	switch {
	case c.Harvest.Cloth != "":
		v.List, v.Listed, v.Edit = "/shelf", "Shelf", "/edit/cloth/"+code
	case p.House.Find(show.FindID(code)) != nil:
		v.Edit = "/edit/find/" + code
	}
	v.Says = cutSays(p, c)
	for _, x := range c.May.Reasons {
		v.May = append(v.May, x.Sentence(p.House.Units))
	}
	if c.Known && c.May.Grade != why.No {
		v.Card = "unpick-" + code
	}
	v.parts(p.House.Units, c.Harvest)
	v.sums(p.House.Units, c.Harvest)
	v.Frame = s.frame(p, why.Capital(c.Name)+": cut up", v.List, []string{c.Colour})
	return s.show(w, http.StatusOK, "cutup", v)
}

// cutSays is the answer in a sentence.
func cutSays(p *workshop.Prepared, c workshop.CutUp) string {
	h := c.Harvest
	switch {
	case !c.Known:
		return "What it would give is not known."
	case c.May.Grade == why.No:
		return "Not to be cut. If it were, it would give about " + sheet.AreaWords(h.Area) + " m² of panels."
	case !h.Area.Known && len(h.Ask) > 0:
		return "Measure its " + strings.Join(h.Ask, " and ") + " first: without that no part is known."
	case !h.Area.Known:
		return "It gives no panels, but for the boxes."
	}
	s := fmt.Sprintf("About %s m² of panels", sheet.AreaWords(h.Area))
	if h.Unpick.Known {
		s += ", " + sheet.MinuteWords(h.Unpick) + " to save the seams"
	}
	return s + ", " + sheet.MinuteWords(h.Cut) + " to cut beside them."
}

// parts draws what has a shape, one scale for the page, and names the rest.
func (v *cutView) parts(sys units.System, h answer.Harvest) {
	var widest units.Length
	for _, q := range h.Parts {
		if q.Known {
			b := q.Most.Box()
			widest = max(widest, b.Width(), b.Height())
		}
	}
	var rest []string
	for _, q := range h.Parts {
		if !q.Known {
			across, _ := sheet.PartSize(sys, q)
			rest = append(rest, fmt.Sprintf("%s (%s, %s)", q.Name, sheet.HowMany(q), across))
			continue
		}
		x := cutPart{HowMany: sheet.HowMany(q), Name: q.Name, Guess: q.Guess, Drawing: drawPart(q, 280/max(widest.Cm(), 60))}
		x.Across, x.Along = sheet.PartSize(sys, q)
		x.Rect = sheet.Upright(sys, q)
		v.Drawn = append(v.Drawn, x)
	}
	if len(rest) > 0 {
		v.Others = "And " + strings.Join(rest, ", ") + ". "
	}
	if len(h.Use) > 0 {
		v.Others += "Good for: " + strings.Join(h.Use, "; ") + "."
	}
}

func (v *cutView) sums(sys units.System, h answer.Harvest) {
	add := func(name, value, note string) {
		if value != "" {
			v.Sums = append(v.Sums, named{name, value, note})
		}
	}
	if h.Area.Known {
		add("in all", sheet.AreaWords(h.Area)+" m²", "beyond a lay keep 12 in 100 of old cloth")
	}
	if h.Shapes.Known {
		add("shapes from them", sheet.AreaWords(h.Shapes)+" m²", "70 to 85 in 100")
		add("left in the old seams", sheet.AreaWords(h.Lost)+" m²", "")
	}
	for _, b := range h.Bulk {
		add(b.What, sheet.AreaWords(b.Area)+" m²", "shape not known")
	}
	add("cut beside the seams", sheet.MinuteWords(h.Cut), "")
	add("or save the seams", sheet.MinuteWords(h.Unpick), "")
	add("press", sheet.MinuteWords(h.Press), "")
	for _, n := range h.Notions {
		v.Boxes = append(v.Boxes, named{Name: strings.TrimSpace(n.Name + " " + n.Size), Value: sheet.NotionWords(sys, n)})
	}
}

// drawPart draws one part, scale pixels a centimetre, from the same strokes as
// the card.
func drawPart(q answer.GivenPart, scale float64) template.HTML {
	d := sheet.PartDrawing(q)
	px := func(l units.Length) float64 { return l.Cm()*scale + 3 }
	s := begin(px(d.W)+3, px(d.H)+3, "lay", q.Name)
	for _, st := range d.Strokes {
		var b strings.Builder
		for k, at := range st.Points {
			fmt.Fprintf(&b, "%c%s %s", "ML"[min(k, 1)], f(px(at.X)), f(px(at.Y)))
		}
		if st.Closed {
			b.WriteString("Z")
		}
		pen, fill := pens[st.Pen], st.Fill
		if fill == "" {
			fill = "none"
		}
		s.path(b.String(), fill, pen.stroke, pen.width, pen.dash)
	}
	return s.end()
}
