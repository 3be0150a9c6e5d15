package web

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hemwright/internal/intake"
)

func on[T any](t *testing.T, ctx context.Context, what string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](what))
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	return v
}

// axeIs fails where the page as it stands breaks a rule of axe-core.
func axeIs(t *testing.T, ctx context.Context, where string) {
	t.Helper()
	axe, err := os.ReadFile(os.Getenv("HEMWRIGHT_AXE"))
	if err != nil {
		return // the run that requires everything sets it
	}
	faults, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](string(axe)+`; axe.run().then(r => r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 140)).join(" | ")))`, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Errorf("%s: %s", where, f)
	}
}

// The search leaves what one types, with accents and case aside, just as the
// program's own search does; the count is said.
func TestBrowserFindAsYouType(t *testing.T) {
	s := house(t, false)
	post(t, s.URL, "/start", map[string][]string{"text": {"rail\ngown Łódź-red 47 38 52 138 zip\ncoat Straße-grey 52 50 54 110\ngown blue 44 36 49 130 zip"}}, "")
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the list", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.URL+"/list/garment"), chromedp.WaitReady("table.written[role=grid]"))
	shown := `[...document.querySelectorAll("tbody tr")].filter(r => !r.hidden).map(r => r.dataset.code).join(" ")`
	for _, c := range [][3]string{{"lodz", "G001", "1 of 3 shown."}, {"GOWN", "G001 G003", "2 of 3 shown."}, {"strasse", "G002", "1 of 3 shown."}, {"gown bl", "G003", "1 of 3 shown."}, {"zz", "", "0 of 3 shown."}, {"", "G001 G002 G003", "3 of 3 shown."}} {
		do(t, ctx, c[0], typeIn("input[name=find]", c[0]))
		if got := on[string](t, ctx, shown); got != c[1] {
			t.Errorf("%q leaves %q, want %q", c[0], got, c[1])
		}
		if got := on[string](t, ctx, `document.querySelector("#count[role=status]").textContent`); got != c[2] {
			t.Errorf("%q is said to be %q", c[0], got)
		}
	}
	// what is ticked is counted, also where the search hides it
	ticked := `document.querySelector("#ticked[role=status]").textContent`
	do(t, ctx, "all gowns", typeIn("input[name=find]", "gown"), chromedp.Click("[data-every] input"))
	if got := on[string](t, ctx, ticked); got != "2 ticked." {
		t.Errorf("with all gowns ticked it says %q", got)
	}
	do(t, ctx, "one gown", typeIn("input[name=find]", "blue"))
	if got := on[string](t, ctx, ticked); got != "2 ticked, 1 of them not shown." {
		t.Errorf("with one of them hidden it says %q", got)
	}
	demo := demoPages(t)
	for page, c := range map[string][3]string{"/performers": {"FÍNCH", "table.people", "Finch"}, "/rail": {"gówn mint", "table.rail", "mint"}, "/pieces": {"LIVERY", "#pieces", "livery"}} {
		do(t, ctx, page, chromedp.Navigate(demo.URL+page), chromedp.WaitReady(c[1]), typeIn("input[type=search]", c[0]))
		rows := fmt.Sprintf(`[...document.querySelectorAll("%s tbody:not([hidden]) tr")].filter(r => !r.hidden && !r.querySelector("[scope=rowgroup]"))`, c[1])
		n, with := on[int](t, ctx, rows+".length"), on[int](t, ctx, rows+fmt.Sprintf(`.filter(r => r.textContent.toLowerCase().includes(%q.toLowerCase())).length`, c[2]))
		if n == 0 || n != with || !strings.HasPrefix(on[string](t, ctx, `document.querySelector("#count").textContent`), fmt.Sprintf("%d of ", n)) {
			t.Errorf("%s: %q leaves %d rows, %d of them with it", page, c[0], n, with)
		}
	}
	for _, w := range []string{"Łukasz", "ŁÓDŹ", "Đorđe", "Søren", "Ångström", "Groß", "crème brûlée", "Ελένη", "Þór", "Æsa", "İpek", "Nguyễn", "e\u0301te\u0301", "ﬁn", "œuf"} {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf(`import("/fold.js").then(m => m.fold(%q))`, w), chromedp.EvalAwaitPromise))
		if err != nil || got != intake.Fold(w) {
			t.Errorf("the page folds %q to %q, the program to %q: %v", w, got, intake.Fold(w), err)
		}
	}
	for _, c := range complaints.take() {
		t.Error(c)
	}
}

