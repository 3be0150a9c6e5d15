package store

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// planted is what must be found nowhere once somebody is erased.
var planted = map[string][]byte{
	"the name":             []byte("Zyxwira"),
	"the other name":       []byte("Quollenby"),
	"the name in large":    []byte("ZYXWIRA"),
	"a name put right":     []byte("Zyxwera"),
	"a wish":               []byte("wishes of Gorbelduft"),
	"a picture":            []byte("picture-of-Zyx"),
	"the picture in hex":   []byte("706963747572652D6F662D5A7978"),
	"a measure, as stored": {0x0c, 0xc8, 0x44, 0x0c, 0xc8, 0x44}, // 837700, twice: from and to
	"a measure, in images": []byte("837700"),
	"a measure, as said":   []byte("83.77"),
	"a corrected measure":  []byte("837300"),
	"a cell about her":     []byte("cell-of-hers"),
	"words as typed":       []byte("typed-by-hand"),
	"an origin":            []byte("origin-of-hers"),
	"another cell":         []byte("cell-with-her-name"),
}

// plant fills a house with somebody who is everywhere.
func plant(t testing.TB, s *Store) show.House {
	t.Helper()
	h := demotest.House(t)
	p := h.Performer("P07")
	p.Name, p.Care, p.Note = "Zyxwera Quollenby-Vash", []string{"wishes of Gorbelduft"}, "Zyxwira likes it loose"
	p.Body[body.Chest] = body.Measure{Span: units.Exactly(837300), Origin: body.Measured, Who: "H2"}
	put(t, s, "Zyxwera brought in", h)
	p.Name = "Zyxwira Quollenby-Vash"
	p.Body[body.Chest].Span = units.Exactly(837700)
	h.Notes = append(h.Notes, show.Note{ID: "N98", What: "Zyxwira's coat: 83.77 round, ZYXWIRA sits beside Quollenby-Vash"})
	h.Notes[0].What = "ask Zyxwira \"soon\""
	h.Garments[0].Owner, h.Garments[0].Note = "mother of Zyxwira", "zyxwira written small"
	h.Calendar = append(h.Calendar, show.Entry{Day: units.Date(46500), What: "fitting Zyxwira", Who: []string{"P07", "Zyxwira Quollenby-Vash"}},
		show.Entry{Day: units.Date(46500), What: "fitting P-role"})
	h.Helpers[0].Note = "drives Zyxwira"
	h.Performers[0].Note = "friend of Zyxwira"
	h.PeopleTyped = append(h.PeopleTyped, show.Typed{Kind: "performer", Code: "P07", Field: "chest", Words: "83.77 typed-by-hand", Is: 837700})
	h.Origins = append(h.Origins, show.Origin{Kind: "performer", Code: "P07", Field: "chest", How: show.Assumed, Rule: "origin-of-hers"})
	h.Unread = append(h.Unread, show.Unread{File: "cast.csv", Row: 9, Column: "waist", Text: "cell-of-hers", AboutPerson: true},
		show.Unread{File: "x.csv", Row: 9, Column: "note", Text: "Zyxwira cell-with-her-name"})
	put(t, s, "Told: zyxwira quollen…, chest 83.77", h)
	err := s.Do(context.Background(), Act{Words: "pictures", When: noon}, func(tx *Tx) error {
		for _, q := range []string{
			`INSERT INTO person_photograph VALUES (1, 'P07', 0, NULL, 'at the fitting', 'image/png', CAST('picture-of-Zyx' AS BLOB))`,
			`INSERT INTO photograph VALUES ('performer', 'P07', 0, NULL, '', 'image/png', CAST('picture-of-Zyx' AS BLOB))`,
			`INSERT INTO photograph VALUES ('garment', 'S001', 0, NULL, 'a coat', 'image/png', x'0102')`,
			`INSERT INTO person_origin VALUES (1, 'P07', 'chest', 'measured', '', NULL, 'Gorbelduft')`,
		} {
			if _, err := tx.tx.Exec(q); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for kind, doc := range map[string]string{"prepared": `{"Zyxwira": 837700}`, "other": "83.77"} {
		if err := s.SaveResult(context.Background(), Result{Kind: kind, AboutBody: true, Document: []byte(doc)}); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"Zyxwira.csv", "my clothes"} {
		if err := s.Left("spreadsheet", name, "2027-03-14"); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

// found says in which files of a folder something planted stands.
func found(t testing.TB, dir string) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	err := filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		for what, p := range planted {
			if bytes.Contains(b, p) {
				out[what] = append(out[what], filepath.Base(path))
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestErasedMeansNoByteIsLeft(t *testing.T) {
	for _, all := range []bool{false, true} {
		s, path := fresh(t)
		ctx := context.Background()
		plant(t, s)
		s = reopen(t, s) // makes a copy
		if _, err := s.Undo(ctx, "", noon); err != nil {
			t.Fatal(err)
		}
		s = reopen(t, s) // and another
		if _, err := s.Redo(ctx, "", noon); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path+".before-version-2", []byte("Zyxwira, in a copy that cannot be opened"), 0o600); err != nil {
			t.Fatal(err)
		}
		before := found(t, filepath.Dir(path))
		for what := range planted {
			if len(before[what]) == 0 {
				t.Errorf("%s is not found even before", what)
			}
		}
		e := Erase{Performers: []show.PerformerID{"P07"}, Roles: map[show.PerformerID]string{"P07": "the ferryman"}, Act: Act{Words: "P07 erased", When: noon}}
		if all {
			e.Performers = nil
		}
		look, err := s.Preview(ctx, e)
		if err != nil {
			t.Fatal(err)
		}
		if got := found(t, filepath.Dir(path)); len(got) != len(planted) {
			t.Errorf("looking at it erased something: %v", got)
		}
		done, err := s.Erase(ctx, e)
		if err != nil {
			t.Fatal(err)
		}
		if len(look.Lines) != len(done.Lines) || done.Copies != 4 || len(done.Outside) != 2 || done.Cells == 0 {
			t.Errorf("seen %d lines, done %d, %d copies, %d cells, outside %v", len(look.Lines), len(done.Lines), done.Copies, done.Cells, done.Outside)
		}
		if all {
			checkNobody(t, s)
		}
		for what, where := range found(t, filepath.Dir(path)) {
			t.Errorf("all %v: %s is left in %v", all, what, where)
		}
		h := read(t, s)
		if note := h.Notes[len(h.Notes)-1].What; note != "the ferryman's coat: … round, the ferryman sits beside the ferryman" {
			t.Errorf("the note is now %q", note)
		}
		if h.Notes[0].What != "ask the ferryman \"soon\"" || h.Garments[0].Owner != "mother of the ferryman" || h.Garments[0].Note != "zyxwira written small" {
			t.Errorf("%q %q %q", h.Notes[0].What, h.Garments[0].Owner, h.Garments[0].Note)
		}
		if h.Performer("P07") == nil || len(h.Performers) != len(demotest.House(t).Performers) || h.Helpers[0].Name == "" {
			t.Error("a performer's code, or a helper, is gone")
		}
		if !all && (h.Performers[1].Name == "" || !h.Performers[1].Body[body.Chest].Span.Known || h.Performers[0].Note != "friend of the ferryman") {
			t.Error("another child's rows are touched")
		}
		var similar int
		for _, l := range done.Lines {
			if l.OnlySimilar && strings.Contains(l.Before, "written small") {
				similar++
			}
		}
		if similar != 1 {
			t.Error("the name written small is not shown to be looked at")
		}
		if _, err := s.Undo(ctx, "", noon); why.KindOf(err) != why.Conflict || !strings.Contains(err.Error(), "erasing is for good") {
			t.Errorf("undoing it: %v", err)
		}
		if _, err := s.UndoAct(ctx, 1, "", noon); why.KindOf(err) != why.Conflict {
			t.Errorf("undoing what was before: %v", err)
		}
		if _, err := s.Redo(ctx, "", noon); why.KindOf(err) != why.Conflict {
			t.Errorf("redoing: %v", err)
		}
		if got := replayed(t, s); got != everything(t, s) {
			t.Errorf("the journal no longer leads to what is there:\n%s", firstDiff(got, everything(t, s)))
		}
		h.Pieces[0].HowFar = show.InWork
		put(t, s, "afterwards", h)
		if _, err := s.Undo(ctx, "", noon); err != nil {
			t.Errorf("what is done afterwards can be undone: %v", err)
		}
		s = reopen(t, s)
		if err := s.Restore(ctx, s.Copies()[1].N, Act{When: noon}); err != nil && why.KindOf(err) != why.Conflict {
			t.Fatal(err)
		}
		if got := found(t, filepath.Dir(path)); len(got) > 0 {
			t.Errorf("restoring a copy brought back %v", got)
		}
	}
}

func checkNobody(t testing.TB, s *Store) {
	t.Helper()
	for _, table := range []string{"person", "person_measure", "person_care", "person_not_by", "person_feet", "person_unread", "person_photograph", "person_origin", "person_typed", "person_image", "result", "outside"} {
		if rows := rowsOf(t, s, table); len(rows) > 0 {
			t.Errorf("%d rows left in %s", len(rows), table)
		}
	}
}

// An erasing cut off after its rows were gone is finished at the next opening.
func TestErasingCutOffIsFinished(t *testing.T) {
	s, path := fresh(t)
	plant(t, s)
	e := Erase{Performers: []show.PerformerID{"P07"}, Act: Act{Words: "P07 erased", When: noon}}
	if _, err := s.erase(context.Background(), e, false); err != nil {
		t.Fatal(err)
	}
	s = reopen(t, s)
	var left int
	if err := s.r.QueryRow("SELECT count(*) FROM act WHERE final = 2").Scan(&left); err != nil || left != 0 {
		t.Errorf("%d erasings unfinished, %v", left, err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for what, p := range planted {
		if bytes.Contains(b, p) {
			t.Errorf("%s is left", what)
		}
	}
}

// from: by hand.
func TestNamesInTexts(t *testing.T) {
	var r rewriter
	r.add("Rose Ann de Vries-Okoro", "the ferryman")
	r.numbers = []string{"83.5", "84"}
	for in, want := range map[string]string{
		"Rose's coat":                  "the ferryman's coat",
		"Rose’s coat, Roses hat":       "the ferryman’s coat, the ferrymans hat",
		"rose velvet, Rosemary":        "rose velvet, Rosemary",
		"ROSE: let out 83.5, not 84.1": "the ferryman: let out …, not 84.1",
		"no name 83.5":                 "no name 83.5",
		"(Rose Ann de Vries-Okoro)":    "(the ferryman)",
		"Okoro, Vries and de facto":    "the ferryman, the ferryman and de facto",
		`["P07","Rose"]`:               `["P07","the ferryman"]`,
		"rose ann de vries-okoro":      "the ferryman",
	} {
		if got := r.value(in); got != want {
			t.Errorf("%q became %q, not %q", in, got, want)
		}
	}
	if got := r.files("rose_2.csv and 3 more brought in, a rose"); got != "erased_2.csv and 3 more brought in, a rose" {
		t.Errorf("files: %q", got)
	}
	small := rewriter{small: true}
	small.add("Rose", "the ferryman")
	if got := small.value("rose's hat, ROSE, rosewood"); got != "the ferryman's hat, the ferryman, rosewood" {
		t.Errorf("written small: %q", got)
	}
	if got := r.clean("Rose the Cat", "R01"); got != "R01" {
		t.Errorf("a role that holds the name is called %q", got)
	}
}

// Many words looked for at once are found just where each by itself is.
func TestWordsAgainstEachByItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		letters := rapid.SampledFrom([]string{"a", "b", "A", "é", " ", "-"})
		word := func(least int) string {
			return strings.Join(rapid.SliceOfN(letters, least, 4).Draw(t, "word"), "")
		}
		var all words
		text, want := strings.Join(rapid.SliceOfN(letters, 0, 12).Draw(t, "text"), ""), false
		for range rapid.IntRange(0, 6).Draw(t, "words") {
			w := word(1)
			all.add(w)
			want = want || strings.Contains(text, w)
		}
		if got := all.in(text); got != want {
			t.Fatalf("%q holds one: %v, one by one %v", text, got, want)
		}
	})
}
