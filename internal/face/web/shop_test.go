package web

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/face/sheet"
	"hemwright/internal/show/body"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// pocketOn writes the pocket page of the demo as it was known on a day.
func pocketOn(t *testing.T, year, month, day int) string {
	t.Helper()
	d, err := units.Day(year, month, day)
	if err != nil {
		t.Fatal(err)
	}
	w, _, err := workshop.Demo(filepath.Join(t.TempDir(), "h"), workshop.Settings{Day: d, Budget: solve.Budget{Effort: solve.Quick}})
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if _, err := w.Prepared(context.Background()); err != nil {
		t.Fatal(err)
	}
	needs, p, err := w.Pocket()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "pocket.html")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := sheet.Pocket(f, p, needs); err != nil {
		t.Fatal(err)
	}
	return path
}

// The page that leaves the house is small and holds nobody: no name, no code
// of a performer, no number off anybody's tape.
func TestPocketHoldsNobody(t *testing.T) {
	oneAtATime(t)
	b, err := os.ReadFile(pocketOn(t, 2027, 3, 12))
	if err != nil {
		t.Fatal(err)
	}
	page := string(b)
	if len(page) > 300_000 {
		t.Errorf("the page is %d bytes", len(page))
	}
	_, data, _ := strings.Cut(page, `id="needs">`)
	data, _, _ = strings.Cut(data, "</script>")
	if strings.Count(data, `"letter"`) < 20 {
		t.Errorf("only %d needs", strings.Count(data, `"letter"`))
	}
	h := demotest.House(t)
	for _, p := range h.Performers {
		for _, n := range append(strings.Fields(p.Name), p.Name, string(p.ID)) {
			if len(n) > 2 && strings.Contains(page, `"`+n) || len(n) > 2 && strings.Contains(page, " "+n+" ") {
				t.Errorf("the page holds %q", n)
			}
		}
		for _, k := range body.All() {
			if m := p.Body[k]; m.Span.Known && m.Span.Lo%units.Centimetre != 0 && strings.Contains(data, ":"+units.Metric.Print(m.Span.Lo)+",") {
				t.Errorf("the page holds %s of somebody", k)
			}
		}
	}
}

// from: the worked example of a jumble sale the day before: a deep violet
// gown, flat 45, 36.5, 49, 136 long, is bought, since it fits as it hangs.
func TestBrowserPocketOffline(t *testing.T) {
	path := pocketOn(t, 2027, 3, 12)
	ctx := browser(t)
	complaints := listen(t, ctx)
	offline := func(ctx context.Context, target *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, target, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{URLPattern: "http://*:*/*", Offline: true}, {URLPattern: "https://*:*/*", Offline: true}}})
		return chromedp.Void{}, err
	}
	do(t, ctx, "the page from disk", offline, chromedp.EmulateViewport(360, 740, chromedp.EmulateTouch), chromedp.Navigate("file://"+path), chromedp.WaitReady("#line"))
	ask := func(line string) string {
		t.Helper()
		do(t, ctx, line, typeIn("#line", line), chromedp.Click("#ask button"))
		until(t, ctx, `document.querySelector("#says .ans")`)
		said, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("#says").innerText`))
		if err != nil {
			t.Fatal(err)
		}
		return said
	}
	said := ask("gown deep violet 45 36.5 49 136 zip, 9")
	for _, want := range []string{"Buy it.", "deep violet", "Goes as it hangs", "At most 10", "to 49)", "wants 134", "second of these would too"} {
		if !strings.Contains(said, want) {
			t.Errorf("the violet gown: no %q in %q", want, said)
		}
	}
	shot(t, ctx, "pocket")
	if said := ask("gown deep violet 45 36.5 49 136 zip, 25"); !strings.Contains(said, "Leave it.") {
		t.Errorf("at 25 it says %q", said)
	}
	if said := ask("gown red 30 25 32 90, 2"); !strings.Contains(said, "Leave it.") || !strings.Contains(said, "nearest") {
		t.Errorf("a small gown: %q", said)
	}
	if said := ask("umbrella 3"); !strings.Contains(said, "What is it?") {
		t.Errorf("an umbrella: %q", said)
	}
	ask("gown deep violet 45 36.5 49 136 zip, 9")
	do(t, ctx, "bought", chromedp.Click("#says button"))
	kept, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("#finds").value`))
	if err != nil || kept != "bought: gown deep violet 45 36.5 49 136 zip, 9" {
		t.Errorf("to take home: %q %v", kept, err)
	}
	wide, err := chromedp.Run(ctx, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`))
	if err != nil || wide > 360 {
		t.Errorf("the page is %d wide", wide)
	}
	for _, c := range complaints.take() {
		t.Error(c)
	}
}
