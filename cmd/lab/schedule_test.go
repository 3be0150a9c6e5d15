package main

import (
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
	rows := table(t, filepath.Join(dir, "best_known.csv"))
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
		got := runLab(t, "schedule", path, "-schedules", "1000")
		if got.Value < best || *got.Bound > best || got.Steps > 1000 {
			t.Errorf("%s: %v with bound %v in %d schedules, the optimum is %v", r[0], got.Value, *got.Bound, got.Steps, best)
		}
		sum, n = sum+(got.Value-best)/best*100, n+1
	}
	if n < 20 || sum/float64(n) > 0.4 {
		t.Errorf("%.2f in 100 above the optimum over %d projects", sum/float64(n), n)
	}
}
