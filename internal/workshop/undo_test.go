package workshop

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// dump is every row of every table but the journal's own, as the file holds
// them: two houses with the same dump are the same to the byte.
func dump(t testing.TB, path string) string {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var b strings.Builder
	for _, table := range column(t, db, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT IN ('act', 'current_act', 'image', 'person_image', 'result', 'current_show', 'outside') ORDER BY name") {
		cols := column(t, db, "SELECT 'quote(' || name || ')' FROM pragma_table_info('"+table+"')")
		rows := column(t, db, "SELECT "+strings.Join(cols, " || ', ' || ")+" FROM "+table)
		sort.Strings(rows)
		for _, r := range rows {
			fmt.Fprintf(&b, "%s: %s\n", table, r)
		}
	}
	return b.String()
}

func column(t testing.TB, db *sql.DB, query string) []string {
	t.Helper()
	rows, err := db.Query(query)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// season does random things to a house.
type season struct {
	t    testing.TB
	path string
	w    *Workshop
}

func (s *season) must(err error) {
	if k := why.KindOf(err); err != nil && k != why.Conflict && k != why.Missing {
		s.t.Fatal(err)
	}
}

// list lets a deed on a list be refused: rows may be gone, a word may be none.
func (s *season) list(err error) {
	if why.KindOf(err) != why.Invalid {
		s.must(err)
	}
}

// anything does one random thing a person does.
func (s *season) anything(rt *rapid.T) {
	ctx := context.Background()
	piece := show.PieceID(rapid.SampledFrom([]string{"Z1", "Z2", "Z3", "Z7", "Z8", "Z9"}).Draw(rt, "piece"))
	word := rapid.SampledFrom([]string{"", "x", "it's \"so\"", "Żofia’s\nhem", "{\"a\": [1]}", "0", "1.5", "null"}).Draw(rt, "word")
	switch rapid.IntRange(0, 13).Draw(rt, "deed") {
	case 0, 1:
		src := rapid.SampledFrom(answer.Sources()).Draw(rt, "source")
		s.must(s.w.Pin(ctx, show.Pin{Piece: piece, Source: string(src)}))
	case 2:
		s.must(s.w.Unpin(ctx, piece))
	case 3:
		s.must(s.w.SetHowFar(ctx, piece, rapid.SampledFrom([]show.HowFar{show.ThoughtOf, show.InWork, show.Hung}).Draw(rt, "far")))
	case 4:
		s.sheet(fmt.Sprintf("performer_id,name,chest_cm,waist_cm,notes\nA%d,Ann %d,%d,%s,kept\n", rapid.IntRange(1, 9).Draw(rt, "who"), rapid.IntRange(1, 3).Draw(rt, "name"), rapid.IntRange(60, 110).Draw(rt, "chest"), rapid.SampledFrom([]string{"", "67", "23", "about so"}).Draw(rt, "waist")))
	case 5:
		s.sheet(fmt.Sprintf("stock_id,category,garment,colour\nG%d,coat,coat %d,red\n", rapid.IntRange(1, 9).Draw(rt, "garment"), rapid.IntRange(1, 3).Draw(rt, "coat")))
	case 6:
		_, err := s.w.Undo(ctx)
		s.must(err)
	case 7:
		_, err := s.w.Redo(ctx)
		s.must(err)
	case 8:
		s.must(s.w.Close())
		var err error
		if s.w, err = Open(s.path, Settings{Budget: quick}); err != nil {
			s.t.Fatal(err)
		}
	case 9:
		s.must(s.w.Took(ctx, show.HelperID(rapid.SampledFrom([]string{"M1", "M2", "M9"}).Draw(rt, "helper")), piece, word, 30, 20))
	case 10:
		s.list(s.w.SetEach(ctx, "garment", []string{"G1", "G3"}, "place", word))
	case 11:
		_, err := s.w.Again(ctx, "garment", []string{"G1", "G2"}, rapid.Bool().Draw(rt, "a size up"))
		s.list(err)
	case 12:
		s.list(s.w.RemoveEach(ctx, "note", []string{"N1", "N2"}))
	case 13:
		s.must(s.w.act(ctx, "an edit", func(h *show.House) error { edit(rt, h, word); return nil }))
	}
}

// edit changes rows of many tables at once: words, orders, lists, removals.
func edit(rt *rapid.T, h *show.House, word string) {
	n := rapid.IntRange(0, 20).Draw(rt, "row")
	switch rapid.IntRange(0, 7).Draw(rt, "edit") {
	case 0:
		h.Notes = append(h.Notes, show.Note{ID: show.NoteID(fmt.Sprint("N", n)), What: word, Day: units.Date(n)})
		if len(h.Pieces) > 0 {
			h.Pieces[0].Note = word
		}
	case 1:
		if len(h.Garments) > 1 {
			h.Garments = append(h.Garments[1:], h.Garments[0])
		}
	case 2:
		if k := n % (len(h.Performers) + 1); k < len(h.Performers) {
			h.Performers[k].Care = []string{word, "arms covered"}[:1+n%2]
			h.Performers[k].Note = word
		}
	case 3:
		h.Notes = nil
		h.Casting = h.Casting[:len(h.Casting)/2]
	case 4:
		h.Show.Name, h.Show.EraseOn = word, units.Date(n)
		h.Unread = append(h.Unread, show.Unread{File: "f", Row: n, Text: word, AboutPerson: n%2 == 0})
	case 5:
		h.Calendar = append(h.Calendar, show.Entry{What: word, Start: units.Clock(n)})
		h.Feet = h.Feet[:len(h.Feet)/2]
	case 6:
		if len(h.Cloths) > 0 {
			h.Cloths[0].Flaws = append(h.Cloths[0].Flaws, show.Flaw{W: units.Length(n), H: 5})
		}
		for i := range h.Appearances {
			h.Appearances[i].Note = word
		}
	case 7:
		if len(h.Cloths) > 0 && len(h.Pieces) > 0 {
			h.HandLaid = append(h.HandLaid, show.HandLaid{Cloth: h.Cloths[0].ID, Piece: h.Pieces[0].ID, Part: word, Turn: 90 * (n % 4), Mirror: n%2 == 0, X: units.Length(n), Y: 5})
			h.Cloths[0].Repeat = units.Some(units.Length(n))
		}
		if len(h.Garments) > 0 {
			h.Garments[0].Label = word
		}
	}
}

func (s *season) sheet(text string) {
	path := filepath.Join(s.t.TempDir(), "small.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		s.t.Fatal(err)
	}
	_, err := s.w.Import(path)
	s.must(err)
}

// Any sequence of deeds, undone to the start, gives the first state; done
// again, the last; also across closing and reopening anywhere.
func TestAnySequenceIsUndoneAndDoneAgain(t *testing.T) {
	oneAtATime(t)
	w := orchard(t)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	start, err := os.ReadFile(w.store.Path())
	if err != nil {
		t.Fatal(err)
	}
	empty := filepath.Join(t.TempDir(), "empty")
	e, err := New(empty, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	e.Close()
	first := dump(t, empty)
	ctx := context.Background()
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue {
		f.Value.Set("25") // every sequence writes a few hundred acts; ask for more with -rapid.checks
		defer f.Value.Set(f.DefValue)
	}
	rapid.Check(t, func(rt *rapid.T) {
		path := filepath.Join(t.TempDir(), "h")
		if err := os.WriteFile(path, start, 0o600); err != nil {
			t.Fatal(err)
		}
		w, err := Open(path, Settings{Budget: quick})
		if err != nil {
			t.Fatal(err)
		}
		s := &season{t: t, path: path, w: w}
		defer func() { s.w.Close() }()
		for range rapid.IntRange(1, 25).Draw(rt, "deeds") {
			s.anything(rt)
		}
		last, undone := dump(t, path), 0
		for ; ; undone++ {
			if _, err := s.w.Undo(ctx); why.KindOf(err) == why.Conflict {
				break
			} else if err != nil {
				rt.Fatalf("undo %d: %v", undone, err)
			}
			if undone > 200 {
				rt.Fatal("undoing has no end")
			}
		}
		if got := dump(t, path); got != first {
			rt.Fatalf("undone to the start, %d deeds:\n%s\nwanted\n%s", undone, got, first)
		}
		if rapid.Bool().Draw(rt, "reopen") {
			s.w.Close()
			if s.w, err = Open(path, Settings{}); err != nil {
				t.Fatal(err)
			}
		}
		for i := range undone {
			if _, err := s.w.Redo(ctx); err != nil {
				rt.Fatalf("doing again %d of %d: %v", i, undone, err)
			}
		}
		if got := dump(t, path); got != last {
			rt.Fatalf("done again:\n%s\nwanted\n%s", diff(got, last), diff(last, got))
		}
	})
}

// diff is the lines of a that b has not.
func diff(a, b string) string {
	var out []string
	for _, l := range strings.Split(a, "\n") {
		if !strings.Contains(b, l) {
			out = append(out, l)
		}
	}
	return strings.Join(out, "\n")
}
