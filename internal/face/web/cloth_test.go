package web

import (
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
