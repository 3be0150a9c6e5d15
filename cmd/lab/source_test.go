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

// from: the open sourcing instances with optima proved by a general-purpose
// mixed-integer solver (optima.csv beside them). The value must lie within
// half a hundredth of the optimum, and the bound not above it.
func TestSourcingAgainstProvedOptima(t *testing.T) {
	dir := filepath.Join(reference(t), "opt", "sourcing")
	f, err := os.Open(filepath.Join(dir, "optima.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[1:] {
		switch r[0] {
		case "easy-200-11", "tight-200-11", "scarce-200-11", "poor-200-11":
		default:
			continue
		}
		best, _ := strconv.ParseFloat(r[1], 64)
		var out, errs bytes.Buffer
		if code := lab(context.Background(), []string{"source", filepath.Join(dir, r[0]+".srcp.gz"), "-steps", "8000"}, &out, &errs); code != 0 {
			t.Fatalf("%s: exit %d, %s", r[0], code, errs.String())
		}
		var got result
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if got.Value < best || got.Value > best*1.005 || *got.Bound > best {
			t.Errorf("%s: %v with bound %v, the optimum is %v", r[0], got.Value, *got.Bound, best)
		}
	}
}
