package intake

import (
	"fmt"
	"math/big"
	"reflect"
	"strings"
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// written is how values are written so that reading them gives them back:
// lengths in a system's units, exactly, or in the words they were typed in.
type written struct {
	sys   units.System
	typed map[show.Typed]show.Typed // by kind, code and field
}

func writing(h *show.House) written {
	w := written{h.Units, map[show.Typed]show.Typed{}}
	for _, list := range [][]show.Typed{h.Typed, h.PeopleTyped} {
		for _, t := range list {
			w.typed[show.Typed{Kind: t.Kind, Code: t.Code, Field: t.Field}] = t
		}
	}
	return w
}

// as are the words a value was typed in, while it is the same.
func (w written) as(at show.Typed, p any) (string, bool) {
	t, said := w.typed[at]
	if !said {
		return "", false
	}
	switch p := p.(type) {
	case *units.Money:
		return t.Words, t.Is == int64(*p)
	case *units.Maybe[units.Money]:
		return t.Words, p.Known && t.Is == int64(p.V)
	}
	l, is := lengthIn(p)
	return t.Words, is && t.Is == int64(l)
}

// cell writes a row's field as it was typed, else as text does.
func (tb *table[T]) cell(c column[T], row *T, w written) string {
	if c.at != nil {
		if s, ok := w.as(show.Typed{Kind: tb.one, Code: tb.keys[0](row), Field: c.key()}, c.at(row)); ok {
			return s
		}
	}
	return c.text(row, w)
}

// text writes a row's field.
func (c column[T]) text(row *T, w written) string {
	if c.print != nil {
		return c.print(row, w)
	}
	if c.at == nil {
		return ""
	}
	switch p := c.at(row).(type) {
	case *units.Span:
		return w.known(p.Known, p.Lo)
	case *body.Measure:
		return w.known(p.Span.Known, p.Span.Lo)
	case *units.Maybe[units.Length]:
		return w.known(p.Known, p.V)
	case *units.Length:
		return w.known(*p != 0, *p)
	case *units.Money:
		return p.String()
	case *units.Maybe[units.Money]:
		return iff(p.Known, p.V.String())
	case *units.Maybe[int]:
		return iff(p.Known, fmt.Sprint(p.V))
	case *time.Duration:
		return amount(int64(*p/time.Second), c.unit)
	case *units.Minutes:
		return amount(int64(*p)*60, c.unit)
	case *units.Maybe[units.Minutes]:
		return iff(p.Known, amount(int64(p.V)*60, c.unit))
	case *bool:
		return yesNo(*p)
	case *[][2]units.Length:
		var points []string
		for _, q := range *p {
			points = append(points, w.tuple(q[0], q[1]))
		}
		return strings.Join(points, ";")
	case *[]show.Flaw:
		var flaws []string
		for _, f := range *p {
			flaws = append(flaws, w.tuple(f.X, f.Y, f.W, f.H))
		}
		return strings.Join(flaws, ";")
	}
	return plainText(reflect.ValueOf(c.at(row)).Elem())
}

// plainText writes words, lists of them, numbers, days and times.
func plainText(v reflect.Value) string {
	if v.Kind() == reflect.Slice {
		parts := make([]string, v.Len())
		for i := range parts {
			parts[i] = v.Index(i).String()
		}
		return strings.Join(parts, "; ")
	}
	return fmt.Sprint(v.Interface())
}

func iff(ok bool, s string) string {
	if !ok {
		return ""
	}
	return s
}

func (w written) known(ok bool, l units.Length) string {
	if !ok {
		return ""
	}
	return w.exact(l)
}

// exact writes a length so that reading it gives it back: as it is printed,
// else in centimetres with as many decimals as it has, the unit named where
// it is not the one bare numbers count in.
func (w written) exact(l units.Length) string {
	s := w.sys.Print(l)
	if w.sys == units.Metric && l%units.Millimetre == 0 {
		return s // to the millimetre nothing is lost
	}
	if back, err := units.ParseLength(s, w.sys.One()); err == nil && back == l {
		return s
	}
	if w.sys == units.Imperial {
		return centimetres(l) + " cm"
	}
	return centimetres(l)
}

// centimetres writes a length in centimetres without loss.
func centimetres(l units.Length) string {
	return strings.TrimSuffix(strings.TrimRight(big.NewRat(int64(l), int64(units.Centimetre)).FloatString(4), "0"), ".")
}

// tuple writes lengths with commas between them and no space in them.
func (w written) tuple(all ...units.Length) string {
	parts := make([]string, len(all))
	for i, l := range all {
		parts[i] = w.exact(l)
		if strings.Contains(parts[i], " ") {
			parts[i] = centimetres(l) + "cm"
		}
	}
	return strings.Join(parts, ",")
}

// amount writes seconds in a unit of time: "4.5" minutes.
func amount(s int64, unit string) string {
	out := big.NewRat(s, max(1, seconds[unit])).FloatString(4)
	return strings.TrimSuffix(strings.TrimRight(out, "0"), ".")
}

// isLength and isMoney say what a column holds.
func (c column[T]) isLength() bool { return c.at != nil && c.takes("cm") && !c.sized }

func (c column[T]) isMoney() bool {
	switch c.atNew().(type) {
	case *units.Money, *units.Maybe[units.Money]:
		return true
	}
	return false
}

// atNew points to the field of an empty row.
func (c column[T]) atNew() any {
	if c.at == nil {
		return nil
	}
	return c.at(new(T))
}

func word(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

func hundredths(n int) string {
	return strings.TrimSuffix(strings.TrimRight(big.NewRat(int64(n), 100).FloatString(2), "0"), ".")
}

// roundOrOutline writes a cloth's edge as shaped reads it.
func roundOrOutline(c *show.Cloth, w written) string {
	if c.Diameter.Known {
		return "circle d=" + w.exact(c.Diameter.V)
	}
	return column[show.Cloth]{at: func(c *show.Cloth) any { return &c.Outline }}.text(c, w)
}
