package workshop

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemwright/internal/value/why"
)

// A table of one's own beside the house is used in the place of the one that
// ships; one that cannot be read is said, with its line, and moved away all is
// as before.
//
// from: by hand: the least ease of a fitted gown at the chest is 40 mm by the
// handbook; a table of one's own that says 60 wants 2 cm more.
func TestOwnTables(t *testing.T) {
	oneAtATime(t)
	dir := t.TempDir()
	steps := 0
	w := demoIn(t, filepath.Join(dir, "h"), &steps)
	wants := func() (lo int64) {
		t.Helper()
		fits, err := w.Fits(context.Background(), "C019")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range fits {
			for _, r := range f.Verdict.Reasons {
				if r.Rule == "fit.sits" && r.Facts[0].Text == "chest" {
					for _, x := range r.Facts {
						if x.Name == "wants" && x.Span != nil {
							return int64(x.Span.Lo)
						}
					}
				}
			}
		}
		t.Fatal("nobody says what the chest wants")
		return 0
	}
	before := wants()
	shipped, err := os.ReadFile("../craft/fit/ease.txt")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "ease.txt")
	put := func(text string) {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		w.remember(nil, "") // as after opening it again
	}
	put(strings.Replace(string(shipped), "ease | dress fitted | 40", "ease | dress fitted | 60", 1))
	if got := wants(); got != before+20_000 {
		t.Errorf("the chest wants %d, before %d", got, before)
	}
	put(strings.Replace(string(shipped), "ease | dress fitted | 40", "ease | dress fitted | forty", 1))
	if _, err := w.Fits(context.Background(), "C019"); why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), "forty") {
		t.Errorf("%v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	w.remember(nil, "")
	if got := wants(); got != before {
		t.Errorf("the chest wants %d, before %d", got, before)
	}
}

// Whatever table is written anew, the text that ships is taken, and one that
// says nothing of the kind is refused with the path of the file.
func TestEveryTable(t *testing.T) {
	dir := t.TempDir()
	w, err := New(filepath.Join(dir, "h"), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	seen := map[string]bool{}
	for _, table := range Tables() {
		if seen[table.Name] || table.Says == "" {
			t.Errorf("%s stands twice, or nobody says what it is", table.Name)
		}
		seen[table.Name] = true
		if err := table.Check(table.Ships); err != nil {
			t.Error(err)
		}
		path := filepath.Join(dir, table.Name+".txt")
		if err := os.WriteFile(path, []byte("what | is | this"), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := w.OwnTables(); why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v", table.Name, err)
		}
		if err := os.WriteFile(path, []byte(table.Ships), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if names, err := w.OwnTables(); err != nil || len(names) != len(Tables()) {
		t.Errorf("%v, %v", names, err)
	}
}
