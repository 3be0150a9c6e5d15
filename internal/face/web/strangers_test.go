package web

import (
	"archive/zip"
	"bytes"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hemwright/internal/value/solve"
	"hemwright/internal/workshop"
)

// A script typed into every field of words is shown as words, on every page
// and every sheet.
func TestScriptInEveryField(t *testing.T) {
	oneAtATime(t)
	const script = `<script>x()</script>"'><img src=x onerror=x()>`
	s := house(t, true)
	for _, row := range [][2]string{{"performer", "P26"}, {"role", "R29"}, {"scene", "S01"}, {"look", "L001"}, {"piece", "C001"}, {"garment", "S001"}, {"find", "F01"}, {"cloth", "K01"},
		{"helper", "H1"}, {"receipt", "E01"}, {"loan", "B01"}, {"note", "N01"}, {"ask", "A01"}, {"set", "M01"}} {
		code, page := get(t, s.URL, "/edit/"+row[0]+"/"+row[1])
		if code != 200 {
			continue // the demo calls that list otherwise
		}
		form := url.Values{}
		for _, part := range strings.Split(page, `<input id="f-`)[1:] {
			key, rest, _ := strings.Cut(part, `"`)
			_, value, _ := strings.Cut(rest, `value="`)
			value, _, _ = strings.Cut(value, `"`)
			if strings.ContainsAny(key, "_") || value == "yes" || value == "no" || strings.Trim(value, "0123456789.:- ") == "" && value != "" {
				continue
			}
			form.Set(key, script)
		}
		for range 3 { // what cannot be words is told beside the field, and left out
			code, body := post(t, s.URL, "/edit/"+row[0]+"/"+row[1], form, "")
			if code == 200 {
				break
			}
			for _, part := range strings.Split(body, `id="e-`)[1:] {
				key, _, _ := strings.Cut(part, `"`)
				form.Del(key)
			}
		}
	}
	post(t, s.URL, "/start", url.Values{"text": {script + "\nAnn Lee (9): " + script + "\n" + script + ": Bo, Cy"}}, "")
	for _, p := range allPages {
		_, body := get(t, s.URL, p)
		for _, bad := range []string{"<script>x()", "<img src=x", `"'><`} {
			if strings.Contains(body, bad) {
				t.Errorf("%s shows %s as it is", p, bad)
			}
		}
	}
	for _, p := range []string{"/pocket.html", "/sheets/my-clothes-P26.html", "/sheets/looks.html"} {
		if _, body := get(t, s.URL, p); strings.Contains(body, "<script>x()") || strings.Contains(body, "<img src=x") {
			t.Errorf("%s shows a script as it is", p)
		}
	}
}

func TestPathsStayInside(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	for _, p := range []string{"/sheets/..%2f..%2fweb.go", "/sheets/%2e%2e%2f%2e%2e%2fetc%2fpasswd.html", "/edit/..%2fgarment/S001", "/pictures/..%2f..%2fhouse", "/type/..%2fweb.go", "/..%2f..%2fgo.mod"} {
		req, err := http.NewRequest("GET", s.URL+p, nil)
		if err != nil {
			t.Fatal(err)
		}
		r, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(r.Body)
		r.Body.Close()
		if r.StatusCode != 404 || strings.Contains(string(body), "package web") || strings.Contains(string(body), "root:") {
			t.Errorf("%s answers %d", p, r.StatusCode)
		}
	}
}

// endless is a body of 100 MB of one letter.
type endless struct{ left int }

func (e *endless) Read(p []byte) (int, error) {
	if e.left == 0 {
		return 0, io.EOF
	}
	n := min(len(p), e.left)
	for i := range n {
		p[i] = 'a'
	}
	e.left -= n
	return n, nil
}

func TestHundredMegabytes(t *testing.T) {
	oneAtATime(t)
	s := demoPages(t)
	req, err := http.NewRequest("POST", s.URL+"/start", io.MultiReader(strings.NewReader("text="), &endless{100 << 20}))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		return // the door was shut before all of it was sent: as good an answer
	}
	r.Body.Close()
	if r.StatusCode < 400 {
		t.Errorf("100 MB answer %d", r.StatusCode)
	}
}

// A small file that unpacks to a gigabyte is refused, and nothing is taken.
func TestPackedBomb(t *testing.T) {
	oneAtATime(t)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"[Content_Types].xml", "xl/workbook.xml", "xl/worksheets/sheet1.xml"} {
		f, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(f, &endless{400 << 20}); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "bomb.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	w, err := workshop.New(filepath.Join(t.TempDir(), "h"), workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}})
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	rep, err := w.Import(path)
	if err == nil {
		t.Errorf("a bomb was taken: %v", rep)
	}
}

// Slow senders do not hold the door of the hall: every request has its time.
func TestTheDoorHasItsTimes(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail}}, "")
	s.hall.mu.Lock()
	defer s.hall.mu.Unlock()
	if srv := s.hall.srv; srv.ReadHeaderTimeout <= 0 || srv.ReadTimeout <= 0 || srv.WriteTimeout <= 0 || srv.MaxHeaderBytes <= 0 {
		t.Errorf("a request may take for ever: %+v", srv)
	}
}

// A whole round of pages, deeds and refusals writes nothing of anybody into
// the log, an address, a file's name or an error.
func TestNothingOfAnybodyIsLogged(t *testing.T) {
	oneAtATime(t)
	var log bytes.Buffer
	w, _, err := workshop.Demo(filepath.Join(t.TempDir(), "h"), workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}, Log: slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	if err != nil {
		t.Fatal(err)
	}
	h, err := New(w, slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug})))
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(h)
	t.Cleanup(func() { s.Close(); w.Close() })
	var seen strings.Builder
	note := func(r *http.Response, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		seen.WriteString(r.Request.URL.String() + " " + r.Header.Get("Location") + " " + r.Header.Get("Content-Disposition") + "\n")
	}
	for _, p := range append(slices.Clone(allPages), "/performers/P999", "/everything.xlsx", "/pocket.html", "/sheets/measuring-P26.pdf", "/sheets/our-numbers-P26.pdf") {
		note(http.Get(s.URL + p))
	}
	for path, form := range map[string]url.Values{
		"/edit/performer/P26": {"chest": {"777.7"}, "waist": {"66.6"}}, "/start": {"text": {"Zebedee Quux (9): Miller\nZebedee measured at home: 133,7 / 66,6 / 55,5 / 71,1"}}, "/edit/performer": {"name": {"Zebedee Quux"}, "height": {"-133.7"}},
	} {
		note(http.PostForm(s.URL+path, form))
	}
	for _, held := range []string{log.String(), seen.String()} {
		for _, n := range []string{"Quux", "133.7", "133,7", "777.7", "66.6", "Kowalczyk", "Delacroix", "166.4"} {
			if strings.Contains(held, n) {
				t.Errorf("%q was written: %.200s", n, held[strings.Index(held, n):])
			}
		}
	}
}
