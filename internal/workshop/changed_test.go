package workshop

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

func lines(c answer.Changed) []string {
	var out []string
	for _, l := range c.Lines {
		out = append(out, strings.TrimSpace(l.Code+" "+l.Name+": "+l.What))
	}
	slices.Sort(out)
	return out
}

func changedSince(t *testing.T, w *Workshop, since string) answer.Changed {
	t.Helper()
	c, err := w.Changed(since)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// from: what was done, by hand.
func TestChangedSinceASheetWasPrinted(t *testing.T) {
	oneAtATime(t)
	w, ctx := orchard(t), context.Background()
	day := time.Date(2031, 1, 21, 9, 0, 0, 0, time.Local)
	w.clock = func() time.Time { return day }
	printed := prepared(t, w).Act
	since := fmt.Sprint(printed)
	if got := lines(changedSince(t, w, since)); len(got) != 0 {
		t.Errorf("nothing was done, and %q changed", got)
	}
	do := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	do(w.Pin(ctx, show.Pin{Piece: "Z1", Source: "alter", Garment: "G1"}))
	do(w.SetHowFar(ctx, "Z2", show.Finished))
	sheet := filepath.Join(t.TempDir(), "again.csv")
	do(os.WriteFile(sheet, []byte("performer_id,name,chest_cm\nA1,Ida,83.77\n"), 0o600))
	_, err := w.Import(sheet)
	do(err)
	do(w.SetHowFar(ctx, "Z3", show.Hung))
	do(w.Pin(ctx, show.Pin{Piece: "Z3", Source: "make"}))
	for range 2 {
		_, err = w.Undo(ctx)
		do(err)
	}
	var picture bytes.Buffer
	do(jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 8, 8)), nil))
	do(w.AddPhoto(ctx, "G2", picture.Bytes()))
	p := prepared(t, w)
	got := changedSince(t, w, since)
	want := []string{
		"A1 " + p.House.Performer("A1").Name + ": measured again",
		"G2 " + p.House.Garment("G2").Name + ": pictures changed",
		"Z1 " + p.House.Piece("Z1").Name + ": pinned to alter G1",
		"Z2 " + p.House.Piece("Z2").Name + ": how far finished",
	}
	if l := lines(got); !slices.Equal(l, want) {
		t.Errorf("changed:\n%s\nwanted:\n%s", strings.Join(l, "\n"), strings.Join(want, "\n"))
	}
	for _, l := range got.Lines {
		if l.Code == "Z1" && (l.Deed != "Z1 pinned to alter" || l.Page != "/pieces/Z1") {
			t.Errorf("the pin was %q, seen at %s", l.Deed, l.Page)
		}
	}
	all, err := json.Marshal(changedSince(t, w, "0"))
	do(err)
	for _, form := range []string{"83.7", "83,7", "837700"} {
		if strings.Contains(string(all), form) {
			t.Errorf("a measure stands in the list: %s", form)
		}
	}
	if a, b := lines(changedSince(t, w, "2031-01-21")), lines(got); !slices.Equal(a, b) {
		t.Errorf("since the day of them all: %q", a)
	}
	if got := lines(changedSince(t, w, "2031-01-22")); len(got) != 0 {
		t.Errorf("since the day after: %q", got)
	}
	for _, bad := range []string{"yesterday", "99999", "-1", ""} {
		if _, err := w.Changed(bad); why.KindOf(err) != why.Invalid {
			t.Errorf("since %q: %v", bad, err)
		}
	}
}

// Many rows of one kind in one act are one line. from: the lines of stock.csv.
func TestChangedByAnImportIsShort(t *testing.T) {
	oneAtATime(t)
	steps := 0
	w := demoIn(t, filepath.Join(t.TempDir(), "h"), &steps)
	got := lines(changedSince(t, w, "0"))
	if len(got) > 60 || !slices.Contains(got, "129 garments: new") {
		t.Errorf("%d lines: %q", len(got), got)
	}
}
