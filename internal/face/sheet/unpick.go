package sheet

import (
	"fmt"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// UnpickCard goes with a garment that is cut up: who said yes, what to do in
// which order, what each part is called, and what goes to the boxes. It may
// go to a beginner.
func UnpickCard(p *workshop.Prepared, c workshop.CutUp) Sheet {
	s := blank(p, "unpick-"+c.Code, "unpick card", c.Code+"  "+c.Name)
	s.Corner = c.Place
	s.Under = strings.Join(nonEmpty(c.Colour, c.Fibre), ", ") + ". Estimates until it is measured."
	if c.May.Grade == why.No {
		s.Under = "Not to be cut."
		s.Blocks = append(s.Blocks, sayAll(p, c.May)...)
		return s
	}
	if !c.Known {
		s.Blocks = append(s.Blocks, sayAll(p, why.Verdict{Reasons: c.Harvest.Why})...)
		return s
	}
	h := c.Harvest
	s.Blocks = append(s.Blocks, Block{Heading: "Before the scissors"}, Block{Ticks: []string{"looked at whole, in any colour: nobody wants it", "one person says yes:"}})
	s.Blocks = append(s.Blocks, sayAll(p, c.May)...)
	s.Blocks = append(s.Blocks, Block{Heading: "Look out"})
	for _, x := range h.LookOut {
		s.Blocks = append(s.Blocks, Block{Say: x})
	}
	s.Blocks = append(s.Blocks, Block{Heading: "In this order"}, Block{Table: unpickSteps(h)}, Block{Heading: "The parts"}, Block{Table: partTable(p, h)})
	if d := HarvestDrawing(p.House.Units, h); d != nil {
		s.Blocks = append(s.Blocks, Block{Drawing: d}, Block{Why: "Up is up. Dashed: as large as it may be. Arrow: the grain. Old seams are off."})
	}
	if len(h.Notions) > 0 {
		s.Blocks = append(s.Blocks, Block{Heading: "To the boxes"}, Block{Table: boxTable(p, h)})
	}
	return s
}

func sayAll(p *workshop.Prepared, v why.Verdict) []Block {
	var out []Block
	for _, r := range v.Reasons {
		out = append(out, Block{Say: r.Sentence(p.House.Units)})
	}
	return out
}

// unpickSteps is the order costumers keep: picture, test, boxes, seams, iron,
// tape, shelf.
func unpickSteps(h answer.Harvest) *Table {
	t := &Table{Columns: []Column{{Head: "do", Share: 13}, {Head: "about", Share: 4, Right: true}, {Head: "took", Share: 2}}}
	step := func(do, about string) { t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{do, about, ""}}) }
	step("Take a picture of it whole, front and back.", "")
	step("Wash it, or test a corner with water and the iron.", "")
	if len(h.Notions) > 0 {
		step("Take off what goes to the boxes, before any cloth is cut.", "")
	}
	var whole []string
	for _, q := range h.Parts {
		if q.Whole {
			whole = append(whole, q.Name)
		}
	}
	if len(whole) > 0 {
		step("Take off whole, and leave whole: "+strings.Join(whole, ", ")+".", "")
	}
	step("Pin the label on each part while it still hangs on its neighbour; pin pairs together.", "")
	if h.Unpick.Known {
		step("Open the long seams where the whole width is wanted,", MinuteWords(h.Unpick))
		step("or cut beside them where it is not.", MinuteWords(h.Cut))
	} else {
		step("Cut beside the seams; saving them is not worth it.", MinuteWords(h.Cut))
	}
	step("Press with a damp cloth.", MinuteWords(h.Press))
	step("Measure each part as it lies, draw the grain on it, bring it in as cloth with its flaws.", "")
	step("A place and a code for every part at once, or the bin.", "")
	return t
}

// MinuteWords prints a span of minutes, empty where it is not known.
func MinuteWords(m answer.MinuteSpan) string {
	switch {
	case !m.Known:
		return ""
	case m.Lo == m.Hi:
		return m.Lo.String()
	}
	return fmt.Sprintf("%d to %d min", int64(m.Lo), int64(m.Hi))
}

