package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// clothPicture is a cloth of 60 by 40 cm on a grey floor with a sheet of A4 on
// it, 2 mm to the pixel: the sheet is 105 by 148.5 pixels.
func clothPicture(t *testing.T) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 600, 400))
	for y := range 400 {
		for x := range 600 {
			c := color.RGBA{0x77, 0x77, 0x77, 255}
			switch {
			case x >= 200 && x < 305 && y >= 120 && y < 268:
				c = color.RGBA{0xf4, 0xf4, 0xf0, 255}
			case x >= 150 && x < 450 && y >= 100 && y < 300:
				c = color.RGBA{0x20, 0x3a, 0x70, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sendPicture sends a form with a file.
func sendPicture(t *testing.T, base, path string, picture []byte) (int, string) {
	t.Helper()
	var b bytes.Buffer
	form := multipart.NewWriter(&b)
	if picture != nil {
		w, err := form.CreateFormFile("picture", "cloth.jpg")
		if err != nil {
			t.Fatal(err)
		}
		w.Write(picture)
	}
	form.WriteField("sheet", "A4")
	form.Close()
	r, err := http.Post(base+path, form.FormDataContentType(), &b)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(body)
}

var serial = regexp.MustCompile(`name="n" value="(\d+)"`)

// marksOf are the marks of a form, corners of the sheet and a place on the
// cloth.
func marksOf(body string) url.Values {
	v := url.Values{"sheet": {"A4"}, "grain": {"1"}, "n": {serial.FindStringSubmatch(body)[1]}}
	for i, c := range [][2]string{{"201", "119"}, {"304,5", "121"}, {"305", "267"}, {"199", "268"}} {
		v[fmt.Sprintf("c%dx", i+1)], v[fmt.Sprintf("c%dy", i+1)] = []string{c[0]}, []string{c[1]}
	}
	v["px"], v["py"] = []string{"400"}, []string{"200"}
	return v
}

// cell reads one cell of the cloth's row.
func cellOf(t *testing.T, base, code, key string) string {
	t.Helper()
	_, body := get(t, base, "/edit/cloth/"+code)
	m := regexp.MustCompile(`name="` + key + `"[^>]*value="([^"]*)"`).FindStringSubmatch(body)
	if m == nil {
		t.Fatalf("the row of %s has no %s", code, key)
	}
	return m[1]
}

// Without script: a picture brought, traced by four pairs of numbers, drawn
// over, kept, undone. from: the picture's own measures.
func TestOutlineFromPicture(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"cloth 120 x 200 blue"}}, "")
	was := cellOf(t, s.URL, "K01", "width")
	status, body := sendPicture(t, s.URL, "/shelf/K01/outline/picture", clothPicture(t))
	if status != 200 || !strings.Contains(body, "Put a mark on each corner") {
		t.Fatalf("%d: %s", status, body)
	}
	if status, pic := get(t, s.URL, "/shelf/K01/outline/picture.jpg"); status != 200 || strings.Contains(pic, "Exif") {
		t.Errorf("the picture at hand: %d", status)
	}
	marks := marksOf(body)
	bad := url.Values{}
	for k, v := range marks {
		bad[k] = v
	}
	bad["c2x"] = []string{"left"}
	if status, body := post(t, s.URL, "/shelf/K01/outline/trace", bad, ""); status != 422 || !strings.Contains(body, "no place in the picture") {
		t.Errorf("words for a corner: %d", status)
	}
	bad["c2x"], bad["px"], bad["py"] = marks["c2x"], []string{"250"}, []string{"200"}
	if status, body := post(t, s.URL, "/shelf/K01/outline/trace", bad, ""); status != 422 || !strings.Contains(body, "The ring lies on the sheet") || !strings.Contains(body, `name="px" value="250"`) {
		t.Errorf("the ring on the sheet: %d", status)
	}
	if status, _ := post(t, s.URL, "/shelf/K01/outline/keep", marks, ""); status != 422 {
		t.Errorf("kept before it was traced: %d", status)
	}
	status, body = post(t, s.URL, "/shelf/K01/outline/trace", marks, "")
	if status != 200 || !strings.Contains(body, "The true edge lies within") {
		t.Fatalf("traced: %d %s", status, body)
	}
	line := regexp.MustCompile(`(?s)<textarea name="outline"[^>]*>([^<]*)<`).FindStringSubmatch(body)[1]
	keep := url.Values{"n": marks["n"], "outline": {line}, "picture": {"yes"}}
	if status, body := post(t, s.URL, "/shelf/K01/outline/keep", url.Values{"n": {"77"}, "outline": {line}}, ""); status != 409 {
		t.Errorf("another picture: %d %s", status, body)
	}
	if status, body := post(t, s.URL, "/shelf/K01/outline/keep", url.Values{"n": marks["n"], "outline": {"10,10 90,90 90,10 10,90"}}, ""); status != 422 || !strings.Contains(body, "crosses itself") || !strings.Contains(body, "10,10 90,90") {
		t.Errorf("drawn across itself: %d", status)
	}
	for _, flaws := range []string{"a hole", "400,200", "500,340 550,380", "400,200 400,250"} {
		bad := url.Values{"n": marks["n"], "outline": {line}, "flaws": {flaws}}
		if status, body := post(t, s.URL, "/shelf/K01/outline/keep", bad, ""); status != 422 || !strings.Contains(body, flaws+"</textarea>") {
			t.Errorf("the flaw %q: %d", flaws, status)
		}
	}
	keep.Set("flaws", "400,200 420,250\r\n\r\n160,110 170,120\r\n")
	status, body = post(t, s.URL, "/shelf/K01/outline/keep", keep, "")
	if status != 200 || !strings.Contains(body, "traced from a picture, within") || !strings.Contains(body, "The picture") {
		t.Fatalf("kept: %d %s", status, body)
	}
	for key, want := range map[string]float64{"width": 60, "length": 40} {
		var got float64
		if fmt.Sscan(cellOf(t, s.URL, "K01", key), &got); got < want-.6 || got > want+.6 {
			t.Errorf("%s is %.1f, want %.0f", key, got, want)
		}
	}
	// 4 by 10 cm, 50 and 20 from the edges, and as much more as the edge may be off
	var x, y, w, h float64
	_, row := get(t, s.URL, "/edit/cloth/K01")
	if m := regexp.MustCompile(`(?s)name="flaws"[^>]*value="([^"]*)"`).FindStringSubmatch(row); m == nil {
		t.Error("no flaws are kept")
	} else if n, _ := fmt.Sscanf(m[1], "%f,%f,%f,%f;", &x, &y, &w, &h); n != 4 || strings.Count(m[1], ";") != 1 || x < 48 || x > 50 || y < 18 || y > 20 || w < 4 || w > 8 || h < 10 || h > 14 {
		t.Errorf("the flaws are %q", m[1])
	}
	if status, _ := get(t, s.URL, "/shelf/K01/picture.jpg"); status != 200 {
		t.Errorf("the picture kept: %d", status)
	}
	if status, _ := get(t, s.URL, "/shelf/K01/outline/picture.jpg"); status != 404 {
		t.Errorf("the picture at hand is not forgotten: %d", status)
	}
	post(t, s.URL, "/undo", nil, "")
	if got := cellOf(t, s.URL, "K01", "width"); got != was {
		t.Errorf("undone, the width is %q, not %q", got, was)
	}
	if status, _ := get(t, s.URL, "/shelf/K01/picture.jpg"); status != 404 {
		t.Errorf("undone, the picture is still there: %d", status)
	}
}

func TestPicturesRefused(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"cloth 120 x 200 blue"}}, "")
	var huge bytes.Buffer
	if err := png.Encode(&huge, image.NewPaletted(image.Rect(0, 0, 9000, 9000), color.Palette{color.Black})); err != nil {
		t.Fatal(err)
	}
	whole := clothPicture(t)
	for name, c := range map[string]struct {
		picture []byte
		says    string
	}{
		"nothing":       {nil, "No picture was chosen"},
		"no picture":    {[]byte("a cloth, believe me"), "no picture one can read"},
		"half of one":   {whole[:len(whole)/2], "breaks off"},
		"huge in small": {huge.Bytes(), "9000 by 9000 points is too large"},
		"over 16 MB":    {make([]byte, 17<<20), "larger than 16 MB"},
	} {
		if status, body := sendPicture(t, s.URL, "/shelf/K01/outline/picture", c.picture); status != 422 || !strings.Contains(body, c.says) || !strings.Contains(body, `aria-invalid="true"`) {
			t.Errorf("%s: %d, without %q", name, status, c.says)
		}
	}
	if status, _ := sendPicture(t, s.URL, "/shelf/K99/outline/picture", whole); status != 404 {
		t.Errorf("a cloth that is not there: %d", status)
	}
	if status, _ := get(t, s.URL, "/shelf/K01/outline/trace"); status != 404 {
		t.Errorf("a trace without a picture: %d", status)
	}
}

