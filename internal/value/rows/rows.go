// Package rows reads the texts that figures stand in: one row a line, cells
// parted by upright strokes. A line that is blank or begins with # says
// nothing.
package rows

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hemwright/internal/value/why"
)

// Row is a line that says something.
type Row struct {
	Line  int      // from 1
	Text  string   // without blanks around it
	Cells []string // without blanks around them; at least one
}

// Read gives the lines of a text that say something.
func Read(text string) []Row {
	var out []Row
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		cells := strings.Split(line, "|")
		for k := range cells {
			cells[k] = strings.TrimSpace(cells[k])
		}
		out = append(out, Row{i + 1, line, cells})
	}
	return out
}

// Bad says that a row of the named table is not understood, and what to write.
func (r Row) Bad(name, write string) error {
	return why.Bad(name, fmt.Sprintf("Line %d, %q, is not understood.", r.Line, r.Text), write)
}

// Whole reads a cell as a whole number from 0 to most; not ok where it is none,
// or where there is no such cell.
func (r Row) Whole(cell, most int) (n int, ok bool) {
	if cell >= len(r.Cells) {
		return 0, false
	}
	n, err := strconv.Atoi(r.Cells[cell])
	return n, err == nil && n >= 0 && n <= most
}

// Numbers reads rows of a name, a whole number from 0 to most and where it is
// from. Each number goes to the place given by its name; every name must stand
// there once.
func Numbers(name, text string, most int, places map[string]*int) error {
	left := make([]string, 0, len(places))
	for key := range places {
		left = append(left, key)
	}
	slices.Sort(left)
	for _, r := range Read(text) {
		n, ok := r.Whole(1, most)
		at := slices.Index(left, r.Cells[0])
		if !ok || at < 0 || len(r.Cells) != 3 || r.Cells[2] == "" {
			return r.Bad(name, fmt.Sprintf("Write, once for each name of the table that ships: the name | a whole number up to %d | where it is from.", most))
		}
		*places[r.Cells[0]] = n
		left = slices.Delete(left, at, at+1)
	}
	if len(left) > 0 {
		return why.Bad(name, fmt.Sprintf("The figure %q is missing.", left[0]), "Take the line over from the table that ships.")
	}
	return nil
}

// Text is a text of figures as it ships, that a person may put another of the
// same shape in the place of.
type Text struct {
	Name  string // one word
	Says  string // what its figures are, in a few words
	Ships string
	Check func(text string) error // what is wrong with another text, or nil
}

// Table is what a text says that ships with the program, and what a text of the
// same shape says that somebody put in its place.
type Table[T any] struct {
	Text    Text
	read    func(text string) (T, error)
	shipped T
	own     sync.Map // what has been read, by text
}

// Shipped is the table of a text: its name, what its figures are, the text, and
// how it is read. It panics where the text cannot be read: it is part of the
// program.
func Shipped[T any](name, says, text string, read func(text string) (T, error)) *Table[T] {
	t, err := read(text)
	if err != nil {
		panic(err)
	}
	check := func(text string) error {
		_, err := read(text)
		return err
	}
	return &Table[T]{Text: Text{name, says, text, check}, read: read, shipped: t}
}

// Of is the table where texts, by name, may hold one that stands in the place
// of the text that ships. One that cannot be read does not: Check has said so
// before. What it gives is shared: who takes it changes nothing.
func (f *Table[T]) Of(texts map[string]string) T {
	text := texts[f.Text.Name]
	if text == "" {
		return f.shipped
	}
	if t, ok := f.own.Load(text); ok {
		return t.(T)
	}
	t, err := f.read(text)
	if err != nil {
		t = f.shipped
	}
	f.own.Store(text, t)
	return t
}
