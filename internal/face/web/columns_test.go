package web

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

const oddTable = "Name\tAge\tBrust\tLocker\nMaya Finch\t12\t72\t14\nTom Reed\t11\t70\t15\nIda Holm\t13\t71\t16\nJo Park\t12\t69\t17\n"

var insteadOf = regexp.MustCompile(`name="instead" value="(\d+)"`)

// What a column was taken for is shown, changed, read again; one undo takes
// all of it away.
func TestWhatAColumnIs(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	_, body := post(t, s.URL, "/start", url.Values{"text": {oddTable}}, "")
	for _, want := range []string{"Table 1: performers", "by its name; all 4 cells can be read", "not known; kept aside", `aria-label="what Brust is"`, "<td>Maya Finch</td>", "<td>Ida Holm</td>", "The first 3 of 4 rows"} {
		if !strings.Contains(body, want) {
			t.Errorf("the guesses do not hold %s", want)
		}
	}
	if strings.Contains(body, "<td>Jo Park</td>") {
		t.Error("more than three rows are shown")
	}
	act := insteadOf.FindStringSubmatch(body)[1]
	_, body = post(t, s.URL, "/start", url.Values{"text": {oddTable}, "instead": {act}, "col-0-2": {"chest_cm"}, "col-0-3": {"-"}}, "")
	for _, want := range []string{"as you said; all 4 cells can be read", "left out, as you said", `<option value="chest_cm" selected>`, `<option value="-" selected>`} {
		if !strings.Contains(body, want) {
			t.Errorf("read again, the page does not hold %s", want)
		}
	}
	if _, body := get(t, s.URL, "/edit/performer/P01"); !strings.Contains(body, `name="chest" value="72"`) {
		t.Error("the chest is not taken")
	}
	if _, body := get(t, s.URL, "/list/performer"); len(rowsOf(body)) != 4 {
		t.Errorf("read again, there are %d", len(rowsOf(body)))
	}
	if strings.Contains(body, "Locker</p>") || strings.Contains(body, "The column is not known") {
		t.Error("what was left out is kept")
	}
	post(t, s.URL, "/undo", nil, "")
	if _, body := get(t, s.URL, "/list/performer"); len(rowsOf(body)) != 0 {
		t.Error("one undo does not take it away")
	}
}

// Looking takes nothing; a choice stays through bad input, and where what was
// read has been changed since.
func TestAChoiceStays(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	form := url.Values{"text": {oddTable}, "do": {"look"}, "col-0-2": {"chest_cm"}}
	code, body := post(t, s.URL, "/start", form, "")
	if code != 200 || !strings.Contains(body, "nothing is taken yet") || !strings.Contains(body, `<option value="chest_cm" selected>`) || !strings.Contains(body, ">"+strings.SplitN(oddTable, "\t", 2)[0]) {
		t.Errorf("looking answers %d", code)
	}
	if _, body := get(t, s.URL, "/list/performer"); len(rowsOf(body)) != 0 {
		t.Error("looking takes something")
	}
	form.Del("do")
	_, body = post(t, s.URL, "/start", form, "")
	act := insteadOf.FindStringSubmatch(body)[1]
	post(t, s.URL, "/edit/performer/P01", url.Values{"name": {"Maya Finch-Hall"}}, "")
	again := url.Values{"text": {oddTable}, "instead": {act}, "col-0-2": {"waist_cm"}}
	code, body = post(t, s.URL, "/start", again, "")
	if code != 409 || !strings.Contains(body, `<option value="waist_cm" selected>`) || !strings.Contains(body, `role="alert"`) || !strings.Contains(body, "Jo Park") {
		t.Errorf("what was changed since answers %d", code)
	}
	if _, body := get(t, s.URL, "/edit/performer/P01"); !strings.Contains(body, "Maya Finch-Hall") || !strings.Contains(body, `name="chest" value="72"`) {
		t.Error("a refusal changed something")
	}
	again.Set("text", "  ")
	if code, body := post(t, s.URL, "/start", again, ""); code != 422 || !strings.Contains(body, "There is nothing in the box") {
		t.Errorf("an empty box answers %d", code)
	}
	// what was taken back, and something else done in between, do no harm
	post(t, s.URL, "/undo", nil, "")
	_, body = post(t, s.URL, "/start", url.Values{"text": {oddTable}, "instead": {act}, "col-0-2": {"hip_cm"}}, "")
	act = insteadOf.FindStringSubmatch(body)[1]
	post(t, s.URL, "/edit/garment", url.Values{"garment": {"gown"}}, "")
	if code, _ := post(t, s.URL, "/start", url.Values{"text": {oddTable}, "instead": {act}, "col-0-2": {"waist_cm"}}, ""); code != 200 {
		t.Errorf("after a garment, reading again answers %d", code)
	}
	if _, body := get(t, s.URL, "/list/garment"); len(rowsOf(body)) != 1 {
		t.Error("reading again took the garment away")
	}
	if _, body := get(t, s.URL, "/edit/performer/P01"); !strings.Contains(body, `name="chest" value=""`) || !strings.Contains(body, `name="waist" value="72"`) {
		t.Error("the column is not the waist now")
	}
}

