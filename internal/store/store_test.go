package store

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

var noon = time.Date(2027, 3, 14, 12, 0, 0, 0, time.UTC)

func fresh(t testing.TB) (*Store, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "house.hemwright")
	s, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s, path
}

func put(t testing.TB, s *Store, words string, h show.House) {
	t.Helper()
	if err := s.Do(context.Background(), Act{Who: "test", Words: words, When: noon}, func(tx *Tx) error { return tx.Replace(h) }); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, s *Store) show.House {
	t.Helper()
	h, err := s.House()
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// same compares houses and names the first list that differs.
func same(t testing.TB, what string, got, want show.House) {
	t.Helper()
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for i := range g.NumField() {
		a, b := g.Field(i), w.Field(i)
		if a.Kind() == reflect.Slice && a.Len() == 0 && b.Len() == 0 {
			continue
		}
		if !reflect.DeepEqual(a.Interface(), b.Interface()) {
			t.Errorf("%s: %s differ", what, g.Type().Field(i).Name)
			if a.Kind() == reflect.Slice {
				for k := range min(a.Len(), b.Len()) {
					if !reflect.DeepEqual(a.Index(k).Interface(), b.Index(k).Interface()) {
						t.Fatalf("row %d:\n got %+v\nwant %+v", k, a.Index(k), b.Index(k))
					}
				}
				t.Fatalf("%d and %d rows", a.Len(), b.Len())
			}
		}
	}
}

func TestDemoComesBackTheSame(t *testing.T) {
	s, path := fresh(t)
	want := demotest.House(t)
	put(t, s, "import", want)
	same(t, "at once", read(t, s), want)
	s.Close()
	again, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	same(t, "after reopening", read(t, again), want)
	if left, _ := filepath.Glob(path + "-*"); len(left) > 0 {
		t.Errorf("side files are left: %v", left)
	}
}

func TestUndoRedoAlsoAfterReopening(t *testing.T) {
	s, path := fresh(t)
	ctx := context.Background()
	first := demotest.House(t)
	put(t, s, "import", first)
	second := demotest.House(t)
	second.Pins = append(second.Pins, show.Pin{Piece: "C035", Source: "make", Day: demo.Today, Who: "you"})
	second.Performers[3].Body[1].Span = units.Exactly(units.Cm(91))
	second.Garments = second.Garments[1:]
	put(t, s, "three changes", second)
	s.Close()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if a, err := s.Undo(ctx, "test", noon); err != nil || a.Words != "three changes" {
		t.Fatalf("undid %q, %v", a.Words, err)
	}
	same(t, "undone", read(t, s), first)
	if _, err := s.Redo(ctx, "test", noon); err != nil {
		t.Fatal(err)
	}
	same(t, "done again", read(t, s), second)
	for range 2 {
		if _, err := s.Undo(ctx, "test", noon); err != nil {
			t.Fatal(err)
		}
	}
	if h := read(t, s); len(h.Pieces) != 0 || len(h.Performers) != 0 {
		t.Errorf("%d pieces left after undoing everything", len(h.Pieces))
	}
	if _, err := s.Undo(ctx, "test", noon); why.KindOf(err) != why.Conflict {
		t.Errorf("undoing nothing: %v", err)
	}
}

func TestAnyActIsUndone(t *testing.T) {
	base := demotest.House(t)
	s, _ := fresh(t)
	put(t, s, "import", base)
	rapid.Check(t, func(rt *rapid.T) {
		h := read(t, s)
		before, err := s.Acts(1)
		if err != nil {
			rt.Fatal(err)
		}
		for range rapid.IntRange(1, 6).Draw(rt, "changes") {
			k := rapid.IntRange(0, len(h.Pieces)-1).Draw(rt, "piece")
			switch rapid.IntRange(0, 4).Draw(rt, "kind") {
			case 0:
				h.Pieces[k].HowFar = show.InWork
			case 1:
				h.Garments = append(h.Garments, show.Garment{ID: show.GarmentID(rapid.StringMatching(`N[0-9]{4}`).Draw(rt, "code")), Name: "new"})
			case 2:
				h.Notes = h.Notes[:len(h.Notes)/2]
			case 3:
				h.Performers[k%44].Care = append([]string{"arms covered"}, h.Performers[k%44].Care...)
			case 4:
				h.Cloths[k%33].Flaws = append(h.Cloths[k%33].Flaws, show.Flaw{W: units.Cm(3), H: units.Cm(4)})
			}
		}
		if s.Do(context.Background(), Act{Words: "change", When: noon}, func(tx *Tx) error { return tx.Replace(h) }) != nil {
			return // two new garments with one code: refused whole
		}
		same(t, "changed", read(t, s), h)
		if after, err := s.Acts(1); err != nil || after[0].ID == before[0].ID {
			return // nothing in it was a change
		}
		if _, err := s.Undo(context.Background(), "", noon); err != nil {
			rt.Fatal(err)
		}
		same(t, "undone", read(t, s), base)
	})
}

func TestOlderActOnlyWhereNothingLaterTouchedItsRows(t *testing.T) {
	s, _ := fresh(t)
	ctx := context.Background()
	h := demotest.House(t)
	put(t, s, "import", h)
	h.Pieces[0].HowFar = show.FoundIt
	put(t, s, "found C001", h)
	h.Pieces[1].HowFar = show.FoundIt
	put(t, s, "found C002", h)
	acts, err := s.Acts(3)
	if err != nil || len(acts) != 3 || acts[1].Words != "found C001" {
		t.Fatalf("%v, %v", acts, err)
	}
	if _, err := s.UndoAct(ctx, acts[2].ID, "", noon); why.KindOf(err) != why.Conflict {
		t.Errorf("the import was taken back under later acts: %v", err)
	}
	if _, err := s.UndoAct(ctx, acts[1].ID, "", noon); err != nil {
		t.Fatal(err)
	}
	if got := read(t, s); got.Pieces[0].HowFar != "" || got.Pieces[1].HowFar != show.FoundIt {
		t.Error("the wrong act was taken back")
	}
}

func TestEveryTableHasItsTriggers(t *testing.T) {
	s, _ := fresh(t)
	rows, err := s.r.Query(`SELECT t.name, count(g.name) FROM sqlite_schema t LEFT JOIN sqlite_schema g ON g.type = 'trigger' AND g.tbl_name = t.name
		WHERE t.type = 'table' AND t.name NOT LIKE 'sqlite_%' GROUP BY t.name`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		var n int
		if err := rows.Scan(&name, &n); err != nil {
			t.Fatal(err)
		}
		if want := 3; n != want && !unjournaled[name] {
			t.Errorf("table %s has %d triggers", name, n)
		}
	}
	if _, err := s.w.Exec("INSERT INTO colour (name, hex, family, position) VALUES ('x', '#000000', '', 0)"); err == nil {
		t.Error("a write without an act was taken")
	}
}

func TestErrorsLeaveNothing(t *testing.T) {
	s, _ := fresh(t)
	h := demotest.House(t)
	put(t, s, "import", h)
	bad := demotest.House(t)
	bad.Pieces[0].Name = "changed"
	bad.Roles[0].Performer = "P99"
	err := s.Do(context.Background(), Act{Words: "bad", When: noon}, func(tx *Tx) error { return tx.Replace(bad) })
	if why.KindOf(err) != why.Conflict {
		t.Fatalf("a role of a performer who does not exist: %v", err)
	}
	same(t, "after the error", read(t, s), h)
}

func TestFilesThatCannotBeOpened(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, b []byte) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	s, path := fresh(t)
	put(t, s, "import", demotest.House(t))
	s.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	newer := bytes.Clone(whole)
	newer[63] = 99 // user_version, see the database file format, offset 60
	foreign := bytes.Clone(whole)
	foreign[70] ^= 0xff // application_id, offset 68
	for what, c := range map[string]struct {
		path string
		kind why.Kind
		word string
	}{
		"missing":   {filepath.Join(dir, "nothing"), why.Missing, "There is no file"},
		"empty":     {write("empty", nil), why.Invalid, "not a Hemwright house"},
		"picture":   {write("p.png", []byte("\x89PNG\r\n\x1a\n")), why.Invalid, "not a Hemwright house"},
		"foreign":   {write("foreign", foreign), why.Invalid, "not a Hemwright house"},
		"newer":     {write("newer", newer), why.Conflict, "newer"},
		"truncated": {write("short", whole[:len(whole)/2]), why.Invalid, "damaged"},
	} {
		_, err := Open(c.path)
		if err == nil || why.KindOf(err) != c.kind || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%s: %v", what, err)
		}
	}
	if _, err := Create(path); why.KindOf(err) != why.Conflict {
		t.Errorf("an existing file was overwritten: %v", err)
	}
}

