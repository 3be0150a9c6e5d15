package main

import (
	"path/filepath"
	"strconv"
	"testing"
)

// from: the open sourcing instances with optima proved by a general-purpose
// mixed-integer solver (optima.csv beside them). The value must lie within
// half a hundredth of the optimum, and the bound not above it.
func TestSourcingAgainstProvedOptima(t *testing.T) {
	dir := filepath.Join(reference(t), "opt", "sourcing")
	rows := table(t, filepath.Join(dir, "optima.csv"))
	for _, r := range rows[1:] {
		switch r[0] {
		case "easy-200-11", "tight-200-11", "scarce-200-11", "poor-200-11":
		default:
			continue
		}
		best, _ := strconv.ParseFloat(r[1], 64)
		got := runLab(t, "source", filepath.Join(dir, r[0]+".srcp.gz"), "-steps", "8000")
		if got.Value < best || got.Value > best*1.005 || *got.Bound > best {
			t.Errorf("%s: %v with bound %v, the optimum is %v", r[0], got.Value, *got.Bound, best)
		}
	}
}
