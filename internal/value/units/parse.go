package units

import (
	"fmt"
	"math/big"
	"strings"
)

// System says which units a workroom uses for lengths.
type System int

// The two systems a workroom may use.
const (
	Metric   System = iota // centimetres, metres
	Imperial               // inches with eighths, yards
)

// SystemOf is the system whose everyday unit has that name: "cm" or "in".
func SystemOf(unit string) (System, error) {
	for _, sys := range []System{Metric, Imperial} {
		if strings.EqualFold(strings.TrimSpace(unit), sys.Unit()) {
			return sys, nil
		}
	}
	return Metric, fmt.Errorf("%q is not cm or in", unit)
}

// marks are the ways feet, inches and fractions are written.
var marks = strings.NewReplacer("′", "'", "’", "'", "″", "\"", "”", "\"", "''", "\"",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// ParseLength reads a length as people type it: "71", "71.5", "1,36 m",
// "28 1/2", "28 1/2 in", `5'4"`, "4 ft 8", "12 yd", "350 mm". A bare number
// counts in unit (normally Centimetre or Inch). It is exact: the decimal or
// fraction is held as a rational and rounded once to the micrometre. The
// error holds what was typed.
func ParseLength(s string, unit Length) (Length, error) {
	bad := fmt.Errorf("%q is not a length", s)
	t := strings.ToLower(strings.TrimSpace(s))
	t = marks.Replace(t)
	neg := strings.HasPrefix(t, "-")
	t = strings.TrimPrefix(t, "-")
	total := new(big.Rat)
	last := Length(0)
	for t = strings.TrimSpace(t); t != ""; t = strings.TrimSpace(t) {
		num, rest, ok := leadingNumber(t)
		if !ok {
			return 0, bad
		}
		u, rest := leadingUnit(rest)
		if u == 0 {
			u = unit
			if last == Foot {
				u = Inch
			}
		}
		if last != 0 && u >= last {
			return 0, bad
		}
		total.Add(total, num.Mul(num, new(big.Rat).SetInt64(int64(u))))
		last, t = u, rest
	}
	if last == 0 {
		return 0, bad
	}
	l, ok := roundRat(total)
	if !ok {
		return 0, bad
	}
	if neg {
		l = -l
	}
	return Length(l), nil
}

// leadingNumber takes "28", "28.5", "28,5", "1/2" or "28 1/2" off the front.
func leadingNumber(s string) (*big.Rat, string, bool) {
	n, rest := leadingWord(s)
	if n == "" {
		return nil, s, false
	}
	v, ok := new(big.Rat).SetString(strings.ReplaceAll(n, ",", "."))
	if !ok || strings.Count(n, ",") > 1 {
		return nil, s, false
	}
	if !strings.Contains(n, "/") {
		if f, after := leadingWord(strings.TrimLeft(rest, " ")); strings.Contains(f, "/") {
			w, ok := new(big.Rat).SetString(f)
			if !ok {
				return nil, s, false
			}
			return v.Add(v, w), after, true
		}
	}
	return v, rest, true
}

func leadingWord(s string) (word, rest string) {
	i := strings.IndexFunc(s, func(r rune) bool { return !(r >= '0' && r <= '9' || r == '.' || r == ',' || r == '/') })
	if i < 0 {
		i = len(s)
	}
	return s[:i], s[i:]
}

var unitNames = []struct {
	name string
	unit Length
}{
	{"millimetres", Millimetre}, {"centimetres", Centimetre}, {"metres", Metre}, {"meters", Metre},
	{"inches", Inch}, {"inch", Inch}, {"feet", Foot}, {"foot", Foot}, {"yards", Yard}, {"yard", Yard},
	{"mm", Millimetre}, {"cm", Centimetre}, {"in", Inch}, {"ft", Foot}, {"yd", Yard},
	{"m", Metre}, {"'", Foot}, {"\"", Inch},
}

func leadingUnit(s string) (Length, string) {
	t := strings.TrimLeft(s, " ")
	for _, u := range unitNames {
		if strings.HasPrefix(t, u.name) {
			return u.unit, strings.TrimPrefix(t[len(u.name):], ".")
		}
	}
	return 0, s
}

func roundRat(r *big.Rat) (int64, bool) {
	num := new(big.Int).Lsh(r.Num(), 1)
	num.Add(num, r.Denom())
	q := num.Div(num, new(big.Int).Lsh(r.Denom(), 1))
	return q.Int64(), q.IsInt64()
}

// Print prints a length in the system's everyday unit without naming it:
// centimetres to one decimal where there is one, or inches in eighths
// ("28 1/2"). It rounds; what was typed is kept elsewhere.
func (sys System) Print(l Length) string {
	if sys == Imperial {
		return printEighths(l)
	}
	tenths := mulDiv(int64(l), 1, int64(Millimetre))
	sign := ""
	if tenths < 0 {
		sign, tenths = "-", -tenths
	}
	if tenths%10 == 0 {
		return fmt.Sprintf("%s%d", sign, tenths/10)
	}
	return fmt.Sprintf("%s%d.%d", sign, tenths/10, tenths%10)
}

// Unit names the everyday unit: "cm" or "in".
func (sys System) Unit() string {
	if sys == Imperial {
		return "in"
	}
	return "cm"
}

// One is one of the everyday unit: a centimetre or an inch.
func (sys System) One() Length {
	if sys == Imperial {
		return Inch
	}
	return Centimetre
}

// String names the system by its everyday unit: "centimetres" or "inches".
func (sys System) String() string {
	if sys == Imperial {
		return "inches"
	}
	return "centimetres"
}

// PrintSpan prints "71" or "70 to 73", and "not known".
func (sys System) PrintSpan(s Span) string {
	lo, hi := sys.Print(s.Lo), sys.Print(s.Hi)
	switch {
	case !s.Known:
		return "not known"
	case lo == hi:
		return lo
	default:
		return lo + " to " + hi
	}
}

func printEighths(l Length) string {
	e := mulDiv(int64(l), 8, int64(Inch))
	sign := ""
	if e < 0 {
		sign, e = "-", -e
	}
	whole, num, den := e/8, e%8, int64(8)
	for num%2 == 0 && num > 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return fmt.Sprintf("%s%d", sign, whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, num, den)
	default:
		return fmt.Sprintf("%s%d %d/%d", sign, whole, num, den)
	}
}
