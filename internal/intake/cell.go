package intake

import (
	"fmt"
	"math/big"
	"reflect"
	"strconv"
	"strings"
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// cell is one field of a row with what its column name says about its unit.
type cell struct {
	text string
	unit string // "cm", "in", "min", "eur", …; empty where the name tells none
	flat bool   // a girth measured flat: half of it
}

// fault says why a cell was not taken: what with the value, and what to try.
type fault struct{ what, try string }

func bad(c cell, what, try string) *fault {
	return &fault{fmt.Sprintf("%q %s.", c.text, what), try}
}

var lengths = map[string]units.Length{
	"mm": units.Millimetre, "cm": units.Centimetre, "m": units.Metre,
	"in": units.Inch, "inch": units.Inch, "inches": units.Inch, "ft": units.Foot, "yd": units.Yard,
}

// seconds are the units of time, in seconds.
var seconds = map[string]int64{
	"s": 1, "sec": 1, "seconds": 1, "min": 60, "minutes": 60, "h": 3600, "hour": 3600, "hours": 3600,
}

// tooLong is longer than any cloth or body here; a number beyond it was
// typed in another unit.
const tooLong = 250 * units.Metre

func (c cell) length() (units.Length, *fault) {
	text := strings.TrimSpace(strings.TrimSuffix(roughly.ReplaceAllString(c.text, ""), "?"))
	if half, ok := strings.CutSuffix(strings.ToLower(text), " flat"); ok {
		text, c.flat = half, true
	}
	l, err := units.ParseLength(text, lengths[c.unit])
	switch {
	case err != nil && lengths[c.unit] == 0 && c.text != "" && c.text[0] >= '0' && c.text[0] <= '9':
		return 0, bad(c, "has no unit, and its column name tells none", "Let the column name end in _cm or _in.")
	case err != nil:
		return 0, bad(c, "is not a length", "Write a number, as 71.5 or 28 1/2.")
	case l < 0:
		return 0, bad(c, "is less than nothing", "Write the length without a minus.")
	case l > tooLong:
		return 0, bad(c, "is longer than 250 m", "Look at the unit in the column name.")
	}
	if c.flat {
		l *= 2
	}
	return l, nil
}

// number reads a decimal with point or comma; with both, the last one is the
// decimal sign.
func (c cell) number() (*big.Rat, *fault) {
	s := plain(c.text)
	digits := strings.Trim(s, "0123456789.") // no exponent: it could be endless
	if digits != "" && digits != "-" || len(s) > 18 {
		return nil, bad(c, "is not a number", "Write it as 12 or 12.5.")
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, bad(c, "is not a number", "Write it as 12 or 12.5.")
	}
	if r.Sign() < 0 {
		return nil, bad(c, "is less than nothing", "Write it without a minus.")
	}
	return r, nil
}

// plain takes spaces and the thousands sign out of a number and makes the
// decimal sign a point.
func plain(s string) string {
	s = strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", "'", "").Replace(s)
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case point >= 0 && comma > point:
		s = strings.ReplaceAll(s, ".", "")
	case comma >= 0 && point > comma:
		s = strings.ReplaceAll(s, ",", "")
	}
	return strings.ReplaceAll(s, ",", ".")
}

func (c cell) money() (units.Money, *fault) {
	m, err := units.Coins(plain(c.text))
	if err != nil {
		return 0, bad(c, "is not a sum of money", "Write it as 12 or 12.50.")
	}
	if m < 0 {
		return 0, bad(c, "is less than nothing", "Write the sum without a minus.")
	}
	return m, nil
}

// times reads an amount of time in whole steps of so many seconds.
func (c cell) times(step int64) (int64, *fault) {
	r, f := c.number()
	if f != nil {
		return 0, f
	}
	r.Mul(r, big.NewRat(seconds[c.unit], step))
	r.Add(r, big.NewRat(1, 2))
	n := new(big.Int).Quo(r.Num(), r.Denom())
	if !n.IsInt64() || n.Int64() > 1e9 {
		return 0, bad(c, "is too long a time", "Look at the unit in the column name.")
	}
	return n.Int64(), nil
}

func (c cell) whole() (int, *fault) {
	r, f := c.number()
	if f != nil {
		return 0, f
	}
	if !r.IsInt() || !r.Num().IsInt64() || r.Num().Int64() > 1e9 {
		return 0, bad(c, "is not a whole number", "Write it as 12.")
	}
	return int(r.Num().Int64()), nil
}

func (c cell) yes() (bool, *fault) {
	switch strings.ToLower(c.text) {
	case "yes", "y", "true", "1", "x", "✓", "✔", "ok":
		return true, nil
	case "no", "n", "false", "0", "-":
		return false, nil
	}
	return false, bad(c, "is neither yes nor no", "Write yes or no.")
}

