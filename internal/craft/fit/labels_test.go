package fit

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// from: EN 13402-3 by secondary copies: M is a man's chest of 94 to 102 or a
// woman's of 90 to 98; two sizes off is 16 cm. US girls' 10: chest 29 in,
// height 55 to 57 in, so the range must hold 72, 5 either way.
func TestLabels(t *testing.T) {
	dress := func(label string) units.Span {
		return byLabel(&show.Garment{Category: show.Dress, Name: "dress", Label: label})[chest]
	}
	ease := shipped.eases["dress easy"][chest].lo
	if s := dress("M"); s != units.Between(units.Cm(90)+ease-units.Cm(16), units.Cm(102)+ease+units.Cm(16)) {
		t.Errorf("M: %v", s)
	}
	if s := dress("us 10"); s.Lo > units.Cm(69.5)+ease || s.Hi < units.Cm(77)+ease {
		t.Errorf("US 10: %v", s)
	}
	// a children's label is a height: girls and boys of 140 to 146 have a chest
	// of 70 to 71 in the middle of the survey, raised by 2 in 100
	if s := dress("146"); (s.Mid()-ease-units.Cm(72.5)).Abs() > units.Cm(1.5) || s.Hi-s.Lo != units.Cm(8) {
		t.Errorf("146: %v", s)
	}
	for _, bad := range []string{"", "large-ish", "0", "-4", "999"} {
		if s := dress(bad); s.Known {
			t.Errorf("%q: %v", bad, s)
		}
	}
}

// from: the letter codes of EN 13402-3 by two secondary copies, and JIS L 4005:
// every letter's range holds the bands of men and of women; 9AR is 83.
func TestLetterCodes(t *testing.T) {
	dir := os.Getenv("HEMWRIGHT_REFERENCE")
	if dir == "" {
		dir = "../../../../shared/reference"
	}
	f, err := os.Open(filepath.Join(dir, "body", "size_en13402_letter_codes.csv"))
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
	for _, r := range rows[1:] {
		lo, _ := strconv.ParseFloat(r[3], 64)
		hi, _ := strconv.ParseFloat(r[4], 64)
		x, ok := labels[r[1]]
		if ok && x.chest.Lo <= units.Cm(lo) && x.chest.Hi >= units.Cm(hi) {
			continue
		}
		// the largest letters reach further for men: 2 cm are within the two sizes
		if !ok || x.chest.Lo-x.off > units.Cm(lo) || x.chest.Hi+x.off < units.Cm(hi) {
			t.Errorf("%s %s is %v to %v, taken as %v", r[0], r[1], lo, hi, x)
		}
	}
	if x := labels["9AR"]; x.chest != units.Exactly(units.Cm(83)) {
		t.Errorf("9AR: %v", x)
	}
}

// A garment with only a label never goes firmly: likely where it is enough on
// either end, a tape first where it may lack, no where it lacks beyond that.
func TestOnlyALabel(t *testing.T) {
	h, p := stage(whole, show.Piece{Category: show.Shirt, Name: "shirt", Fit: "loose", LengthTo: "hip"})
	w := Wanted(h, p)
	for label, want := range map[string][]why.Grade{"L": {why.Likely}, "XS": {why.Unknown, why.No}, "": {why.Unknown}} {
		f := Judge(w, show.Garment{ID: "G1", Category: show.Shirt, Name: "shirt", Label: label, MayCut: true, Length: cm(70), LengthFrom: "nape"})
		ok := false
		for _, g := range want {
			ok = ok || f.Verdict.Grade == g
		}
		if !ok {
			t.Errorf("%q: %s", label, f.Verdict.Grade)
		}
	}
}
