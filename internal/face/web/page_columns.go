package web

import (
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/value/why"
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
	v.Whole, v.Act, v.File = heard.Text, heard.Act, heard.File
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

// largestFile is the most a file brought in may hold, in bytes.
const largestFile = 16 << 20

// bringFile takes a spreadsheet, or reads the last one again as it is told.
func (s *server) bringFile(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fileIn(r)
	if err != nil {
		return s.fileRefused(w, r, err, intake.File{}, nil)
	}
	byNumber, byName := toldIn(r), map[string]intake.Told{}
	for i, t := range byNumber {
		byName[r.FormValue("table-"+strconv.Itoa(i))] = t
	}
	instead, _ := strconv.ParseInt(r.FormValue("instead"), 10, 64)
	heard, err := s.ws.TakeFile(r.Context(), f, byName, instead)
	if err != nil {
		return s.fileRefused(w, r, err, f, byNumber)
	}
	s.mu.Lock()
	s.heard, s.file = heard, f
	s.mu.Unlock()
	return back(w, r, "/start#heard")
}

// fileIn is the file that came, else the one that is held.
func (s *server) fileIn(r *http.Request) (intake.File, error) {
	body, head, err := r.FormFile("file")
	if err == nil {
		defer body.Close()
		data, err := io.ReadAll(body)
		if err != nil || len(data) == 0 {
			return intake.File{}, why.Bad("file", "The file is empty, or did not arrive whole.", "Choose it again.")
		}
		return intake.File{Name: filepath.Base(head.Filename), Data: data}, nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.file.Name == "" || s.file.Name != r.FormValue("held") {
		return intake.File{}, why.Bad("file", "No file came.", fmt.Sprintf("Choose a spreadsheet, CSV or XLSX, of at most %d MB.", largestFile>>20))
	}
	return s.file, nil
}

// fileRefused shows the page again. A table in which no list is known stays
// there, to be told.
func (s *server) fileRefused(w http.ResponseWriter, r *http.Request, err error, f intake.File, told map[int]intake.Told) error {
	return s.again(w, r, err, "start", func(p *workshop.Prepared, fault string) view {
		v := s.startPage(p)
		v.FileFault = fault
		if f.Name == "" {
			return v
		}
		if g, err := intake.Unknown(f); err == nil {
			s.mu.Lock()
			s.file = f
			s.mu.Unlock()
			v.hear(workshop.Heard{File: f.Name, Told: told, Guesses: []intake.Guess{g}})
			v.Act, _ = strconv.ParseInt(r.FormValue("instead"), 10, 64)
		}
		return v
	})
}