// A cell opened, refused, mended, kept and undone with the keyboard alone.
func TestBrowserWritingInAList(t *testing.T) {
	s := house(t, true)
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the list", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.URL+"/list/garment?col=colour&col=chest&col=waist&find=S0"), chromedp.WaitReady("table.written[role=grid]"))
	cell := func(row, key string) string {
		return fmt.Sprintf(`document.querySelector("tr[data-code=%s] td[data-key=%s]")`, row, key)
	}
	words := func(row, key string) string {
		t.Helper()
		return on[string](t, ctx, cell(row, key)+`.querySelector(".v").textContent`)
	}
	at := func(row, key string) {
		t.Helper()
		until(t, ctx, "document.activeElement === "+cell(row, key))
	}
	was := words("S001", "colour")
	// Tab from the link before the table comes to the one cell that is in order
	do(t, ctx, "to the first cell", chromedp.Evaluate[chromedp.Void](cell("S001", "colour")+`.focus()`))
	if n := on[int](t, ctx, `document.querySelectorAll("td[tabindex='0']").length`); n != 1 {
		t.Errorf("%d cells stand in the order of Tab", n)
	}
	do(t, ctx, "down and right", chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowRight))
	at("S002", "chest")
	do(t, ctx, "back", chromedp.KeyEvent(kb.Home), chromedp.KeyEvent(kb.ArrowUp))
	at("S001", "colour")
	do(t, ctx, "Escape", chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent("x"), chromedp.KeyEvent(kb.Escape))
	at("S001", "colour")
	if got := words("S001", "colour"); got != was || on[int](t, ctx, `document.querySelectorAll("input.open").length`) != 0 {
		t.Errorf("Escape left %q", got)
	}
	do(t, ctx, "kept with Enter", chromedp.KeyEvent(kb.F2), chromedp.KeyEvent("fog"), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, cell("S001", "colour")+`.querySelector(".v").textContent === "fog"`)
	at("S001", "colour")
	says(t, ctx, "garment S001 written")
	do(t, ctx, "Tab goes on", chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent("moss"), chromedp.KeyEvent(kb.Tab))
	at("S001", "chest")
	if got := words("S001", "colour"); got != "moss" {
		t.Errorf("Tab kept %q", got)
	}
	before := words("S001", "chest")
	do(t, ctx, "words for a number", chromedp.KeyEvent("9"), chromedp.KeyEvent("wide"), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, cell("S001", "chest")+`.querySelector("[role=alert]")`)
	shot(t, ctx, "list-fault")
	axeIs(t, ctx, "a list with a fault")
	field := cell("S001", "chest") + `.querySelector("input.open")`
	if got := on[string](t, ctx, field+`.value`); got != "9wide" {
		t.Errorf("what was typed is now %q", got)
	}
	if ok := on[bool](t, ctx, `(f => f === document.activeElement && f.getAttribute("aria-invalid") === "true" && document.getElementById(f.getAttribute("aria-describedby")).textContent.includes("is not a length"))(`+field+`)`); !ok {
		t.Error("the field does not say what is wrong with it")
	}
	do(t, ctx, "mended", chromedp.Evaluate[chromedp.Void](field+`.select()`), chromedp.KeyEvent("51 flat"), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, cell("S001", "chest")+`.querySelector(".v").textContent === "51 cm flat"`)
	at("S001", "chest")
	press(t, ctx, `form[action="/undo"] button`, "table.written[role=grid]")
	if got := words("S001", "chest"); got != before {
		t.Errorf("undo gives %q, it was %q", got, before)
	}
	if got := words("S001", "colour"); got != "moss" {
		t.Errorf("one undo took more than one cell back: %q", got)
	}
	// elsewhere with the mouse: what was typed is kept
	do(t, ctx, "leaving", chromedp.Evaluate[chromedp.Void](cell("S002", "colour")+`.focus()`), chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent("rust"), chromedp.Click("h1"),
		chromedp.Evaluate[chromedp.Void](`document.activeElement.blur()`))
	until(t, ctx, cell("S002", "colour")+`.querySelector(".v").textContent === "rust"`)
	for _, width := range []int64{1280, 360} {
		do(t, ctx, "the list", chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.URL+"/list/garment"), chromedp.WaitReady("table.written[role=grid]"))
		shot(t, ctx, fmt.Sprintf("list-%d", width))
	}
	for _, c := range complaints.take() {
		if !strings.Contains(c, "422") { // the refused cell, which the browser notes as well
			t.Error(c)
		}
	}
}
