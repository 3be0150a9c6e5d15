package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Told is what somebody says of a table: which list it is, and what its
// columns are. The zero value says nothing: all of it is recognised.
type Told struct {
	Kind    string         // "garment", or empty
	Columns map[int]string // by place from 0: a field, as Guess.Fields names it, or LeaveOut
}

// LeaveOut is said of a column that is not to be taken.
const LeaveOut = "-"

// Guess is what a table was taken for, to be looked at and changed.
type Guess struct {
	File    string
	Kind    string // "garment"; empty where it is no list known here
	Many    string // "garments"
	Columns []ColumnGuess
	Rows    [][]string // its first three
	Of      int        // rows in all
	Fields  []Choice   // what a column of such a list may be
}

// Choice is a key with its words.
type Choice struct{ Key, Label string }

// ColumnGuess is what a column was taken for.
type ColumnGuess struct {
	Header string
	Key    string // of a field; empty where nobody claims it; LeaveOut where it is not to be taken
	Label  string
	Unit   string
	How    string // named, content, told, or empty
	Told   string // what it was told to be, or empty
	Read   int    // cells that can be read as that
	Of     int    // cells that say something
}

// Sure says how sure the guess is, in words.
func (c ColumnGuess) Sure() string {
	how := map[string]string{"named": "by its name", "content": "by what stands in it", "told": "as you said"}[c.How]
	switch {
	case c.Key == LeaveOut:
		return "left out, as you said"
	case c.Key == "":
		return "not known; kept aside"
	case c.Of == 0:
		return how + "; it is empty"
	case c.Read == c.Of:
		return fmt.Sprintf("%s; all %d cells can be read", how, c.Of)
	}
	return fmt.Sprintf("%s, but only %d of %d cells can be read", how, c.Read, c.Of)
}

// String prints what the column was taken for.
func (c ColumnGuess) String() string {
	is := c.Label
	if c.Key == "" || c.Key == LeaveOut {
		return fmt.Sprintf("%q: %s", c.Header, c.Sure())
	}
	if c.Unit != "" {
		is += " in " + c.Unit
	}
	return fmt.Sprintf("%q is %s: %s", c.Header, is, c.Sure())
}

// Lists are the lists a table can be told to be.
func Lists() []Choice {
	var out []Choice
	for _, k := range kinds {
		if k.editable() {
			out = append(out, Choice{k.kindName(), k.word()})
		}
	}
	return out
}

// obey puts the columns where they were told to be.
func (r *run[T]) obey(extra []int) []int {
	if r.s.told == nil {
		return extra
	}
	for at, key := range r.s.told.Columns {
		means := func(c column[T]) bool {
			_, _, is := c.matches(key)
			return is && (c.key() == key || strings.HasPrefix(key, c.key()+"_"))
		}
		if at < 0 || at >= len(r.s.header) || key != LeaveOut && !slices.ContainsFunc(r.tb.cols, means) {
			continue // of another list, perhaps: nothing is lost by it
		}
		for k, p := range r.places {
			if p.at == at {
				delete(r.places, k)
			}
		}
		extra = slices.DeleteFunc(extra, func(i int) bool { return i == at })
		for _, c := range r.tb.cols {
			if !means(c) {
				continue
			}
			unit, flat, _ := c.matches(key)
			if was, there := r.places[c.key()]; there && r.s.told.Columns[was.at] != key {
				extra = append(extra, was.at)
			}
			if unit == "" {
				unit, flat = c.unitIn(tidy(r.s.header[at]))
			}
			r.places[c.key()] = place{at, unit, flat}
			break
		}
	}
	slices.Sort(extra)
	return extra
}

// unitIn is the unit a header ends in, where the column can be given in it.
func (c column[T]) unitIn(header string) (unit string, flat bool) {
	words := strings.Split(header, "_")
	last := words[len(words)-1]
	if len(words) < 2 && last == "" || !c.takes(last) {
		return c.unit, false
	}
	return last, c.girth && slices.Contains(words, "flat")
}

