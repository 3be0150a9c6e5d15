package sheet

import (
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"hemwright/internal/value/units"
)

// pen sets width, dash and grey by the grammar of lines.
func (p *press) pen(pen Pen) {
	p.doc.SetDrawColor(0, 0, 0)
	p.doc.SetDashPattern(nil, 0)
	p.doc.SetLineWidth(0.3)
	switch pen {
	case Heavy:
		p.doc.SetLineWidth(0.5)
	case Offer:
		p.doc.SetDashPattern([]float64{2.2, 1.3}, 0)
	case Dots:
		p.doc.SetDashPattern([]float64{0.5, 0.8}, 0)
	case Chain:
		p.doc.SetDashPattern([]float64{2.8, 0.9, 0.6, 0.9}, 0)
	case Fine, Hatch:
		p.doc.SetLineWidth(0.12)
		p.doc.SetDrawColor(90, 90, 90)
	}
}

const gutter = 8 // millimetres between two drawings beside one another

// drawing sets a drawing, and the one beside it, and moves below both.
func (p *press) drawing(d *Drawing) {
	p.room(p.drawn(d) + 4)
	top := p.y
	p.draw(d)
	if d.Beside == nil {
		return
	}
	if !p.abreast(d) {
		p.drawing(d.Beside)
		return
	}
	end, right := p.y, p.wide(d)+gutter
	p.x, p.y = p.x+right, top
	p.draw(d.Beside)
	p.x, p.y = p.x-right, max(p.y, end)
}

// abreast says whether the drawing beside another has room there.
func (p *press) abreast(d *Drawing) bool {
	return d.Beside != nil && p.wide(d)+gutter+p.wide(d.Beside) <= p.w
}

// wide is how wide a drawing gets.
func (p *press) wide(d *Drawing) float64 {
	return float64(d.W) / float64(units.Millimetre) / p.scale(d)
}

// draw sets a drawing at its scale and moves below it. A drawing too wide for
// the page is drawn smaller, unless it is at true scale.
func (p *press) draw(d *Drawing) {
	scale := p.scale(d)
	mm := func(l units.Length) float64 { return float64(l) / float64(units.Millimetre) / scale }
	ox, oy := p.x+2, p.y+2
	for _, s := range d.Strokes {
		p.stroke(s, ox, oy, mm)
	}
	for _, l := range d.Labels {
		size := 8.0
		if l.Large {
			size = 11
		}
		p.font("head", "B", size)
		x, y := ox+mm(l.At.X), oy+mm(l.At.Y)
		w := p.doc.GetStringWidth(clean(l.Text))
		p.doc.TransformBegin()
		if l.Turn != 0 {
			p.doc.TransformRotate(float64(l.Turn), x, y)
		}
		p.doc.Text(x-w/2, y+size*ptToMM*0.35, clean(l.Text))
		p.doc.TransformEnd()
	}
	p.doc.SetDashPattern(nil, 0)
	p.y = oy + mm(d.H) + 4
}

// scale is what a drawing is divided by.
func (p *press) scale(d *Drawing) float64 {
	scale := float64(max(d.Scale, 1))
	w, h := float64(d.W)/float64(units.Millimetre), float64(d.H)/float64(units.Millimetre)
	for scale > 1 && (w/scale > p.w || h/scale > p.h-2*marginOther-footRoom-14) {
		scale *= 1.05
	}
	return scale
}

// drawn is how high a drawing gets, with one that stands beside it.
func (p *press) drawn(d *Drawing) float64 {
	high := float64(d.H) / float64(units.Millimetre) / p.scale(d)
	if p.abreast(d) {
		high = max(high, p.drawn(d.Beside))
	}
	return high
}

func (p *press) stroke(s Stroke, ox, oy float64, mm func(units.Length) float64) {
	if len(s.Points) == 0 {
		return
	}
	pts := make([]fpdf.PointType, len(s.Points))
	for i, q := range s.Points {
		pts[i] = fpdf.PointType{X: ox + mm(q.X), Y: oy + mm(q.Y)}
	}
	p.pen(s.Pen)
	if s.Closed {
		style := "D"
		if r, g, b, ok := rgb(s.Fill); ok {
			p.doc.SetFillColor(r, g, b)
			style = "DF"
		}
		p.doc.Polygon(pts, style)
		return
	}
	for i := 1; i < len(pts); i++ {
		p.doc.Line(pts[i-1].X, pts[i-1].Y, pts[i].X, pts[i].Y)
	}
}

func rgb(s string) (r, g, b int, ok bool) {
	if s == "sheet" {
		return 255, 255, 255, true
	}
	n, err := strconv.ParseUint(strings.TrimPrefix(s, "#"), 16, 32)
	if err != nil || len(strings.TrimPrefix(s, "#")) != 6 {
		return 0, 0, 0, false
	}
	return int(n >> 16 & 255), int(n >> 8 & 255), int(n & 255), true
}