// from: triangles of 3, 4 and 5; sizes as sold.
func TestOutlineByTape(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"cloth 120 x 200 blue"}}, "")
	status, body := post(t, s.URL, "/shelf/K01/outline/tape", url.Values{"sides": {"30 40 50 80"}, "across": {"500"}}, "")
	if status != 422 || !strings.Contains(body, "There is no triangle of corners 1, 2 and 3") || !strings.Contains(body, `value="30 40 50 80"`) {
		t.Errorf("no triangle: %d %s", status, body)
	}
	if status, body := post(t, s.URL, "/shelf/K01/outline/tape", url.Values{"sides": {"thirty"}}, ""); status != 422 || !strings.Contains(body, "is not a length") {
		t.Errorf("words: %d", status)
	}
	status, _ = post(t, s.URL, "/shelf/K01/outline/tape", url.Values{"sides": {"30; 40; 50; 80"}, "across": {"50"}}, "")
	if status != 200 || cellOf(t, s.URL, "K01", "width") != "30" || cellOf(t, s.URL, "K01", "length") != "80" || cellOf(t, s.URL, "K01", "outline") == "" {
		t.Errorf("a trapeze: %d, %s by %s, %q", status, cellOf(t, s.URL, "K01", "width"), cellOf(t, s.URL, "K01", "length"), cellOf(t, s.URL, "K01", "outline"))
	}
	if status, _ = post(t, s.URL, "/shelf/K01/outline/tape", url.Values{"sides": {"100 50 100 50"}, "turns": {"90 90 90"}}, ""); status != 200 || cellOf(t, s.URL, "K01", "shape") != "rectangle" || cellOf(t, s.URL, "K01", "outline") != "" {
		t.Errorf("a rectangle: %d, %q", status, cellOf(t, s.URL, "K01", "outline"))
	}
	if status, _ = post(t, s.URL, "/shelf/K01/outline/sold", url.Values{"sold": {"tablecloth, round, 90 in"}}, ""); status != 200 || cellOf(t, s.URL, "K01", "outline") != "circle d=228" {
		t.Errorf("round: %d, %q", status, cellOf(t, s.URL, "K01", "outline"))
	}
	if status, body = post(t, s.URL, "/shelf/K01/outline/sold", url.Values{"sold": {"a sail"}}, ""); status != 422 || !strings.Contains(body, "is not in the list of linens") {
		t.Errorf("a sail: %d", status)
	}
	if status, _ = post(t, s.URL, "/shelf/sold", url.Values{"sold": {"double sheet, flat"}, "colour": {"moon white"}}, ""); status != 200 || cellOf(t, s.URL, "K02", "width") != "230" || cellOf(t, s.URL, "K02", "colour") != "moon white" {
		t.Errorf("a double sheet: %d", status)
	}
}

