package store

import (
	"encoding/json"
	"fmt"
	"reflect"
	"time"

	"hemwright/internal/value/units"
)

// columnsOf names the columns a field is kept in, by its type: a span takes
// two, and a quantity carries its unit in the name.
func columnsOf(name string, p any) []string {
	switch p.(type) {
	case *units.Span:
		return []string{name + "_lo_um", name + "_hi_um"}
	case *units.Length, *units.Maybe[units.Length], *[][2]units.Length:
		return []string{name + "_um"}
	case *units.Money, *units.Maybe[units.Money]:
		return []string{name + "_coins"}
	case *units.Minutes, *units.Maybe[units.Minutes]:
		return []string{name + "_min"}
	case *time.Duration:
		return []string{name + "_s"}
	}
	return []string{name}
}

// encode turns a field into its columns' values: int64, string or nil.
func encode(p any) []any {
	switch p := p.(type) {
	case *units.Span:
		if !p.Known {
			return []any{nil, nil}
		}
		return []any{int64(p.Lo), int64(p.Hi)}
	case *units.Maybe[units.Length]:
		return maybe(p.Known, int64(p.V))
	case *units.Maybe[units.Money]:
		return maybe(p.Known, int64(p.V))
	case *units.Maybe[units.Minutes]:
		return maybe(p.Known, int64(p.V))
	case *units.Maybe[int]:
		return maybe(p.Known, int64(p.V))
	case *time.Duration:
		return []any{int64(*p / time.Second)}
	case *units.Date:
		if *p == 0 {
			return []any{nil}
		}
		return []any{p.String()}
	case *daytext:
		return []any{units.Date(*p).String()}
	case *bool:
		if *p {
			return []any{int64(1)}
		}
		return []any{int64(0)}
	}
	v := reflect.ValueOf(p).Elem()
	switch v.Kind() {
	case reflect.String:
		return []any{v.String()}
	case reflect.Int, reflect.Int64, reflect.Int32:
		return []any{v.Int()}
	case reflect.Slice:
		if v.Len() == 0 {
			return []any{"[]"}
		}
		b, err := json.Marshal(v.Interface())
		if err != nil {
			panic(err) // lists of words and numbers always marshal
		}
		return []any{string(b)}
	}
	panic(fmt.Sprintf("store: a field of type %T has no column", p))
}

func maybe(known bool, n int64) []any {
	if !known {
		return []any{nil}
	}
	return []any{n}
}

// decode reads back what encode made.
func decode(p any, vals []any) error {
	n, isInt := vals[0].(int64)
	s, isText := vals[0].(string)
	switch p := p.(type) {
	case *units.Span:
		if hi, ok := vals[1].(int64); isInt && ok {
			*p = units.Span{Lo: units.Length(n), Hi: units.Length(hi), Known: true}
		}
		return nil
	case *units.Maybe[units.Length]:
		*p = units.Maybe[units.Length]{V: units.Length(n), Known: isInt}
		return nil
	case *units.Maybe[units.Money]:
		*p = units.Maybe[units.Money]{V: units.Money(n), Known: isInt}
		return nil
	case *units.Maybe[units.Minutes]:
		*p = units.Maybe[units.Minutes]{V: units.Minutes(n), Known: isInt}
		return nil
	case *units.Maybe[int]:
		*p = units.Maybe[int]{V: int(n), Known: isInt}
		return nil
	case *time.Duration:
		*p = time.Duration(n) * time.Second
		return nil
	case *units.Date:
		d, err := units.ParseDate(s)
		*p = d
		return err
	case *daytext:
		d, err := units.ParseDate(s)
		*p = daytext(d)
		return err
	case *bool:
		*p = n != 0
		return nil
	}
	v := reflect.ValueOf(p).Elem()
	switch {
	case v.Kind() == reflect.String && (isText || vals[0] == nil):
		v.SetString(s)
	case v.Kind() == reflect.Slice && s == "[]":
		v.SetZero()
	case v.Kind() == reflect.Slice && isText:
		return json.Unmarshal([]byte(s), p)
	case v.CanInt() && isInt:
		v.SetInt(n)
	default:
		return fmt.Errorf("%v does not go into a %T", vals[0], p)
	}
	return nil
}
