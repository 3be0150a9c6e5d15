package web

import (
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// A pin is priced by working the plan out without it, on the page of the
// pieces and on the piece's own, in the same words; taking it out is what the
// moves say.
func TestPinIsPriced(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	if _, body := post(t, s.URL, "/pieces/C097/pin", url.Values{"source": {"go without"}}, ""); !strings.Contains(body, "You pinned go without") {
		t.Fatal("the pin is not there")
	}
	costs := regexp.MustCompile(`This pin costs [^<]*\.`)
	_, all := get(t, s.URL, "/pieces?short=1")
	_, one := get(t, s.URL, "/pieces/C097?instead=1")
	a, b := costs.FindString(all), costs.FindString(one)
	if a == "" || a != b {
		t.Errorf("the pieces say %q, the piece %q", a, b)
	}
	moved := regexp.MustCompile(`C097 [^<]*</a>: ([^<]*) instead of go without`).FindStringSubmatch(all)
	if moved == nil {
		t.Fatal("nobody says where C097 comes from without the pin")
	}
	if _, body := post(t, s.URL, "/pieces/C097/unpin", nil, ""); !strings.Contains(body, `class="best"`) || strings.Contains(body, "You pinned") {
		t.Error("the pin is still there")
	}
}

// What is short is asked for, and each of money, hours and cloths has its say.
func TestWhatIsShort(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	if _, body := get(t, s.URL, "/pieces"); !strings.Contains(body, `name="short"`) || strings.Contains(body, "of anybody") {
		t.Error("it is worked out without being asked")
	}
	_, body := get(t, s.URL, "/pieces?short=1")
	for _, want := range []string{"€10 more money", "10 h more of somebody who tailors", "10 h more of anybody", "worked out again"} {
		if !strings.Contains(body, want) {
			t.Errorf("nothing about %q", want)
		}
	}
}
