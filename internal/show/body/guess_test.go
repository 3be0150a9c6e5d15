package body

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/units"
)

func mmOf(ln float64) units.Length { return units.Cm(math.Exp(ln) / 10) }

// told is what of a record is known in a case of the coverage test.
type told struct {
	say   string
	aged  bool
	kinds []Kind
}

var toldCases = []told{
	{"age", true, nil}, {"height", false, []Kind{Height}}, {"height, chest", false, []Kind{Height, Chest}},
	{"height, chest, waist", false, []Kind{Height, Chest, Waist}}, {"age, height", true, []Kind{Height}},
	{"age, height, chest", true, []Kind{Height, Chest}}, {"age, height, chest, waist", true, []Kind{Height, Chest, Waist}},
}

// The range for nine in ten holds 86 to 94 in 100 of every measure of the
// children whose records no table rests on, whatever is known of them; the age
// in whole years, as people give it.
//
// from: Snyder and others 1977, individual records, every third.
func TestRangesHoldNineInTenMeasures(t *testing.T) {
	var kids []child
	for _, c := range children(t) {
		if heldOut(c.id) && c.age >= 5 {
			kids = append(kids, c)
		}
	}
	for _, sexed := range []bool{false, true} {
		for _, know := range toldCases {
			line := &strings.Builder{}
			for k := range tabled {
				share, half, n := coverage(kids, know, k, sexed)
				if n == 0 {
					continue
				}
				fmt.Fprintf(line, "  %s %.0f of %.0f ±%.1f", tableCodes[k], 100*share, n, half)
				least, most := .86, .94
				if know.aged && len(know.kinds) > 0 {
					least, most = .85, .95 // both axes at once: one error of 416 records more
				}
				if share < least || share > most {
					t.Errorf("%s (sex %v): %s lies inside in %.1f of 100, %.0f records", know.say, sexed, tableCodes[k], 100*share, n)
				}
			}
			t.Logf("%s (sex %v):%s", know.say, sexed, line)
		}
	}
}

// coverage is the share of the records whose measure lies in its range, and
// half the mean width in cm.
func coverage(kids []child, know told, k int, sexed bool) (share, half, n float64) {
	if slices.Contains(know.kinds, kindOf[k]) {
		return 0, 0, 0
	}
	for _, c := range kids {
		var seen [Kinds]units.Span
		missing := math.IsNaN(c.ln[k])
		for _, kind := range know.kinds {
			i := slices.Index(kindOf[:], kind)
			missing = missing || math.IsNaN(c.ln[i])
			if !missing {
				seen[kind] = units.Exactly(mmOf(c.ln[i]))
			}
		}
		if missing {
			continue
		}
		sex := ""
		if sexed {
			sex = strings.ToLower(c.sex)
		}
		years := math.Floor(c.age)
		g := guess(seen, Age{years * 12, years*12 + 12}, know.aged, sex, false)
		span := g.TrouserTop
		if kindOf[k] >= 0 {
			span = g.At[kindOf[k]]
		}
		n++
		half += (span.Hi - span.Lo).Cm() / 2
		if v := mmOf(c.ln[k]); span.Lo <= v && v <= span.Hi {
			share++
		}
	}
	return share / n, half / n, n
}

