package sheet

import "strings"

// table sets rows under heads; a row never breaks over two pages, and the
// heads stand again on each.
func (p *press) table(t *Table) {
	widths := p.widths(t)
	p.heads(t, widths)
	for _, r := range t.Rows {
		lines, h := p.cells(t, r.Cells, widths)
		before := p.n
		p.room(h)
		if p.n != before {
			p.heads(t, widths)
		}
		p.row(t, lines, widths, h, r.Tick, r.Line)
	}
	if len(t.Foot) > 0 {
		lines, h := p.cells(t, t.Foot, widths)
		p.room(h)
		p.pen(Heavy)
		p.doc.Line(p.x, p.y, p.x+p.w, p.y)
		p.row(t, lines, widths, h, false, false)
	}
	p.y += 2
}

const tickRoom = 7.0

func (p *press) widths(t *Table) []float64 {
	room := p.w
	for _, r := range t.Rows {
		if r.Tick {
			room = p.w - tickRoom
			break
		}
	}
	sum := 0
	for _, c := range t.Columns {
		sum += max(c.Share, 1)
	}
	out := make([]float64, len(t.Columns)+1)
	out[0] = p.w - room // the ticks
	for i, c := range t.Columns {
		out[i+1] = room * float64(max(c.Share, 1)) / float64(sum)
	}
	return out
}

func (p *press) heads(t *Table, widths []float64) {
	size := max(p.s.Size*0.8, 8)
	p.font("body", "B", size)
	most := 0
	split := make([][]string, len(t.Columns))
	for i, c := range t.Columns {
		if c.Head != "" {
			split[i] = p.doc.SplitText(clean(c.Head), widths[i+1]-1.5)
			most = max(most, len(split[i]))
		}
	}
	if most > 0 {
		lh := size * ptToMM * 1.2
		p.room(lh*float64(most) + p.s.Size)
		p.font("body", "B", size)
		x := p.x + widths[0]
		for i, c := range t.Columns {
			for k, line := range split[i] {
				p.doc.SetXY(x, p.y+lh*float64(most-len(split[i])+k))
				p.doc.CellFormat(widths[i+1]-1.5, lh, strings.TrimSpace(line), "", 0, align(c), false, 0, "")
			}
			x += widths[i+1]
		}
		p.y += lh*float64(most) + 0.8
	}
	p.pen(Heavy)
	p.doc.Line(p.x, p.y, p.x+p.w, p.y)
}

func align(c Column) string {
	if c.Right {
		return "R"
	}
	return "L"
}

// cells breaks the cells of a row into lines and says how high it gets.
func (p *press) cells(t *Table, cells []string, widths []float64) ([][]string, float64) {
	out, most := make([][]string, len(t.Columns)), 1
	for i := range min(len(cells), len(t.Columns)) {
		p.cellFont(t.Columns[i])
		if cells[i] != "" {
			out[i] = p.doc.SplitText(clean(cells[i]), widths[i+1]-1.5)
		}
		most = max(most, len(out[i]))
	}
	return out, max(t.High, float64(most)*p.s.Size*ptToMM*1.2+2)
}

func (p *press) cellFont(c Column) {
	if c.Bold || c.Right {
		p.font("head", "B", p.s.Size)
		return
	}
	p.font("body", "", p.s.Size)
}

func (p *press) row(t *Table, lines [][]string, widths []float64, h float64, tick, heavy bool) {
	if heavy {
		p.pen(Heavy)
		p.doc.Line(p.x, p.y, p.x+p.w, p.y)
	}
	lh := p.s.Size * ptToMM * 1.2
	if tick {
		p.box(p.x, p.y+1+lh*0.08)
	}
	x := p.x + widths[0]
	for i, c := range t.Columns {
		p.cellFont(c)
		for k, line := range lines[i] {
			p.doc.SetXY(x, p.y+1+lh*float64(k))
			p.doc.CellFormat(widths[i+1]-1.5, lh, strings.TrimSpace(line), "", 0, align(c), false, 0, "")
		}
		x += widths[i+1]
	}
	p.y += h
	p.pen(Fine)
	p.doc.Line(p.x, p.y, p.x+p.w, p.y)
}
