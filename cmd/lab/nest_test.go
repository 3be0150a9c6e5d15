package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"hemwright/internal/engine/nest"
	"hemwright/internal/value/solve"
)

// reference is the folder of outside data, or a skip where it is absent.
func reference(t testing.TB, parts ...string) string {
	root := os.Getenv("HEMWRIGHT_REFERENCE")
	if root == "" {
		root = filepath.Join("..", "..", "..", "shared", "reference")
	}
	path := filepath.Join(append([]string{root}, parts...)...)
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("HEMWRIGHT_REQUIRE_ALL") == "1" {
			t.Fatalf("outside data is missing: %s", path)
		}
		t.Skipf("outside data is missing: %s", path)
	}
	return path
}

// table is a published table of the outside data, its heading first.
func table(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// runLab runs the lab and returns its line.
func runLab(t testing.TB, args ...string) result {
	var out, errs bytes.Buffer
	if code := lab(context.Background(), args, &out, &errs); code != 0 {
		t.Fatalf("lab %v: exit %d: %s", args, code, errs.String())
	}
	var r result
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// The layouts of every published instance pass the independent checker, which
// shares no code with this program, and the same steps write the same bytes.
func TestNestLayoutsPassTheOutsideChecker(t *testing.T) {
	checker := reference(t, "nest", "check_layout.py")
	files, _ := filepath.Glob(filepath.Join(reference(t, "nest"), "*", "*.json"))
	if len(files) < 37 {
		t.Fatalf("%d instances, want 37", len(files))
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".json"), func(t *testing.T) {
			out, again := filepath.Join(t.TempDir(), "a.json"), filepath.Join(t.TempDir(), "b.json")
			r := runLab(t, "nest", f, "-steps", "60", "-out", out)
			runLab(t, "nest", f, "-steps", "60", "-out", again)
			a, _ := os.ReadFile(out)
			b, _ := os.ReadFile(again)
			if len(a) == 0 || !bytes.Equal(a, b) {
				t.Error("the same steps wrote other bytes")
			}
			if strings.Contains(f, "instances") && r.Placed != r.Wanted {
				t.Errorf("%d of %d on a roll", r.Placed, r.Wanted)
			}
			python, err := exec.LookPath("python3")
			if err != nil {
				t.Skip("python3 is missing: the outside checker was not run")
			}
			if msg, err := exec.Command(python, checker, f, out).CombinedOutput(); err != nil {
				t.Errorf("%s", msg)
			}
		})
	}
}

func TestBadCalls(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.json")
	if err := os.WriteFile(bad, []byte(`{"name":"x","strip_width":10,"pieces":[{"id":"a","copies":1,"outline":[[0,0],[2,2],[2,0],[0,3]]}]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{nil, {"knit"}, {"nest"}, {"nest", "no-such-file.json"}, {"nest", bad}, {"nest", bad, "-steps", "x"}} {
		var out, errs bytes.Buffer
		if code := lab(context.Background(), args, &out, &errs); code != 2 || errs.Len() == 0 || out.Len() > 0 {
			t.Errorf("lab %v: exit %d, said %q", args, code, errs.String())
		}
	}
}

// BenchmarkNest runs 20,000 steps on published strips; density in per cent.
func BenchmarkNest(b *testing.B) {
	for _, name := range []string{"albano", "shirts", "trousers"} {
		b.Run(name, func(b *testing.B) {
			var f nestFile
			data, err := os.ReadFile(reference(b, "nest", "instances", name+".json"))
			if err != nil {
				b.Fatal(err)
			}
			if err := json.Unmarshal(data, &f); err != nil {
				b.Fatal(err)
			}
			p, scale, err := f.problem()
			if err != nil {
				b.Fatal(err)
			}
			area := 0.0
			for _, q := range p.Pieces {
				area += float64(q.Outline.Area()) * float64(q.Copies)
			}
			b.ReportAllocs()
			dense := 0.0
			for b.Loop() {
				l, err := nest.Pack(context.Background(), p, solve.Budget{Steps: 20_000})
				if err != nil {
					b.Fatal(err)
				}
				dense = 100 * area / (float64(l.Length) * f.Width * scale)
			}
			b.ReportMetric(dense, "density_%")
		})
	}
}

func Example_written() {
	fmt.Println(string(written(nest.Layout{}, 1)))
	// Output: {"strip_length":0,"placements":[]}
}