// Adults: from height and chest, the ranges as the program gives them hold 86
// to 94 in 100 of others than the soldiers the tables come from: 503 grown
// people who train, whose records are no part of the tables but for the
// distance between the two waists.
//
// from: Heinz, Peterson, Johnson and Kerk 2003, 507 adults.
func TestRangesOfAdults(t *testing.T) {
	in, n := map[string]float64{}, 0.0
	for _, r := range reference(t, "bdims_heinz2003.csv") {
		sex := map[string]string{"1": "m", "0": "f"}[r["sex"]]
		seen := [Kinds]units.Span{Height: units.Exactly(units.Cm(num(r["hgt"]))), Chest: units.Exactly(units.Cm(num(r["che_gi"])))}
		g := Guess(seen, Age{num(r["age"]) * 12, num(r["age"])*12 + 12}, true, sex)
		if num(r["age"]) < 19 {
			continue
		}
		n++
		for col, span := range map[string]units.Span{"wai_gi": g.At[Waist], "hip_gi": g.At[Hip]} {
			if v := units.Cm(num(r[col])); span.Lo <= v && v <= span.Hi {
				in[col]++
			}
		}
	}
	for col, c := range in {
		t.Logf("%s: %.1f in 100 of %.0f", col, 100*c/n, n)
		if c/n < .86 || c/n > .94 {
			t.Errorf("%s: %.1f in 100 of %.0f lie inside", col, 100*c/n, n)
		}
	}
}

// What a measure of an adult still leaves open, given others, is what the
// survey's regressions leave: the spread of the logarithm.
//
// from: ANSUR II, regressions over 4,082 men and 1,986 women.
func TestSpreadsOfAdults(t *testing.T) {
	for _, c := range []struct {
		sex  string
		of   int
		from []int
		left float64
	}{
		{"m", tInsideLeg, []int{tHeight}, .0281}, {"f", tInsideLeg, []int{tHeight}, .0301},
		{"m", tNeck, []int{tHeight, tChest}, .0390}, {"f", tNeck, []int{tHeight, tChest}, .0391},
		{"m", tUpperArm, []int{tChest, tHip}, .0573},
	} {
		zero := make([]float64, len(c.from))
		d := tables["grown "+c.sex].at(0, 0, false).given(c.from, zero, zero)
		if got := math.Sqrt(d.cov[c.of][c.of]); math.Abs(got/c.left-1) > .02 {
			t.Errorf("%s %s: %.4f is left open, the survey says %.4f", c.sex, tableCodes[c.of], got, c.left)
		}
	}
}

// from: ANSUR II: means of the survey, men and women, in mm.
func TestMeansOfAdults(t *testing.T) {
	for _, c := range []struct {
		sex  string
		kind int
		mm   float64
	}{
		{"m", tHeight, 1756.2}, {"m", tChest, 1058.7}, {"m", tTrouserTop, 940.6}, {"m", tHip, 1019.5}, {"m", tNeck, 397.7}, {"m", tInsideLeg, 845.9},
		{"f", tHeight, 1628.5}, {"f", tChest, 946.9}, {"f", tTrouserTop, 860.9}, {"f", tHip, 1021.3}, {"f", tNeck, 329.8}, {"f", tInsideLeg, 782.3},
	} {
		d := tables["grown "+c.sex].at(0, 0, false)
		// the mean of a log-normal lies half its variance above the middle
		if got := math.Exp(d.mean[c.kind] + d.cov[c.kind][c.kind]/2); math.Abs(got/c.mm-1) > .003 {
			t.Errorf("%s %s: %.1f mm, the survey says %.1f", c.sex, tableCodes[c.kind], got, c.mm)
		}
	}
}

// from: Snyder and others 1977: girls of 12, boys of 14, girls of 140 cm.
func TestMeansOfChildren(t *testing.T) {
	for _, c := range []struct {
		sex  string
		kind int
		year float64
		mm   float64
	}{
		{"f", tHeight, 12, 1528.4}, {"f", tChest, 12, 749.0}, {"f", tWaist, 12, 619.8}, {"f", tTrouserTop, 12, 662.2}, {"f", tHip, 12, 809.9},
		{"m", tHeight, 14, 1633.2}, {"m", tChest, 14, 816.7}, {"m", tTrouserTop, 14, 703.6}, {"m", tHip, 14, 837.7}, {"m", tNeck, 14, 322.5},
	} {
		d := tables["age "+c.sex].at(c.year+.5, .289, false)
		if got := math.Exp(d.mean[c.kind] + d.cov[c.kind][c.kind]/2); math.Abs(got/c.mm-1) > .02 {
			t.Errorf("%s of %.0f, %s: %.1f mm, the survey says %.1f", c.sex, c.year, tableCodes[c.kind], got, c.mm)
		}
	}
	// the fifth and the ninety-fifth of girls of 137 to 143 cm
	g := guess([Kinds]units.Span{Height: units.Exactly(units.Cm(140))}, Age{}, false, "", false)
	for _, c := range []struct {
		span   units.Span
		lo, hi float64
	}{{g.At[Chest], 62.7, 75.1}, {g.At[Hip], 65.4, 81.9}} {
		if math.Abs(c.span.Lo.Cm()-c.lo) > 2 || math.Abs(c.span.Hi.Cm()-c.hi) > 2 {
			t.Errorf("at 140 cm: %v, the survey says %.1f to %.1f", c.span, c.lo, c.hi)
		}
	}
}

