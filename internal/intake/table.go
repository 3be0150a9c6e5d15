package intake

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// column is one column a kind of file may have.
type column[T any] struct {
	name  string       // without its unit; several ways to write it, by spaces
	at    func(*T) any // pointer to the field; nil where finish reads the text
	unit  string       // where the name need not tell one: "min" for minutes
	read  func(p any, c cell) *fault
	to    *ref                           // what the codes in it name
	hard  bool                           // a row without it is no use
	early bool                           // helps to say who the row is
	girth bool                           // may be measured flat
	sized bool                           // text that is a length
	input bool                           // has no field of its own: finish reads it
	print func(row *T, w written) string // how it is written; nil: by its type
}

// ref is what a code names.
type ref struct {
	word  string
	known func(h *show.House, code string) bool
}

// table is one kind of file and the rows it makes.
type table[T any] struct {
	one, many string
	need      []string // columns without which it is not this kind
	rows      func(*show.House) *[]T
	keys      []func(*T) string // who a row is, the surest first; "" is nobody
	single    bool              // a key twice in one file is a mistake
	letter    string            // its codes begin with; empty: not edited row by row
	digits    int               // and have so many digits
	page      string            // the word its rows are edited under, where they are known by what they say
	up        func(*T)          // makes a copy the next size up
	again     func(*T)          // takes from a copy what is of the first alone
	loose     loose             // how it is known without codes
	natural   func(*T) string   // who a row without a code is
	person    bool              // rows are people's data
	cols      []column[T]
	finish    func(x *filling[T])
}

// kind is a table without its row type.
type kind interface {
	word() string
	score(header []string) int
	merge(t *taking, s sheet) merged
	write(h *show.House) []outgoing

	kindName() string
	editable() bool
	has(h *show.House, code string) bool
	list(h *show.House) List
	edit(h *show.House, code, like string) (Row, error)
	copied(h *show.House, code string, up bool, day units.Date) (string, error)
	save(t *taking, code string, values map[string]string) (Row, error)
	remove(h *show.House, code string) error
}

// merged is what is left to do once every file is in.
type merged interface {
	refs(t *taking)
	changes(t *taking)
}

// filling is one row being filled in.
type filling[T any] struct {
	t        *taking
	s        sheet
	line     int
	isNew    bool
	old      T
	row      *T
	cells    map[string]cell // by column name; empty cells are not in it
	failed   map[string]bool
	person   bool
	drop     bool // leave the row out
	codeless bool // the list has no codes
}

// fail lists a cell as not used.
func (x *filling[T]) fail(col string, f *fault) { x.failWith(col, x.cells[col].text, f) }

func (x *filling[T]) failWith(col, text string, f *fault) {
	x.failed[col] = true
	x.t.leave(Line{File: x.s.name, Row: x.line, Column: col, Text: text, What: f.what, Try: f.try}, x.person)
}

// good says whether the row has a usable cell in a column.
func (x *filling[T]) good(col string) bool { return x.cells[col].text != "" && !x.failed[col] }

// place says where each column of a table stands in a sheet.
type place struct {
	at   int
	unit string
	flat bool
}

func (tb *table[T]) word() string { return tb.many }

// find places the header's cells. Cells nobody claims are returned as extra.
func (tb *table[T]) find(header []string) (map[string]place, []int) {
	places := map[string]place{}
	var extra []int
	for i, h := range header {
		name := tidy(h)
		claimed := false
		for _, c := range tb.cols {
			key := c.key()
			if _, taken := places[key]; taken || name == "" {
				continue
			}
			if unit, flat, ok := c.matches(name); ok {
				places[key] = place{i, unit, flat}
				claimed = true
				break
			}
		}
		if !claimed {
			extra = append(extra, i)
		}
	}
	return places, extra
}

// score counts the columns a header shares with the table; 0 where one that
// is needed is missing.
func (tb *table[T]) score(header []string) int {
	places, _ := tb.find(header)
	for _, n := range tb.need {
		if _, ok := places[n]; !ok {
			if tb.loose.fits(places) {
				return len(places)
			}
			return 0
		}
	}
	return len(places)
}

// tidy writes a column name as the tables do: "Chest (in)" is chest_in.
func tidy(h string) string {
	parts := strings.FieldsFunc(strings.ToLower(h), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 0x7f)
	})
	return strings.Join(parts, "_")
}

func (c column[T]) key() string {
	first, _, _ := strings.Cut(c.name, " ")
	return first
}

// matches says whether a tidy header names the column, and in which unit.
func (c column[T]) matches(name string) (unit string, flat, ok bool) {
	for _, n := range strings.Fields(c.name) {
		rest, is := strings.CutPrefix(name, n)
		if !is {
			continue
		}
		if rest == "" {
			return c.unit, false, true
		}
		if rest, is = strings.CutPrefix(rest, "_"); !is {
			continue
		}
		if c.girth && strings.HasPrefix(rest, "flat_") {
			rest, flat = rest[len("flat_"):], true
		}
		if c.takes(rest) {
			return rest, flat, true
		}
		flat = false
	}
	return "", false, false
}

