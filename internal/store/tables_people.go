package store

import (
	"fmt"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// People's rows: erased on the show's date. Their tables begin with person.

var personTable = &mapping[show.Performer]{
	name: "person", life: ofPeople, keys: 1, part: true,
	list: performerTable.list,
	skip: func(p *show.Performer) bool {
		q := *p
		q.ID, q.Care, q.NotBy, q.Body = "", nil, nil, body.Body{}
		return fmt.Sprint(q) == fmt.Sprint(show.Performer{})
	},
	fields: []field[show.Performer]{
		{name: "performer", at: func(p *show.Performer) any { return &p.ID }},
		{name: "name", at: func(p *show.Performer) any { return &p.Name }},
		{name: "age_years", at: func(p *show.Performer) any { return &p.Age }},
		{name: "birth_month", at: func(p *show.Performer) any { return &p.BirthMonth }},
		{name: "growth_sex", at: func(p *show.Performer) any { return &p.GrowthSex }},
		{name: "room", at: func(p *show.Performer) any { return &p.Room }},
		{name: "consent", at: func(p *show.Performer) any { return &p.Consent }},
		{name: "note", at: func(p *show.Performer) any { return &p.Note }},
		{name: "label_size", at: func(p *show.Performer) any { return &p.LabelSize }},
		{name: "fits_garment", at: func(p *show.Performer) any { return &p.FitsGarment }},
		{name: "shoe_size", at: func(p *show.Performer) any { return &p.ShoeSize }},
	},
}

var personCare = &listing[show.Performer, string]{
	name: "person_care", life: ofPeople, parent: "performer", value: "rule",
	list: performerTable.list,
	code: func(p *show.Performer) string { return string(p.ID) },
	in:   func(p *show.Performer) *[]string { return &p.Care },
}

var personNotBy = &listing[show.Performer, show.HelperID]{
	name: "person_not_by", life: ofPeople, parent: "performer", value: "helper",
	list: performerTable.list,
	code: func(p *show.Performer) string { return string(p.ID) },
	in:   func(p *show.Performer) *[]show.HelperID { return &p.NotBy },
}

var feetTable = &mapping[show.Feet]{
	name: "person_feet", life: ofPeople, keys: 1,
	list: func(h *show.House) *[]show.Feet { return &h.Feet },
	fields: []field[show.Feet]{
		{name: "performer", at: func(f *show.Feet) any { return &f.Performer }},
		{name: "shoe_size", at: func(f *show.Feet) any { return &f.ShoeSize }},
		{name: "shoe", at: func(f *show.Feet) any { return &f.Shoe }},
		{name: "shoe_from", at: func(f *show.Feet) any { return &f.ShoeFrom }},
		{name: "heel", at: func(f *show.Feet) any { return &f.Heel }},
		{name: "hosiery", at: func(f *show.Feet) any { return &f.Hosiery }},
		{name: "hosiery_size", at: func(f *show.Feet) any { return &f.HosierySize }},
		{name: "shade", at: func(f *show.Feet) any { return &f.Shade }},
		{name: "shade_agreed", at: func(f *show.Feet) any { return &f.ShadeAgreed }},
		{name: "hosiery_from", at: func(f *show.Feet) any { return &f.HosieryFrom }},
		{name: "own_vest", at: func(f *show.Feet) any { return &f.OwnVest }},
		{name: "own_shorts", at: func(f *show.Feet) any { return &f.OwnShorts }},
		{name: "layer_one", at: func(f *show.Feet) any { return &f.LayerOne }},
		{name: "layer_one_seen_on", at: func(f *show.Feet) any { return &f.LayerOneSeen }},
		{name: "shoe_limit", at: func(f *show.Feet) any { return &f.ShoeLimit }},
		{name: "hosiery_limit", at: func(f *show.Feet) any { return &f.HosieryLimit }},
	},
}

// measures keeps one row a measure.
type measures struct{}

var measureSpec = &spec{name: "person_measure", life: ofPeople, key: []string{"performer", "kind"},
	rest: []string{"lo_um", "hi_um", "origin", "rule", "day", "who"}}

func (measures) spec() *spec { return measureSpec }

func (measures) rows(h *show.House) [][]any {
	var out [][]any
	for i := range h.Performers {
		p := &h.Performers[i]
		for _, k := range body.All() {
			m := p.Body[k]
			if m == (body.Measure{}) {
				continue
			}
			row := []any{string(p.ID), k.Code()}
			row = append(row, encode(&m.Span)...)
			row = append(row, m.Origin.String(), m.Rule)
			row = append(row, encode(&m.Day)...)
			out = append(out, append(row, m.Who))
		}
	}
	return out
}

var origins = map[string]body.Origin{
	body.Assumed.String(): body.Assumed, body.Said.String(): body.Said, body.Measured.String(): body.Measured,
}

func (measures) load(l *loading, rows [][]any) error {
	for _, v := range rows {
		code, _ := v[0].(string)
		name, _ := v[1].(string)
		k, err := body.KindOf(name)
		if err != nil {
			return err
		}
		p := l.h.Performer(show.PerformerID(code))
		if p == nil {
			continue
		}
		m := &p.Body[k]
		origin, _ := v[4].(string)
		m.Origin = origins[origin]
		m.Rule, _ = v[5].(string)
		m.Who, _ = v[7].(string)
		if err := decode(&m.Span, v[2:4]); err != nil {
			return err
		}
		if err := decode(&m.Day, v[6:7]); err != nil {
			return err
		}
	}
	return nil
}

// unread keeps cells nobody understood, those about people apart. Their
// place in the one list is part of the row.
type unread struct{ made *spec }

func newUnread(name string, of life) unread {
	return unread{&spec{name: name, life: of, key: []string{"file", "line", "cell", "n"}, rest: []string{"text", "why", "at"}}}
}

func (u unread) spec() *spec { return u.made }

func (u unread) rows(h *show.House) [][]any {
	var out [][]any
	seen := map[string]int64{}
	for i, r := range h.Unread {
		if r.AboutPerson != (u.made.life == ofPeople) {
			continue
		}
		key := []any{r.File, int64(r.Row), r.Column}
		n := seen[keyOf(key)]
		seen[keyOf(key)]++
		out = append(out, append(key, n, r.Text, r.Why, int64(i)))
	}
	return out
}

func (u unread) load(l *loading, rows [][]any) error {
	for _, v := range rows {
		r := show.Unread{AboutPerson: u.made.life == ofPeople}
		var at int64
		for i, p := range map[int]any{0: &r.File, 1: &r.Row, 2: &r.Column, 4: &r.Text, 5: &r.Why, 6: &at} {
			if err := decode(p, v[i:i+1]); err != nil {
				return err
			}
		}
		l.unread = append(l.unread, placed{at, r})
	}
	return nil
}

func newTyped(name string, of life, list func(*show.House) *[]show.Typed) table {
	return &mapping[show.Typed]{name: name, life: of, keys: 3, list: list, fields: []field[show.Typed]{
		{name: "kind", at: func(t *show.Typed) any { return &t.Kind }},
		{name: "code", at: func(t *show.Typed) any { return &t.Code }},
		{name: "field", at: func(t *show.Typed) any { return &t.Field }},
		{name: "words", at: func(t *show.Typed) any { return &t.Words }},
		{name: "value", at: func(t *show.Typed) any { return &t.Is }},
	}}
}

// daytext keeps a day that is part of a key: not set is empty, not NULL.
type daytext units.Date