// A further measure never widens the range of another (of its logarithm, as
// far as rounding goes); nor does a range that closes.
func TestKnowingMoreNeverWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		months := rapid.Float64Range(50, 260).Draw(t, "months")
		age := Age{months, months + 12}
		var seen [Kinds]units.Span
		wide := func(l Likely, k Kind) float64 { return math.Log(float64(l.At[k].Hi) / float64(l.At[k].Lo)) }
		before := Guess(seen, age, true, "")
		for range rapid.IntRange(1, 4).Draw(t, "measures") {
			k := Kind(rapid.SampledFrom([]int{0, 1, 2, 3, 6, 8, 9, 10, 11, 12}).Draw(t, "kind"))
			if seen[k].Known {
				continue
			}
			lo, hi := Limits(k)
			v := units.Length(rapid.Int64Range(int64(lo), int64(hi)).Draw(t, "value"))
			seen[k] = units.Exactly(v)
			if rapid.Bool().Draw(t, "ranged") {
				seen[k] = units.Between(v*95/100, v*105/100)
			}
			after := Guess(seen, age, true, "")
			for _, q := range All() {
				if !Surveyed(q) || q == k || seen[q].Known {
					continue
				}
				if wide(after, q) > wide(before, q)+1e-4 {
					t.Fatalf("knowing %v %v: %v goes from %v to %v", k, seen[k], q, before.At[q], after.At[q])
				}
			}
			before = after
		}
	})
}

// The conditional distribution by another way: taking the observed one after
// the other comes to the same as taking them at once.
func TestGivenOneByOne(t *testing.T) {
	d := tables["age both"].at(11, .2, true)
	seen, value, off := []int{0, 1, 5, 9}, []float64{7.2, 6.6, 6.8, 5.2}, []float64{0, .001, 0, .0004}
	at := d.given(seen, value, off)
	step := d
	for i := range seen {
		step = step.given(seen[i:i+1], value[i:i+1], off[i:i+1])
	}
	for i := range at.mean {
		if math.Abs(at.mean[i]-step.mean[i]) > 1e-6 || math.Abs(at.cov[i][i]-step.cov[i][i]) > 1e-7 {
			t.Errorf("measure %d: %v ± %v at once, %v ± %v one by one", i, at.mean[i], at.cov[i][i], step.mean[i], step.cov[i][i])
		}
	}
}

// An age in whole years says less than a birth month: between 12 and 13 the
// middle height of the survey rises by about 5 cm, so a year wide adds to the
// spread, and every range is wider.
func TestAYearIsWiderThanAMonth(t *testing.T) {
	year, month := Guess([Kinds]units.Span{}, Age{144, 156}, true, ""), Guess([Kinds]units.Span{}, Age{149.9, 150.1}, true, "")
	wide := func(l Likely, k Kind) units.Length { return l.At[k].Hi - l.At[k].Lo }
	for _, k := range []Kind{Height, WaistToFloor, Chest} {
		if wide(year, k) <= wide(month, k) {
			t.Errorf("%v: %v from a year, %v from a month", k, year.At[k], month.At[k])
		}
	}
}