// takes says whether the column's field can be given in a unit.
func (c column[T]) takes(unit string) bool {
	if c.at == nil {
		return false
	}
	if c.sized {
		return lengths[unit] != 0
	}
	switch c.at(new(T)).(type) {
	case *units.Span, *units.Length, *units.Maybe[units.Length], *body.Measure, *[][2]units.Length, *[]show.Flaw:
		return lengths[unit] != 0
	case *units.Money, *units.Maybe[units.Money]:
		return len(unit) == 3
	case *time.Duration, *units.Minutes, *units.Maybe[units.Minutes]:
		return seconds[unit] != 0
	}
	return false
}

// run is a table's part of one import.
type run[T any] struct {
	tb     *table[T]
	s      sheet
	places map[string]place
	before map[int]T   // rows that were there, by index in the house
	lines  map[int]int // file line of each row touched

	content int // one more than the place of the column known by what stands in it
}

func (tb *table[T]) merge(t *taking, s sheet) merged {
	t.from[tb.many] = s.name
	r := &run[T]{tb: tb, s: s, before: map[int]T{}, lines: map[int]int{}}
	var extra []int
	r.places, extra = tb.find(s.header)
	extra = r.byContent(t, r.obey(extra))
	r.extra(t, extra)
	r.currency(t)
	r.guessUnits(t)
	turned := r.monthsFirst()
	r.guess(t)
	rows := tb.rows(&t.h)
	*rows = append([]T(nil), *rows...)
	there := len(*rows)
	var filled []*filling[T]
	for _, line := range s.rows {
		if isTotal(line.cells) {
			t.rep.Left = append(t.rep.Left, Line{File: s.name, Row: line.line, What: "A line of totals; nothing in it was taken."})
			continue
		}
		for key := range turned {
			if at := r.places[key].at; at < len(line.cells) {
				line.cells[at] = dayFirst(line.cells[at])
			}
		}
		x := r.fill(t, line)
		if !x.drop {
			filled = append(filled, x)
		}
	}
	r.giveCodes(t, filled, *rows)
	to := tb.match(filled, *rows, t)
	n, fresh := 0, 0
	for i, x := range filled {
		at := to[i]
		if at == -2 {
			continue
		}
		if at >= 0 {
			x.row, x.old = &(*rows)[at], (*rows)[at]
			r.before[at] = x.old
		} else {
			at = len(*rows)
			*rows = append(*rows, *new(T))
			x.row, x.isNew = &(*rows)[at], true
			fresh++
		}
		r.put(x)
		if x.drop {
			if x.isNew {
				*rows, fresh = (*rows)[:at], fresh-1
			} else {
				*x.row = x.old
			}
			continue
		}
		r.lines[at] = x.line
		n++
	}
	if len(*rows) == 0 {
		*rows = nil
	}
	what := fmt.Sprintf("%d %s", n, tb.many)
	if n == 1 {
		what = "1 " + tb.one
	}
	if there > 0 {
		what += fmt.Sprintf(", %d of them new", fresh)
	}
	t.rep.Taken = append(t.rep.Taken, Line{File: s.name, What: what + "."})
	return r
}

// fill collects a line's cells and finds out who the row is.
func (r *run[T]) fill(t *taking, line row) *filling[T] {
	x := &filling[T]{t: t, s: r.s, line: line.line, cells: map[string]cell{}, failed: map[string]bool{}, person: r.tb.person, row: new(T)}
	for _, c := range r.tb.cols {
		if p, ok := r.places[c.key()]; ok && p.at < len(line.cells) && line.cells[p.at] != "" && !c.saysNothing(line.cells[p.at]) {
			x.cells[c.key()] = cell{bare(line.cells[p.at]), p.unit, p.flat}
		}
	}
	for i := len(r.s.header); i < len(line.cells); i++ {
		if line.cells[i] != "" {
			x.failWith("", line.cells[i], &fault{"This cell stands beyond the last column.", "Look for a separator inside a text."})
		}
	}
	for i, c := range r.tb.cols {
		got, have := x.cells[c.key()]
		if _, named := r.places[c.key()]; c.hard && !named && i == 0 && r.tb.natural != nil {
			x.codeless = true
			continue
		}
		if c.hard && !have {
			x.drop = true
			x.failWith(c.key(), "", &fault{fmt.Sprintf("This line has no %s and is left out.", strings.ReplaceAll(c.key(), "_", " ")), "Fill it in."})
			return x
		}
		if c.hard && c.to != nil && !c.to.known(&t.h, got.text) {
			x.drop = true
			x.fail(c.key(), &fault{fmt.Sprintf("There is no %s %q; the line is left out.", c.to.word, got.text), "Import the " + c.to.word + " first, or correct the code."})
			return x
		}
		if have && c.at != nil && r.tb.isKey(c) {
			c.set(x.row, got)
		}
	}
	return x
}

