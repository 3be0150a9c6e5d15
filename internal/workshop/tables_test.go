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
