package web

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// browser starts a real Chromium; the test skips where there is none, unless
// everything is required.
func browser(t *testing.T) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		missing(t, "no Chromium here")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-quic", true), chromedp.UserDataDir(t.TempDir()))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	return ctx
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("HEMWRIGHT_REQUIRE_ALL") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// complaints gathers what the browser says on its console.
type complaints struct {
	mu  sync.Mutex
	all []string
}

func (c *complaints) add(s string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.all = append(c.all, s)
}

func (c *complaints) take() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	all := c.all
	c.all = nil
	return all
}

func listen(t *testing.T, ctx context.Context) *complaints {
	t.Helper()
	c := &complaints{}
	err := chromedp.Listen(ctx, func(ev any) {
		switch e := ev.(type) {
		case *runtime.EventExceptionThrown:
			c.add("exception: " + e.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			if e.Entry.Level == log.EntryLevelError {
				c.add(e.Entry.Text + " " + e.Entry.URL)
			}
		case *runtime.EventConsoleAPICalled:
			if e.Type == runtime.ConsoleAPICalledTypeError {
				c.add("console.error")
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Every page at desk and phone width: no complaint on the console, nothing
// wider than the phone.
func TestBrowserPages(t *testing.T) {
	s := demoPages(t)
	ctx := browser(t)
	says := listen(t, ctx)
	for _, width := range []int64{1280, 360} {
		for _, p := range allPages {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.URL+p), chromedp.WaitReady("main")); err != nil {
				t.Fatalf("%s: %v", p, err)
			}
			wide, err := chromedp.Run(ctx, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`))
			if err != nil {
				t.Fatalf("%s: %v", p, err)
			}
			if wide > width {
				t.Errorf("%s at %d is %d wide", p, width, wide)
			}
			for _, c := range says.take() {
				t.Errorf("%s at %d: %s", p, width, c)
			}
		}
	}
}

// prefers sets whether the browser asks for light or dark.
func prefers(scheme string) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return chromedp.Void{}, err
	}
}

// from: axe-core, the open accessibility rules, with its default set.
func TestBrowserAccessible(t *testing.T) {
	s := demoPages(t)
	path := os.Getenv("HEMWRIGHT_AXE")
	axe, err := os.ReadFile(path)
	if err != nil {
		missing(t, "HEMWRIGHT_AXE names no file of axe-core: make axe")
	}
	ctx := browser(t)
	for i, p := range append(slices.Clone(allPages), "/pieces/C999", "/calendar?opening=soon") {
		// light and dark in turn at desk width, every third as a phone
		width, scheme := int64(1280), []string{"light", "dark"}[i%2]
		if i%3 == 2 {
			width = 360
		}
		if err := chromedp.Do(ctx, prefers(scheme), chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.URL+p), chromedp.WaitReady("main"), chromedp.Evaluate[chromedp.Void](string(axe))); err != nil {
			t.Fatalf("%s: %v", p, err)
		}
		faults, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`axe.run().then(r => r.violations.map(v => v.id + ": " + v.help + " at " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 140)).join(" | ")))`, chromedp.EvalAwaitPromise))
		if err != nil {
			t.Fatalf("%s: %v", p, err)
		}
		for _, f := range faults {
			t.Errorf("%s, %s at %d: %s", p, scheme, width, f)
		}
	}
}

// from: ISO 216, A3 landscape is 420 by 297 mm, 1190.55 by 841.89 points, and
// A4 landscape 297 by 210, 841.89 by 595.28.
func TestBrowserPrintsTheChart(t *testing.T) {
	s := demoPages(t)
	ctx := browser(t)
	for path, size := range map[string][2]float64{"/running": {1190.55, 841.89}, "/running?a4=yes": {841.89, 595.28}} {
		t.Run(path, func(t *testing.T) { printsChart(t, ctx, s.URL+path, size) })
	}
}

func printsChart(t *testing.T, ctx context.Context, url string, size [2]float64) {
	if err := chromedp.Do(ctx, chromedp.Navigate(url), chromedp.WaitReady("svg.chart")); err != nil {
		t.Fatal(err)
	}
	yes := true
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(func(p *page.PrintToPDFParams) { p.PreferCSSPageSize, p.PrintBackground = &yes, &yes }))
	if err != nil {
		t.Fatal(err)
	}
	file := t.TempDir() + "/chart.pdf"
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	info, err := exec.Command("pdfinfo", "-f", "1", "-l", "2", file).Output()
	if err != nil {
		missing(t, "no pdfinfo here to read the print with")
	}
	text, err := exec.Command("pdftotext", "-f", "1", "-l", "1", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	var w, h float64
	for _, line := range strings.Split(string(info), "\n") {
		if strings.Contains(line, "size:") && w == 0 {
			fmt.Sscanf(line[strings.Index(line, "size:")+5:], "%f x %f", &w, &h)
		}
	}
	if math.Abs(w-size[0]) > 2.5 || math.Abs(h-size[1]) > 2.5 {
		t.Errorf("the chart's page is %.0f by %.0f points", w, h)
	}
	for _, want := range []string{"Act 1", "Act 2", "Amara", "Rosengren", "dressers", "in view", "the other world"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the first page does not hold %q: the chart runs over", want)
		}
	}
	if strings.Contains(string(text), "Under three minutes") {
		t.Error("the list begins on the chart's page")
	}
}
