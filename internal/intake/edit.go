package intake

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// Field is one field of a row as a person edits it.
type Field struct {
	Key     string   // "hem_clear"
	Label   string   // "hem clear"
	Value   string   // as typed, else as printed
	Unit    string   // what a bare number counts in: "cm", "min", "€"; or empty
	Choices []string // what others of its kind say, the most frequent first
	Fault   string   // why what was typed was not taken
	MayStay bool     // it is taken all the same once keep-KEY says yes
	Assumed string   // the rule that assumed the value: pencil
	Measure bool     // a number about a body
	Long    bool     // words that may run to a line or more
}

// Row is a row of a list, to be edited.
type Row struct {
	Kind   string // "garment"
	Code   string // empty for a new one
	Fields []Field
	Sizes  bool // can be made one size up
}

// Kinds are the lists that can be edited row by row.
func Kinds() []string {
	var out []string
	for _, k := range kinds {
		if k.editable() {
			out = append(out, k.kindName())
		}
	}
	return out
}

func kindNamed(name string) (kind, error) {
	for _, k := range kinds {
		if k.editable() && k.kindName() == name {
			return k, nil
		}
	}
	return nil, why.NotFound("list of", name)
}

// EditRow gives a row to be edited; code "" is a new one, like, if not empty,
// the row it begins as a copy of.
func EditRow(h *show.House, name, code, like string) (Row, error) {
	k, err := kindNamed(name)
	if err != nil {
		return Row{}, err
	}
	return k.edit(h, code, like)
}

// SaveRow takes what was typed into the fields of a row; code "" makes a new
// one. Fields not in values stay as they are; an emptied one is not known
// any more. Where something cannot be taken nothing is, and the row comes
// back with what was typed and a fault beside each such field.
func SaveRow(h show.House, name, code string, values map[string]string) (show.House, Row, error) {
	k, err := kindNamed(name)
	if err != nil {
		return h, Row{}, err
	}
	t := &taking{h: h, from: map[string]string{}, sure: map[string]bool{}}
	for key, v := range values {
		if column, ok := strings.CutPrefix(key, "keep-"); ok && v == "yes" {
			t.sure[column] = true
		}
	}
	row, err := k.save(t, code, values)
	if err != nil || row.faulty() {
		return h, row, err
	}
	t.h.Typed, t.h.PeopleTyped = t.thingsTyped.onto(h.Typed), t.peopleTyped.onto(h.PeopleTyped)
	return t.h, row, nil
}

func (r Row) faulty() bool {
	return slices.ContainsFunc(r.Fields, func(f Field) bool { return f.Fault != "" })
}

// RemoveRow takes a row out of its list. What names it stays as it is: the
// store refuses where that would leave something hanging.
func RemoveRow(h show.House, name, code string) (show.House, error) {
	k, err := kindNamed(name)
	if err != nil {
		return h, err
	}
	return h, k.remove(&h, code)
}

func (tb *table[T]) kindName() string {
	if tb.page != "" {
		return tb.page
	}
	return tb.one
}

// editable lists have a code of their own, or rows known by what they say.
func (tb *table[T]) editable() bool { return tb.single && tb.letter != "" || tb.page != "" }

// find gives the row of a code; nil where there is none.
func (tb *table[T]) row(h *show.House, code string) *T {
	rows := *tb.rows(h)
	for i := range rows {
		if code != "" && tb.keys[0](&rows[i]) == code {
			return &rows[i]
		}
	}
	return nil
}

func (tb *table[T]) edit(h *show.House, code, like string) (Row, error) {
	from := code
	if from == "" {
		from = like
	}
	row := tb.row(h, from)
	if row == nil {
		if from != "" {
			return Row{}, why.NotFound(tb.one, from)
		}
		row = new(T)
	}
	return tb.fieldsOf(h, row, code), nil
}

