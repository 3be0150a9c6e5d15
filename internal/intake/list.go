package intake

import (
	"reflect"
	"slices"
	"strings"
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// List is all rows of a list with all their fields. Numbers about a body are
// not in it: they stand on each one's own page.
type List struct {
	Kind  string // "garment"
	One   string // "garment"
	Many  string // "garments"
	Heads []Head
	Rows  []ListRow
	Coded bool // its rows have a code of their own
	Again bool // "same again" makes sense: they are things, not people
	Sizes bool // they can be made one size up
	Group bool // they can be copied to a group of roles
}

// Head is a column of a list.
type Head struct {
	Key, Label string
	Unit       string   // what a bare number counts in, or empty
	Choices    []string // what its cells say, the most frequent first
	Number     bool     // sorted by what it counts
	Long       bool
	Filled     int // rows that say something
}

// ListRow is a row of a list; its cells stand as the heads do.
type ListRow struct {
	Code  string
	Cells []ListCell
}

// ListCell is one value as it is typed and shown.
type ListCell struct {
	Value   string
	Assumed string // the rule that assumed it: pencil

	n     int64 // what a number counts
	known bool
}

// ListOf gives a list. A kind not known is Missing.
func ListOf(h *show.House, name string) (List, error) {
	k, err := kindNamed(name)
	if err != nil {
		return List{}, err
	}
	return k.list(h), nil
}

func (tb *table[T]) list(h *show.House) List {
	l := List{Kind: tb.kindName(), One: tb.one, Many: tb.many, Coded: tb.letter != "", Again: !tb.person, Sizes: tb.up != nil, Group: tb.kindName() == "look" || tb.kindName() == "piece"}
	cols := tb.listed()
	for _, c := range cols {
		_, _, number := rank(c.atNew())
		head := Head{Key: c.key(), Label: strings.ReplaceAll(c.key(), "_", " "), Unit: tb.unitOf(c, h), Choices: tb.choices(c, h), Number: number, Long: isLong(c.key())}
		if c.girth {
			head.Label = strings.TrimSuffix(head.Label, " round") + " round"
		}
		l.Heads = append(l.Heads, head)
	}
	w := writing(h)
	pencil := map[[2]string]string{}
	for _, o := range h.Origins {
		if o.Kind == tb.one {
			pencil[[2]string{o.Code, o.Field}] = o.Rule
		}
	}
	rows := *tb.rows(h)
	for i := range rows {
		row := ListRow{Code: tb.keys[0](&rows[i])}
		for k, c := range cols {
			at := ListCell{Value: tb.cell(c, &rows[i], w), Assumed: pencil[[2]string{row.Code, c.key()}]}
			at.n, at.known, _ = rank(c.at(&rows[i]))
			if at.Value != "" {
				l.Heads[k].Filled++
			}
			row.Cells = append(row.Cells, at)
		}
		l.Rows = append(l.Rows, row)
	}
	return l
}

// listed are the columns a list shows: those with a field, but the code and
// numbers about a body.
func (tb *table[T]) listed() []column[T] {
	var out []column[T]
	for i, c := range tb.cols {
		if i == 0 && tb.letter != "" || c.at == nil {
			continue
		}
		if _, aboutBody := c.atNew().(*body.Measure); !aboutBody {
			out = append(out, c)
		}
	}
	return out
}

// rank is what a field counts, in its smallest unit; number is false where it
// holds words.
func rank(p any) (n int64, known, number bool) {
	switch p := p.(type) {
	case *units.Span:
		return int64(p.Lo), p.Known, true
	case *units.Length:
		return int64(*p), *p != 0, true
	case *units.Maybe[units.Length]:
		return int64(p.V), p.Known, true
	case *units.Money:
		return int64(*p), true, true
	case *units.Maybe[units.Money]:
		return int64(p.V), p.Known, true
	case *units.Maybe[int]:
		return int64(p.V), p.Known, true
	case *units.Maybe[units.Minutes]:
		return int64(p.V), p.Known, true
	case *units.Minutes:
		return int64(*p), true, true
	case *time.Duration:
		return int64(*p), true, true
	case nil:
		return 0, false, false
	}
	switch v := reflect.ValueOf(p).Elem(); v.Kind() {
	case reflect.Int, reflect.Int64, reflect.Int32, reflect.Int16, reflect.Int8:
		return v.Int(), v.Int() != 0, true
	}
	return 0, false, false
}

// Find keeps the rows that say every word asked for, accents and case aside.
func (l *List) Find(query string) {
	if strings.TrimSpace(query) == "" {
		return
	}
	l.Rows = slices.DeleteFunc(l.Rows, func(r ListRow) bool {
		texts := []string{r.Code}
		for _, c := range r.Cells {
			texts = append(texts, c.Value)
		}
		return !Matches(query, texts...)
	})
}

// Sort orders the rows by a column, "" by their code; what says nothing comes
// last either way. A column that is not there is Missing.
func (l *List) Sort(key string, down bool) error {
	at := slices.IndexFunc(l.Heads, func(h Head) bool { return h.Key == key })
	if at < 0 && key != "" {
		return why.NotFound("column", key)
	}
	slices.SortStableFunc(l.Rows, func(a, b ListRow) int {
		if key == "" {
			return turned(strings.Compare(a.Code, b.Code), down)
		}
		x, y := a.Cells[at], b.Cells[at]
		switch {
		case (x.Value == "") != (y.Value == ""):
			if x.Value == "" {
				return 1
			}
			return -1
		case l.Heads[at].Number && x.n != y.n:
			if x.n < y.n {
				return turned(-1, down)
			}
			return turned(1, down)
		case l.Heads[at].Number:
			return 0
		}
		return turned(strings.Compare(Fold(x.Value), Fold(y.Value)), down)
	})
	return nil
}

func turned(n int, down bool) int {
	if down {
		return -n
	}
	return n
}

// isLong says whether a field may run to a line or more.
func isLong(key string) bool { return key == "note" || key == "idea" || key == "what_happens" }
