package web

import (
	"archive/zip"
	"bytes"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/emersion/go-ical"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/body"
	"hemwright/internal/value/units"
)

// The bundle for the next person holds the show and nobody in it.
func TestBundleHoldsNobody(t *testing.T) {
	oneAtATime(t)
	code, raw := get(t, demoPages(t).URL, "/show.zip")
	if code != 200 {
		t.Fatalf("the bundle answers %d", code)
	}
	z, err := zip.NewReader(strings.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	var all bytes.Buffer
	names := map[string]bool{}
	for _, f := range z.File {
		names[f.Name] = true
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		io.Copy(&all, r)
		r.Close()
	}
	for _, want := range []string{"index.html", "sheets/rail.html", "lists/garments.csv", "lists/pieces.csv"} {
		if !names[want] {
			t.Errorf("no %s in the bundle", want)
		}
	}
	h := demotest.House(t)
	held := all.String()
	for _, p := range h.Performers {
		if strings.Contains(held, p.Name) {
			t.Errorf("the bundle holds %s", p.Name)
		}
		if l := p.Body[body.Height].Span.Lo; l%units.Centimetre != 0 && strings.Contains(held, ","+units.Metric.Print(l)+",") {
			t.Errorf("the bundle holds the height of %s", p.ID)
		}
	}
}

var contentLine = regexp.MustCompile(`^[A-Z-]+(;[A-Z-]+=[^:;,]+)*:.*$`)

// from: RFC 5545, sections 3.1 (lines end in CRLF and are folded at 75 octets),
// 3.4 and 3.6.1 (what an event must hold), 3.3.11 (escapes).
func TestCalendarByTheStandard(t *testing.T) {
	oneAtATime(t)
	for _, path := range []string{"/dates.ics", "/dates.ics?helper=H2"} {
		code, raw := get(t, demoPages(t).URL, path)
		if code != 200 || !strings.HasSuffix(raw, "END:VCALENDAR\r\n") || strings.Contains(strings.ReplaceAll(raw, "\r\n", ""), "\n") {
			t.Errorf("%s answers %d, or its lines do not end in CRLF", path, code)
		}
		for _, l := range strings.Split(strings.TrimSuffix(raw, "\r\n"), "\r\n") {
			if len(l) > 75 || !strings.HasPrefix(l, " ") && !contentLine.MatchString(l) {
				t.Errorf("%s: %d octets in %q", path, len(l), l)
			}
		}
		cal, err := ical.NewDecoder(strings.NewReader(raw)).Decode()
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		h := demotest.House(t)
		for _, e := range cal.Events() {
			uid, err := e.Props.Text(ical.PropUID)
			if err != nil || uid == "" || seen[uid] {
				t.Errorf("%s: an event without a name of its own: %q %v", path, uid, err)
			}
			seen[uid] = true
			if e.Props.Get(ical.PropDateTimeStamp) == nil || e.Props.Get(ical.PropDateTimeStart) == nil {
				t.Errorf("%s: %s has no stamp or no start", path, uid)
			}
			says, err := e.Props.Text(ical.PropSummary)
			if err != nil {
				t.Error(err)
			}
			for _, p := range h.Performers {
				if strings.Contains(says, p.Name) {
					t.Errorf("%s: %q names a child", path, says)
				}
			}
		}
		if len(seen) < len(h.Performances)+10 {
			t.Errorf("%s: %d events", path, len(seen))
		}
	}
	if code, _ := get(t, demoPages(t).URL, "/dates.ics?helper=H99"); code != 404 {
		t.Errorf("a helper who is not there answers %d", code)
	}
}
