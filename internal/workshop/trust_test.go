package workshop

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// holding says in which files of a folder a text stands, written in any way.
func holding(t testing.TB, dir, text string) []string {
	t.Helper()
	var out []string
	err := filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		if bytes.Contains(bytes.ToLower(b), bytes.ToLower([]byte(text))) {
			out = append(out, filepath.Base(path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// With the demo and every feature used: somebody erased, then everybody; no
// byte is left, and the house still opens, works everything out and passes
// every check.
func TestAHouseWithoutPeopleStillWorks(t *testing.T) {
	oneAtATime(t)
	ctx, dir, steps := context.Background(), t.TempDir(), 0
	path := filepath.Join(dir, "h.hemwright")
	w := demoIn(t, path, &steps)
	do := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	again := func() {
		t.Helper()
		do(w.Close())
		var err error
		w, err = Open(path, Settings{Budget: quick})
		do(err)
		t.Cleanup(func() { w.Close() })
		do(w.NotCopied())
	}
	bring := func(name, text string) {
		t.Helper()
		file := filepath.Join(t.TempDir(), name)
		do(os.WriteFile(file, []byte(text), 0o600))
		_, err := w.Import(file)
		do(err)
	}
	prepared(t, w)
	bring("zyxwira.csv", "performer_id,name,chest_cm,waist_cm,notes\nP26,Zyxwira Quollenby,83.77,about 61.93,Quollenby family drives\n")
	bring("notes.csv", "note_id,on,from_whom,role_id,piece_id,note,minutes,before,state\nN77,2027-03-01,director,,C001,Zyxwira asks for more room,10,2027-05-01,open\n")
	_, err := w.Tell(ctx, "Zyxwira Quollenby 13 chest 83.77\nZyxwira is away on Tuesdays, about 61.93 round\n")
	do(err)
	do(w.Pin(ctx, show.Pin{Piece: "C001", Source: string(answer.GoWithout)}))
	do(w.SetHowFar(ctx, "C002", show.InWork))
	again()
	prepared(t, w)
	_, err = w.Undo(ctx)
	do(err)
	do(w.Printed("my clothes"))
	do(w.Restore(ctx, w.Copies()[0].N))
	again()
	if p := prepared(t, w); p.House.Performer("P26").Name != "Zyxwira Quollenby" || p.EraseDue() {
		t.Fatalf("%q, due %v", p.House.Performer("P26").Name, p.EraseDue())
	}
	for _, text := range []string{"Zyxwira", "Quollenby", "837700", "about 61.93"} {
		if len(holding(t, dir, text)) == 0 {
			t.Errorf("%q is not found even before", text)
		}
	}
	if _, err := w.BeforeErasing(ctx, "P99", false); why.KindOf(err) != why.Missing {
		t.Errorf("nobody of that code: %v", err)
	}
	e, err := w.Erase(ctx, "P26", false)
	do(err)
	if len(e.Outside) < 3 {
		t.Errorf("papers and files outside: %v", e.Outside)
	}
	again()
	for _, text := range []string{"Zyxwira", "Quollenby", "837700", "83.77", "about 61.93"} {
		if where := holding(t, dir, text); len(where) > 0 {
			t.Errorf("%q is left in %v", text, where)
		}
	}
	p := prepared(t, w)
	if name := p.House.Performer("P26").Name; !strings.Contains(name, "P26") || len(p.Plan.Choices) != len(p.House.Pieces) {
		t.Errorf("called %q; %d choices", name, len(p.Plan.Choices))
	}
	var names []string
	for _, q := range p.House.Performers {
		if q.ID != "P26" {
			names = append(names, q.Name)
		}
	}
	_, err = w.Erase(ctx, "", true)
	do(err)
	again()
	for _, n := range names {
		if where := holding(t, dir, n); len(where) > 0 {
			t.Errorf("%q is left in %v", n, where)
		}
	}
	p = prepared(t, w)
	if p.Kept || len(p.Plan.Choices) != len(p.House.Pieces) || len(p.House.Performers) != len(names)+1 {
		t.Errorf("kept %v, %d choices, %d performers", p.Kept, len(p.Plan.Choices), len(p.House.Performers))
	}
	if _, err := w.Undo(ctx); why.KindOf(err) != why.Conflict {
		t.Errorf("undone: %v", err)
	}
}

// from: the demo's last performance, 22 May 2027, and fourteen days.
func TestTheDayToErase(t *testing.T) {
	oneAtATime(t)
	steps := 0
	w := demoIn(t, filepath.Join(t.TempDir(), "h"), &steps)
	known := func() *Prepared {
		h, err := w.store.House()
		if err != nil {
			t.Fatal(err)
		}
		p := &Prepared{Day: demo.Today}
		p.know(h)
		return p
	}
	p := known()
	day, pencil := EraseDay(&p.House)
	if day.String() != "2027-06-05" || !pencil || p.EraseDue() {
		t.Errorf("%s, pencil %v, due %v", day, pencil, p.EraseDue())
	}
	on, _ := units.ParseDate("2027-03-14") // the demo's today
	if err := w.SetEraseDay(context.Background(), on); err != nil {
		t.Fatal(err)
	}
	p = known()
	if day, pencil := EraseDay(&p.House); day != on || pencil || !p.EraseDue() {
		t.Errorf("%s, pencil %v, due %v", day, pencil, p.EraseDue())
	}
}
