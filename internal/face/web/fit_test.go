package web

import (
	"regexp"
	"strings"
	"testing"
)

// A garment whose work is done measures as it does now: the plan has nothing
// more to do on it, and one undo takes that back. A second time is refused.
func TestAltered(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	_, pieces := get(t, s.URL, "/pieces?source=alter")
	m := regexp.MustCompile(`<td class="desk">(S\d{3})</td>`).FindStringSubmatch(pieces)
	if m == nil {
		t.Fatal("the plan alters nothing")
	}
	page := "/rail/" + m[1]
	_, before := get(t, s.URL, page)
	if !strings.Contains(before, "It is done: it measures so now") {
		t.Fatalf("%s: nothing to do", page)
	}
	if code, body := post(t, s.URL, page+"/altered", nil, ""); code != 200 || strings.Contains(body, "fault") {
		t.Fatalf("%d", code)
	}
	if _, after := get(t, s.URL, page); strings.Contains(after, "It is done: it measures so now") {
		t.Errorf("%s: the work stands there still", page)
	}
	post(t, s.URL, "/undo", nil, "")
	if _, back := get(t, s.URL, page); !strings.Contains(back, "It is done: it measures so now") {
		t.Errorf("%s: undone, and the work is gone", page)
	}
	if code, _ := post(t, s.URL, "/rail/S999/altered", nil, ""); code != 409 && code != 404 {
		t.Errorf("no such garment: %d", code)
	}
}
