package web

import (
	"net/url"
	"strings"
	"testing"
)

// Forgetting one performer through the pages: a bad day stays in its field,
// nothing goes without the yes, and afterwards no page holds the name. from:
// cast.csv, P26 is Adaeze Kowalczyk.
func TestForgettingSomebody(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	if code, body := post(t, s.URL, "/house/erase-day", url.Values{"day": {"in June"}}, ""); code != 422 || !strings.Contains(body, "in June") || !strings.Contains(body, `value="in June"`) {
		t.Errorf("a day that is none answers %d", code)
	}
	if code, body := post(t, s.URL, "/house/erase-day", url.Values{"day": {"2027-03-10"}}, ""); code != 200 || !strings.Contains(body, "The day to erase people has come: Wednesday 10 March 2027") {
		t.Errorf("setting the day answers %d", code)
	}
	if _, body := get(t, s.URL, "/"); !strings.Contains(body, "The day to erase people has come") {
		t.Error("today does not say so")
	}
	if _, body := get(t, s.URL, "/performers"); !strings.Contains(body, "Kowalczyk") {
		t.Error("it was done by itself")
	}
	who := url.Values{"who": {"P26"}}
	if code, body := get(t, s.URL, "/house/erase?who=P26"); code != 200 || !strings.Contains(body, "Erase P26 Adaeze Kowalczyk") || !strings.Contains(body, "measuring sheets, all of them") {
		t.Errorf("looking first answers %d", code)
	}
	if code, body := post(t, s.URL, "/house/erase", who, ""); code != 422 || !strings.Contains(body, "Nothing was erased") {
		t.Errorf("without a yes it answers %d", code)
	}
	who.Set("yes", "yes")
	if code, _ := post(t, s.URL, "/house/erase", who, "http://elsewhere.example"); code != 403 {
		t.Errorf("a stranger's form answers %d", code)
	}
	code, body := post(t, s.URL, "/house/erase", who, "")
	if code != 200 || !strings.Contains(body, "It cannot be undone") || !strings.Contains(body, "Papers and files to destroy") {
		t.Errorf("erasing answers %d", code)
	}
	for _, p := range allPages {
		code, page := get(t, s.URL, p)
		if code != 200 || strings.Contains(page, "Kowalczyk") || broken.MatchString(page) {
			t.Errorf("%s answers %d, or holds the name: %q", p, code, broken.FindString(page))
		}
	}
	if _, body := get(t, s.URL, "/performers/P26"); !strings.Contains(body, "(P26)") {
		t.Error("the page of the performer has no heading")
	}
	if code, body := post(t, s.URL, "/undo", nil, ""); code != 409 || !strings.Contains(body, "an erasing is for good") {
		t.Errorf("undoing it answers %d", code)
	}
	if code, _ := post(t, s.URL, "/house/restore", url.Values{"copy": {"77"}}, ""); code != 404 {
		t.Errorf("a copy there is none of answers %d", code)
	}
	if code, body := get(t, s.URL, "/changed?since=1"); code != 200 || !strings.Contains(body, "P26 erased") {
		t.Errorf("what changed since answers %d, without the erasing", code)
	}
	if code, body := get(t, s.URL, "/changed?since=soon"); code != 422 || !strings.Contains(body, `value="soon"`) {
		t.Errorf("since no day answers %d", code)
	}
}

// The measures of a child stand on the page for the family and on no sheet
// that is printed with the set. from: cast.csv, the height of P30.
func TestOurNumbersStandAlone(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	if code, body := get(t, s.URL, "/sheets/our-numbers-P30.txt"); code != 200 || !strings.Contains(body, "160.2") || !strings.Contains(body, "5 June 2027") || !strings.Contains(body, "H2 with H7 present") {
		t.Errorf("the page for the family answers %d: %s", code, body)
	}
	if _, list := get(t, s.URL, "/sheets"); strings.Contains(list, "our-numbers") {
		t.Error("it is among the sheets for everybody")
	}
	if code, _ := get(t, s.URL, "/sheets/our-numbers-P99.pdf"); code != 404 {
		t.Errorf("nobody's numbers answer %d", code)
	}
}