// setFile chooses a file in a field.
func setFile(sel, path string) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		root, err := cdp.Call(ctx, t, dom.GetDocument, dom.GetDocumentParams{})
		if err != nil {
			return chromedp.Void{}, err
		}
		n, err := cdp.Call(ctx, t, dom.QuerySelector, dom.QuerySelectorParams{NodeID: root.Root.NodeID, Selector: sel})
		if err != nil {
			return chromedp.Void{}, err
		}
		_, err = cdp.Call(ctx, t, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, NodeID: n.NodeID})
		return chromedp.Void{}, err
	}
}

// Corners set, moved, traced, drawn and kept with the keyboard alone, on a
// phone's width.
func TestBrowserTrace(t *testing.T) {
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"cloth 120 x 200 blue"}}, "")
	file := filepath.Join(t.TempDir(), "cloth.jpg")
	if err := os.WriteFile(file, clothPicture(t), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx := browser(t)
	complaints := listen(t, ctx)
	do(t, ctx, "the ways", chromedp.EmulateViewport(360, 800), chromedp.Navigate(s.URL+"/shelf/K01/outline"), chromedp.WaitReady("#picture"))
	axeIs(t, ctx, "the ways to an outline")
	narrow := func(what string) {
		t.Helper()
		if wide := on[int](t, ctx, `document.documentElement.scrollWidth`); wide > 360 {
			t.Errorf("%s is %d wide", what, wide)
		}
	}
	narrow("the ways")
	shot(t, ctx, "outline-ways")
	do(t, ctx, "the picture", setFile("#picture", file))
	until(t, ctx, `document.querySelector("#picture").files[0].name === "picture.jpg"`)
	do(t, ctx, "bring it", chromedp.Evaluate[chromedp.Void](`document.querySelector("section form button.main").focus()`), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `document.querySelectorAll("svg.trace .mark[tabindex='0']").length === 5`)
	narrow("the marks")
	axeIs(t, ctx, "marks on a picture")
	shot(t, ctx, "outline-marks")
	// the corners were guessed: within a few pixels of the sheet's own
	corner := func(key, axis string) float64 {
		t.Helper()
		return on[float64](t, ctx, fmt.Sprintf(`Number(document.querySelector("[name=%s%s]").value)`, key, axis))
	}
	if x, y := corner("c1", "x"), corner("c1", "y"); x < 195 || x > 205 || y < 115 || y > 125 {
		t.Errorf("the first corner is guessed at %.0f, %.0f", x, y)
	}
	mark := func(key string) string { return fmt.Sprintf(`document.querySelector("[data-key=%s]")`, key) }
	x, y := corner("c1", "x"), corner("c1", "y")
	do(t, ctx, "a corner moved", chromedp.Evaluate[chromedp.Void](mark("c1")+`.focus()`), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowDown, chromedp.KeyModifiers(8)))
	if gx, gy := corner("c1", "x"), corner("c1", "y"); gx != x-2 || gy != y+11 {
		t.Errorf("two left, one down and ten down lead from %.1f, %.1f to %.1f, %.1f", x, y, gx, gy)
	}
	if said := on[string](t, ctx, mark("c1")+`.getAttribute("aria-label") + "|" + document.querySelector("#where").textContent`); !strings.Contains(said, fmt.Sprintf("corner 1 of the sheet, %.0f across|", x-2)) && !strings.Contains(said, "corner 1 of the sheet, ") {
		t.Errorf("it is said to be at %q", said)
	}
	do(t, ctx, "and back", chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowUp), chromedp.KeyEvent(kb.ArrowUp, chromedp.KeyModifiers(8)))
	do(t, ctx, "Tab to the ring", chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Tab))
	if got := on[string](t, ctx, `document.activeElement.dataset.key`); got != "p" {
		t.Errorf("four times Tab leads to %q", got)
	}
	for range 10 {
		do(t, ctx, "the ring", chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(8)))
	}
	do(t, ctx, "trace", chromedp.Evaluate[chromedp.Void](`document.querySelector("#marks button").focus()`), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `document.querySelector("#keep") && document.querySelectorAll(".mark.small[tabindex='0']").length >= 4`)
	says(t, ctx, "The true edge lies within")
	narrow("the trace")
	axeIs(t, ctx, "a traced outline")
	shot(t, ctx, "outline-traced")
	do(t, ctx, "a box round a flaw", chromedp.Evaluate[chromedp.Void](`document.querySelector("#flaw").focus()`), chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(8)))
	if got := on[string](t, ctx, `document.querySelector("#keep [name=flaws]").value`); got != "260,180 330,220" {
		t.Errorf("the flaw is written %q", got)
	}
	axeIs(t, ctx, "a flaw drawn")
	shot(t, ctx, "outline-flaw")
	do(t, ctx, "another, taken out", chromedp.Evaluate[chromedp.Void](`document.querySelector("#flaw").focus()`), chromedp.KeyEvent(kb.Enter), chromedp.KeyEvent(kb.Delete))
	if got := on[string](t, ctx, `document.querySelector("#keep [name=flaws]").value + document.querySelectorAll("#boxes rect").length`); got != "260,180 330,2202" {
		t.Errorf("with one taken out the flaws are %q", got)
	}
	do(t, ctx, "a corner drawn", chromedp.Evaluate[chromedp.Void](mark("o2")+`.focus()`), chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(8)))
	do(t, ctx, "keep", chromedp.Evaluate[chromedp.Void](`document.querySelector("#keep button.main").focus()`), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `location.pathname === "/shelf/K01"`)
	says(t, ctx, "traced from a picture and drawn by hand, within", "K01 traced from a picture")
	do(t, ctx, "undo", chromedp.Evaluate[chromedp.Void](`document.querySelector('form[action="/undo"] button').focus()`), chromedp.KeyEvent(kb.Enter))
	until(t, ctx, `!document.body.innerText.includes("drawn by hand, within")`)
	for _, c := range complaints.take() {
		t.Error(c)
	}
}
