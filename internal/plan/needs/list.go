package needs

import (
	_ "embed" // the list
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/why"
)

//go:embed notions.txt
var notionsText string

var shipped = rows.Shipped("notions", "what closures take of notions", notionsText, readList)

// Text is what the list is read from.
var Text = shipped.Text

// item is one notion in one amount; cm where it comes by length.
type item struct {
	name, size string
	n          int
	cm         bool
}

// list is what closures take.
type list struct {
	closures []byClosure
	girths   []byGirth
}

// byClosure is what a closure takes, known by the words in it and the kind of
// piece it closes, "any" for all.
type byClosure struct {
	words, kind string
	items       []item
}

// byGirth is a length that follows a girth: a share of it in hundredths, and
// centimetres more.
type byGirth struct {
	closure, name string
	of            body.Kind
	share, more   int
}

func readList(text string) (*list, error) {
	l := &list{}
	for _, r := range rows.Read(text) {
		if c := r.Cells; c[0] == "closure" && !l.closure(r) || c[0] == "girth" && !l.byGirth(r) || c[0] != "closure" && c[0] != "girth" {
			return nil, r.Bad("notions", "Write: closure | words in it | kind or any | name | size | how much | piece or cm | from; or: girth | closure | name | neck or waist | in 100 of it | cm more | from.")
		}
	}
	if len(l.closures) == 0 {
		return nil, why.Bad("notions", "It says of no closure what it takes.", "Take the lines over from the table that ships.")
	}
	return l, nil
}

func (l *list) closure(r rows.Row) bool {
	c := r.Cells
	n, ok := r.Whole(5, 10_000)
	if !ok || len(c) != 8 || c[1] == "" || c[3] == "" || c[6] != "piece" && c[6] != "cm" || c[2] == "" {
		return false
	}
	it := item{c[3], c[4], n, c[6] == "cm"}
	if k := len(l.closures) - 1; k >= 0 && l.closures[k].words == c[1] && l.closures[k].kind == c[2] {
		l.closures[k].items = append(l.closures[k].items, it)
		return true
	}
	l.closures = append(l.closures, byClosure{c[1], c[2], []item{it}})
	return true
}

func (l *list) byGirth(r rows.Row) bool {
	share, ok := r.Whole(4, 500)
	more, ok2 := r.Whole(5, 500)
	of, known := map[string]body.Kind{"neck": body.Neck, "waist": body.Waist}[r.Cells[min(3, len(r.Cells)-1)]]
	if !ok || !ok2 || !known || len(r.Cells) != 7 {
		return false
	}
	l.girths = append(l.girths, byGirth{r.Cells[1], r.Cells[2], of, share, more})
	return true
}

// takes is what the closure of a piece takes: the first line that fits.
func (l *list) takes(p *show.Piece) []item {
	for _, c := range l.closures {
		if (c.kind == "any" || c.kind == string(p.Category)) && allIn(p.Closure, c.words) {
			return c.items
		}
	}
	return nil
}

func allIn(s, words string) bool {
	for _, w := range strings.Fields(words) {
		if !strings.Contains(s, w) {
			return false
		}
	}
	return true
}