func partTable(p *workshop.Prepared, h answer.Harvest) *Table {
	t := &Table{Columns: []Column{{Head: "how many", Share: 4, Bold: true}, {Head: "label to pin on", Share: 11}, {Head: "across, " + p.House.Units.Unit(), Share: 7, Right: true}, {Head: "along, " + p.House.Units.Unit(), Share: 4, Right: true}, {Head: "measured", Share: 4}}}
	for _, q := range h.Parts {
		across, along := PartSize(p.House.Units, q)
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{HowMany(q), q.Label, across, along, ""}})
	}
	return t
}

// HowMany says how many of a part there are, and whether in pairs.
func HowMany(q answer.GivenPart) string {
	s := fmt.Sprint(q.Count)
	if q.UpTo > q.Count {
		s += fmt.Sprintf(" to %d", q.UpTo)
	}
	switch {
	case q.Pair && q.UpTo == 2:
		s += ", a pair"
	case q.Pair:
		s += ", in pairs"
	}
	return s
}

// PartSize prints a part's size across and along the grain: a trapeze with
// both its widths, from above; "whole" or "not known" where it has none.
func PartSize(sys units.System, q answer.GivenPart) (across, along string) {
	switch {
	case q.Whole:
		return "whole", ""
	case !q.Known:
		return "not known", "not known"
	}
	lo, hi := q.Least.Box(), q.Most.Box()
	along = sys.PrintSpan(nearCm(units.Between(lo.Width(), hi.Width())))
	if len(q.Least) == 4 && len(q.Most) == 4 {
		top := units.Between(edge(q.Least, 0), edge(q.Most, 0))
		bottom := units.Between(edge(q.Least, lo.Width()), edge(q.Most, hi.Width()))
		if top != bottom {
			return sys.PrintSpan(nearCm(top)) + " above, " + sys.PrintSpan(nearCm(bottom)) + " below", along
		}
	}
	return sys.PrintSpan(nearCm(units.Between(lo.Height(), hi.Height()))), along
}

// Upright says the largest upright rectangle on a part, across and along, to
// whole centimetres down; empty where the part is that rectangle.
func Upright(sys units.System, q answer.GivenPart) string {
	if q.Along == 0 || q.Along.By(q.Across) > q.Least.Area()*99/100 {
		return ""
	}
	return fmt.Sprintf("%s × %s %s", sys.Print(q.Across/units.Centimetre*units.Centimetre), sys.Print(q.Along/units.Centimetre*units.Centimetre), sys.Unit())
}

// nearCm rounds an estimate to whole centimetres: down at its least, unless
// that is all it is, and to the nearest at its most.
func nearCm(s units.Span) units.Span {
	if s.Exact() {
		s.Lo += units.Centimetre / 2
	}
	s.Lo = s.Lo / units.Centimetre * units.Centimetre
	s.Hi = max(s.Lo, (s.Hi+units.Centimetre/2)/units.Centimetre*units.Centimetre)
	return s
}

// edge is how wide an outline is at an end of its grain.
func edge(o geom.Outline, x units.Length) units.Length {
	var ys []units.Length
	for _, q := range o {
		if q.X == x {
			ys = append(ys, q.Y)
		}
	}
	if len(ys) < 2 {
		return 0
	}
	return (ys[1] - ys[0]).Abs()
}

func boxTable(p *workshop.Prepared, h answer.Harvest) *Table {
	t := &Table{Columns: []Column{{Head: "what", Share: 8, Bold: true}, {Head: "about", Share: 6, Right: true}, {Head: "counted", Share: 3}, {Head: "box", Share: 3}}}
	for _, n := range h.Notions {
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{strings.TrimSpace(n.Name + " " + n.Size), NotionWords(p.House.Units, n), "", ""}})
	}
	return t
}

// NotionWords prints how much of a notion there may be.
func NotionWords(sys units.System, n answer.GivenNotion) string {
	switch {
	case n.Long.Known:
		return sys.PrintSpan(n.Long) + " " + sys.Unit()
	case !n.Count.Known:
		return "count it"
	case n.Count.Lo == n.Count.Hi:
		return fmt.Sprint(n.Count.Lo)
	}
	return fmt.Sprintf("%d to %d", n.Count.Lo, n.Count.Hi)
}

