package cutting

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// from: the width-conversion chart printed in two copies (12 lengths, 8
// widths): every cell lies within 0.89 to 1.10 of equal area.
func TestOtherWidths(t *testing.T) {
	dir := os.Getenv("HEMWRIGHT_REFERENCE")
	if dir == "" {
		dir = "../../../../shared/reference"
	}
	f, err := os.Open(filepath.Join(dir, "body", "fabric_width_conversion_yards.csv"))
	if err != nil {
		if os.Getenv("HEMWRIGHT_REQUIRE_ALL") != "" {
			t.Fatal(err)
		}
		t.Skip("no outside data here")
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	widths := []float64{36, 39, 41, 45, 50, 54, 60, 66}
	const yard = 36 * units.Inch
	for _, r := range rows[1:] {
		base, _ := strconv.ParseFloat(r[0], 64)
		for k, cell := range r {
			want, _ := strconv.ParseFloat(cell, 64)
			got := AtWidth(units.Length(base*float64(yard)), 36*units.Inch, units.Length(widths[k]*float64(units.Inch)))
			share := want * float64(yard) / float64(got)
			if share < .86 || share > 1.12 || math.IsNaN(share) { // AtWidth goes up to 5 cm, about 3 in 100
				t.Errorf("%s yd of 36 in: %.2f yd of %v in, the chart has %v", r[0], float64(got)/float64(yard), widths[k], want)
			}
		}
	}
}

// from: a plaid of 4 1/4 in and 2 pieces one below the other wants 8 1/2 in
// more. 12 in 100 is kept of old cloth and 6 of new, as costumers do.
func TestRepeats(t *testing.T) {
	if got := Matched(0, 17*units.Inch/4, 2); got != 17*units.Inch/2 {
		t.Errorf("%v", got)
	}
	if old, new := Reserve(&show.Cloth{Name: "curtain, lined"}), Reserve(&show.Cloth{Name: "bolt end, poplin"}); old != 12 || new != 6 {
		t.Errorf("%d of old cloth, %d of new", old, new)
	}
}