func TestBackupIsWhole(t *testing.T) {
	s, path := fresh(t)
	want := demotest.House(t)
	put(t, s, "import", want)
	copied := path + ".copy"
	if err := s.Backup(copied); err != nil {
		t.Fatal(err)
	}
	c, err := Open(copied)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	same(t, "copy", read(t, c), want)
	if err := s.Backup(copied); why.KindOf(err) != why.Conflict {
		t.Errorf("a copy was overwritten: %v", err)
	}
}

func TestResults(t *testing.T) {
	s, _ := fresh(t)
	ctx := context.Background()
	if _, ok, err := s.Result("plan"); ok || err != nil {
		t.Fatalf("a result out of nothing: %v", err)
	}
	want := Result{Kind: "plan", Version: 1, InputHash: "abc", Seed: 7, Steps: 12, AboutBody: true, At: "2027-03-14", Document: []byte(`{"a":1}`)}
	if err := s.SaveResult(ctx, want); err != nil {
		t.Fatal(err)
	}
	if got, ok, err := s.Result("plan"); err != nil || !ok || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v", got, err)
	}
}

// The driver's modernc.org/libc must be exactly the one it was built with.
func TestLibcVersion(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("no go command here to ask")
	}
	ask := func(args ...string) string {
		out, err := exec.Command("go", args...).Output()
		if err != nil {
			t.Skipf("go %v: %v", args, err)
		}
		return strings.TrimSpace(string(out))
	}
	ours := ask("list", "-m", "-f", "{{.Version}}", "modernc.org/libc")
	b, err := os.ReadFile(ask("list", "-m", "-f", "{{.GoMod}}", "modernc.org/sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(b), "modernc.org/libc "+ours+"\n") {
		t.Errorf("libc is %s, the driver asks for another", ours)
	}
}

