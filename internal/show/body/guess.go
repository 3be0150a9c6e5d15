package body

import (
	_ "embed" // the tables
	"fmt"
	"math"
	"strings"

	"hemwright/internal/value/units"
)

//go:embed tables.txt
var tablesText string

// The measures of the tables: those of Kind that a survey took, and the girth
// at the trouser top, at the navel, which lies up to 5 cm and more from the
// natural waist.
const (
	tHeight = iota
	tChest
	tWaist
	tTrouserTop
	tHip
	tWaistToFloor
	tInsideLeg
	tSleeve
	tShoulders
	tUpperArm
	tNeck
	tHead
	tabled
)

// tableCodes are the measures' names in tables.txt, in the order above.
var tableCodes = [tabled]string{"height", "chest", "waist", "trouser_top", "hip", "waist_to_floor", "inside_leg",
	"shoulder_to_wrist", "across_shoulders", "upper_arm", "neck", "head"}

// kindOf is the kind each tabled measure is; -1 for the trouser top.
var kindOf = func() (out [tabled]Kind) {
	for i, code := range tableCodes {
		out[i] = -1
		if k, err := KindOf(code); err == nil {
			out[i] = k
		}
	}
	return out
}()

// Surveyed says whether a kind stands in the tables of the surveys; the others
// are shares of what does (house figures).
func Surveyed(k Kind) bool {
	for _, t := range kindOf {
		if t == k {
			return true
		}
	}
	return false
}

// table is one model of bodies: along an axis (age in years, or height in cm)
// the mean and spread of each measure's logarithm in millimetres, and how what
// is left of them hangs together.
type table struct {
	first      int // the first measure it holds
	from, step float64
	mean, sd   [tabled][]float64
	cor        [tabled][tabled]float64
}

// tables holds them by axis and sex: "age both", "age f", "height both",
// "grown m".
var tables = readTables(tablesText)

func readTables(text string) map[string]*table {
	out := map[string]*table{}
	var t *table
	for _, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if len(f) < 3 || f[0] == "#" {
			continue
		}
		if f[0] == "table" {
			t = &table{first: tabled}
			_, _ = fmt.Sscan(f[3], &t.from)
			_, _ = fmt.Sscan(f[4], &t.step)
			out[f[1]+" "+f[2]] = t
			continue
		}
		row := make([]float64, len(f)-2)
		for i := range row {
			_, _ = fmt.Sscan(f[i+2], &row[i])
		}
		t.take(f[0], f[1], row)
	}
	return out
}

func (t *table) take(what, code string, row []float64) {
	for k, c := range tableCodes {
		if c != code {
			continue
		}
		t.first = min(t.first, k)
		switch what {
		case "mean":
			t.mean[k] = row
		case "sd":
			t.sd[k] = row
		case "cor":
			for j, r := range row {
				t.cor[k][t.first+j], t.cor[t.first+j][k] = r, r
			}
		}
	}
}

// read is a row of knots at x, straight between two, and its slope there.
func (t *table) read(row []float64, x float64) (value, slope float64) {
	if len(row) == 1 {
		return row[0], 0
	}
	f := min(max((x-t.from)/t.step, 0), float64(len(row)-1))
	i := min(int(f), len(row)-2)
	slope = row[i+1] - row[i]
	return row[i] + (f-float64(i))*slope, slope / t.step
}

// onTape is how a tape on bodies today lies beside the survey's instruments:
// girths of children 2 in 100 above those of 1975 to 1977 and a tenth further
// apart, after the waists of later surveys; girths of adults a fifth further
// apart than soldiers'; over the bent elbow the tape reads 8 in 100 more than
// the two bones, over the rounded back 7 more than a straight breadth (all
// house figures).
func (t *table) onTape(k int) (raise, widen float64) {
	switch k {
	case tChest, tWaist, tTrouserTop, tHip, tUpperArm:
		if t.step == 0 {
			return 0, 1.2
		}
		return math.Log(1.02), 1.1
	case tSleeve:
		return math.Log(1.08), 1
	case tShoulders:
		return math.Log(1.07), 1
	}
	return 0, 1
}

// at is the distribution at a place of the axis that may be off by a standard
// deviation.
func (t *table) at(x, off float64, tape bool) normal {
	n := tabled - t.first
	d := normal{make([]float64, n), make([][]float64, n)}
	sd, slope := make([]float64, n), make([]float64, n)
	for i := range n {
		k := t.first + i
		d.mean[i], slope[i] = t.read(t.mean[k], x)
		sd[i], _ = t.read(t.sd[k], x)
		if tape {
			raise, widen := t.onTape(k)
			d.mean[i] += raise
			sd[i] *= widen
		}
	}
	for i := range n {
		d.cov[i] = make([]float64, n)
		for j := range n {
			d.cov[i][j] = t.cor[t.first+i][t.first+j]*sd[i]*sd[j] + slope[i]*slope[j]*off*off
		}
	}
	return d
}

