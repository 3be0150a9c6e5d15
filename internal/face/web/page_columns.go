package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/workshop"
)

// tableView is a table in a text: what it and its columns were taken for, and
// what else they may be.
type tableView struct {
	intake.Guess
	N      int // from 0
	As     string
	Told   string // the list it was told to be
	Lists  []intake.Choice
	Scenes bool
}

// Number counts the tables from 1.
func (t tableView) Number() int { return t.N + 1 }

// Looking are the tables of a text that was only looked at: they stand under
// the box, to be taken with it.
func (v startView) Looking() []tableView {
	if !v.Looked {
		return nil
	}
	return v.Tables
}

// Doubt says whether a column is not known, or not all of it can be read.
func (v startView) Doubt() bool {
	for _, t := range v.Tables {
		for _, c := range t.Columns {
			if len(t.Fields) > 0 && c.Key != intake.LeaveOut && (c.Key == "" || c.Read < c.Of) {
				return true
			}
		}
	}
	return false
}

// hear puts a text on the page, with what was understood of it.
func (v *startView) hear(heard workshop.Heard) {
	v.Whole, v.Act = heard.Text, heard.Act
	for _, x := range heard.Said {
		v.Heard = append(v.Heard, saidView{x, !x.Understood()})
		if !x.Understood() {
			v.NotHeard++
		}
	}
	for i, g := range heard.Guesses {
		t := tableView{Guess: g, N: i, As: "each line by itself", Told: heard.Told[i].Kind, Lists: intake.Lists()}
		if g.Many != "" {
			t.As = g.Many
		}
		v.Tables = append(v.Tables, t)
	}
}

// toldIn reads what a form tells of the tables of a text: list-0 is what the
// first lists, col-0-3 what its fourth column is.
func toldIn(r *http.Request) map[int]intake.Told {
	out := map[int]intake.Told{}
	of := func(n string) (int, intake.Told, bool) {
		i, err := strconv.Atoi(n)
		t := out[i]
		if t.Columns == nil {
			t.Columns = map[int]string{}
		}
		return i, t, err == nil
	}
	for key, values := range r.Form {
		if len(values) == 0 || values[0] == "" {
			continue
		}
		if n, is := strings.CutPrefix(key, "list-"); is {
			if i, t, ok := of(n); ok {
				t.Kind = values[0]
				out[i] = t
			}
		}
		var table, col int
		if n, _ := fmt.Sscanf(key, "col-%d-%d", &table, &col); n == 2 {
			i, t, _ := of(strconv.Itoa(table))
			t.Columns[col] = values[0]
			out[i] = t
		}
	}
	return out
}