func list(s string) []string {
	var out []string
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == '|' || r == ';' }) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// set reads a cell into the field p points to, by the field's type.
func set(p any, c cell) (f *fault) {
	var l units.Length
	var m units.Money
	var n int64
	var i int
	switch p := p.(type) {
	case *units.Span:
		if l, f = c.length(); f == nil {
			*p = units.Exactly(l)
		}
	case *body.Measure:
		if l, f = c.length(); f == nil {
			p.Span = units.Exactly(l)
		}
	case *units.Maybe[units.Length]:
		if l, f = c.length(); f == nil {
			*p = units.Some(l)
		}
	case *units.Length:
		if l, f = c.length(); f == nil {
			*p = l
		}
	case *units.Maybe[units.Money]:
		if m, f = c.money(); f == nil {
			*p = units.Some(m)
		}
	case *units.Money:
		if m, f = c.money(); f == nil {
			*p = m
		}
	case *time.Duration:
		if n, f = c.times(1); f == nil {
			*p = time.Duration(n) * time.Second
		}
	case *units.Minutes:
		if n, f = c.times(60); f == nil {
			*p = units.Minutes(n)
		}
	case *units.Maybe[units.Minutes]:
		if n, f = c.times(60); f == nil {
			*p = units.Some(units.Minutes(n))
		}
	case *units.Maybe[int]:
		if i, f = c.whole(); f == nil {
			*p = units.Some(i)
		}
	case *int:
		if i, f = c.whole(); f == nil {
			*p = i
		}
	default:
		f = setOther(p, c)
	}
	return f
}

func setOther(p any, c cell) (f *fault) {
	switch p := p.(type) {
	case *bool:
		var yes bool
		if yes, f = c.yes(); f == nil {
			*p = yes
		}
	case *units.Date:
		d, err := units.ParseDate(c.text)
		if err != nil {
			return bad(c, "is not a day", "Write it as 2027-03-14.")
		}
		*p = d
	case *units.Clock:
		t, err := units.ParseClock(c.text)
		if err != nil {
			return bad(c, "is not a time of day", "Write it as 19:00.")
		}
		*p = t
	case *[][2]units.Length:
		*p, f = c.outline()
	case *[]show.Flaw:
		*p, f = c.flaws()
	default:
		v := reflect.ValueOf(p).Elem()
		if v.Kind() == reflect.String {
			v.SetString(c.text)
			return nil
		}
		parts := list(c.text)
		if len(parts) == 0 {
			v.SetZero()
			return nil
		}
		out := reflect.MakeSlice(v.Type(), len(parts), len(parts))
		for i, part := range parts {
			out.Index(i).SetString(part)
		}
		v.Set(out)
	}
	return f
}

// outline reads "0,0;150,0;150,120", each number in the column's unit. A
// round cloth ("circle d=228") has no outline.
func (c cell) outline() ([][2]units.Length, *fault) {
	if strings.HasPrefix(strings.ToLower(c.text), "circle") {
		return nil, nil
	}
	var out [][2]units.Length
	for _, part := range list(c.text) {
		n, f := c.tuple(part, 2)
		if f != nil {
			return nil, f
		}
		out = append(out, [2]units.Length{n[0], n[1]})
	}
	return out, nil
}

// flaws reads "x,y,width,height", several separated by ";".
func (c cell) flaws() ([]show.Flaw, *fault) {
	var out []show.Flaw
	for _, part := range list(c.text) {
		n, f := c.tuple(part, 4)
		if f != nil {
			return nil, f
		}
		out = append(out, show.Flaw{X: n[0], Y: n[1], W: n[2], H: n[3]})
	}
	return out, nil
}

// tuple reads n lengths separated by spaces, else by commas.
func (c cell) tuple(part string, n int) ([]units.Length, *fault) {
	parts := strings.Fields(strings.ReplaceAll(part, ", ", ","))
	if len(parts) == 1 {
		parts = strings.Split(parts[0], ",")
	}
	if len(parts) != n {
		return nil, bad(c, fmt.Sprintf("holds %q, which is not %d numbers", part, n), "Write the numbers with commas and the points with semicolons.")
	}
	out := make([]units.Length, n)
	for i, text := range parts {
		l, f := cell{text: text, unit: c.unit}.length()
		if f != nil {
			return nil, f
		}
		out[i] = l
	}
	return out, nil
}

// say prints a field for the report.
func say(sys units.System, p any) string {
	switch p := p.(type) {
	case *units.Span:
		return orNothing(p.Known, sys.PrintSpan(*p)+" "+sys.Unit())
	case *units.Maybe[units.Length]:
		return orNothing(p.Known, sys.Print(p.V)+" "+sys.Unit())
	case *units.Length:
		return orNothing(*p != 0, sys.Print(*p)+" "+sys.Unit())
	case *units.Maybe[units.Money]:
		return orNothing(p.Known, p.V.String())
	case *units.Maybe[units.Minutes]:
		return orNothing(p.Known, p.V.String())
	case *units.Maybe[int]:
		return orNothing(p.Known, strconv.Itoa(p.V))
	case *bool:
		return map[bool]string{true: "yes", false: "no"}[*p]
	case *[][2]units.Length, *[]show.Flaw:
		return fmt.Sprintf("%d of them", reflect.ValueOf(p).Elem().Len())
	}
	v := reflect.ValueOf(p).Elem()
	if v.Kind() == reflect.Slice {
		parts := make([]string, v.Len())
		for i := range parts {
			parts[i] = v.Index(i).String()
		}
		return orNothing(len(parts) > 0, strings.Join(parts, ", "))
	}
	s := fmt.Sprint(v.Interface())
	return orNothing(s != "", s)
}

func orNothing(known bool, s string) string {
	if !known {
		return "nothing"
	}
	return s
}