// nine is how many standard deviations either way hold nine in ten.
const nine = 1.6449

// Likely is what somebody's measures probably are: ranges that hold nine in
// ten people of whom the same is known, and as measured what was measured.
// TrouserTop is the girth at the navel. The zero value knows nothing.
type Likely struct {
	At         [Kinds]units.Span
	TrouserTop units.Span
}

// Guess estimates what is missing from what is there: age, and any measures,
// each exact or a range that holds nine in ten (a label, a garment that goes).
// It is the conditional normal distribution of the logarithms under the
// survey's covariances: children of 1975 to 1977 (Snyder and others, 1977),
// from 19 years on soldiers of 2012 (ANSUR II; Gordon and others, 2014).
// Without an age it needs a height. sex is f, m or "", which holds both.
func Guess(seen [Kinds]units.Span, age Age, aged bool, sex string) Likely {
	return guess(seen, age, aged, sex, true)
}

// grown is the age in months from which the tables of adults hold.
const grown = 19 * 12

func guess(seen [Kinds]units.Span, age Age, aged bool, sex string, tape bool) Likely {
	out := Likely{At: seen}
	t, x, off := tableFor(seen, age, aged, sex)
	if t == nil {
		return out
	}
	d := t.at(x, off, tape)
	var have []int
	var value, offs []float64
	for i := range d.mean {
		k := kindOf[t.first+i]
		if k < 0 || !seen[k].Known || seen[k].Lo <= 0 {
			continue
		}
		lo, hi := lnMM(seen[k].Lo), lnMM(seen[k].Hi)
		r := (hi - lo) / 2 / nine
		have, value, offs = append(have, i), append(value, (lo+hi)/2), append(offs, r*r)
	}
	d = d.given(have, value, offs)
	for i := range d.mean {
		span := rangeOf(d.mean[i], d.cov[i][i])
		switch k := kindOf[t.first+i]; {
		case k < 0:
			out.TrouserTop = span
		case !seen[k].Known || seen[k].Lo != seen[k].Hi:
			out.At[k] = span
		}
	}
	out.shares(seen)
	return out
}

// tableFor chooses the table and the place in it.
func tableFor(seen [Kinds]units.Span, age Age, aged bool, sex string) (t *table, x, off float64) {
	if sex == "" {
		sex = "both"
	}
	months := (age.Lo + age.Hi) / 2
	switch h := seen[Height]; {
	case aged && months >= grown:
		return tables["grown "+sex], 0, 0
	case aged:
		return tables["age "+sex], months / 12, (age.Hi - age.Lo) / 12 / math.Sqrt(12)
	case h.Known:
		return tables["height both"], h.Mid().Cm(), (h.Hi - h.Lo).Cm() / 2 / nine
	}
	return nil, 0, 0
}

func lnMM(l units.Length) float64 { return math.Log(l.Cm() * 10) }

func rangeOf(mean, variance float64) units.Span {
	r := nine * math.Sqrt(max(variance, 0))
	return units.Between(units.Cm(math.Exp(mean-r)/10), units.Cm(math.Exp(mean+r)/10))
}

// GirthGrowth is how much a girth grows in so many days, as a range: as the
// middle of the survey does from one age to the other, either way half as much
// again (house). Nothing for lengths, for grown people, and where the age is
// not known.
func GirthGrowth(k Kind, girth units.Length, age Age, sex string, days int) units.Span {
	if sex == "" {
		sex = "both"
	}
	t := tables["age "+sex]
	months := (age.Lo + age.Hi) / 2
	for i, x := range kindOf {
		if x != k || !girthOf(k) || months >= grown || days <= 0 {
			continue
		}
		now, _ := t.read(t.mean[i], months/12)
		then, _ := t.read(t.mean[i], months/12+float64(days)/365)
		more := units.Length(float64(girth) * (math.Exp(then-now) - 1))
		return units.Between(max(0, more/2), max(0, more+more/2))
	}
	return units.Span{}
}

func girthOf(k Kind) bool { return k == Chest || k == Waist || k == Hip }

// shares are the measures no survey of children took with a tape: nape to
// waist is what is left of 0.86 of the height over the natural waist, either
// way 2 cm; waist to knee 0.325 of the height, either way 3 (house figures).
func (l *Likely) shares(seen [Kinds]units.Span) {
	h, w := l.At[Height], l.At[WaistToFloor]
	if !h.Known || !w.Known {
		return
	}
	put := func(k Kind, mid, either units.Length) {
		if !seen[k].Known {
			l.At[k] = units.Between(mid-either, mid+either)
		}
	}
	wide := (h.Hi - h.Lo) / 2
	put(NapeToWaist, h.Mid().Times(86, 100)-w.Mid(), units.Cm(2)+wide.Times(19, 100))
	put(WaistToKnee, h.Mid().Times(325, 1000), units.Cm(3)+wide.Times(325, 1000))
}
