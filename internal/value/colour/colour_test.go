package colour

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// reference is the folder of outside data; the test skips where it is absent,
// unless everything is required.
func reference(t *testing.T, name string) string {
	t.Helper()
	dir := os.Getenv("HEMWRIGHT_REFERENCE")
	if dir == "" {
		dir = "../../../../shared/reference"
	}
	path := filepath.Join(dir, name)
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("HEMWRIGHT_REQUIRE_ALL") != "" {
			t.Fatalf("outside data missing: %s", path)
		}
		t.Skipf("outside data not here: %s", name)
	}
	return path
}

// from: Sharma, Wu and Dalal 2005, supplementary test data, all 34 pairs.
func TestPublishedPairs(t *testing.T) {
	f, err := os.Open(reference(t, "body/ciede2000_sharma2005.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 35 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, r := range rows[1:] {
		v := make([]float64, len(r))
		for i := range r {
			v[i], _ = strconv.ParseFloat(r[i], 64)
		}
		p, q, want := Lab{v[1], v[2], v[3]}, Lab{v[4], v[5], v[6]}, v[7]
		if got := Difference(p, q); math.Abs(got-want) > 1e-4 {
			t.Errorf("pair %s: %.4f, want %.4f", r[0], got, want)
		}
		if math.Abs(Difference(p, q)-Difference(q, p)) > 1e-9 {
			t.Errorf("pair %s: not symmetric", r[0])
		}
	}
}

// from: Sharma et al. 2005, pairs 1, 7 and 9 by hand, so that the check runs
// everywhere.
func TestThreePairs(t *testing.T) {
	for _, c := range []struct {
		p, q Lab
		want float64
	}{
		{Lab{50, 2.6772, -79.7751}, Lab{50, 0, -82.7485}, 2.0425},
		{Lab{50, 0, 0}, Lab{50, -1, 2}, 2.3669},
		{Lab{50, 2.49, -0.001}, Lab{50, -2.49, 0.0009}, 7.1792},
	} {
		if got := Difference(c.p, c.q); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%v %v: %.4f, want %.4f", c.p, c.q, got, c.want)
		}
	}
}

// White is L 100 with no colour, by definition of the white point.
func TestParseHex(t *testing.T) {
	white, err := ParseHex("#ffffff")
	if err != nil || math.Abs(white.L-100) > 0.01 || math.Hypot(white.A, white.B) > 0.05 {
		t.Errorf("white is %v, %v", white, err)
	}
	for _, bad := range []string{"", "red", "#12", "#gggggg"} {
		if _, err := ParseHex(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}
