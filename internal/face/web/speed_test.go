package web

import (
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hemwright/internal/value/solve"
	"hemwright/internal/workshop"
)

// bigShow is a cast mail, scenes and a grid of so many performers and scenes.
func bigShow(people, scenes int) (cast, list, grid string) {
	var c, s, g strings.Builder
	for i := range people {
		fmt.Fprintf(&c, "%s%s Lee (%d): Part %s%s\n", letters(i/26), letters(i%26), 8+i%10, letters(i/26), letters(i%26))
	}
	s.WriteString("scenes\n")
	g.WriteString("who")
	for i := range scenes {
		fmt.Fprintf(&s, "%d Title %s%s\n", i+1, letters(i/26), letters(i%26))
		fmt.Fprintf(&g, ",%d", i+1)
	}
	for i := range people {
		fmt.Fprintf(&g, "\nPart %s%s", letters(i/26), letters(i%26))
		for k := range scenes {
			g.WriteString([]string{",x", ",", ",x"}[(i*7+k*3)%3])
		}
	}
	return c.String(), s.String(), g.String()
}

func letters(i int) string { return string(rune('A' + i%26)) }

func benchHouse(b *testing.B, demo bool) *httptest.Server {
	b.Helper()
	set := workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}}
	path := filepath.Join(b.TempDir(), "h")
	var w *workshop.Workshop
	var err error
	if demo {
		w, _, err = workshop.Demo(path, set)
	} else {
		w, err = workshop.New(path, set)
	}
	if err != nil {
		b.Fatal(err)
	}
	h, err := New(w, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		b.Fatal(err)
	}
	s := httptest.NewServer(h)
	b.Cleanup(func() { s.Close(); w.Close() })
	return s
}

func form(b *testing.B, to string, v url.Values) {
	b.Helper()
	r, err := http.PostForm(to, v)
	if err != nil {
		b.Fatal(err)
	}
	io.Copy(io.Discard, r.Body)
	r.Body.Close()
	if r.StatusCode != 200 {
		b.Fatalf("%s answers %d", to, r.StatusCode)
	}
}

// From a tick to the chart drawn anew, 60 performers by 40 scenes.
func BenchmarkTick(b *testing.B) {
	s := benchHouse(b, false)
	cast, scenes, grid := bigShow(60, 40)
	for _, text := range []string{cast, scenes, grid} {
		form(b, s.URL+"/start", url.Values{"text": {text}})
	}
	for i := 0; b.Loop(); i++ {
		form(b, s.URL+"/who/grid", url.Values{"cell": {"S20 R10"}, []string{"on", "was"}[i%2]: {"S20 R10"}, "drawn": {"yes"}})
	}
}

// From a pasted grid of 60 by 40 to the page with its chart.
func BenchmarkPasteGrid(b *testing.B) {
	cast, scenes, grid := bigShow(60, 40)
	for b.Loop() {
		b.StopTimer()
		s := benchHouse(b, false)
		form(b, s.URL+"/start", url.Values{"text": {cast}})
		form(b, s.URL+"/start", url.Values{"text": {scenes}})
		b.StartTimer()
		form(b, s.URL+"/start", url.Values{"text": {grid}})
		if r, err := http.Get(s.URL + "/who/grid"); err != nil || r.StatusCode != 200 {
			b.Fatal(err)
		}
	}
}

// From saving one measure to the new verdicts on the performer's page, on the
// demo.
func BenchmarkMeasure(b *testing.B) {
	s := benchHouse(b, true)
	for i := 0; b.Loop(); i++ {
		form(b, s.URL+"/edit/performer/P12", url.Values{"chest": {fmt.Sprint(73 + i%3)}, "measured_on": {"2027-03-13"}})
		if r, err := http.Get(s.URL + "/performers/P12"); err != nil || r.StatusCode != 200 {
			b.Fatal(err)
		}
	}
}

// Ten phones and the desk for a minute, as fast as they can: phones write
// garments and count, the desk ticks and looks. It reports the slowest of a
// hundred answers and fails on any error.
func BenchmarkHall(b *testing.B) {
	w, _, err := workshop.Demo(filepath.Join(b.TempDir(), "h"), workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}})
	if err != nil {
		b.Fatal(err)
	}
	s, err := newServer(w, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		b.Fatal(err)
	}
	s.hosts = func() []string { return []string{"127.0.0.1"} }
	desk := httptest.NewServer(s.desk())
	b.Cleanup(func() { s.closeHall(); desk.Close(); w.Close() })
	form(b, desk.URL+"/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail, toCount}})
	hall := "http://" + s.hall.addr
	phones := make([]*http.Client, 10)
	for i := range phones {
		jar, err := cookiejar.New(nil)
		if err != nil {
			b.Fatal(err)
		}
		phones[i] = &http.Client{Jar: jar}
		if r, err := phones[i].PostForm(hall+"/", url.Values{"code": {s.hall.code}}); err != nil || r.StatusCode != 200 {
			b.Fatalf("let in: %v", err)
		}
	}
	for b.Loop() {
		var mu sync.Mutex
		var took []time.Duration
		var wait sync.WaitGroup
		end := time.Now().Add(time.Minute)
		ask := func(c *http.Client, do func() (*http.Response, error)) {
			begun := time.Now()
			r, err := do()
			if err != nil || r.StatusCode != 200 {
				b.Errorf("an answer of %v: %v", r, err)
				return
			}
			io.Copy(io.Discard, r.Body)
			r.Body.Close()
			mu.Lock()
			took = append(took, time.Since(begun))
			mu.Unlock()
		}
		for i, c := range phones {
			wait.Go(func() {
				for n := 0; time.Now().Before(end); n++ {
					switch n % 3 {
					case 0:
						ask(c, func() (*http.Response, error) { return c.Get(hall + "/rail") })
					case 1:
						ask(c, func() (*http.Response, error) { return c.Get(hall + "/count") })
					case 2:
						ask(c, func() (*http.Response, error) {
							return c.PostForm(hall+"/count", url.Values{"hung": {fmt.Sprintf("C%03d", 1+(i*20+n/3)%200)}})
						})
					}
					time.Sleep(time.Second) // a person's hands
				}
			})
		}
		wait.Go(func() {
			c := &http.Client{}
			for n := 0; time.Now().Before(end); n++ {
				ask(c, func() (*http.Response, error) {
					return c.PostForm(desk.URL+"/who/grid", url.Values{"cell": {"S05 R30"}, []string{"on", "was"}[n%2]: {"S05 R30"}, "drawn": {"yes"}})
				})
				time.Sleep(time.Second)
			}
		})
		wait.Wait()
		slices.Sort(took)
		b.ReportMetric(float64(took[len(took)*99/100].Milliseconds()), "ms/p99")
		b.ReportMetric(float64(len(took)), "answers")
	}
}
