// Package sheet turns results into paper. A sheet is a document model:
// titles, sentences, tables, tick boxes, drawings. Three writers render it:
// text, HTML and PDF. No sheet but the measuring sheet holds a body number;
// sheets speak of garments.
package sheet

import (
	"fmt"

	"hemwright/internal/value/units"
)

// Paper is a size of paper, as it is held.
type Paper struct {
	Name string
	W, H units.Length
}

// Papers by ISO 216, portrait unless said.
var (
	A4     = Paper{"A4", 210 * units.Millimetre, 297 * units.Millimetre}
	A4Wide = Paper{"A4 landscape", 297 * units.Millimetre, 210 * units.Millimetre}
	A5     = Paper{"A5", 148 * units.Millimetre, 210 * units.Millimetre}
	A5Wide = Paper{"A5 landscape", 210 * units.Millimetre, 148 * units.Millimetre}
	A6     = Paper{"A6", 105 * units.Millimetre, 148 * units.Millimetre}
)

// Sheet is one owner's paper.
type Sheet struct {
	Key     string // names the file: "my-clothes-" and a code
	Name    string // which sheet it is: "my clothes"
	Title   string // whose or what: a first name, a cloth
	Corner  string // beside the title: a room, a place
	Under   string // under the title
	Show    string
	Printed string // "14 March 2027"
	Print   string // "as of act 41": what has changed since can be asked
	Paper   Paper
	Size    float64 // of body type in points, never below 10
	Blocks  []Block
}

// Block is one thing on a sheet; exactly one of its parts is set.
type Block struct {
	Heading string
	Number  string // stands large before the heading
	Say     string // a sentence
	Why     string // a reason, smaller
	Bar     string // a change, between two rules, bold
	Table   *Table
	Drawing *Drawing
	Ticks   []string
	Changed bool // differs from the last print: a bar in the margin
}

// Table is rows under heads; units stand in the heads.
type Table struct {
	Columns []Column
	Rows    []Row
	Foot    []string // a sum, under a rule
	High    float64  // of a row at least, in millimetres: room to write by hand
}

// Column is one column of a table.
type Column struct {
	Head  string
	Right bool
	Share int // of the width, in parts
	Bold  bool
}

// Row is a line of a table.
type Row struct {
	Cells []string
	Tick  bool // an empty box stands before it
	Line  bool // a heavier rule above it
}

// Drawing is a list of strokes in true lengths. y points down. On paper it is
// drawn at Scale: 10 means one tenth; 1 is true scale.
type Drawing struct {
	W, H    units.Length
	Scale   int
	Strokes []Stroke
	Labels  []Label
	Says    string   // one sentence for those who cannot see it
	Beside  *Drawing // set to the right of it where there is room, else below
}

// Pen is how a line is drawn, by the grammar of the pattern sheet.
type Pen int

// Pens.
const (
	Solid Pen = iota // decided, true
	Offer            // long dash: offered, planned
	Dots             // place not known
	Chain            // centre, fold
	Heavy            // outline of a piece
	Fine             // a ruler, a cross
	Hatch            // not to be used
)

// Point is a place on a drawing.
type Point struct{ X, Y units.Length }

// Stroke is a line through points.
type Stroke struct {
	Points []Point
	Closed bool
	Pen    Pen
	Fill   string // #rrggbb, or "sheet", or empty
}

// Label is a word on a drawing, centred at a place.
type Label struct {
	At    Point
	Text  string
	Turn  int // 90 reads upwards
	Large bool
}

// TestSquare is a square of 5 cm, or of 2 in, at true scale, to be measured
// after printing.
func TestSquare(sys units.System) *Drawing {
	s := 5 * units.Centimetre
	if sys == units.Imperial {
		s = 2 * units.Inch
	}
	side := sys.Print(s) + " " + sys.Unit()
	return &Drawing{W: s, H: s, Scale: 1, Says: fmt.Sprintf("A square of %s. Measure it: if it is not %s, the printer has scaled the page.", side, side),
		Strokes: []Stroke{{Points: []Point{{0, 0}, {s, 0}, {s, s}, {0, s}}, Closed: true, Pen: Heavy}},
		Labels:  []Label{{At: Point{s / 2, s / 2}, Text: "measure it: " + side}}}
}
