package web

import (
	"net/url"
	"strings"
	"testing"
)

// What a garment gives: parts drawn, sizes, boxes, and the card for it; a
// borrowed one is refused with its owner and gets no card; a kind nothing is
// written down for says so; household linen is reached from the shelf. from:
// stock.csv, S026 is a robe of chest 130, hem 260 (half of each is a panel's
// end), 128 long, so 120; S112 is the town band's; K01 is 205 x 243, 256 when
// its hems are undone, 205 x 256 = 5.2 m².
func TestCutUp(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for page, want := range map[string][]string{
		"/rail/S026/cut-up":  {"65 above, 130 below", "120", "<svg", "zip 60", "takes no household dye", "/sheets/unpick-S026.html", "sisters: S027"},
		"/rail/S112/cut-up":  {"Not to be cut", "belongs to town band", "30 May"},
		"/rail/S106/cut-up":  {"Nothing is written down for hip roll"},
		"/shelf/K01/cut-up":  {"205", "256", "5.2 m²", `href="/edit/cloth/K01"`},
		"/edit/garment/S026": {`href="/rail/S026/cut-up"`},
		"/edit/cloth/K01":    {`href="/shelf/K01/cut-up"`},
	} {
		code, body := get(t, s.URL, page)
		for _, w := range want {
			if code != 200 || !strings.Contains(body, w) {
				t.Errorf("%s answers %d without %q", page, code, w)
			}
		}
	}
	if _, body := get(t, s.URL, "/rail/S112/cut-up"); strings.Contains(body, "unpick-S112") {
		t.Error("a card is offered for what may not be cut")
	}
	if code, body := get(t, s.URL, "/rail/S999/cut-up"); code != 404 || !strings.Contains(body, "S999") {
		t.Errorf("a garment that is not there answers %d", code)
	}
	for page, want := range map[string][]string{
		"/sheets/unpick-S026.txt": {"one person says yes", "S026 front and back · right side · up", "2, a pair", "zip 60", "Pin the label"},
		"/sheets/unpick-S112.txt": {"Not to be cut", "town band"},
	} {
		code, body := get(t, s.URL, page)
		for _, w := range want {
			if code != 200 || !strings.Contains(strings.Join(strings.Fields(body), " "), w) {
				t.Errorf("%s answers %d without %q\n%s", page, code, w, body)
			}
		}
	}
	if _, body := get(t, s.URL, "/sheets/unpick-S112.txt"); strings.Contains(body, "Pin the label") {
		t.Error("a card tells how to cut what may not be cut")
	}
}

// A piece pinned to the parts of a gown says where each shape is cut from, and
// its sheet draws them. from: TestCutFromParts, which tries every such piece.
func TestCutSheetFromParts(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	if code, body := post(t, s.URL, "/pieces/C127/pin", url.Values{"source": {"remake"}, "garment": {"S015"}, "cloth": {""}}, ""); code != 200 {
		t.Fatalf("%d %s", code, body)
	}
	_, body := get(t, s.URL, "/pieces/C127")
	if !strings.Contains(body, `href="/sheets/parts-C127.html"`) {
		t.Error("the piece does not lead to its sheet")
	}
	_, sheet := get(t, s.URL, "/sheets/parts-C127.html")
	for _, want := range []string{"Bodice block", "S015 bridesmaid gown", "front skirt panel", "back skirt panel", "one person says yes", "<svg"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}
