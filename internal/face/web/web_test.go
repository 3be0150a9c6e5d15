package web

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hemwright/internal/value/solve"
	"hemwright/internal/workshop"
)

var (
	once  sync.Once
	shown *httptest.Server
	made  error
	dir   string
)

func TestMain(m *testing.M) {
	patience = 5 * time.Minute // tests want the page itself
	code := m.Run()
	if shown != nil {
		shown.Close()
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

// oneAtATime leaves a test in which nothing happens at once out of the short
// run, the one for races; the whole run holds it.
func oneAtATime(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one thing at a time: not for the short run")
	}
}

// demoPages serves the demo show, worked out once for all tests.
func demoPages(t *testing.T) *httptest.Server {
	t.Helper()
	once.Do(func() {
		if dir, made = os.MkdirTemp("", "pages"); made != nil {
			return
		}
		var w *workshop.Workshop
		w, _, made = workshop.Demo(filepath.Join(dir, "demo.hemwright"), workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}})
		if made != nil {
			return
		}
		shown, made = serve(w)
	})
	if made != nil {
		t.Fatal(made)
	}
	return shown
}

func serve(w *workshop.Workshop) (*httptest.Server, error) {
	h, err := New(w, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		return nil, err
	}
	return httptest.NewServer(h), nil
}

// house serves a small house of its own, for tests that change something.
func house(t *testing.T, demo bool) *httptest.Server {
	t.Helper()
	path := filepath.Join(t.TempDir(), "h")
	set := workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}}
	var w *workshop.Workshop
	var err error
	if demo {
		w, _, err = workshop.Demo(path, set)
	} else {
		w, err = workshop.New(path, set)
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := serve(w)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close(); w.Close() })
	return s
}