// isKey says whether a column helps to say who a row is: it is needed or hard.
func (tb *table[T]) isKey(c column[T]) bool {
	if c.hard || c.early {
		return true
	}
	for _, n := range tb.need {
		if n == c.key() {
			return true
		}
	}
	return false
}

// match says for each filled row which row of the house it is: an index, -1
// for a new one, -2 for one to leave out.
func (tb *table[T]) match(filled []*filling[T], rows []T, t *taking) []int {
	to := make([]int, len(filled))
	for i := range to {
		to[i] = -1
	}
	used := map[int]bool{}
	for _, key := range tb.keys {
		free := map[string][]int{}
		for i := range rows {
			if k := key(&rows[i]); k != "" && !used[i] {
				free[k] = append(free[k], i)
			}
		}
		seen := map[string]bool{}
		for i, x := range filled {
			k := key(x.row)
			if tb.single && seen[k] {
				to[i] = -2
				x.failWith(tb.cols[0].key(), k, &fault{fmt.Sprintf("%q stands twice in this file; the second line is left out.", k), "Give it a code of its own, or delete one line."})
				continue
			}
			seen[k] = true
			if to[i] == -1 && len(free[k]) > 0 {
				to[i] = free[k][0]
				used[to[i]] = true
				free[k] = free[k][1:]
			}
		}
	}
	return to
}

// set reads a cell into the column's field.
func (c column[T]) set(row *T, got cell) *fault {
	if c.read != nil {
		return c.read(c.at(row), got)
	}
	return set(c.at(row), got)
}

// put writes the cells into the row, in the table's order of columns.
func (r *run[T]) put(x *filling[T]) {
	for _, c := range r.tb.cols {
		got, have := x.cells[c.key()]
		if !have || c.at == nil {
			continue
		}
		if f := c.set(x.row, got); f != nil {
			x.fail(c.key(), f)
		}
	}
	if r.tb.finish != nil {
		r.tb.finish(x)
	}
	for _, c := range r.tb.cols {
		if c.at != nil && x.good(c.key()) {
			x.t.ink(r.tb.one, r.tb.keys[0](x.row), c.key())
			x.t.typed(x.cells[c.key()], c.at(x.row), show.Typed{Kind: r.tb.one, Code: r.tb.keys[0](x.row), Field: c.key()}, x.person)
		}
	}
}

// refs clears soft codes that name nothing.
func (r *run[T]) refs(t *taking) {
	rows := *r.tb.rows(&t.h)
	for i := range rows {
		line, touched := r.lines[i]
		if !touched {
			continue
		}
		for _, c := range r.tb.cols {
			if c.to == nil || c.hard || c.at == nil {
				continue
			}
			v := reflect.ValueOf(c.at(&rows[i])).Elem()
			for _, code := range codes(v) {
				if !c.to.known(&t.h, code) {
					without(v, code)
					t.leave(Line{File: r.s.name, Row: line, Column: c.key(), Text: code,
						What: fmt.Sprintf("There is no %s %q; the cell is left open.", c.to.word, code),
						Try:  "Correct the code, or import what it names and then this file again."}, r.tb.person)
				}
			}
		}
	}
}

func codes(v reflect.Value) []string {
	if v.Kind() == reflect.String {
		if v.String() == "" {
			return nil
		}
		return []string{v.String()}
	}
	out := make([]string, v.Len())
	for i := range out {
		out[i] = v.Index(i).String()
	}
	return out
}

// without takes a code out of a field, never touching the old slice.
func without(v reflect.Value, code string) {
	if v.Kind() == reflect.String {
		v.SetString("")
		return
	}
	out := reflect.Zero(v.Type())
	for i := 0; i < v.Len(); i++ {
		if v.Index(i).String() != code {
			out = reflect.Append(out, v.Index(i))
		}
	}
	v.Set(out)
}

// changes lists every value that was there and is another now. A number
// about a body is not repeated.
func (r *run[T]) changes(t *taking) {
	rows := *r.tb.rows(&t.h)
	for i := range rows {
		old, was := r.before[i]
		if !was || reflect.DeepEqual(old, rows[i]) {
			continue
		}
		for _, c := range r.tb.cols {
			if c.at == nil {
				continue
			}
			a, b := c.at(&old), c.at(&rows[i])
			if reflect.DeepEqual(a, b) {
				continue
			}
			l := Line{File: r.s.name, Row: r.lines[i], Column: c.key(), Text: say(t.h.Units, b),
				What: fmt.Sprintf("%s: %s before, %s now.", r.tb.keys[0](&rows[i]), say(t.h.Units, a), say(t.h.Units, b))}
			if _, aboutBody := a.(*body.Measure); aboutBody {
				l.Text, l.What = "", fmt.Sprintf("%s: another number than before.", r.tb.keys[0](&rows[i]))
				l.Try = "It stands on the performer’s own page."
			}
			t.rep.Changed = append(t.rep.Changed, l)
		}
	}
}
