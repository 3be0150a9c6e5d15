package rows

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"hemwright/internal/value/why"
)

// from: by hand, from the rule in the package's words.
func TestRead(t *testing.T) {
	got := Read("# a head\n\n  hem |  15|\n#hem | 1\r\nseam\n")
	want := []Row{{3, "hem |  15|", []string{"hem", "15", ""}}, {5, "seam", []string{"seam"}}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Every name once, a number in its range, and where it is from; whatever is
// else is said with its line, or by its name.
//
// from: by hand.
func TestNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"hem | 15 | house\nseam | 0 | house":                   "",
		"hem | 15 | house":                                     `"seam" is missing`,
		"hem | 15 | house\nhem | 15 | house":                   "Line 2",
		"hem | 15 | house\nseam | 201 | house":                 "Line 2",
		"hem | -1 | house\nseam | 1 | house":                   "Line 1",
		"hem | 1.5 | house\nseam | 1 | house":                  "Line 1",
		"hem | 15\nseam | 1 | house":                           "Line 1",
		"hem | 15 | \nseam | 1 | house":                        "Line 1",
		"hem\nseam | 1 | house":                                "Line 1",
		"hem | 15 | house\nseam | 1 | house\ntuck | 1 | house": "Line 3",
	} {
		hem, seam := -1, -1
		err := Numbers("seams", text, 200, map[string]*int{"hem": &hem, "seam": &seam})
		switch {
		case want == "" && (err != nil || hem != 15 || seam != 0):
			t.Errorf("%q: hem %d, seam %d, %v", text, hem, seam, err)
		case want != "" && (why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), want)):
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// from: by hand: a text of one's own counts where it can be read.
func TestOwnTable(t *testing.T) {
	f := Shipped("length", "how long", "short", func(text string) (int, error) {
		if text == "" || strings.Contains(text, " ") {
			return 0, errors.New("one word")
		}
		return len(text), nil
	})
	for text, want := range map[string]int{"": 5, "longer": 6, "two words": 5} {
		for range 2 { // read, and remembered
			if got := f.Of(map[string]string{"length": text, "other": "x"}); got != want {
				t.Errorf("%q: %d, want %d", text, got, want)
			}
		}
	}
	if f.Of(nil) != 5 || f.Text.Check("two words") == nil || f.Text.Check("one") != nil {
		t.Error("without a text, or checked")
	}
}
