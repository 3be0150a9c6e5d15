package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// from: PSPLIB, single mode, 30 jobs, with proved optima (best_known.csv). At
// 1,000 schedules published methods lie 0.3 to 0.4 in 100 above the optimum on
// the mean; every eighth instance is run here, and one may not beat an optimum.
func TestProjectsAgainstProvedOptima(t *testing.T) {
	dir := filepath.Join(reference(t), "opt", "psplib")
	f, err := os.Open(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	sum, n := 0.0, 0
	for i, r := range rows {
		if i%8 != 1 || r[1] != "j30" || r[3] != "yes" {
			continue
		}
		path := filepath.Join(dir, "j30", r[0]+".sm")
		if _, err := os.Stat(path); err != nil {
			continue
		}
		best, _ := strconv.ParseFloat(r[2], 64)
		var out, errs bytes.Buffer
		if code := lab(context.Background(), []string{"schedule", path, "-schedules", "1000"}, &out, &errs); code != 0 {
			t.Fatalf("%s: exit %d, %s", r[0], code, errs.String())
		}
		var got result
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if got.Value < best || *got.Bound > best || got.Steps > 1000 {
			t.Errorf("%s: %v with bound %v in %d schedules, the optimum is %v", r[0], got.Value, *got.Bound, got.Steps, best)
		}
		sum, n = sum+(got.Value-best)/best*100, n+1
	}
	if n < 20 || sum/float64(n) > 0.4 {
		t.Errorf("%.2f in 100 above the optimum over %d projects", sum/float64(n), n)
	}
}
