package running

import (
	_ "embed"
	"fmt"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/why"
)

//go:embed seconds.txt
var secondsText string

// table is how long each thing in a change takes.
type table struct {
	pieces, closures     []fastening
	walkSame, walkAcross int
	lookOver, hair, mic  int
	alone, young, dark   int // hundredths
	firstTry, youngUnder int
	twoFrom, twoLeave    int
}

// fastening is how long one closure takes off and on, in seconds.
type fastening struct {
	word    string
	off, on int
	words   []string
}

var shipped = rows.Shipped("seconds", "how long each thing in a change takes", secondsText, readSeconds)

// Text is what the seconds are read from.
var Text = shipped.Text

func readSeconds(text string) (*table, error) {
	t := &table{}
	figures := map[string]*int{
		"walk on the same side": &t.walkSame, "walk across": &t.walkAcross, "look over": &t.lookOver, "hair": &t.hair,
		"microphone": &t.mic, "alone": &t.alone, "young child": &t.young, "in the dark": &t.dark, "first try": &t.firstTry,
		"young under years": &t.youngUnder, "two from": &t.twoFrom, "two leave": &t.twoLeave,
	}
	for _, r := range rows.Read(text) {
		n, ok := r.Whole(2, 3600)
		on, ok2 := r.Whole(3, 3600)
		c := r.Cells
		switch {
		case ok && ok2 && len(c) == 4 && c[0] == "piece":
			t.pieces = append(t.pieces, fastening{c[1], n, on, strings.Fields(c[1])})
		case ok && ok2 && len(c) == 4 && c[0] == "closure":
			t.closures = append(t.closures, fastening{c[1], n, on, strings.Fields(c[1])})
		case ok && len(c) == 3 && c[0] == "figure" && figures[c[1]] != nil:
			*figures[c[1]] = n
			delete(figures, c[1])
		default:
			return nil, r.Bad("seconds", "Write piece or closure, words, seconds off, seconds on, parted by |; or figure, name, number.")
		}
	}
	for name := range figures {
		return nil, why.Bad("seconds", fmt.Sprintf("The figure %q is missing.", name), "Take the line over from the table that ships.")
	}
	return t, nil
}

// of is the line for a piece; the word is what it was found by.
func (t *table) of(p *show.Piece) fastening {
	name := strings.ToLower(p.Name)
	for _, f := range t.pieces {
		if allIn(name, f.words) {
			return f
		}
	}
	closure := strings.ToLower(p.Closure)
	for _, f := range t.closures {
		if allIn(closure, f.words) {
			return f
		}
	}
	return fastening{off: 5, on: 9} // over the head, loose
}

func allIn(name string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(name, w) {
			return false
		}
	}
	return true
}