// feetInches is a height as people write it: 5'4".
var feetInches = regexp.MustCompile(`^\d\s?['’′]\s?\d{0,2}([.½ ]\d*)?\s?(["”″]|''|’’)?$`)

// byContent gives a column nobody claims to the height where every cell of it
// is in feet and inches: three at least.
func (r *run[T]) byContent(t *taking, extra []int) []int {
	c := slices.IndexFunc(r.tb.cols, func(c column[T]) bool { return c.key() == "height" })
	if _, there := r.places["height"]; c < 0 || there {
		return extra
	}
	for _, at := range extra {
		cells := r.cellsAt(at)
		if len(cells) < 3 || slices.ContainsFunc(cells, func(s string) bool { return !feetInches.MatchString(s) }) {
			continue
		}
		r.places["height"] = place{at: at}
		r.content = at + 1
		t.rep.Left = append(t.rep.Left, Line{File: r.s.name, Column: r.s.header[at], What: "Taken as the height, by what stands in it.", Try: "If that is wrong: undo, and say what the column is."})
		return slices.DeleteFunc(extra, func(i int) bool { return i == at })
	}
	return extra
}

// cellsAt are the cells of a column that say something.
func (r *run[T]) cellsAt(at int) []string {
	var out []string
	for _, line := range r.s.rows {
		if at < len(line.cells) && line.cells[at] != "" && !isTotal(line.cells) {
			out = append(out, line.cells[at])
		}
	}
	return out
}

// guess tells what each column was taken for.
func (r *run[T]) guess(t *taking) {
	g := begun(r.s)
	g.Kind, g.Many = r.tb.kindName(), r.tb.many
	by := map[int]column[T]{}
	for _, c := range r.tb.cols {
		g.Fields = append(g.Fields, c.choices()...)
		if p, there := r.places[c.key()]; there {
			by[p.at] = c
		}
	}
	for i := range g.Columns {
		to := &g.Columns[i]
		if r.s.told != nil {
			to.Told = r.s.told.Columns[i]
		}
		c, there := by[i]
		if !there {
			if to.Told == LeaveOut {
				to.Key, to.How = LeaveOut, "told"
			}
			continue
		}
		p := r.places[c.key()]
		to.Key, to.Label, to.Unit, to.How = c.key(), strings.ReplaceAll(c.key(), "_", " "), p.unit, "named"
		if p.flat {
			to.Unit += " flat"
		}
		switch {
		case to.Told != "":
			to.How = "told"
		case r.content == i+1:
			to.How = "content"
		}
		for _, text := range r.cellsAt(i) {
			to.Of++
			if c.at == nil || c.saysNothing(text) || c.set(new(T), cell{bare(text), p.unit, p.flat}) == nil {
				to.Read++
			}
		}
	}
	t.rep.Guesses = append(t.rep.Guesses, g)
}

// choices are the ways a column can be told: a length in centimetres, in
// inches, or flat.
func (c column[T]) choices() []Choice {
	label := strings.ReplaceAll(c.key(), "_", " ")
	out := []Choice{{c.key(), label}}
	if !c.isLength() {
		return out
	}
	out = append(out, Choice{c.key() + "_cm", label + ", cm"}, Choice{c.key() + "_in", label + ", inches"})
	if c.girth {
		out = append(out, Choice{c.key() + "_flat_cm", label + ", flat, cm"}, Choice{c.key() + "_flat_in", label + ", flat, inches"})
	}
	return out
}

// Unknown gives a file in which no list is known, so that one can say what its
// columns are. The error says why it is no table.
func Unknown(f File) (Guess, error) {
	s, err := readSheet(f)
	return begun(s), err
}

// begun is a guess that knows nothing yet.
func begun(s sheet) Guess {
	g := Guess{File: s.name, Of: len(s.rows)}
	for _, h := range s.header {
		g.Columns = append(g.Columns, ColumnGuess{Header: h})
	}
	for _, r := range s.rows[:min(3, len(s.rows))] {
		cells := make([]string, len(s.header))
		copy(cells, r.cells)
		g.Rows = append(g.Rows, cells)
	}
	return g
}
