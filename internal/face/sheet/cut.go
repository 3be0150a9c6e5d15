package sheet

import (
	"fmt"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// CutSheets are one for each cloth that is cut: the lay drawn, what to cut,
// and a square to test the printer by.
func CutSheets(p *workshop.Prepared) []Sheet {
	var out []Sheet
	for _, lay := range p.Cutting.Lays {
		c := p.House.Cloth(lay.Cloth)
		if c == nil || len(lay.Placed) == 0 {
			continue
		}
		s := blank(p, "cut-"+string(c.ID), "cut sheet", fmt.Sprintf("%s  %s", c.ID, c.Name))
		s.Corner = c.Colour
		s.Under = fmt.Sprintf("%s wide, %s long, %s. Seams and hems are inside the outlines. Grain runs along the length. From left and from top: where the box round a part begins, to mark it by the tape.", lengthWords(p, c.Width), lengthWords(p, c.Length), c.Fibre)
		if c.Washed == "no" {
			s.Blocks = append(s.Blocks, Block{Say: "Not washed. Wash and press it before anybody cuts."})
		}
		drawing := LayDrawing(p.House.Units, c, lay)
		drawing.Beside = TestSquare(p.House.Units)
		s.Blocks = append(s.Blocks, Block{Drawing: drawing}, Block{Table: cutTable(p, lay)},
			Block{Say: fmt.Sprintf("%s of the length are used, %s left over.", lengthWords(p, lay.Used), lengthWords(p, lay.Left))})
		if len(lay.Missing) > 0 {
			s.Blocks = append(s.Blocks, Block{Say: fmt.Sprintf("No place was found for %d parts: see the shelf page.", len(lay.Missing))})
		}
		out = append(out, s)
	}
	return out
}

func cutTable(p *workshop.Prepared, lay answer.Lay) *Table {
	t := &Table{Columns: []Column{{Head: "piece", Share: 2, Bold: true}, {Head: "part", Share: 6}, {Head: "for", Share: 6}, {Head: "from left, " + p.House.Units.Unit(), Share: 3, Right: true}, {Head: "from top, " + p.House.Units.Unit(), Share: 3, Right: true}, {Head: "across, " + p.House.Units.Unit(), Share: 3, Right: true}, {Head: "along, " + p.House.Units.Unit(), Share: 3, Right: true}}}
	for _, l := range lay.Placed {
		name := ""
		if q := p.House.Piece(l.Piece); q != nil {
			name = q.Name
		}
		box := l.Outline.Box()
		lo, hi := box.Min, box.Max
		part := l.Part
		if l.Mirror {
			part += ", turned over"
		}
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{string(l.Piece), part, name, length(p, lo.X), length(p, lo.Y), length(p, hi.X-lo.X), length(p, hi.Y-lo.Y)}})
	}
	return t
}

// LayDrawing draws a lay: the cloth with its flaws hatched, the parts on it
// with their names and grain arrows, and a ruler along the side.
func LayDrawing(sys units.System, c *show.Cloth, lay answer.Lay) *Drawing {
	scale := 10
	for c.Length/units.Length(scale) > 13*units.Centimetre || c.Width/units.Length(scale) > 17*units.Centimetre {
		scale += 5
	}
	d := &Drawing{W: c.Width, H: c.Length, Scale: scale,
		Says: fmt.Sprintf("%d parts laid on %s; %d in 100 of it are cut out.", len(lay.Placed), c.ID, lay.Share)}
	d.Strokes = append(d.Strokes, Stroke{Points: points(cutting.Outline(c)), Closed: true, Pen: Heavy})
	for _, f := range c.Flaws {
		d.Strokes = append(d.Strokes, hatch(f)...)
	}
	for _, l := range lay.Placed {
		d.Strokes = append(d.Strokes, Stroke{Points: points(l.Outline), Closed: true, Pen: Solid, Fill: "sheet"})
		box := l.Outline.Box()
		lo, hi := box.Min, box.Max
		mid := Point{lo.X + (hi.X-lo.X)/2, lo.Y + (hi.Y-lo.Y)/2}
		if label, fits := labelIn(l, hi.X-lo.X, hi.Y-lo.Y, mid); fits {
			d.Labels = append(d.Labels, label)
		}
		d.Strokes = append(d.Strokes, grain(lo, hi, l.Turn, c.OneWay)...)
	}
	for y := units.Length(0); y <= c.Length; y += RulerStep(sys) {
		d.Strokes = append(d.Strokes, Stroke{Points: []Point{{-3 * units.Centimetre, y}, {-1 * units.Centimetre, y}}, Pen: Fine})
	}
	return d
}

// RulerStep is how far the strokes beside a lay stand apart.
func RulerStep(sys units.System) units.Length {
	if sys == units.Imperial {
		return 4 * units.Inch
	}
	return 10 * units.Centimetre
}

// labelIn names a part where there is room: across, else along, else its
// piece alone, else not at all: the table names it.
func labelIn(l answer.Laid, w, h units.Length, at Point) (Label, bool) {
	for _, text := range []string{string(l.Piece) + " " + l.Part, string(l.Piece)} {
		long := units.Length(len(text)) * 4 * units.Centimetre
		switch {
		case long <= w && h >= 8*units.Centimetre:
			return Label{At: at, Text: text}, true
		case long <= h && w >= 8*units.Centimetre:
			return Label{At: at, Text: text, Turn: 90}, true
		}
	}
	return Label{}, false
}

func points(o geom.Outline) []Point {
	out := make([]Point, len(o))
	for i, q := range o {
		out[i] = Point{q.X, q.Y}
	}
	return out
}

// hatch draws a flaw at 45 degrees.
func hatch(f show.Flaw) []Stroke {
	out := []Stroke{{Points: []Point{{f.X, f.Y}, {f.X + f.W, f.Y}, {f.X + f.W, f.Y + f.H}, {f.X, f.Y + f.H}}, Closed: true, Pen: Dots}}
	step := 4 * units.Centimetre
	for k := step; k < f.W+f.H; k += step {
		from := Point{f.X + min(k, f.W), f.Y + max(0, k-f.W)}
		to := Point{f.X + max(0, k-f.H), f.Y + min(k, f.H)}
		out = append(out, Stroke{Points: []Point{from, to}, Pen: Hatch})
	}
	return out
}

// grain draws the arrow of a part: two heads either way, one head this way up.
func grain(lo, hi geom.Point, turn int, oneWay bool) []Stroke {
	long := (hi.Y - lo.Y) / 4
	x := lo.X + (hi.X-lo.X)*3/4
	top, end := Point{x, lo.Y + (hi.Y-lo.Y)/2 - long}, Point{x, lo.Y + (hi.Y-lo.Y)/2 + long}
	if turn%180 != 0 {
		return nil
	}
	const head = 2 * units.Centimetre
	out := []Stroke{{Points: []Point{top, end}, Pen: Solid},
		{Points: []Point{{top.X - head/2, top.Y + head}, top, {top.X + head/2, top.Y + head}}, Pen: Solid}}
	if !oneWay {
		out = append(out, Stroke{Points: []Point{{end.X - head/2, end.Y - head}, end, {end.X + head/2, end.Y - head}}, Pen: Solid})
	}
	return out
}