// fieldsOf are the fields of a row as they stand.
func (tb *table[T]) fieldsOf(h *show.House, row *T, code string) Row {
	w := writing(h)
	out := Row{Kind: tb.kindName(), Code: code, Sizes: tb.up != nil}
	for i, c := range tb.cols {
		if i == 0 && tb.letter != "" || c.at == nil && !c.input {
			continue
		}
		f := Field{Key: c.key(), Label: strings.ReplaceAll(c.key(), "_", " "), Value: tb.cell(c, row, w), Unit: tb.unitOf(c, h), Choices: tb.choices(c, h)}
		_, f.Measure = c.atNew().(*body.Measure)
		f.Long = isLong(f.Key)
		if o := h.Origin(tb.one, code, f.Key); o != nil && code != "" {
			f.Assumed = o.Rule
		}
		out.Fields = append(out.Fields, f)
	}
	return out
}

// unitOf is what a bare number in a column counts in.
func (tb *table[T]) unitOf(c column[T], h *show.House) string {
	switch {
	case c.isLength():
		return h.Units.Unit()
	case c.sized:
		return "cm"
	case c.isMoney():
		return h.Show.Currency
	}
	return c.unit
}

// choices are what the other rows say in a column of words, the most frequent
// first; none where nearly every row says something of its own.
func (tb *table[T]) choices(c column[T], h *show.House) []string {
	if c.at == nil {
		return nil
	}
	if _, yes := c.atNew().(*bool); yes {
		return []string{"yes", "no"}
	}
	v := reflect.ValueOf(c.atNew()).Elem()
	if v.Kind() != reflect.String || c.to != nil {
		return nil
	}
	count := map[string]int{}
	rows := *tb.rows(h)
	for i := range rows {
		if s := reflect.ValueOf(c.at(&rows[i])).Elem().String(); s != "" {
			count[s]++
		}
	}
	var out []string
	for s := range count {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b string) int {
		if count[a] != count[b] {
			return count[b] - count[a]
		}
		return strings.Compare(a, b)
	})
	if len(out) > 40 {
		out = out[:40]
	}
	return out
}

func (tb *table[T]) save(t *taking, code string, values map[string]string) (Row, error) {
	rows := tb.rows(&t.h)
	*rows = slices.Clone(*rows)
	isNew := code == ""
	var row *T
	switch {
	case isNew:
		*rows = append(*rows, *new(T))
		row = &(*rows)[len(*rows)-1]
		if tb.letter != "" {
			code = next(tb.letter, tb.digits, func(c string) bool { return taken(&t.h, c) })
			reflect.ValueOf(tb.cols[0].at(row)).Elem().SetString(code)
		}
	default:
		if row = tb.row(&t.h, code); row == nil {
			return Row{}, why.NotFound(tb.one, code)
		}
	}
	shown := tb.fieldsOf(&t.h, row, code)
	x := &filling[T]{t: t, s: sheet{name: "typed"}, cells: map[string]cell{}, failed: map[string]bool{}, person: tb.person, row: row, old: *row, isNew: isNew}
	tb.fillIn(x, &shown, values)
	if tb.finish != nil {
		tb.finish(x)
	}
	for i := range shown.Fields {
		f := &shown.Fields[i]
		if f.Fault == "" {
			f.Fault, f.MayStay = t.faultOf(f.Key)
		}
	}
	if tb.letter == "" {
		tb.known(t, row, code, &shown)
	}
	if shown.faulty() {
		return shown, nil
	}
	tb.settled(x, values)
	return shown, nil
}

// known sees to a row that is known by what it says: all that says who it is
// must be there, and no other row says the same. What was kept under its old
// words goes with it.
func (tb *table[T]) known(t *taking, row *T, code string, shown *Row) {
	for _, c := range tb.cols {
		for i := range shown.Fields {
			if f := &shown.Fields[i]; c.hard && f.Key == c.key() && f.Value == "" && f.Fault == "" {
				f.Fault = "This cannot be left empty."
			}
		}
	}
	now := tb.keys[0](row)
	same := 0
	for i := range *tb.rows(&t.h) {
		if tb.keys[0](&(*tb.rows(&t.h))[i]) == now {
			same++
		}
	}
	if same > 1 && now != code && shown.Fields[0].Fault == "" {
		shown.Fields[0].Fault = "There is such a row already. Change that one, or make this one differ."
	}
	shown.Code = now
	if code == "" || code == now {
		return
	}
	t.h.Origins = slices.Clone(t.h.Origins)
	for i, o := range t.h.Origins {
		if o.Kind == tb.one && o.Code == code {
			t.h.Origins[i].Code = now
		}
	}
	t.h.Typed = slices.Clone(t.h.Typed)
	for i, w := range t.h.Typed {
		if w.Kind == tb.one && w.Code == code {
			t.h.Typed[i].Code = now
		}
	}
}

