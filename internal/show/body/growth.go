package body

import (
	_ "embed" // the table
	"fmt"
	"math"
	"strings"

	"hemwright/internal/value/units"
)

//go:embed stature.txt
var statureText string

// lms is one age of a growth table: a measure is M(1+LSz)^(1/L) (Cole, 1990).
type lms struct{ month, l, m, s float64 }

// stature holds the table of each sex a growth table knows, by age.
var stature = func() map[string][]lms {
	out := map[string][]lms{}
	for _, line := range strings.Split(statureText, "\n") {
		var sex string
		var x lms
		if n, err := fmt.Sscan(line, &sex, &x.month, &x.l, &x.m, &x.s); n == 5 && err == nil {
			out[sex] = append(out[sex], x)
		}
	}
	return out
}()

// at is the table's line at an age in months, between two lines a straight
// mixture of them; before the first and after the last, those.
func at(table []lms, months float64) lms {
	if months <= table[0].month {
		return table[0]
	}
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; months <= b.month {
			t := (months - a.month) / (b.month - a.month)
			mix := func(x, y float64) float64 { return x + t*(y-x) }
			return lms{months, mix(a.l, b.l), mix(a.m, b.m), mix(a.s, b.s)}
		}
	}
	return table[len(table)-1]
}

func (x lms) z(cm float64) float64 {
	if x.l == 0 {
		return math.Log(cm/x.m) / x.s
	}
	return (math.Pow(cm/x.m, x.l) - 1) / (x.l * x.s)
}

func (x lms) of(z float64) float64 {
	if x.l == 0 {
		return x.m * math.Exp(x.s*z)
	}
	return x.m * math.Pow(1+x.l*x.s*z, 1/x.l)
}

// Age is how old somebody is, in months, as far as it is known.
type Age struct{ Lo, Hi float64 }

// AgeOf is the age on a day: from a birth month (YYYY-MM) to the month, else
// from whole years to the year; false where neither is known.
func AgeOf(birthMonth string, years units.Maybe[int], on units.Date) (Age, bool) {
	var y, m int
	if n, err := fmt.Sscanf(birthMonth, "%d-%d", &y, &m); n == 2 && err == nil && on != 0 {
		year, month, day := on.YMD()
		months := float64((year-y)*12+month-m) + float64(day)/30.4
		return Age{months - 1, months}, true
	}
	if years.Known {
		return Age{float64(years.V) * 12, float64(years.V)*12 + 12}, true
	}
	return Age{}, false
}

// awry is how far, in cm after one month, a child grows otherwise than the
// table at the same place in it; it widens with the months to the power of
// three quarters, and nine in ten lie within it. Fitted to the 136 children
// of the Berkeley growth study (Tuddenham and Snyder, 1954), half a year and
// a year ahead; most in the years of the fastest growth.
func awry(months float64) float64 {
	switch years := months / 12; {
	case years >= 17:
		return 0.17
	case years >= 10.5 && years < 16.5:
		return 0.44
	}
	return 0.23
}

// Growth is how much somebody of a height grows in so many days, as a range
// that holds nine in ten: each age and sex it may be, at the same place in the
// growth table as now, and how far children differ from it. sex is f, m or
// "": without it the range holds both. Nobody shrinks.
func Growth(height units.Length, age Age, sex string, days int) units.Span {
	ahead := float64(days) / 30.4
	if ahead <= 0 {
		return units.Exactly(0)
	}
	lo, hi, off := math.Inf(1), math.Inf(-1), 0.0
	for s, table := range stature {
		if sex != "" && s != sex {
			continue
		}
		for months := age.Lo; months <= age.Hi; months++ {
			z := at(table, months).z(height.Cm())
			gain := at(table, months+ahead).of(z) - height.Cm()
			lo, hi, off = min(lo, gain), max(hi, gain), max(off, awry(months))
			if age.Hi-age.Lo < 1 {
				break
			}
		}
	}
	if math.IsInf(lo, 1) {
		return units.Span{}
	}
	off *= math.Pow(ahead, .75)
	return units.Between(units.Cm(max(0, lo-off)), units.Cm(max(0, hi+off)))
}

// GrownBy is the day by which somebody may have grown by so much below the
// waist, counted from a day, at most a year on; 0 where that is not to be
// expected, or height or age is not known.
func GrownBy(height units.Length, age Age, sex string, from units.Date, much units.Length) units.Date {
	for days := 7; days <= 364; days += 7 {
		if g := WaistGrowth(Growth(height, age, sex, days)); g.Known && g.Hi >= much {
			return from + units.Date(days)
		}
	}
	return 0
}

// WaistGrowth is what of a growth falls between waist and floor: 0.605 of it,
// the natural waist's share of the stature between 12 and 13 (survey of US
// children 1975-77: boys 0.607, girls 0.605).
func WaistGrowth(g units.Span) units.Span { return g.Times(605, 1000) }
