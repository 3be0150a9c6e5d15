package web

import (
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

var counted = regexp.MustCompile(`name="what" value="([^"]*)"( checked)?`)

// From an opening alone: the dates in pencil, some taken, moved with the
// opening while in pencil, left alone in ink.
// from: 14 May 2027 is a Friday, 8 May the Saturday next to a week before it.
func TestCountedBack(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	if code, body := get(t, s.URL, "/calendar"); code != 200 || strings.Contains(body, "name=\"what\"") {
		t.Errorf("without an opening the page answers %d", code)
	}
	code, body := get(t, s.URL, "/calendar?opening=soon")
	if code != 422 || !strings.Contains(body, `value="soon"`) || !strings.Contains(body, `role="alert"`) {
		t.Errorf("soon answers %d", code)
	}
	_, body = get(t, s.URL, "/calendar?opening=14+May+2027")
	all := counted.FindAllStringSubmatch(body, -1)
	if len(all) < 20 || !strings.Contains(body, "Sat 8 May") || !strings.Contains(body, "common practice") || !strings.Contains(body, "house figure") {
		t.Fatalf("%d dates", len(all))
	}
	parade, trial := "", ""
	for _, m := range all {
		if strings.Contains(m[1], "parade") {
			parade = m[1]
		}
		if strings.Contains(m[1], "trial") {
			trial = m[1]
		}
	}
	take := func(opening string, want int, what ...string) string {
		t.Helper()
		code, body := post(t, s.URL, "/calendar", url.Values{"opening": {opening}, "what": what}, "")
		if code != want {
			t.Errorf("taking %v answers %d", what, code)
		}
		return body
	}
	if body := take("14 May 2027", 422); !strings.Contains(body, "No date is ticked") || len(counted.FindAllStringSubmatch(body, -1)) != len(all) || strings.Count(body, "\" checked aria-label") != 0 {
		t.Error("with none ticked the page does not stay as it was")
	}
	take("the fourteenth", 422, parade)
	take("14 May 2027", 404, "a ball")
	take("14 May 2027", 200, parade, trial)
	_, dates := get(t, s.URL, "/list/date")
	if len(rowsOf(dates)) != 2 || strings.Count(dates, "in pencil: counted back from the opening: ") < 2 || !strings.Contains(dates, "2027-05-08") {
		t.Errorf("the calendar holds %v", rowsOf(dates))
	}
	if _, body := get(t, s.URL, "/list/performance"); !strings.Contains(body, "2027-05-14") {
		t.Error("the opening is no performance")
	}
	if _, body := get(t, s.URL, "/calendar"); !strings.Contains(body, `<input type="hidden" name="opening" value="2027-05-14">`) || strings.Contains(body, `class="fault"`) {
		t.Error("the opening is not counted from by itself")
	}
	if _, body := get(t, s.URL, "/calendar?opening=2+January+2020"); !strings.Contains(body, "gone by") {
		t.Error("days gone by are offered as if they were to come")
	}
	// the parade is set by hand: ink
	for _, row := range rowsOf(dates) {
		if strings.Contains(row, "parade") {
			post(t, s.URL, "/edit/date/"+url.PathEscape(row), url.Values{"date": {"2027-05-09"}}, "")
		}
	}
	if body := take("21 May 2027", 200, parade, trial); !strings.Contains(body, "in pencil") {
		t.Error("nothing is said to be in pencil")
	}
	_, dates = get(t, s.URL, "/list/date")
	if !strings.Contains(dates, "2027-05-09") || !strings.Contains(dates, "2027-05-03") || strings.Contains(dates, "2027-04-26") {
		t.Errorf("a week later the calendar holds %v", rowsOf(dates))
	}
	for range 3 {
		post(t, s.URL, "/undo", nil, "")
	}
	if _, dates := get(t, s.URL, "/list/date"); len(rowsOf(dates)) != 0 {
		t.Errorf("three undone, the calendar holds %v", rowsOf(dates))
	}
	if _, body := get(t, s.URL, "/list/performance"); strings.Contains(body, "2027-05-14") {
		t.Error("the opening stays")
	}
}

func TestBrowserCountedBack(t *testing.T) {
	s := house(t, false)
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the opening", chromedp.EmulateViewport(1280, 900), chromedp.Navigate(s.URL+"/calendar"), chromedp.WaitReady("input[name=opening]"), typeIn("input[name=opening]", "14 May 2027"))
	press(t, ctx, "main form button", "table.counted")
	shot(t, ctx, "calendar-1280")
	axeIs(t, ctx, "counted back")
	do(t, ctx, "one fewer", chromedp.Click("table.counted input[type=checkbox]"))
	n := on[int](t, ctx, `document.querySelectorAll("table.counted input:checked").length`)
	press(t, ctx, "form[method=post][action='/calendar'] button.main", "p.say[role=status]")
	do(t, ctx, "on a phone", chromedp.EmulateViewport(360, 800))
	shot(t, ctx, "calendar-360")
	axeIs(t, ctx, "taken")
	if wide := on[int64](t, ctx, `document.documentElement.scrollWidth`); wide > 360 {
		t.Errorf("the page is %d wide", wide)
	}
	if _, body := get(t, s.URL, "/list/date"); len(rowsOf(body)) != n {
		t.Errorf("%d were ticked, %d are in the calendar", n, len(rowsOf(body)))
	}
	for _, c := range complaints.take() {
		t.Error(c)
	}
}
