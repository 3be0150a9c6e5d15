package store

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// reopen closes a house, opens it again and waits for its copy.
func reopen(t testing.TB, s *Store) *Store {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Open(s.path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { again.Close() })
	if err := again.NotCopied(); err != nil {
		t.Fatal(err)
	}
	return again
}

func TestACopyIsMadeWhenSomethingChanged(t *testing.T) {
	s, path := fresh(t)
	h := demotest.House(t)
	put(t, s, "import", h)
	s = reopen(t, s)
	if c := s.Copies(); len(c) != 1 || c[0].Act != 1 || c[0].Day != "2027-03-14" {
		t.Fatalf("after one act: %+v", c)
	}
	s = reopen(t, s)
	if c := s.Copies(); len(c) != 1 {
		t.Fatalf("nothing was done, and there are %d copies", len(c))
	}
	want := everything(t, s)
	h.Pieces[0].HowFar = show.FoundIt
	put(t, s, "found", h)
	s = reopen(t, s)
	c := s.Copies()
	if len(c) != 2 || c[0].N != 2 || filepath.Dir(c[0].Path) != strings.TrimSuffix(path, ".hemwright")+"-copies" {
		t.Fatalf("%+v", c)
	}
	old, err := open(c[1].Path, false)
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	if everything(t, old) != want {
		t.Error("the first copy is not what the house was")
	}
}

// from: by hand, ten last and the last of each of fourteen days.
func TestWhichCopiesAreKept(t *testing.T) {
	copies := func(days ...string) []Copy { // the oldest first, as they were made
		var out []Copy
		for i, d := range days {
			out = append(out, Copy{N: i + 1, Day: d})
		}
		slices.Reverse(out)
		return out
	}
	gone := func(all []Copy) (out []int) {
		for _, c := range surplus(all) {
			out = append(out, c.N)
		}
		slices.Sort(out)
		return out
	}
	var oneDay, manyDays []string
	for i := range 12 {
		oneDay = append(oneDay, "2027-03-14")
		_ = i
	}
	for i := range 30 {
		manyDays = append(manyDays, fmt.Sprintf("2027-04-%02d", i+1))
	}
	if got := gone(copies(oneDay...)); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("twelve of one day: %v go", got)
	}
	if got := gone(copies(manyDays...)); len(got) != 16 || got[15] != 16 {
		t.Errorf("thirty days: %v go", got)
	}
	// a day with two, then ten more on the next: of the first day its last stays
	if got := gone(copies(append([]string{"2027-03-13", "2027-03-13"}, oneDay[:10]...)...)); !slices.Equal(got, []int{1}) {
		t.Errorf("%v go", got)
	}
	// the clock once far ahead, then back: neither the good ones nor those
	// from the future push others out
	wrong := append([]string{"2027-03-10", "2027-03-11", "2027-03-12", "2099-01-01", "2099-01-01"}, oneDay[:10]...)
	if got := gone(copies(wrong...)); !slices.Equal(got, []int{4}) {
		t.Errorf("with a wrong clock: %v go", got)
	}
}

func TestRestoreIsAnActLikeAnyOther(t *testing.T) {
	t.Chdir(t.TempDir())
	s, err := Create("by a relative name.hemwright")
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	h := demotest.House(t)
	put(t, s, "import", h)
	s = reopen(t, s)
	first := everything(t, s)
	h.Pieces[0].HowFar, h.Garments = show.Hung, h.Garments[3:]
	h.Performers[0].Name = "somebody else"
	put(t, s, "changes", h)
	second := everything(t, s)
	a := Act{Who: "test", Words: "The house of copy 1", When: noon}
	if err := s.Restore(ctx, 1, a); err != nil {
		t.Fatal(err)
	}
	if everything(t, s) != first {
		t.Error("the house is not what the copy holds")
	}
	if c := s.Copies(); len(c) != 2 || c[0].Act != 2 {
		t.Errorf("before restoring a copy is made: %+v", c)
	}
	if err := s.Restore(ctx, 1, a); why.KindOf(err) != why.Conflict {
		t.Errorf("restored twice: %v", err)
	}
	if _, err := s.Undo(ctx, "", noon); err != nil {
		t.Fatal(err)
	}
	if everything(t, s) != second {
		t.Error("undone, the house is not what it was")
	}
	if _, err := s.Redo(ctx, "", noon); err != nil || everything(t, s) != first {
		t.Errorf("done again: %v", err)
	}
	if err := s.Restore(ctx, 9, a); why.KindOf(err) != why.Missing {
		t.Errorf("a copy there is none of: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(copiesDir(s.path), "*.part*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// spoil overwrites pages of a file with noise; page 1 is the head.
func spoil(t testing.TB, path string, pages ...int) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		copy(b[(p-1)*4096:p*4096], bytes.Repeat([]byte{0xa5}, 4096))
	}
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestRepairMakesANewFileOfWhatCanBeRead(t *testing.T) {
	for _, withCopy := range []bool{true, false} {
		for _, harm := range []string{"cut", "leaves", "head"} {
			t.Run(fmt.Sprintf("%s, copy %v", harm, withCopy), func(t *testing.T) {
				t.Chdir(t.TempDir())
				path := "h.hemwright"
				s, err := Create(path)
				if err != nil {
					t.Fatal(err)
				}
				h := demotest.House(t)
				put(t, s, "import", h)
				if withCopy {
					s = reopen(t, s)
				}
				h.Pieces[0].HowFar = show.Hung
				put(t, s, "hung", h)
				want := everything(t, s)
				pages := leaves(t, s, "garment")
				s.Close()
				if !withCopy {
					os.RemoveAll(copiesDir(path))
				}
				switch b, _ := os.ReadFile(path); harm {
				case "cut":
					os.WriteFile(path, b[:len(b)*3/4], 0o600)
				case "leaves":
					spoil(t, path, pages[1])
				case "head":
					spoil(t, path, 1)
				}
				before, _ := os.ReadFile(path)
				_, err = Open(path)
				switch {
				case harm == "head" && !withCopy:
					if why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), "not a Hemwright house") {
						t.Errorf("opening: %v", err)
					}
				case err == nil || !strings.Contains(err.Error(), "is damaged") || !strings.Contains(err.Error(), "hemwright repair") || withCopy != strings.Contains(err.Error(), "newest whole copy"):
					t.Errorf("opening: %v", err)
				}
				got, err := Repair(context.Background(), path, Act{Words: "Repaired", When: noon})
				if err != nil {
					t.Fatal(err)
				}
				if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
					t.Error("the damaged file was touched")
				}
				n, err := Open(got.Path)
				if err != nil {
					t.Fatal(err)
				}
				defer n.Close()
				house := read(t, n)
				lost := strings.Count(want, "\n") - strings.Count(everything(t, n), "\n")
				switch {
				case withCopy && lost != 0:
					t.Errorf("%d rows lost, with a copy at hand: %+v", lost, got)
				case withCopy && harm == "leaves" && house.Pieces[0].HowFar != show.Hung:
					t.Error("what was done after the copy is lost, though it can be read")
				case harm == "leaves" && (lost == 0 || lost > 60 || len(got.InPart) != 1):
					if !withCopy {
						t.Errorf("one leaf of the rail is spoilt, %d rows are lost: %+v", lost, got)
					}
				case harm == "head" && !got.Unopened:
					t.Errorf("%+v", got)
				}
				if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".repair-*")); len(left) > 0 {
					t.Errorf("left behind: %v", left)
				}
			})
		}
	}
	s, path := fresh(t)
	put(t, s, "import", demotest.House(t))
	s.Close()
	if _, err := Repair(context.Background(), path, Act{When: noon}); why.KindOf(err) != why.Conflict {
		t.Errorf("a whole file was repaired: %v", err)
	}
}

