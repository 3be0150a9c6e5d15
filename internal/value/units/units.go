// Package units holds the exact quantities the whole program counts in:
// lengths on the micrometre lattice, areas, money in the smallest coin,
// civil days, minutes of work, and ranges of lengths.
//
// It parses what people type ("5'4\"", "28 1/2", "1,36 m") and prints in the
// workroom's own units. It knows nothing of theatre.
package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a length in whole micrometres. The zero value is no length at all;
// where a length may be unknown use Maybe or Span instead.
type Length int64

// Units of length. An inch is exactly 25.4 mm (international yard and pound
// agreement of 1959), so an eighth of an inch is exact on the lattice.
const (
	Micrometre Length = 1
	Millimetre        = 1000 * Micrometre
	Centimetre        = 10 * Millimetre
	Metre             = 100 * Centimetre
	Inch              = 25400 * Micrometre
	Foot              = 12 * Inch
	Yard              = 3 * Foot
)

// Cm returns c centimetres, rounded once to the nearest micrometre, halves
// away from zero.
func Cm(c float64) Length { return Length(math.Round(c * float64(Centimetre))) }

// In returns n inches, rounded once to the nearest micrometre.
func In(n float64) Length { return Length(math.Round(n * float64(Inch))) }

// Cm returns the length in centimetres, for drawing and printing only.
func (l Length) Cm() float64 { return float64(l) / float64(Centimetre) }

// Inches returns the length in inches, for drawing and printing only.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Abs returns the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Times multiplies by num/den, rounding halves away from zero.
func (l Length) Times(num, den int64) Length { return Length(mulDiv(int64(l), num, den)) }

// Area is an area in square micrometres; an int64 holds over nine million
// square metres.
type Area int64

// SquareMetre is one square metre.
const SquareMetre Area = 1e12

// Times returns the area of an l by m rectangle.
func (l Length) By(m Length) Area { return Area(int64(l) * int64(m)) }

// M2 returns the area in square metres, for printing only.
func (a Area) M2() float64 { return float64(a) / float64(SquareMetre) }

// Minutes is an amount of work in whole minutes.
type Minutes int64

// Hours returns the work in hours, for printing only.
func (m Minutes) Hours() float64 { return float64(m) / 60 }

// Times multiplies by num/den, rounding halves away from zero.
func (m Minutes) Times(num, den int64) Minutes { return Minutes(mulDiv(int64(m), num, den)) }

// String prints "45 min", "2 h", or "2 h 15 min".
func (m Minutes) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	switch h, r := m/60, m%60; {
	case h == 0:
		return fmt.Sprintf("%s%d min", sign, r)
	case r == 0:
		return fmt.Sprintf("%s%d h", sign, h)
	default:
		return fmt.Sprintf("%s%d h %d min", sign, h, r)
	}
}

// Money is a sum in the smallest coin of the workroom's one currency.
type Money int64

// Coins parses a sum as typed: "12", "12.50", "12,5", with an optional
// currency sign or word around it. More than two decimals is an error.
func Coins(s string) (Money, error) {
	t := strings.TrimFunc(strings.TrimSpace(s), func(r rune) bool {
		return !(r >= '0' && r <= '9') && r != '-' && r != '.' && r != ','
	})
	t = strings.ReplaceAll(t, ",", ".")
	neg := strings.HasPrefix(t, "-")
	whole, frac, _ := strings.Cut(strings.TrimPrefix(t, "-"), ".")
	if whole == "" && frac == "" || len(frac) > 2 || strings.Contains(frac, ".") {
		return 0, fmt.Errorf("%q is not a sum of money", s)
	}
	frac = (frac + "00")[:2]
	n, err := strconv.ParseInt(whole+frac, 10, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a sum of money", s)
	}
	if neg {
		n = -n
	}
	return Money(n), nil
}

// String prints two decimals only where there are coins: "12", "12.50".
func (m Money) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	if m%100 == 0 {
		return fmt.Sprintf("%s%d", sign, m/100)
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

// PerMetre prices l of something that costs m a metre, rounding up.
func (m Money) PerMetre(l Length) Money {
	return Money((int64(m)*int64(l) + int64(Metre) - 1) / int64(Metre))
}

// Maybe is a value that may be unknown. The zero value is unknown, which is
// never the same as zero: a price of 0 is a gift, a heel of 0 is bare.
type Maybe[T any] struct {
	V     T    `json:"v"`
	Known bool `json:"known"`
}

// Some is a known value.
func Some[T any](v T) Maybe[T] { return Maybe[T]{V: v, Known: true} }

// Or returns the value, or other where it is unknown.
func (m Maybe[T]) Or(other T) T {
	if m.Known {
		return m.V
	}
	return other
}

// Span is a length known only to lie between two others, both included. The
// zero value is unknown; Lo equals Hi where it was measured.
type Span struct {
	Lo    Length `json:"lo_um"`
	Hi    Length `json:"hi_um"`
	Known bool   `json:"known"`
}

// Exactly is the span of one measured length.
func Exactly(l Length) Span { return Span{l, l, true} }

// Between is the span from lo to hi; the two may be given either way round.
func Between(lo, hi Length) Span {
	if hi < lo {
		lo, hi = hi, lo
	}
	return Span{lo, hi, true}
}

// Exact says whether the span is one known length.
func (s Span) Exact() bool { return s.Known && s.Lo == s.Hi }

// Mid is the middle of the span, rounded toward the lower end.
func (s Span) Mid() Length { return s.Lo + (s.Hi-s.Lo)/2 }

// Add shifts both ends; an unknown span stays unknown.
func (s Span) Add(l Length) Span {
	if !s.Known {
		return s
	}
	return Span{s.Lo + l, s.Hi + l, true}
}

// Plus adds two spans end by end; unknown if either is.
func (s Span) Plus(t Span) Span {
	if !s.Known || !t.Known {
		return Span{}
	}
	return Span{s.Lo + t.Lo, s.Hi + t.Hi, true}
}

// Minus is what is left of s after t, the worst and the best case; unknown if
// either is.
func (s Span) Minus(t Span) Span {
	if !s.Known || !t.Known {
		return Span{}
	}
	return Span{s.Lo - t.Hi, s.Hi - t.Lo, true}
}

// Times multiplies both ends by num/den; unknown stays unknown.
func (s Span) Times(num, den int64) Span {
	if !s.Known {
		return s
	}
	return Between(s.Lo.Times(num, den), s.Hi.Times(num, den))
}

// mulDiv is a*num/den rounded halves away from zero; den is positive.
func mulDiv(a, num, den int64) int64 {
	p := a * num
	if p >= 0 {
		return (p + den/2) / den
	}
	return -((-p + den/2) / den)
}