func BenchmarkReplaceOnePin(b *testing.B) {
	s, _ := fresh(b)
	h := demotest.House(b)
	put(b, s, "import", h)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		h.Pins = []show.Pin{{Piece: h.Pieces[i%len(h.Pieces)].ID, Source: "make", Who: "you"}}
		put(b, s, "pin", h)
	}
}

// What changed about people is told without what it is.
func TestChangesOfPeopleHoldNoValue(t *testing.T) {
	s, _ := fresh(t)
	h := demotest.House(t)
	put(t, s, "import", h)
	h.Performers[0].Body[body.Chest].Span = units.Exactly(837700)
	h.Performers[0].Note = "a wish"
	put(t, s, "measured", h)
	got, err := s.Changed(1)
	if err != nil || len(got) != 2 {
		t.Fatalf("%+v, %v", got, err)
	}
	for _, c := range got {
		if !c.People || c.image != "" || c.Is("chest_lo_um") != nil || len(c.Columns) == 0 || c.Key[0] != string(h.Performers[0].ID) || c.Act.Words != "measured" {
			t.Errorf("%+v", c)
		}
	}
}

// Rows of every kind of column come back: pictures, nothing, quotes, words
// that look like numbers, whole numbers beyond a float.
func TestRowsOfEveryKindComeBack(t *testing.T) {
	s, _ := fresh(t)
	ctx := context.Background()
	put(t, s, "import", demotest.House(t))
	before := everything(t, s)
	err := s.Do(ctx, Act{Words: "raw", When: noon}, func(tx *Tx) error {
		for _, q := range []string{
			`INSERT INTO person_photograph VALUES (1, 'P07', 0, NULL, 'a "word" \ and ' || char(10), 'image/png', x'00ff10')`,
			`INSERT INTO photograph VALUES ('garment', 'S001', 0, '2027-03-01', '', 'image/png', x'')`,
			`INSERT INTO garment_fate VALUES ('S001', 0, 'cut', NULL, '007')`,
			`INSERT INTO let_down VALUES ('S001', 0, 9007199254740993, NULL, NULL, 'null', 0)`,
			`UPDATE garment SET note = '1e3', hip_lo_um = NULL, hip_hi_um = NULL`,
			`DELETE FROM person_feet`,
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
	after := everything(t, s)
	for range 2 {
		if _, err := s.Undo(ctx, "", noon); err != nil {
			t.Fatal(err)
		}
		if got := everything(t, s); got != before {
			t.Error("undone, something is left")
		}
		if _, err := s.Redo(ctx, "", noon); err != nil {
			t.Fatal(err)
		}
		if got := everything(t, s); got != after {
			t.Error("done again, something is missing")
		}
	}
}

// A picture is told as new, as changed or as gone without being read.
func TestChangesOfPictures(t *testing.T) {
	s, _ := fresh(t)
	put(t, s, "import", demotest.House(t))
	pictures := func(query string) {
		t.Helper()
		if err := s.Do(context.Background(), Act{Words: "pictures", When: noon}, func(tx *Tx) error {
			_, err := tx.tx.Exec(query)
			return err
		}); err != nil {
			t.Fatal(err)
		}
	}
	pictures(`INSERT INTO photograph VALUES ('garment', 'S001', 0, NULL, '', 'image/jpeg', randomblob(30000)), ('garment', 'S002', 0, NULL, '', 'image/jpeg', randomblob(30000)), ('garment', 'S003', 0, NULL, '', 'image/jpeg', randomblob(30000))`)
	pictures(`INSERT INTO photograph VALUES ('garment', 'S004', 0, NULL, '', 'image/jpeg', randomblob(30000))`)
	pictures(`UPDATE photograph SET picture = randomblob(30000) WHERE code = 'S001'`)
	pictures(`DELETE FROM photograph WHERE code = 'S002'`)
	got, err := s.Changed(2)
	if err != nil || len(got) != 3 {
		t.Fatalf("%+v, %v", got, err)
	}
	for _, c := range got {
		if want := map[string]bool{"S001": false, "S002": false, "S004": true}; c.New != want[c.Key[1]] || c.Gone != (c.Key[1] == "S002") ||
			c.Key[1] == "S001" && !slices.Equal(c.Columns, []string{"picture"}) || c.Is("picture") != nil {
			t.Errorf("%+v", c)
		}
	}
}