// leaves are the pages that hold a table's rows.
func leaves(t testing.TB, s *Store, table string) []int {
	t.Helper()
	rows, err := s.r.Query("SELECT pageno FROM dbstat WHERE name = ? AND pagetype = 'leaf' ORDER BY path", table)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var out []int
	for rows.Next() {
		var n int
		if err := rows.Scan(&n); err != nil {
			t.Fatal(err)
		}
		out = append(out, n)
	}
	return out
}

// A house of the first version is copied as it was, brought up to date, and
// holds the same.
func TestAnOlderHouseIsCopiedThenBroughtUpToDate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "old.hemwright")
	db, err := sql.Open("sqlite", "file:"+path)
	if err != nil {
		t.Fatal(err)
	}
	old := &Store{path: path, w: db, r: db, looked: make(chan struct{}), show: 1}
	close(old.looked)
	if err := old.step("migrations/0001_start.sql", 1); err != nil {
		t.Fatal(err)
	}
	if old.file, err = os.Stat(path); err != nil {
		t.Fatal(err)
	}
	err = old.Do(context.Background(), Act{Words: "import", When: noon}, func(tx *Tx) error {
		for _, q := range []string{
			`INSERT INTO colour VALUES ('moss', '#445533', 'green', 0)`,
			`INSERT INTO performer VALUES (1, 'P1', 0)`,
			`INSERT INTO person VALUES (1, 'P1', 'Ann', 10, '', '', '', '', '', '', '', '')`,
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
	db.Close()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.NotCopied(); err != nil {
		t.Fatal(err)
	}
	want := read(t, s)
	if len(want.Colours) != 1 || len(want.Performers) != 1 || want.Performers[0].Name != "Ann" {
		t.Errorf("brought up to date: %+v %+v", want.Colours, want.Performers)
	}
	if _, err := s.Undo(context.Background(), "", noon); err != nil {
		t.Errorf("what was done before cannot be undone: %v", err)
	}
	var version int
	c := s.Copies()
	if len(c) != 1 {
		t.Fatalf("%d copies", len(c))
	}
	kept, err := sql.Open("sqlite", dsn(c[0].Path, "ro"))
	if err != nil {
		t.Fatal(err)
	}
	defer kept.Close()
	if err := kept.QueryRow("PRAGMA user_version").Scan(&version); err != nil || version != 1 {
		t.Errorf("the copy is of version %d, %v", version, err)
	}
	if err := s.Restore(context.Background(), 1, Act{Words: "back", When: noon}); err != nil {
		t.Fatal(err)
	}
	same(t, "taken back from an older copy", read(t, s), want)
}

// Taking the house back from the oldest copy keeps that copy until it is taken,
// though another is made before it.
func TestRestoreTheOldestCopy(t *testing.T) {
	t.Chdir(t.TempDir())
	s, err := Create("house.hemwright")
	if err != nil {
		t.Fatal(err)
	}
	h := demotest.House(t)
	put(t, s, "import", h)
	for range 14 { // more than are kept of one day
		s = reopen(t, s)
		h.Notes = append(h.Notes, show.Note{ID: show.NoteID(fmt.Sprint("Z", len(h.Notes))), What: "another"})
		put(t, s, "a note", h)
	}
	all := s.Copies()
	oldest := all[len(all)-1]
	if err := s.Restore(context.Background(), oldest.N, Act{Who: "test", Words: "the oldest", When: noon}); err != nil {
		t.Fatalf("of %d copies the oldest, of act %d: %v", len(all), oldest.Act, err)
	}
	if got := len(read(t, s).Notes); got != len(demotest.House(t).Notes)+int(oldest.Act)-1 {
		t.Errorf("%d notes of act %d", got, oldest.Act)
	}
	s.Close()
}