func get(t *testing.T, base, path string) (int, string) {
	t.Helper()
	r, err := http.Get(base + path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, string(b)
}

var allPages = []string{"/", "/who", "/running", "/running?cast=B", "/performers", "/performers?q=finch", "/performers/P26", "/pieces", "/pieces?source=make&sort=minutes",
	"/pieces?q=zzzz", "/pieces/C001", "/pieces/C035", "/pieces?short=1", "/pieces/C047?instead=1", "/rail", "/rail?q=gown", "/rail?kind=dress&sort=chest", "/rail/S011/cut-up", "/rail/S112/cut-up", "/shelf", "/shelf/K13/cut-up", "/shelf/K14/outline", "/workroom", "/fittings", "/money", "/cautions", "/sheets",
	"/performers/P09/away", "/running?group=named&zoom=4", "/shop", "/shop?line=gown+violet+45+36.5+49+136+zip,+9", "/looks", "/phone", "/start", "/who/grid", "/who/grid?open=waves", "/edit/performer/P26", "/edit/garment/S001", "/edit/garment", "/edit/garment?like=S001", "/edit/scene/S01", "/edit/cloth/K01", "/rail/S015", "/rail/S112", "/rail/fit", "/rail/fit?set=G6", "/rail/operations", "/rail/operations?q=hem", "/shelf/K14", "/shelf/K14/by-hand", "/shelf/K01/by-hand", "/shelf/K16?piece=C054&piece=C057",
	"/sheets/my-clothes-P26.html", "/sheets/rail.html", "/sheets/unpick-S011.html", "/sheets/shopping.html", "/sheets/money.html",
	"/list/garment", "/list/garment?find=gown&sort=chest&down=yes", "/list/performer", "/list/piece", "/list/date", "/list/kit",
	"/calendar",
	"/changed", "/changed?since=0", "/house", "/house/erase", "/house/erase?who=P26", "/sheets/our-numbers-P26.html"}

var broken = regexp.MustCompile(`ZgotmplZ|&lt;no value&gt;|%!|<nil>|\{true|\{false|NaN|not known not known`)

func TestEveryPageOfTheDemo(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for _, p := range allPages {
		code, body := get(t, s.URL, p)
		if code != 200 {
			t.Errorf("%s answers %d", p, code)
		}
		if m := broken.FindString(body); m != "" {
			t.Errorf("%s shows %q", p, m)
		}
	}
}

var tags = regexp.MustCompile(`(?s)<script.*?</script>|<[^>]*>`)

var never = regexp.MustCompile(`(?i)\b(bust|breasts?|percentile|chubby|skinny|husky|petite|bmi|puberty|flesh|flatter\w*|slimming)\b|does not fit (her|him|them)|too (big|small) for (her|him)|tall for|short for h`)

// from: house rules for words: no exclamation mark, none of the words about
// bodies; and for pages: no style and no script inside them.
func TestWordsAndPolicy(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for _, p := range allPages {
		_, body := get(t, s.URL, p)
		text := tags.ReplaceAllString(body, " ")
		if i := strings.Index(text, "!"); i >= 0 {
			t.Errorf("%s shouts: %q", p, text[max(0, i-40):i+1])
		}
		if m := never.FindString(text); m != "" {
			t.Errorf("%s says %q", p, m)
		}
		if strings.Contains(body, " style=") || strings.Contains(body, "<style") || strings.Contains(body, "<script>") || strings.Contains(body, " onclick=") {
			t.Errorf("%s holds a style or a script of its own", p)
		}
	}
}

// The list of performers holds no measure, so that no two children's numbers
// stand side by side. from: cast.csv, the height of P30.
func TestPerformersListHoldsNoMeasure(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	_, list := get(t, s.URL, "/performers")
	_, one := get(t, s.URL, "/performers/P30")
	if !strings.Contains(one, "160.2") || strings.Contains(list, "160.2") {
		t.Error("a height stands in the list, or not on the performer's own page")
	}
}

// A piece has one row for each source, in the trade's order, whatever it
// costs. from: ruling 6, eight sources.
func TestEightSourcesInOrder(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	want := []string{"use as is", "alter", "remake", "make", "borrow", "buy", "own", "go without"}
	for _, p := range []string{"/pieces/C001", "/pieces/C035", "/pieces/C097", "/pieces/C174"} {
		_, body := get(t, s.URL, p)
		var got []string
		for _, m := range regexp.MustCompile(`<span class="word">([^<]*)</span></th>`).FindAllStringSubmatch(body, -1) {
			got = append(got, m[1])
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s lists %v", p, got)
		}
	}
}

// from: stock.csv, four school pinafores on rail A1, 68, 74, 82 and 90 long.
func TestRailSorts(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	_, body := get(t, s.URL, "/rail?q=pinafore+A1&sort=length")
	last := -1
	for _, id := range []string{">S001<", ">S002<", ">S003<", ">S004<"} {
		at := strings.Index(body, id)
		if at < last || at < 0 {
			t.Errorf("%s is out of order", id)
		}
		last = at
	}
	if !strings.Contains(body, `aria-sort="ascending"`) {
		t.Error("the head does not say what it is sorted by")
	}
}

// A long list comes in parts: going on and on shows each row once, in order,
// and going back leads to the first; a start that is none is the first.
func TestLongListsComeInParts(t *testing.T) {
	oneAtATime(t)
	rows := make([]int, 1203)
	for i := range rows {
		rows[i] = i
	}
	at, back, seen := "/rail?q=gown&from=abc", "", 0
	for at != "" {
		if !strings.Contains(at, "q=gown") {
			t.Fatalf("%s forgets what was looked for", at)
		}
		part, before, after := stretch(rows, httptest.NewRequest("GET", at, nil))
		for _, n := range part {
			if n != seen {
				t.Fatalf("%s shows row %d, expected %d", at, n, seen)
			}
			seen++
		}
		if (seen > len(part)) != (before != "") {
			t.Errorf("%s: those before are at %q", at, before)
		}
		at, back = after, before
	}
	if seen != len(rows) {
		t.Errorf("%d of %d rows", seen, len(rows))
	}
	for range 2 {
		_, back, _ = stretch(rows, httptest.NewRequest("GET", back, nil))
	}
	if back != "" {
		t.Errorf("the first part has some before: %q", back)
	}
}

func TestSheetsInEveryForm(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for path, want := range map[string]string{"/sheets/all.pdf": "%PDF-", "/sheets/money.pdf": "%PDF-", "/sheets/money.txt": "How the money stands", "/sheets/money.html": "<h1>How the money stands</h1>"} {
		code, body := get(t, s.URL, path)
		if code != 200 || !strings.Contains(body, want) {
			t.Errorf("%s answers %d without %q", path, code, want)
		}
	}
}

var links = regexp.MustCompile(`href="(/[^"#]*)["#]`)

// oneThing is where an address names one of many things, or a state of a page.
var oneThing = regexp.MustCompile(`[A-Z]+[0-9]+|[0-9]+|%20.*|=[^&]*|&open=.*`)

// Every link of every page answers.
func TestEveryLinkAnswers(t *testing.T) {
	s := demoPages(t)
	seen, queue, alike := map[string]bool{}, append([]string{}, allPages...), map[string]int{}
	for len(queue) > 0 {
		p := strings.ReplaceAll(queue[0], "&amp;", "&")
		queue = queue[1:]
		kind := oneThing.ReplaceAllString(p, "#") // of pages alike but for the thing they show, a few are enough
		if alike[kind]++; seen[p] || alike[kind] > 4 {
			continue
		}
		seen[p] = true
		code, body := get(t, s.URL, p)
		if code != 200 {
			t.Errorf("%s answers %d", p, code)
		}
		if strings.Contains(body, "<html") {
			for _, m := range links.FindAllStringSubmatch(body, -1) {
				queue = append(queue, m[1])
			}
		}
	}
	if len(seen) < 200 {
		t.Errorf("only %d links found", len(seen))
	}
}

// No page but a performer's own, and no sheet at all, holds a body number.
func TestSheetsHoldNoBodyNumber(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	_, list := get(t, s.URL, "/sheets")
	for _, m := range regexp.MustCompile(`href="(/sheets/my-clothes-P0[1-9]\.txt)"`).FindAllStringSubmatch(list, -1) {
		_, text := get(t, s.URL, m[1])
		for _, n := range []string{" cm", "chest", "waist ", "inside leg", "166.4", "171.2"} {
			if strings.Contains(text, n) {
				t.Errorf("%s says %q", m[1], n)
			}
		}
	}
}

func TestUnknownThings(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for _, p := range []string{"/pieces/C999", "/performers/P999", "/sheets/nothing.pdf", "/sheets/money.exe", "/nowhere"} {
		code, body := get(t, s.URL, p)
		if code != 404 || !strings.Contains(body, "There is no") {
			t.Errorf("%s answers %d without a sentence", p, code)
		}
	}
}

func post(t *testing.T, base, path string, form url.Values, origin string) (int, string) {
	t.Helper()
	req, err := http.NewRequest("POST", base+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if origin != "" {
		req.Header.Set("Origin", origin)
		req.Header.Set("Sec-Fetch-Site", "cross-site")
	}
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(b)
}

func TestPinAndUndo(t *testing.T) {
	s := house(t, true)
	pin := url.Values{"source": {"go without"}}
	if code, body := post(t, s.URL, "/pieces/C097/pin", pin, ""); code != 200 || !strings.Contains(body, "You pinned go without") {
		t.Errorf("pinning answers %d", code)
	}
	if code, body := post(t, s.URL, "/undo", nil, ""); code != 200 || !strings.Contains(body, "Do it again") {
		t.Errorf("undo answers %d", code)
	}
	if _, body := get(t, s.URL, "/pieces/C097"); strings.Contains(body, "You pinned") {
		t.Error("the pin is still there")
	}
}

// A house shows its lengths in what the person chose, on pages and on paper;
// the figures are the demo's own spreadsheet's, divided by 2.54 by hand.
func TestUnitsOnPages(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	look := func(path, want string) {
		t.Helper()
		if _, body := get(t, s.URL, path); !strings.Contains(body, want) {
			t.Errorf("%s does not say %q", path, want)
		}
	}
	look("/shelf", "stand 10 cm apart")
	if code, body := post(t, s.URL, "/units", url.Values{"lengths": {"in"}}, ""); code != 200 || !strings.Contains(body, "Show centimetres") {
		t.Errorf("choosing inches answers %d", code)
	}
	look("/shelf", "stand 4 in apart")
	look("/rail", "Flat numbers in inches")
	look("/sheets/rail.txt", "Flat numbers, in inches")
	look("/performers/P01", `<th scope="col" class="r">in</th>`)
	if code, body := post(t, s.URL, "/units", url.Values{"lengths": {"ells"}}, ""); code != 422 || !strings.Contains(body, "ells") {
		t.Errorf("an unknown unit answers %d", code)
	}
}

// Somebody tells what they have, line by line, on an empty table.
func TestTelling(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	if code, body := post(t, s.URL, "/start", url.Values{"text": {""}}, ""); code != 422 || !strings.Contains(body, "nothing in the box") {
		t.Errorf("an empty box answers %d", code)
	}
	text := "Ann Lee (12): Miller\nWaves: Bo, Cy\nOtto coat?\nscene 1 Dawn 4"
	code, body := post(t, s.URL, "/start", url.Values{"text": {text}}, "")
	for _, want := range []string{"Ann Lee (12) plays Miller", "The group Waves: 2 people", "1 of 4 lines", "What is this?", `value="Otto coat?"`} {
		if code != 200 || !strings.Contains(body, want) {
			t.Errorf("after telling, %d: no %q", code, want)
		}
	}
	if _, body := post(t, s.URL, "/start/kept", url.Values{"n": {"0"}, "was": {"Otto coat?"}, "how": {"again"}, "words": {"Otto Kim (9): Baker"}}, ""); !strings.Contains(body, "Otto Kim (9) plays Baker") || strings.Contains(body, "Otto coat") {
		t.Error("a line told again is not understood, or is still kept")
	}
	if code, _ := post(t, s.URL, "/start/kept", url.Values{"n": {"7"}, "was": {"Otto coat?"}, "how": {"note"}}, ""); code != 409 {
		t.Errorf("a line that is gone answers %d", code)
	}
	if _, body := post(t, s.URL, "/undo", nil, ""); !strings.Contains(body, "Do it again") {
		t.Error("telling cannot be undone")
	}
}

// Six tell three things each while six others look: everything told is there
// afterwards, and nobody was turned away.
func TestManyAtOnce(t *testing.T) {
	s := house(t, false)
	var tell, look sync.WaitGroup
	told := make(chan struct{})
	for i := range 6 {
		tell.Go(func() {
			for j := range 3 {
				name := string(rune('A'+i)) + string(rune('a'+j)) + " Lee"
				if code, body := post(t, s.URL, "/start", url.Values{"text": {name + " (12): Part " + name}}, ""); code != 200 {
					t.Errorf("telling of %s answers %d: %.200s", name, code, body)
				}
			}
		})
		look.Go(func() {
			for n := 0; ; n++ {
				select {
				case <-told:
					return
				default:
				}
				page := allPages[n%5]
				if code, _ := get(t, s.URL, page); code != 200 {
					t.Errorf("%s answers %d meanwhile", page, code)
				}
			}
		})
	}
	tell.Wait()
	close(told)
	look.Wait()
	_, body := get(t, s.URL, "/performers")
	for i := range 6 {
		for j := range 3 {
			if name := string(rune('A'+i)) + string(rune('a'+j)) + " Lee"; !strings.Contains(body, name) {
				t.Errorf("%s was told and is not there", name)
			}
		}
	}
}

// A tick is kept and drawn, alone or with a whole form; exact times are
// checked against the scene.
func TestTicking(t *testing.T) {
	s := house(t, false)
	post(t, s.URL, "/start", url.Values{"text": {"Ann Lee (12): Miller\nWaves: Bo, Cy\nWinds: Bo, Cy\nscene 1 Dawn 4\nscene 2 Noon 6"}}, "")
	code, body := post(t, s.URL, "/who/grid", url.Values{"cell": {"S01 Waves"}, "on": {"S01 Waves"}, "drawn": {"yes"}}, "")
	if code != 200 || !strings.Contains(body, "<svg") || strings.Contains(body, "<html") {
		t.Errorf("one tick answers %d", code)
	}
	code, body = post(t, s.URL, "/who/grid", url.Values{"cell": {"S02 Winds", "S01 R01", "S01 Waves"}, "on": {"S02 Winds", "S01 Waves"}, "was": {"S01 Waves"}, "drawn": {"yes"}}, "")
	if code != 200 || !strings.Contains(body, "2 changes look shorter than three minutes; 1 join decides it") {
		t.Errorf("two in waves become winds in 15 s: %d %s", code, body[:200])
	}
	for _, c := range []struct{ field, typed, says string }{
		{"exit", "5", "after the end of S01, which runs 4.00 min"}, {"exit", "-1", "less than nothing"}, {"enter", "6", "not before going off"}, {"exit_side", "up", "not a side"},
	} {
		form := url.Values{"who": {"Waves"}, "becomes": {"Winds"}, "from": {"S01"}, "to": {"S02"}, c.field: {c.typed}}
		if code, body := post(t, s.URL, "/who/times", form, ""); code != 422 || !strings.Contains(body, c.says) {
			t.Errorf("%s %s answers %d", c.field, c.typed, code)
		}
	}
	post(t, s.URL, "/who/times", url.Values{"who": {"Waves"}, "becomes": {"Winds"}, "from": {"S01"}, "to": {"S02"}, "exit": {"3"}, "enter": {"2.5"}}, "")
	if _, body := get(t, s.URL, "/who/grid"); !strings.Contains(body, "No change looks shorter than three minutes") {
		t.Error("60 + 15 + 150 s are still taken for fast")
	}
	if code, _ := post(t, s.URL, "/who/grid", url.Values{"cell": {"S09 Waves"}, "on": {"S09 Waves"}}, ""); code != 404 {
		t.Errorf("a scene that is not there answers %d", code)
	}
}

// What was typed stays when it cannot be taken, with the fault beside it.
func TestEditingARow(t *testing.T) {
	oneAtATime(t)
	s := house(t, true)
	form := url.Values{"chest": {"wide"}, "colour": {"fog"}}
	code, body := post(t, s.URL, "/edit/garment/S001", form, "")
	for _, want := range []string{`value="wide"`, `&#34;wide&#34; is not a length`, `aria-invalid="true"`, `value="fog"`} {
		if code != 422 || !strings.Contains(body, want) {
			t.Errorf("a chest of words, %d: no %s", code, want)
		}
	}
	form.Set("chest", "35 flat")
	if code, body := post(t, s.URL, "/edit/garment/S001", form, ""); code != 200 || !strings.Contains(body, "Kept.") || !strings.Contains(body, `value="35 cm flat"`) {
		t.Errorf("a chest of 35 flat answers %d", code)
	}
	if code, body := post(t, s.URL, "/edit/garment", url.Values{"garment": {"gown"}, "then": {"same again"}}, ""); code != 200 || !strings.Contains(body, "A new garment") || !strings.Contains(body, `value="gown"`) {
		t.Errorf("the same again answers %d", code)
	}
	if code, _ := post(t, s.URL, "/edit/performer/P01/out", nil, ""); code != 409 {
		t.Errorf("taking out a performer who plays answers %d", code)
	}
	if code, _ := post(t, s.URL, "/edit/garment/S002/out", nil, ""); code != 200 {
		t.Errorf("taking out a garment answers %d", code)
	}
	if code, _ := get(t, s.URL, "/edit/elephant"); code != 404 {
		t.Errorf("a list of elephants answers %d", code)
	}
}

// Everything comes as one workbook, by its first bytes a packed file.
func TestEverythingAsAWorkbook(t *testing.T) {
	oneAtATime(t)
	if code, body := get(t, demoPages(t).URL, "/everything.xlsx"); code != 200 || !strings.HasPrefix(body, "PK") {
		t.Errorf("everything answers %d", code)
	}
}

func TestRefusals(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	if code, body := post(t, s.URL, "/pieces/C001/pin", url.Values{"source": {"steal"}}, ""); code != 422 || !strings.Contains(body, "steal") {
		t.Errorf("an unknown source answers %d", code)
	}
	if code, _ := post(t, s.URL, "/pieces/C001/howfar", url.Values{"howfar": {"nearly"}}, ""); code != 422 {
		t.Errorf("an unknown step answers %d", code)
	}
	if code, _ := post(t, s.URL, "/undo", nil, "http://elsewhere.example"); code != 403 {
		t.Errorf("a stranger's form answers %d", code)
	}
	req, _ := http.NewRequest("GET", s.URL+"/", nil)
	req.Host = "elsewhere.example"
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != 403 {
		t.Errorf("a foreign name of this machine answers %d", r.StatusCode)
	}
}

func TestEmptyHouse(t *testing.T) {
	oneAtATime(t)
	s := house(t, false)
	for _, p := range []string{"/", "/who", "/running", "/performers", "/pieces", "/rail", "/shelf", "/workroom", "/fittings", "/money", "/cautions", "/sheets", "/start", "/who/grid", "/looks", "/edit/performer", "/list/garment", "/list/garment?find=gown&sort=chest&down=yes", "/list/performer", "/list/piece", "/list/date", "/list/kit", "/calendar", "/changed", "/changed?since=0", "/house", "/house/erase"} {
		code, body := get(t, s.URL, p)
		if code != 200 || broken.MatchString(body) {
			t.Errorf("%s of an empty house answers %d %s", p, code, broken.FindString(body))
		}
	}
}

// While something takes longer than a moment its page says so and can be
// stopped with the best so far; a deed meanwhile does not wait for it.
func TestBeingWorkedOut(t *testing.T) {
	s := house(t, true)
	patience = 0
	defer func() { patience = 5 * time.Minute }()
	post(t, s.URL, "/pieces/C097/pin", url.Values{"source": {"go without"}}, "")
	code, body := get(t, s.URL, "/pieces")
	if code != 202 || !strings.Contains(body, "Being worked out") || !strings.Contains(body, `name="back" value="/pieces"`) {
		t.Errorf("a page that takes long answers %d", code)
	}
	if code, _ := post(t, s.URL, "/who/grid", url.Values{"cell": {"S01 R01"}, "was": {"S01 R01"}, "drawn": {"yes"}}, ""); code != 200 {
		t.Errorf("a tick meanwhile answers %d", code)
	}
	_, told := get(t, s.URL, "/stream")
	if !strings.Contains(told, "event: ready") {
		t.Errorf("the stream ends without a word: %q", told)
	}
	patience = 5 * time.Minute
	if code, _ := get(t, s.URL, "/pieces"); code != 200 {
		t.Errorf("afterwards the page answers %d", code)
	}
	if code, _ := post(t, s.URL, "/stop", url.Values{"back": {"//elsewhere.example/"}}, ""); code != 200 {
		t.Errorf("stopping nothing, from elsewhere, answers %d", code)
	}
}

// A rehearsed time replaces the estimate of its change, and no time that is
// none is taken.
func TestBestTime(t *testing.T) {
	s := house(t, true)
	form := url.Values{"who": {"P26"}, "from": {"S11"}, "to": {"S12"}, "seconds": {"41"}}
	if code, body := post(t, s.URL, "/running/best", form, ""); code != 200 || !strings.Contains(body, `value="41" aria-label="best time of Adaeze`) {
		t.Errorf("a best time answers %d", code)
	}
	for _, bad := range []string{"", "quick", "-3", "99999"} {
		form.Set("seconds", bad)
		if code, body := post(t, s.URL, "/running/best", form, ""); code != 422 || !strings.Contains(body, "Write the seconds it took") {
			t.Errorf("%q answers %d", bad, code)
		}
	}
	form.Set("seconds", "41")
	form.Set("to", "S99")
	if code, _ := post(t, s.URL, "/running/best", form, ""); code != 404 {
		t.Errorf("a scene that is not there answers %d", code)
	}
}
