package web

import (
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A lay comes out as drawings at true size; what is left of a cloth becomes one
// of its own, and that is undone by one undo.
func TestLayOutAndLeft(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	code, body := get(t, s.URL, "/shelf/K16/lay.svg")
	if code != 200 || !strings.Contains(body, `width="1400mm" height="5200mm"`) || strings.Count(body, `class="parts"`) == 0 {
		t.Errorf("SVG: %d, %.200s", code, body)
	}
	if code, body := get(t, s.URL, "/shelf/K16/lay.dxf"); code != 200 || !strings.HasSuffix(body, "EOF\r\n") || !strings.Contains(body, "\r\nPARTS\r\n") {
		t.Errorf("DXF: %d, %.200s", code, body)
	}
	if code, _ := get(t, s.URL, "/shelf/K16/lay.exe"); code != 404 {
		t.Errorf("another drawing: %d", code)
	}
	if code, _ := get(t, s.URL, "/shelf/K999/lay.svg"); code != 404 {
		t.Errorf("another cloth: %d", code)
	}
	if code, body := post(t, s.URL, "/shelf/K14/longer", nil, ""); code != 200 || !strings.Contains(body, "before: ") || !strings.Contains(body, "now: ") {
		t.Errorf("laid longer: %d, %.300s", code, body)
	}
	byHand(t, s.URL)
	if code, body := post(t, s.URL, "/shelf/K16/left", nil, ""); code != 200 || !strings.Contains(body, "K16-1") {
		t.Errorf("what is left: %d, %.300s", code, body)
	}
	if code, body := post(t, s.URL, "/shelf/K21/left", nil, ""); code != 409 {
		t.Errorf("unwashed cloth is cut: %d, %.300s", code, body)
	}
	post(t, s.URL, "/undo", nil, "")
	if code, _ := get(t, s.URL, "/shelf/K16-1"); code != 404 {
		t.Errorf("undone, and the remnant is there: %d", code)
	}
}

// byHand pins a part of K14 where it lies, which changes nothing, then where it
// cannot lie, which is refused with what was typed; words in the place of a
// length are refused as well.
func byHand(t *testing.T, base string) {
	t.Helper()
	code, body := get(t, base, "/shelf/K14/by-hand")
	value := func(name string) string {
		_, rest, _ := strings.Cut(body, `name="`+name+`" value="`)
		v, _, _ := strings.Cut(rest, `"`)
		return v
	}
	if code != 200 || value("x0") == "" {
		t.Fatalf("%d, no part to move", code)
	}
	form := url.Values{"x0": {value("x0")}, "y0": {value("y0")}, "turn0": {"0"}, "pin0": {"yes"}}
	if i := strings.Index(body, `name="turn0"`); strings.Contains(body[i:i+200], "<option selected>180") {
		form.Set("turn0", "180")
	}
	if code, body := post(t, base, "/shelf/K14/by-hand", form, ""); code != 200 || !strings.Contains(body, `name="pin0" value="yes" checked`) {
		t.Errorf("pinned where it lies: %d, %.400s", code, body)
	}
	form.Set("x0", "9999")
	if code, body := post(t, base, "/shelf/K14/by-hand", form, ""); code != 409 || !strings.Contains(body, "leaves the cloth") || !strings.Contains(body, `value="9999"`) {
		t.Errorf("off the cloth: %d, %.400s", code, body)
	}
	form.Set("x0", "left")
	if code, body := post(t, base, "/shelf/K14/by-hand", form, ""); code != 422 || !strings.Contains(body, `value="left"`) {
		t.Errorf("words: %d, %.400s", code, body)
	}
	post(t, base, "/undo", nil, "")
}

// With the keyboard: a part moved down by a step says so in its field and is
// pinned; moved off the cloth it is marked as one that cannot lie there; moved
// back and kept it lies there and is pinned still. On a phone nothing is wider
// than the screen.
func TestBrowserByHand(t *testing.T) {
	s := house(t, true)
	get(t, s.URL, "/shelf") // worked out before the page asks
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the board", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.URL+"/shelf/K14/by-hand"), chromedp.WaitReady("#board g.part"))
	top := `Number(document.querySelector("[name=y0]").value)`
	was := on[float64](t, ctx, top)
	key := func(k string) {
		do(t, ctx, "key "+k, chromedp.Evaluate[chromedp.Void](`document.querySelector("g.part").focus(); document.querySelector("g.part").dispatchEvent(new KeyboardEvent("keydown", { key: "`+k+`", bubbles: true }))`))
	}
	key("ArrowLeft")
	key("ArrowUp")
	if got := on[float64](t, ctx, top); was-got < .9 || was-got > 1.1 {
		t.Errorf("an arrow up goes from %v to %v", was, got)
	}
	do(t, ctx, "far off", typeIn("[name=y0]", "-500"))
	if !on[bool](t, ctx, `document.querySelector("g.part").classList.contains("bad") && document.querySelector("#how").textContent.includes("cannot lie")`) {
		t.Error("a part off the cloth is not marked")
	}
	do(t, ctx, "back", chromedp.Navigate(s.URL+"/shelf/K14/by-hand"), chromedp.WaitReady("#board g.part"))
	if n := on[int](t, ctx, `document.querySelectorAll("g.part.bad").length`); n != 0 {
		t.Errorf("%d parts of a lay that holds are marked", n)
	}
	key("p")
	press(t, ctx, "#byhand button.main", "#board g.part.pinned")
	shot(t, ctx, "by-hand-1280")
	axeIs(t, ctx, "by hand")
	do(t, ctx, "on a phone", chromedp.EmulateViewport(360, 800))
	shot(t, ctx, "by-hand-360")
	if wide := on[int64](t, ctx, `document.documentElement.scrollWidth`); wide > 360 {
		t.Errorf("the page is %d wide", wide)
	}
	for _, c := range complaints.take() {
		t.Error(c)
	}
}
