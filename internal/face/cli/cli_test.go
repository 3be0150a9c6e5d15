package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/face/sheet"
	"hemwright/internal/face/web"
	"hemwright/internal/show/answer"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hemwright": func() { os.Exit(Run(os.Args[1:], os.Stdout, os.Stderr)) }})
}

// The transcripts run the real program and read as stories.
func TestTranscripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata"})
}

func demoHouse(t *testing.T) (*workshop.Workshop, *workshop.Prepared, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "demo.hemwright")
	w, _, err := workshop.Demo(path, workshop.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	p, err := w.Prepared(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return w, p, path
}

func TestDeedsAreThereInEveryFace(t *testing.T) {
	w, p, _ := demoHouse(t)
	pages, err := web.New(w, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		t.Fatal(err)
	}
	root := (&app{}).root()
	sheets := map[string]bool{}
	for _, s := range sheet.Set(p) {
		sheets[s.Name] = true
	}
	for _, s := range []sheet.Sheet{sheet.Numbers(p, p.House.Performers[0].ID), sheet.ToDestroy("", "", store.Erasing{}), sheet.UnpickCard(p, workshop.CutUp{})} {
		sheets[s.Name] = true // handed to one person, not printed with the set
	}
	for _, d := range Deeds {
		if _, ok := reflect.TypeFor[*workshop.Workshop]().MethodByName(d.Method); !ok {
			t.Errorf("%s: the workshop has no %s", d.Asks, d.Method)
		}
		if c, _, err := root.Find([]string{d.Command}); d.Command != "" && (err != nil || c.Name() != d.Command) {
			t.Errorf("%s: there is no command %s", d.Asks, d.Command)
		}
		if d.Sheet != "" && !sheets[d.Sheet] {
			t.Errorf("%s: there is no sheet %q", d.Asks, d.Sheet)
		}
		if d.Page == "" {
			continue
		}
		r := httptest.NewRecorder()
		req := httptest.NewRequest("GET", d.Page, nil)
		req.Host = "127.0.0.1"
		if pages.ServeHTTP(r, req); r.Code != 200 {
			t.Errorf("%s: the page %s answers %d", d.Asks, d.Page, r.Code)
		}
	}
}

// The acceptance figures of the plan on the demo's day, added up from the
// rows: at most 6 pieces go without, money and hours inside their limits, the
// gap at most 3 in 100; and what pages and sheets show is that sum.
func TestPlanOfTheDemo(t *testing.T) {
	_, p, _ := demoHouse(t)
	without := 0
	var money units.Money
	var minutes units.Minutes
	for _, c := range p.Plan.Choices {
		if c.Source == answer.GoWithout {
			without++
		}
		money += c.Money
		minutes += c.Minutes()
	}
	if len(p.Plan.Choices) != 214 || without > 6 {
		t.Errorf("%d of 214 pieces have a source, %d go without", len(p.Plan.Choices), without)
	}
	if gap := p.Plan.Outcome.Gap(); gap > 0.03 {
		t.Errorf("the gap is %.1f in 100", gap*100)
	}
	var feet units.Money
	h := demotest.House(t)
	for _, f := range h.Feet {
		feet += f.ShoeLimit.Or(0) + f.HosieryLimit.Or(0)
	}
	spentOnFeet := units.Money(27_90)
	if want := money + max(0, feet-spentOnFeet); p.Money.Needed != want {
		t.Errorf("the money page needs %s, the rows add up to %s", p.Money.Needed, want)
	}
	if p.Workroom.Plain != minutes {
		t.Errorf("the workroom plans %s, the plan's choices add up to %s", p.Workroom.Plain, minutes)
	}
	if p.Money.Free < 0 || p.Workroom.Wanted > p.Workroom.Offered || len(p.Workroom.Late) > 0 {
		t.Errorf("free %s, wanted %s of %s, %d late", p.Money.Free, p.Workroom.Wanted, p.Workroom.Offered, len(p.Workroom.Late))
	}
	var errands units.Money
	for _, e := range p.Errands {
		errands += e.Price
	}
	if errands != money {
		t.Errorf("the shopping list adds up to %s, the plan buys for %s", errands, money)
	}
}

func TestChangesAsJSON(t *testing.T) {
	w, _, path := demoHouse(t)
	w.Close()
	var out, errs bytes.Buffer
	if code := Run([]string{"changes", "--json", "--file", path}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	var rows []map[string]any
	if err := json.Unmarshal(out.Bytes(), &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) != 222 {
		t.Errorf("%d rows, both casts have 222", len(rows))
	}
	for _, r := range rows {
		for _, k := range []string{"performer", "cast", "from_scene", "to_scene", "from_look", "to_look", "seconds", "from_side", "to_side"} {
			if _, ok := r[k]; !ok {
				t.Fatalf("a row without %q: %v", k, r)
			}
		}
		if s, ok := r["seconds"].(float64); !ok || s != float64(int(s)) || !strings.Contains("LR", r["from_side"].(string)) {
			t.Fatalf("seconds or side: %v", r)
		}
	}
}
