package web

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// shot keeps a picture of the page where HEMWRIGHT_SHOTS names a folder.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("HEMWRIGHT_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o600); err != nil {
		t.Fatal(err)
	}
}

// says fails where the page does not show some words.
func says(t *testing.T, ctx context.Context, words ...string) {
	t.Helper()
	body, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.body.innerText`))
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range words {
		if !strings.Contains(body, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
}

func do(t *testing.T, ctx context.Context, what string, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	ctx, stop := context.WithTimeout(ctx, 40*time.Second)
	defer stop()
	if err := chromedp.Do(ctx, actions...); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
}

// until waits until an expression holds on the page, which may be another one
// by then.
func until(t *testing.T, ctx context.Context, holds string) {
	t.Helper()
	for range 400 {
		one, stop := context.WithTimeout(ctx, 5*time.Second)
		ok, err := chromedp.Run(one, chromedp.Evaluate[bool]("document.readyState === 'complete' && !!("+holds+")"))
		stop()
		if err == nil && ok {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("never: %s", holds)
}

// press clicks something that leads to another page, and waits for it.
func press(t *testing.T, ctx context.Context, sel, then string) {
	t.Helper()
	do(t, ctx, "press "+sel, chromedp.Evaluate[chromedp.Void](`window.before = true`), chromedp.Click(sel))
	until(t, ctx, "!window.before && document.querySelector("+fmt.Sprintf("%q", then)+")")
}

// typeIn puts words into a field as a paste does.
func typeIn(sel, words string) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`{ const f = document.querySelector(%q); f.value = %q; f.dispatchEvent(new Event("input", { bubbles: true })); }`, sel, words))
}

// The first hour, from an empty table, using only the pages: the cast mail,
// the scenes, the ticks, the looks, and three sheets in hand.
func TestBrowserFirstHour(t *testing.T) {
	day, err := units.Day(2027, 2, 22)
	if err != nil {
		t.Fatal(err)
	}
	w, err := workshop.New(filepath.Join(t.TempDir(), "h"), workshop.Settings{Day: day, Budget: solve.Budget{Effort: solve.Quick}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := serve(w)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close(); w.Close() })
	ctx := browser(t)
	complaints := listen(t, ctx)
	paste := func(name string) {
		do(t, ctx, name, chromedp.Navigate(s.URL+"/start"), chromedp.WaitReady("#text"), typeIn("#text", demotest.Sparse(t, name)))
		press(t, ctx, "#box button", "#heard")
		shot(t, ctx, "told-"+name)
	}
	do(t, ctx, "an empty table", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.URL+"/"), chromedp.WaitReady("#text"))
	says(t, ctx, "An empty table", "Paste or type whatever you have")
	shot(t, ctx, "empty")
	paste("cast_mail.txt")
	says(t, ctx, "The show is called Night Ferry", "What is this?")
	paste("scenes.txt")
	paste("who_is_on.csv")
	says(t, ctx, "look shorter than three minutes")
	do(t, ctx, "the grid", chromedp.Navigate(s.URL+"/who/grid"), chromedp.WaitReady("svg.chart"))
	says(t, ctx, "Where a minute decides")
	before, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("#drawn p").innerText`))
	if err != nil {
		t.Fatal(err)
	}
	// one tick with the keyboard: the guild stays away from scene 14
	do(t, ctx, "a tick", chromedp.Evaluate[chromedp.Void](`document.querySelector('input[value="S12 Guild members"][type=checkbox]').focus()`),
		chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(" "))
	until(t, ctx, fmt.Sprintf(`document.querySelector("#drawn p").innerText !== %q`, before))
	on, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`document.querySelector('input[value="S14 Guild members"][type=checkbox]').checked`))
	if err != nil || on {
		t.Errorf("two to the right of scene 12 is 14, and it is still ticked: %v", err)
	}
	shot(t, ctx, "grid")
	paste("rail_notes.txt")
	paste("shelf_and_people.txt")
	for _, g := range [][3]string{{"Schoolchildren", "1840-1900, schoolchild, skirted", "navy and cream, ochre"}, {"Net-menders", "1840-1900, rural, skirted", "drab"}, {"Waves", "nature chorus, wave, river", "teal, weed green"}, {"Lantern children", "nature chorus, lantern, candle", "moon white"}} {
		do(t, ctx, g[0], chromedp.Navigate(s.URL+"/looks"), chromedp.WaitReady("select[name=who]"),
			chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector("select[name=who]").value = %q; document.querySelector("select[name=look]").value = %q;`, g[0], g[1])),
			typeIn("input[name=colours]", g[2]))
		press(t, ctx, "form.tools button.main", "p[role=status]")
		says(t, ctx, "pieces given")
	}
	shot(t, ctx, "looks")
	do(t, ctx, "pieces", chromedp.Navigate(s.URL+"/pieces"), chromedp.WaitReady("table.balance"))
	says(t, ctx, "where all", "lead-hours")
	shot(t, ctx, "pieces")
	for _, sheet := range []string{"measuring-P17", "letter-1", "rail-blank"} {
		do(t, ctx, sheet, chromedp.Navigate(s.URL+"/sheets/"+sheet+".html"), chromedp.WaitReady("body"))
		if code, body := get(t, s.URL, "/sheets/"+sheet+".pdf"); code != 200 || !strings.HasPrefix(body, "%PDF") {
			t.Errorf("%s answers %d", sheet, code)
		}
	}
	do(t, ctx, "today", chromedp.Navigate(s.URL+"/"), chromedp.WaitReady("main"))
	shot(t, ctx, "today")
	for _, c := range complaints.take() {
		t.Error(c)
	}
}

// A phone in the hall, 360 wide: a child measured, a garment with its
// picture, three hangers counted, nothing wider than the phone and nothing to
// touch smaller than 44.
func TestBrowserPhone(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	post(t, desk.URL, "/edit/performer/P12", map[string][]string{"chest": {""}, "waist": {""}}, "")
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the desk", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(desk.URL+"/phone"), chromedp.WaitReady("form.box"))
	shot(t, ctx, "desk-closed")
	post(t, desk.URL, "/phone", map[string][]string{"host": {"127.0.0.1"}, "may": {toRail, toCount, toMeasure}}, "")
	do(t, ctx, "the desk", chromedp.Navigate(desk.URL+"/phone"), chromedp.WaitReady("svg.square"))
	shot(t, ctx, "desk-open")
	fits := func(name string) {
		t.Helper()
		wide, err := chromedp.Run(ctx, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`))
		if err != nil || wide > 360 {
			t.Errorf("%s is %d wide: %v", name, wide, err)
		}
		small, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`[...document.querySelectorAll("a, button, input:not([type=hidden]), select, label.line")].filter(e => !(e.matches("label.line input"))).filter(e => e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 80))`))
		if err != nil || len(small) > 0 {
			t.Errorf("%s: too small to touch: %v %v", name, small, err)
		}
		shot(t, ctx, "phone-"+name)
	}
	do(t, ctx, "the door", chromedp.EmulateViewport(360, 740, chromedp.EmulateTouch), chromedp.Navigate("http://"+s.hall.addr+"/"), chromedp.WaitReady("#code"))
	fits("door")
	do(t, ctx, "the code", typeIn("#code", s.hall.code))
	press(t, ctx, "button.main", "a.step")
	fits("work")
	press(t, ctx, `a[href="/measure"]`, `a[href="/measure/P12"]`)
	fits("waiting")
	press(t, ctx, `a[href="/measure/P12"]`, "#m-chest")
	do(t, ctx, "one child", typeIn("input[name=by]", "H2"), typeIn("input[name=second]", "H7"), typeIn("#m-chest", "29"), typeIn("#m-waist", "62"))
	press(t, ctx, "button.main", "#e-chest")
	fits("child")
	says(t, ctx, "measure again?")
	do(t, ctx, "again", typeIn("#m-chest", "73.5"))
	press(t, ctx, "button.main", "p[role=status]")
	says(t, ctx, "Paloma is done")
	picture := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(picture, withPlace(t, 1200, 900), 0o600); err != nil {
		t.Fatal(err)
	}
	do(t, ctx, "the rail", chromedp.Navigate("http://"+s.hall.addr+"/rail"), chromedp.WaitReady("#picture"))
	fits("rail")
	do(t, ctx, "a garment", chromedp.SetUploadFiles("#picture", []string{picture}), typeIn("#r-garment", "bridesmaid gown"), typeIn("#r-colour", "mint"),
		typeIn("#r-chest", "39"), typeIn("#r-length", "126"))
	press(t, ctx, "button.main", "p[role=status]")
	says(t, ctx, "G001 bridesmaid gown is kept")
	do(t, ctx, "the count", chromedp.Navigate("http://"+s.hall.addr+"/count"), chromedp.WaitReady("label.line"))
	fits("count")
	do(t, ctx, "three hangers", chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("input[name=hung]:not(:disabled)")].slice(0, 3).forEach(e => e.click())`))
	press(t, ctx, "button.main", "p[role=status]")
	says(t, ctx, "3 counted")
	for _, c := range complaints.take() {
		if !strings.Contains(c, "422") { // the refused number, which the browser notes as well
			t.Error(c)
		}
	}
}
