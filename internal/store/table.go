package store

import (
	"fmt"
	"strings"

	"hemwright/internal/show/show"
)

// life says how long rows live.
type life int

// The three lifetimes. What belongs to a show carries its number.
const (
	ofHouse  life = iota // the rail, the shelf, helpers: stays
	ofShow               // a show's archive: stays, without names
	ofPeople             // bodies and names: erased on the show's date
)

// spec is how a table is kept: key columns, other columns, and where rows
// have an order of their own, position.
type spec struct {
	name    string
	life    life
	key     []string
	rest    []string
	ordered bool
}

// columns are all but the show's number, in the order of the values.
func (s *spec) columns() []string {
	cols := append(append([]string(nil), s.key...), s.rest...)
	if s.ordered {
		cols = append(cols, "position")
	}
	return cols
}

// table turns rows of a house into rows of the file and back.
type table interface {
	spec() *spec
	rows(h *show.House) [][]any // without position
	load(l *loading, rows [][]any) error
}

// loading is a house being read; unread cells come from two tables.
type loading struct {
	h      *show.House
	unread []placed
}

type placed struct {
	at int64
	u  show.Unread
}

// field is one field of a row.
type field[T any] struct {
	name string
	at   func(*T) any
	ref  bool // a code that may be none: kept as NULL
}

// mapping keeps a list of the house in a table.
type mapping[T any] struct {
	name   string
	life   life
	keys   int  // so many fields, from the front, say which row it is
	many   bool // and several rows may share them: they are numbered
	part   bool // completes a row that another table has begun, found by its code
	list   func(*show.House) *[]T
	skip   func(*T) bool
	fields []field[T]
	made   *spec
}

func (m *mapping[T]) spec() *spec {
	if m.made != nil {
		return m.made
	}
	s := &spec{name: m.name, life: m.life, ordered: !m.part}
	for i, f := range m.fields {
		cols := columnsOf(f.name, f.at(new(T)))
		if i < m.keys {
			s.key = append(s.key, cols...)
		} else {
			s.rest = append(s.rest, cols...)
		}
	}
	if m.many {
		s.key = append(s.key, "n")
	}
	m.made = s
	return s
}

func (m *mapping[T]) rows(h *show.House) [][]any {
	list := *m.list(h)
	out := make([][]any, 0, len(list))
	seen := map[string]int64{}
	for i := range list {
		t := list[i]
		if m.skip != nil && m.skip(&t) {
			continue
		}
		var vals []any
		for j, f := range m.fields {
			v := encode(f.at(&t))
			if f.ref && v[0] == "" {
				v[0] = nil
			}
			vals = append(vals, v...)
			if j == m.keys-1 && m.many {
				k := keyOf(vals)
				vals = append(vals, seen[k])
				seen[k]++
			}
		}
		out = append(out, vals)
	}
	return out
}

func (m *mapping[T]) load(l *loading, rows [][]any) error {
	list := m.list(l.h)
	at := map[string]int{}
	if m.part {
		for i := range *list {
			at[keyOf(encode(m.fields[0].at(&(*list)[i])))] = i
		}
	} else if len(rows) > 0 {
		*list = make([]T, 0, len(rows))
	}
	for _, vals := range rows {
		var t *T
		if m.part {
			i, ok := at[keyOf(vals[:1])]
			if !ok {
				continue
			}
			t = &(*list)[i]
		} else {
			*list = append(*list, *new(T))
			t = &(*list)[len(*list)-1]
		}
		from := 0
		for j, f := range m.fields {
			p := f.at(t)
			n := len(columnsOf("", p))
			if err := decode(p, vals[from:from+n]); err != nil {
				return fmt.Errorf("table %s, %s: %w", m.name, f.name, err)
			}
			from += n
			if j == m.keys-1 && m.many {
				from++
			}
		}
	}
	return nil
}

// keyOf joins values into something a map can hold.
func keyOf(vals []any) string {
	var b strings.Builder
	for _, v := range vals {
		s := fmt.Sprint(v)
		fmt.Fprintf(&b, "%d %s ", len(s), s)
	}
	return b.String()
}

// listing keeps a list inside a row, one line an entry: the looks of a piece.
type listing[T any, X ~string] struct {
	name   string
	life   life
	parent string // the column of the row's code
	value  string // the column of the entry
	list   func(*show.House) *[]T
	code   func(*T) string
	in     func(*T) *[]X
}

func (m *listing[T, X]) spec() *spec {
	return &spec{name: m.name, life: m.life, key: []string{m.parent, "n"}, rest: []string{m.value}}
}

func (m *listing[T, X]) rows(h *show.House) [][]any {
	var out [][]any
	list := *m.list(h)
	for i := range list {
		for n, x := range *m.in(&list[i]) {
			out = append(out, []any{m.code(&list[i]), int64(n), string(x)})
		}
	}
	return out
}

func (m *listing[T, X]) load(l *loading, rows [][]any) error {
	list := *m.list(l.h)
	at := map[string]*T{}
	for i := range list {
		at[m.code(&list[i])] = &list[i]
	}
	for _, vals := range rows {
		code, _ := vals[0].(string)
		x, _ := vals[2].(string)
		if t := at[code]; t != nil {
			*m.in(t) = append(*m.in(t), X(x))
		}
	}
	return nil
}
