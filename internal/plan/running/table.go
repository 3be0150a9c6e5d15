package running

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

//go:embed seconds.txt
var houseTable string

// Table is how long each thing in a change takes. The house's own is a plain
// text; another text of the same shape may stand in for it.
type Table struct {
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

var house = mustTable(houseTable)

func mustTable(text string) Table {
	t, err := ReadTable(text)
	if err != nil {
		panic(err)
	}
	return t
}

var own sync.Map // tables by their text

// tableOf is the table of a house: its own text, where it has one that can be
// read, else the one that ships.
func tableOf(h *show.House) *Table {
	text := h.Tables["seconds"]
	if text == "" {
		return &house
	}
	if t, ok := own.Load(text); ok {
		return t.(*Table)
	}
	t, err := ReadTable(text)
	if err != nil {
		return &house // who loads it has said so before
	}
	own.Store(text, &t)
	return &t
}

// ReadTable reads a table of seconds: lines of kind, words and whole numbers
// parted by upright strokes, as the house's own shows; # begins a remark.
func ReadTable(text string) (Table, error) {
	var t Table
	figures := map[string]*int{
		"walk on the same side": &t.walkSame, "walk across": &t.walkAcross, "look over": &t.lookOver, "hair": &t.hair,
		"microphone": &t.mic, "alone": &t.alone, "young child": &t.young, "in the dark": &t.dark, "first try": &t.firstTry,
		"young under years": &t.youngUnder, "two from": &t.twoFrom, "two leave": &t.twoLeave,
	}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		cells, numbers, ok := cut(line)
		into := figures[cells[1]]
		switch {
		case ok && cells[0] == "piece" && len(numbers) == 2:
			t.pieces = append(t.pieces, fastening{cells[1], numbers[0], numbers[1], strings.Fields(cells[1])})
		case ok && cells[0] == "closure" && len(numbers) == 2:
			t.closures = append(t.closures, fastening{cells[1], numbers[0], numbers[1], strings.Fields(cells[1])})
		case ok && cells[0] == "figure" && len(numbers) == 1 && into != nil:
			*into = numbers[0]
			delete(figures, cells[1])
		default:
			return Table{}, why.Bad("table of seconds", fmt.Sprintf("Line %d, %q, is not understood.", i+1, line),
				"Write piece or closure, words, seconds off, seconds on, parted by |; or figure, name, number.")
		}
	}
	for name := range figures {
		return Table{}, why.Bad("table of seconds", fmt.Sprintf("The figure %q is missing.", name), "Take it over from the house's own table.")
	}
	return t, nil
}

// cut parts a line into its first two cells and the numbers after them.
func cut(line string) (cells [2]string, numbers []int, ok bool) {
	for i, c := range strings.Split(line, "|") {
		c = strings.TrimSpace(c)
		if i < 2 {
			cells[i] = c
			continue
		}
		n, err := strconv.Atoi(c)
		if err != nil || n < 0 || n > 3600 {
			return cells, nil, false
		}
		numbers = append(numbers, n)
	}
	return cells, numbers, true
}

// of is the line for a piece; the word is what it was found by.
func (t *Table) of(p *show.Piece) fastening {
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