func TestBrowserColumns(t *testing.T) {
	s := house(t, false)
	ctx := browser(t)
	complaints := listen(t, ctx)
	for _, width := range []int64{1280, 360} {
		do(t, ctx, "the box", chromedp.EmulateViewport(width, 900), chromedp.Navigate(s.URL+"/start"), chromedp.WaitReady("#text"), typeIn("#text", oddTable+"\nWat\tKleur\tBreed\njurk\trood\t94\njas\tgrijs\t100\n"))
		press(t, ctx, "#box button[value=look]", "fieldset.guess")
		says(t, ctx, "nothing is taken yet", "Table 2: each line by itself")
		shot(t, ctx, fmt.Sprintf("columns-looked-%d", width))
		axeIs(t, ctx, "looked at")
		if wide := on[int64](t, ctx, `document.documentElement.scrollWidth`); wide > width {
			t.Errorf("looked at, the page is %d wide at %d", wide, width)
		}
		do(t, ctx, "told", chromedp.Evaluate[chromedp.Void](`document.querySelector("[name=col-0-2]").value = "chest_cm"; document.querySelector("[name=list-1]").value = "garment"`))
		press(t, ctx, "#box button[value=look]", "[name=col-1-0]")
		if got := on[string](t, ctx, `document.querySelector("[name=col-0-2]").value + " " + document.querySelector("[name=list-1]").value + " " + document.querySelector("#text").value.length`); !strings.HasPrefix(got, "chest_cm garment ") || strings.HasSuffix(got, " 0") {
			t.Errorf("what was chosen is now %s", got)
		}
		do(t, ctx, "told", chromedp.Evaluate[chromedp.Void](`document.querySelector("[name=col-1-0]").value = "garment"; document.querySelector("[name=col-1-1]").value = "colour"; document.querySelector("[name=col-1-2]").value = "chest_cm"`))
		press(t, ctx, "#box button.main", "details.guesses")
		if !on[bool](t, ctx, `document.querySelector("details.guesses").open`) { // one column is not known
			t.Error("what is not sure is folded away")
		}
		shot(t, ctx, fmt.Sprintf("columns-%d", width))
		axeIs(t, ctx, "taken")
		says(t, ctx, "as you said; all 4 cells can be read")
	}
	if _, body := get(t, s.URL, "/list/garment"); len(rowsOf(body)) != 2 || !strings.Contains(body, "jurk") {
		t.Errorf("told twice, the rail holds %v", rowsOf(body))
	}
	for _, c := range complaints.take() {
		t.Error(c)
	}
}

// bring sends a file as the form does.
func bring(t *testing.T, base, name string, data []byte) (int, string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	part, err := w.CreateFormFile("file", name)
	if err != nil {
		t.Fatal(err)
	}
	part.Write(data)
	w.Close()
	r, err := http.Post(base+"/start/file", w.FormDataContentType(), &b)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(body)
}

// A file is shown as a pasted table is, told, and read again; one in which no
// list is known can be told to be one.
func TestAFileBroughtIn(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	code, body := bring(t, s.URL, "cast.csv", []byte(strings.ReplaceAll(oddTable, "\t", ";")))
	if code != 200 || !strings.Contains(body, "Table 1: performers") || !strings.Contains(body, "4 performers.") || !strings.Contains(body, `name="table-0" value="cast.csv"`) {
		t.Fatalf("a file answers %d", code)
	}
	again := url.Values{"held": {"cast.csv"}, "table-0": {"cast.csv"}, "instead": {insteadOf.FindStringSubmatch(body)[1]}, "col-0-2": {"chest_cm"}}
	if code, body := post(t, s.URL, "/start/file", again, ""); code != 200 || !strings.Contains(body, "as you said; all 4 cells can be read") {
		t.Errorf("read again answers %d", code)
	}
	if _, body := get(t, s.URL, "/edit/performer/P01"); !strings.Contains(body, `name="chest" value="72"`) {
		t.Error("the chest is not taken")
	}
	post(t, s.URL, "/undo", nil, "")
	if _, body := get(t, s.URL, "/list/performer"); len(rowsOf(body)) != 0 {
		t.Error("one undo does not take the file away")
	}
	code, body = bring(t, s.URL, "odd.csv", []byte("Wat,Breed\njurk,47\njas,52\n"))
	if code != 422 || !strings.Contains(body, "no list known here") || !strings.Contains(body, "<td>jurk</td>") {
		t.Errorf("a list nobody knows answers %d", code)
	}
	told := url.Values{"held": {"odd.csv"}, "table-0": {"odd.csv"}, "instead": {"0"}, "list-0": {"garment"}, "col-0-0": {"garment"}, "col-0-1": {"chest_flat_cm"}}
	if code, _ := post(t, s.URL, "/start/file", told, ""); code != 200 {
		t.Errorf("told, it answers %d", code)
	}
	if _, body := get(t, s.URL, "/list/garment?col=chest"); len(rowsOf(body)) != 2 || !strings.Contains(body, "47 cm flat") {
		t.Errorf("the rail holds %v", rowsOf(body))
	}
	if code, body := bring(t, s.URL, "a.png", []byte("\x89PNG\r\n")); code != 422 || !strings.Contains(body, "is a picture, not a table") {
		t.Errorf("a picture answers %d", code)
	}
	if code, _ := bring(t, s.URL, "empty.csv", nil); code != 422 {
		t.Errorf("an empty file answers %d", code)
	}
	if code, _ := post(t, s.URL, "/start/file", url.Values{"held": {"gone.csv"}}, ""); code != 422 {
		t.Errorf("a file no longer held answers %d", code)
	}
	_, book := get(t, s.URL, "/everything.xlsx")
	other := house(t, false)
	if code, body := bring(t, other.URL, "all.xlsx", []byte(book)); code != 200 || !strings.Contains(body, "2 garments") {
		t.Errorf("a workbook answers %d", code)
	}
}
