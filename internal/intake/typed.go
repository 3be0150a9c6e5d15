package intake

import (
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// typedWords collects, by kind, code and field, the words values were typed
// in; empty words say that printing the value gives them back.
type typedWords struct {
	said  map[show.Typed]show.Typed
	order []show.Typed
}

func (w *typedWords) add(t show.Typed) {
	at := show.Typed{Kind: t.Kind, Code: t.Code, Field: t.Field}
	if w.said == nil {
		w.said = map[show.Typed]show.Typed{}
	}
	if _, there := w.said[at]; !there {
		w.order = append(w.order, at)
	}
	w.said[at] = t
}

// onto brings a list up to date.
func (w *typedWords) onto(old []show.Typed) []show.Typed {
	if len(w.order) == 0 {
		return old
	}
	var out []show.Typed
	put := func(t show.Typed) {
		if t.Words != "" {
			out = append(out, t)
		}
	}
	was := map[show.Typed]bool{}
	for _, t := range old {
		at := show.Typed{Kind: t.Kind, Code: t.Code, Field: t.Field}
		was[at] = true
		if now, said := w.said[at]; said {
			t = now
		}
		put(t)
	}
	for _, at := range w.order {
		if !was[at] {
			put(w.said[at])
		}
	}
	return out
}

// words are a cell as typed, with what its column's name adds to it.
func (c cell) words() string {
	w, half := strings.CutSuffix(c.text, " flat")
	if lengths[c.unit] != 0 && strings.Trim(w, "0123456789.,/ -") == "" {
		w += " " + c.unit
	}
	if c.flat || half {
		w += " flat"
	}
	return w
}

// typed keeps the words a length or a sum was typed in, where printing the
// value in centimetres, or as a sum, would not give them back. A cell that
// did not become the value says nothing about it.
func (t *taking) typed(c cell, p any, at show.Typed, person bool) {
	var printed string
	switch p := p.(type) {
	case *units.Money:
		at.Is, printed = int64(*p), p.String()
	case *units.Maybe[units.Money]:
		at.Is, printed = int64(p.V), p.V.String()
	default:
		l, is := lengthIn(p)
		if typed, f := c.length(); !is || f != nil || typed != l {
			return
		}
		at.Is, printed = int64(l), units.Metric.Print(l)+" "+units.Metric.Unit()
		switch u := lengths[c.unit]; {
		case u == 0:
		case u%units.Inch == 0:
			t.inches++
		default:
			t.metric++
		}
	}
	if w := c.words(); w != printed {
		at.Words = w
	}
	if person {
		t.peopleTyped.add(at)
	} else {
		t.thingsTyped.add(at)
	}
}

// lengthIn is the one length in a field; false where the field is none.
func lengthIn(p any) (units.Length, bool) {
	switch p := p.(type) {
	case *units.Length:
		return *p, true
	case *units.Maybe[units.Length]:
		return p.V, p.Known
	case *units.Span:
		return p.Lo, p.Exact()
	case *body.Measure:
		return p.Span.Lo, p.Span.Exact()
	}
	return 0, false
}

// chooseUnits lets an empty house show lengths as its first sheets give them.
func (t *taking) chooseUnits(before show.House) {
	empty := len(before.Performers)+len(before.Garments)+len(before.Cloths)+len(before.Pieces)+len(before.Finds) == 0
	if !empty || t.inches <= t.metric || t.h.Units != before.Units {
		return
	}
	t.h.Units = units.Imperial
	t.rep.Taken = append(t.rep.Taken, Line{File: "Lengths", What: "Shown in inches, as most of these sheets give them.", Try: "For centimetres: hemwright units cm"})
}