// HarvestDrawing draws one of each part beside the other, to one scale, up
// upwards; nil where no part has a shape.
func HarvestDrawing(sys units.System, h answer.Harvest) *Drawing {
	var parts []figure
	for _, q := range h.Parts {
		if q.Known {
			parts = append(parts, figure{PartDrawing(q), fmt.Sprintf("%s, %s", q.Name, HowMany(q))})
		}
	}
	if len(parts) == 0 {
		return nil
	}
	d := beside(parts)
	d.Says = fmt.Sprintf("%d kinds of parts of %s, drawn to scale.", len(parts), h.Kind)
	return d
}

// figure is a drawing with what stands under it.
type figure struct {
	d    *Drawing
	text string
}

// beside sets drawings in rows to one scale, as large as they go on a sheet.
func beside(all []figure) *Drawing {
	for scale := 10; ; scale += 5 {
		d := rows(all, scale)
		small := d.H/units.Length(scale) <= 15*units.Centimetre && d.W/units.Length(scale) <= 17*units.Centimetre
		if small || scale >= 100 { // the names under the rows do not shrink
			return d
		}
	}
}

// rows sets drawings in rows 17 cm of paper wide, the name under each.
func rows(all []figure, scale int) *Drawing {
	d := &Drawing{Scale: scale}
	paper := func(l units.Length) units.Length { return l * units.Length(scale) }
	gap, line := paper(units.Centimetre), paper(units.Centimetre/2)
	var x, y, high units.Length
	for _, q := range all {
		one, text := q.d, q.text
		wide := max(one.W, paper(min(16*units.Centimetre, units.Length(len(text))*2*units.Millimetre))) // room for the name
		if x > 0 && x+wide > paper(17*units.Centimetre) {
			x, y, high = 0, y+high+3*line, 0
		}
		for _, s := range one.Strokes {
			moved := make([]Point, len(s.Points))
			for i, pt := range s.Points {
				moved[i] = Point{pt.X + x, pt.Y + y}
			}
			s.Points = moved
			d.Strokes = append(d.Strokes, s)
		}
		d.Labels = append(d.Labels, Label{At: Point{x + wide/2, y + one.H + line}, Text: text})
		d.W, d.H = max(d.W, x+wide), max(d.H, y+one.H+2*line)
		x, high = x+wide+gap, max(high, one.H)
	}
	return d
}

// PartDrawing draws a part with up upwards: the least of it solid, the most
// dashed where that is more, and the grain.
func PartDrawing(q answer.GivenPart) *Drawing {
	most, least := points(q.Most), points(q.Least)
	box, size := q.Most.Box(), q.Least.Box()
	d := &Drawing{W: box.Width(), H: box.Height(), Scale: 1}
	if !q.Bias {
		most, least = upright(q.Most), upright(q.Least)
		d.W, d.H = d.H, d.W
	}
	for i := range least { // hung from the same top, about the same middle
		least[i].X += aside(q)
	}
	if q.Least.Area() != q.Most.Area() {
		d.Strokes = append(d.Strokes, Stroke{Points: most, Closed: true, Pen: Offer})
	}
	d.Strokes = append(d.Strokes, Stroke{Points: least, Closed: true, Pen: Heavy, Fill: "sheet"})
	if !q.Bias {
		d.Strokes = append(d.Strokes, grainAt(box.Height()/2, size.Width()))
	}
	return d
}

// upright turns an outline so that the grain runs down the page.
func upright(o geom.Outline) []Point {
	out := make([]Point, len(o))
	for i, q := range o {
		out[i] = Point{q.Y, q.X}
	}
	return out
}

// grainAt is an arrow up the middle half of a part.
func grainAt(x, long units.Length) Stroke {
	top, end, head := long/4, long*3/4, long/10
	return Stroke{Points: []Point{{x, end}, {x, top}, {x - head/2, top + head}, {x, top}, {x + head/2, top + head}}, Pen: Solid}
}

// AreaWords prints square metres to one decimal, below one to two.
func AreaWords(a answer.AreaSpan) string {
	if !a.Known {
		return "not known"
	}
	form := "%.1f"
	if a.Hi < units.SquareMetre {
		form = "%.2f"
	}
	lo, hi := fmt.Sprintf(form, a.Lo.M2()), fmt.Sprintf(form, a.Hi.M2())
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}
