package sheet

import (
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"eliasnaur.com/font/roboto/robotocondensedbold"
	"eliasnaur.com/font/roboto/robotomedium"
	"eliasnaur.com/font/roboto/robotoregular"
	"golang.org/x/text/unicode/norm"
)

// Margins in millimetres: everything sits inside 190 x 254 on A4 and Letter;
// the selvedge is printed in the left one.
const (
	marginLeft  = 20.0
	marginOther = 12.0
	footRoom    = 10.0
	lineOf      = 1.28 // line height in type sizes
	ptToMM      = 25.4 / 72
)

// PDF writes sheets one after the other, each beginning a page. The same
// sheets give the same bytes.
func PDF(w io.Writer, sheets ...Sheet) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	doc.SetCreationDate(fixed)
	doc.SetModificationDate(fixed)
	doc.SetCatalogSort(true)
	doc.SetAutoPageBreak(false, 0)
	doc.SetMargins(0, 0, 0)
	doc.AddUTF8FontFromBytes("body", "", robotoregular.TTF)
	doc.AddUTF8FontFromBytes("body", "B", robotomedium.TTF)
	doc.AddUTF8FontFromBytes("head", "B", robotocondensedbold.TTF)
	for _, s := range sheets {
		count := &press{doc: quiet(), s: s}
		count.run()
		(&press{doc: doc, s: s, of: count.n}).run()
	}
	if err := doc.Error(); err != nil {
		return fmt.Errorf("the sheet could not be set: %w", err)
	}
	return doc.Output(w)
}

// quiet is a document nobody keeps, to count pages in.
func quiet() *fpdf.Fpdf {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	doc.SetAutoPageBreak(false, 0)
	doc.SetMargins(0, 0, 0)
	doc.AddUTF8FontFromBytes("body", "", robotoregular.TTF)
	doc.AddUTF8FontFromBytes("body", "B", robotomedium.TTF)
	doc.AddUTF8FontFromBytes("head", "B", robotocondensedbold.TTF)
	return doc
}

// press sets one sheet.
type press struct {
	doc   *fpdf.Fpdf
	s     Sheet
	x, y  float64 // where the next thing goes
	w     float64 // usable width
	w0, h float64 // of the page
	n, of int     // page, pages
}

func (p *press) run() {
	p.w0, p.h = p.s.Paper.W.Cm()*10, p.s.Paper.H.Cm()*10
	p.page()
	for _, b := range p.s.Blocks {
		p.block(b)
	}
}

func (p *press) page() {
	p.doc.AddPageFormat("P", fpdf.SizeType{Wd: p.w0, Ht: p.h})
	p.n++
	p.x, p.y, p.w = marginLeft, marginOther, p.w0-marginLeft-marginOther
	p.selvedge()
	p.foot()
	size := p.s.Size * 1.9
	if p.n > 1 {
		size = p.s.Size * 1.1
	}
	corner := 0.0
	if p.s.Corner != "" {
		p.font("body", "", p.s.Size)
		corner = p.doc.GetStringWidth(clean(p.s.Corner)) + 2
		p.doc.SetXY(p.x+p.w-corner, p.y+size*ptToMM*0.4)
		p.doc.CellFormat(corner, p.s.Size*ptToMM, clean(p.s.Corner), "", 0, "R", false, 0, "")
	}
	p.text(p.s.Title, "head", "B", size, p.w-corner)
	if p.s.Under != "" && p.n == 1 {
		p.y += 0.6
		p.text(p.s.Under, "body", "", p.s.Size, p.w)
	}
	p.y += 2
}

// selvedge prints the pin holes and the name of the show up the left edge.
func (p *press) selvedge() {
	p.doc.SetFillColor(0, 0, 0)
	for y := 4.0; y < p.h-3; y += 4.2 {
		p.doc.Circle(9.2, y, 0.32, "F")
	}
	p.pen(Solid)
	p.doc.Line(11, 0, 11, p.h)
	p.font("head", "B", 7)
	p.doc.TransformBegin()
	p.doc.TransformRotate(-90, 4.2, marginOther)
	p.doc.Text(4.2, marginOther, clean(strings.ToUpper("Hemwright · "+p.s.Show)))
	p.doc.TransformEnd()
}