// fillIn puts what was typed into the row: what differs from what stood
// there.
func (tb *table[T]) fillIn(x *filling[T], shown *Row, values map[string]string) {
	byKey := map[string]*Field{}
	for i := range shown.Fields {
		byKey[shown.Fields[i].Key] = &shown.Fields[i]
	}
	for _, c := range tb.cols {
		f := byKey[c.key()]
		typed, given := values[c.key()]
		if f == nil || !given {
			continue
		}
		typed = strings.TrimSpace(typed)
		was := f.Value
		f.Value = typed
		if typed == was && !c.input || c.at == nil && typed == "" {
			continue
		}
		got := cell{text: typed, unit: f.Unit}
		if c.isMoney() {
			got.unit = ""
		}
		if c.at == nil {
			x.cells[c.key()] = got
			continue
		}
		if typed == "" {
			reflect.ValueOf(c.at(x.row)).Elem().SetZero()
			continue
		}
		x.cells[c.key()] = got
		if c.print == nil { // a field of two columns keeps the other's
			reflect.ValueOf(c.at(x.row)).Elem().SetZero()
		}
		if fault := c.set(x.row, got); fault != nil {
			f.Fault = strings.TrimSpace(fault.what + " " + fault.try)
			continue
		}
		if c.to != nil {
			for _, code := range codes(reflect.ValueOf(c.at(x.row)).Elem()) {
				if !c.to.known(&x.t.h, code) {
					f.Fault = fmt.Sprintf("There is no %s %q.", c.to.word, code)
				}
			}
		}
	}
}

// faultOf is what a check of the whole row said of a field, and whether it may
// stay all the same.
func (t *taking) faultOf(key string) (fault string, mayStay bool) {
	for _, l := range t.rep.Left {
		if l.Column == key {
			return strings.TrimSpace(l.What + " " + l.Try), l.mayStay
		}
	}
	return "", false
}

// settled keeps the words values were typed in, and makes ink of what was
// said.
func (tb *table[T]) settled(x *filling[T], values map[string]string) {
	for _, c := range tb.cols {
		if _, typed := values[c.key()]; !typed || c.at == nil {
			continue
		}
		if x.good(c.key()) {
			x.t.typed(x.cells[c.key()], c.at(x.row), show.Typed{Kind: tb.one, Code: tb.keys[0](x.row), Field: c.key()}, tb.person)
			x.t.ink(tb.one, tb.keys[0](x.row), c.key())
		}
	}
}

// ink takes the mark of an assumption away.
func (t *taking) ink(kind, code, field string) {
	if t.h.Origin(kind, code, field) != nil {
		t.h.Origins = slices.DeleteFunc(slices.Clone(t.h.Origins), func(o show.Origin) bool { return o.Kind == kind && o.Code == code && o.Field == field })
	}
}

func (tb *table[T]) remove(h *show.House, code string) error {
	rows := tb.rows(h)
	if tb.row(h, code) == nil {
		return why.NotFound(tb.one, code)
	}
	*rows = slices.DeleteFunc(slices.Clone(*rows), func(r T) bool { return tb.keys[0](&r) == code })
	return nil
}

// taken says whether any list uses a code.
func taken(h *show.House, code string) bool {
	for _, k := range kinds {
		if k.editable() && k.has(h, code) {
			return true
		}
	}
	return false
}

func (tb *table[T]) has(h *show.House, code string) bool { return tb.row(h, code) != nil }

// NextCode is the first free code of a letter and so many digits: "C017".
func NextCode(h *show.House, letter string, digits int) string {
	return next(letter, digits, func(c string) bool { return taken(h, c) })
}
