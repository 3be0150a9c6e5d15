package intake

import (
	"fmt"
	"strings"

	"hemwright/internal/show/show"
)

// Report says what an import did, in words ready to print.
type Report struct {
	Taken   []Line // one line a file: how many of what
	Changed []Line // one line a value that was there before and is another now
	Left    []Line // every column, row or cell that was not understood or not used

	Guesses []Guess // what each table and its columns were taken for
}

// Line is one sentence of a report with where it belongs. Row counts the
// lines of the file, the header being line 1; it is 0 where the whole file or
// column is meant.
type Line struct {
	File   string
	Row    int
	Column string
	Text   string // what stood there; empty where it must not be repeated
	What   string // what was done with it
	Try    string // the next step, or empty

	mayStay bool // a person may say that it is right as it is
}

// String prints the line: where, what, and what to try.
func (l Line) String() string {
	s := l.File
	if l.Row > 0 {
		s += fmt.Sprintf(", line %d", l.Row)
	}
	if l.Column != "" {
		s += ", " + l.Column
	}
	s += ": " + l.What
	if l.Try != "" {
		s += " " + l.Try
	}
	return s
}

// Said gives the report as what was understood of a text is given.
func (r Report) Said() []Said {
	var out []Said
	for _, l := range r.Taken {
		out = append(out, Said{Line: l.Row, Text: l.File, Says: l.What})
	}
	for _, l := range r.Changed {
		out = append(out, Said{Line: l.Row, Text: l.Text, Says: l.What})
	}
	for _, l := range r.Left {
		out = append(out, Said{Line: l.Row, Text: l.Text, Ask: strings.TrimSpace(l.What + " " + l.Try)})
	}
	return out
}

// taking is one import under way.
type taking struct {
	h    show.House
	rep  Report
	kept []show.Unread
	from map[string]string // the file each kind of row came from
	sure map[string]bool   // columns somebody has said to be right as they are

	thingsTyped, peopleTyped typedWords
	inches, metric           int // lengths read from columns in inches, and in centimetres
}

// leave lists a cell that was not used and keeps its text.
func (t *taking) leave(l Line, person bool) {
	t.rep.Left = append(t.rep.Left, l)
	t.keep(l, person)
}

func (t *taking) keep(l Line, person bool) {
	reason := l.What
	if l.Try != "" {
		reason += " " + l.Try
	}
	t.kept = append(t.kept, show.Unread{File: l.File, Row: l.Row, Column: l.Column, Text: l.Text, Why: reason, AboutPerson: person})
}