func (p *press) foot() {
	p.font("body", "", 8)
	y := p.h - marginOther + 2
	p.pen(Fine)
	p.doc.Line(p.x, y-1, p.x+p.w, y-1)
	left := strings.Join(nonEmpty(p.s.Name, "printed "+p.s.Printed, p.s.Print), " · ")
	p.doc.SetXY(p.x, y)
	p.doc.CellFormat(p.w, 4, clean(left), "", 0, "L", false, 0, "")
	if p.of > 0 {
		p.doc.SetXY(p.x, y)
		p.doc.CellFormat(p.w, 4, fmt.Sprintf("page %d of %d", p.n, p.of), "", 0, "R", false, 0, "")
	}
}

// room begins a new page where less than h is left.
func (p *press) room(h float64) {
	if p.y+h > p.h-marginOther-footRoom/2 {
		p.page()
	}
}

func (p *press) font(family, style string, size float64) { p.doc.SetFont(family, style, size) }

// text sets wrapped words at the place in hand and moves below them.
func (p *press) text(s, family, style string, size, width float64) {
	p.font(family, style, size)
	lh := size * ptToMM * lineOf
	for _, line := range p.doc.SplitText(clean(s), width) {
		p.room(lh)
		p.font(family, style, size)
		p.doc.SetXY(p.x, p.y)
		p.doc.CellFormat(width, lh, strings.TrimSpace(line), "", 0, "L", false, 0, "")
		p.y += lh
	}
}

func (p *press) block(b Block) {
	top, page := p.y, p.n
	size := p.s.Size
	switch {
	case b.Heading != "":
		p.y += 2.5
		p.room(size * ptToMM * 4)
		if b.Number != "" {
			p.font("head", "B", size*1.5)
			p.doc.SetXY(p.x, p.y)
			p.doc.CellFormat(10, size*1.3*ptToMM*lineOf, clean(b.Number), "", 0, "L", false, 0, "")
			p.x, p.w = p.x+11, p.w-11
			p.text(b.Heading, "head", "B", size*1.3, p.w)
			p.x, p.w = p.x-11, p.w+11
		} else {
			p.text(b.Heading, "head", "B", size*1.3, p.w)
		}
		p.y += 0.8
	case b.Bar != "":
		p.bar(b.Bar)
	}
	if b.Say != "" {
		p.text(b.Say, "body", "", size, p.w)
	}
	if b.Drawing != nil { // its words stay with it
		p.room(p.drawn(b.Drawing) + size*ptToMM*lineOf + 4)
	}
	if b.Why != "" {
		p.text(b.Why, "body", "", max(size*0.85, 10), p.w)
	}
	for _, t := range b.Ticks {
		p.tick(t)
	}
	if b.Table != nil {
		p.table(b.Table)
	}
	if b.Drawing != nil {
		p.drawing(b.Drawing)
	}
	if b.Changed && page == p.n {
		p.doc.SetFillColor(0, 0, 0)
		p.doc.Rect(p.x-3, top, 0.9, p.y-top, "F")
	}
}

// bar sets a change between two rules.
func (p *press) bar(s string) {
	p.font("body", "B", p.s.Size)
	lines := p.doc.SplitText(clean(s), p.w)
	p.room(float64(len(lines))*p.s.Size*ptToMM*lineOf + 6)
	p.y += 1.5
	p.pen(Heavy)
	p.doc.Line(p.x, p.y, p.x+p.w, p.y)
	p.y += 1.2
	p.text(s, "body", "B", p.s.Size, p.w)
	p.y += 0.8
	p.pen(Heavy)
	p.doc.Line(p.x, p.y, p.x+p.w, p.y)
	p.y += 1.5
}

func (p *press) tick(s string) {
	lh := p.s.Size * ptToMM * lineOf
	p.room(lh + 1)
	p.box(p.x, p.y+lh*0.12)
	p.x, p.w = p.x+7, p.w-7
	p.text(s, "body", "", p.s.Size, p.w)
	p.x, p.w = p.x-7, p.w+7
	p.y += 1
}

func (p *press) box(x, y float64) {
	p.pen(Solid)
	side := p.s.Size * ptToMM * 0.95
	p.doc.Rect(x, y, side, side, "D")
}

// clean makes a string the typefaces can set: composed, and without signs
// they lack.
func clean(s string) string {
	s = norm.NFC.String(s)
	return strings.Map(func(r rune) rune {
		switch {
		case r > 0xFFFF:
			return '?'
		case r == '→':
			return '>'
		case r == '☐' || r == '✓':
			return ' '
		}
		return r
	}, s)
}
