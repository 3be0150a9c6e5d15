package web

import (
	"net/url"
	"strings"
	"testing"
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
