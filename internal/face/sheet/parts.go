package sheet

import (
	"fmt"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// PartSheets are one for each piece that is cut from the parts of garments:
// each shape drawn on its part.
func PartSheets(p *workshop.Prepared) []Sheet {
	var out []Sheet
	for _, lay := range p.Cutting.Apart {
		piece := p.House.Piece(lay.Piece)
		if piece == nil || len(lay.Shapes) == 0 {
			continue
		}
		s := blank(p, "parts-"+string(lay.Piece), "cut sheet from parts", fmt.Sprintf("%s  %s", lay.Piece, piece.Name))
		s.Corner = piece.Colour
		s.Under = fmt.Sprintf("%s, from the parts of %s. Seams and hems are inside the outlines. Up is up on part and shape; the grain runs up and down.", why.Capital(lay.Draft), why.And(garmentsOf(p, lay)))
		likely := false
		for _, x := range lay.Shapes {
			likely = likely || x.Likely
		}
		if likely {
			s.Blocks = append(s.Blocks, Block{Say: "Only if the parts are as large, or as many, as they may be: lay all of them out before anybody cuts."})
		}
		s.Blocks = append(s.Blocks, Block{Ticks: []string{"taken apart by the unpick card, pressed, measured", "one person says yes:"}},
			Block{Table: shapeTable(p, lay)}, Block{Drawing: partLayDrawing(lay)}, Block{Why: "Thin: the part, dashed where it may be larger. Heavy: cut here."})
		out = append(out, s)
	}
	return out
}

func garmentsOf(p *workshop.Prepared, lay answer.PartLay) []string {
	var out []string
	seen := map[show.GarmentID]bool{}
	for _, x := range lay.Shapes {
		if g := p.House.Garment(x.Garment); g != nil && !seen[x.Garment] {
			seen[x.Garment] = true
			out = append(out, string(g.ID)+" "+g.Name)
		}
	}
	return out
}

// shapeTable says for each shape from which part it is cut, and where to mark
// it: how far the box round it lies from the part's own left and top.
func shapeTable(p *workshop.Prepared, lay answer.PartLay) *Table {
	sys := p.House.Units
	t := &Table{Columns: []Column{{Head: "cut", Share: 6, Bold: true}, {Head: "from", Share: 2}, {Head: "the part", Share: 7}, {Head: "wide × long, " + sys.Unit(), Share: 5, Right: true}, {Head: "from left, top", Share: 4, Right: true}}}
	for _, x := range lay.Shapes {
		room, box := x.Part.Least.Box(), x.Outline.Box()
		if x.Likely {
			room = x.Part.Most.Box()
		}
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{x.Shape, string(x.Garment), x.Part.Name,
			sys.Print(box.Height()) + " × " + sys.Print(box.Width()), sys.Print(box.Min.Y-room.Min.Y) + ", " + sys.Print(box.Min.X-room.Min.X)}})
	}
	return t
}

// partLayDrawing draws each part with its shape on it, beside one another.
func partLayDrawing(lay answer.PartLay) *Drawing {
	var all []figure
	for _, x := range lay.Shapes {
		d := PartDrawing(x.Part)
		for i := range d.Strokes {
			if d.Strokes[i].Pen == Heavy {
				d.Strokes[i].Pen = Fine
			}
		}
		cut := points(x.Outline)
		if !x.Part.Bias {
			cut = upright(x.Outline)
		}
		if !x.Likely { // on the least of the part, which hangs about the middle of the most
			for i := range cut {
				cut[i].X += aside(x.Part)
			}
		}
		d.Strokes = append(d.Strokes, Stroke{Points: cut, Closed: true, Pen: Heavy})
		all = append(all, figure{d, fmt.Sprintf("%s on %s of %s", x.Shape, x.Part.Name, x.Garment)})
	}
	d := beside(all)
	d.Says = fmt.Sprintf("%d shapes of %s, each on the part it is cut from, drawn to scale.", len(all), lay.Piece)
	return d
}

// aside is how far the least of a part hangs from the side of its most.
func aside(q answer.GivenPart) units.Length {
	most, least := q.Most.Box(), q.Least.Box()
	if q.Bias {
		return (most.Width() - least.Width()) / 2
	}
	return (most.Height() - least.Height()) / 2
}
