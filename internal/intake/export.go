package intake

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// outgoing is a list of the house as a spreadsheet holds it.
type outgoing struct {
	name string // of the file or the sheet: "performers"
	rows [][]string
}

// CSV writes everything of a house as files that Take brings back unchanged:
// one for each list that has rows, with lengths in the house's units.
func CSV(h show.House) ([]File, error) {
	var out []File
	for _, l := range lists(h) {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		if err := w.WriteAll(l.rows); err != nil {
			return nil, err
		}
		out = append(out, File{Name: l.name + ".csv", Data: b.Bytes()})
	}
	return out, nil
}

// Workbook writes everything of a house as one XLSX workbook, a sheet a list.
func Workbook(h show.House) ([]byte, error) {
	book := excelize.NewFile()
	defer book.Close()
	first := true
	for _, l := range lists(h) {
		if first {
			if err := book.SetSheetName("Sheet1", l.name); err != nil {
				return nil, err
			}
			first = false
		} else if _, err := book.NewSheet(l.name); err != nil {
			return nil, err
		}
		for i, r := range l.rows {
			cells := make([]any, len(r))
			for k, s := range r {
				cells[k] = s // as text: nothing is worked out, nothing is made a date
			}
			if err := book.SetSheetRow(l.name, fmt.Sprintf("A%d", i+1), &cells); err != nil {
				return nil, err
			}
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func lists(h show.House) []outgoing {
	out := []outgoing{{showList, [][]string{showHeader, showRow(h)}}}
	for _, k := range kinds {
		out = append(out, k.write(&h)...)
	}
	return out
}

// write writes the rows of a table, if there are any. What one person
// measured on one day makes a list of people of its own.
func (tb *table[T]) write(h *show.House) []outgoing {
	rows := *tb.rows(h)
	if len(rows) == 0 {
		return nil
	}
	w := writing(h)
	l := outgoing{name: strings.ReplaceAll(tb.many, " ", "-")}
	var cols []column[T]
	var head []string
	for _, c := range tb.cols {
		if c.at != nil {
			cols, head = append(cols, c), append(head, c.header(h))
		}
	}
	l.rows = append(l.rows, head)
	for i := range rows {
		cells := make([]string, len(cols))
		for k, c := range cols {
			if _, measure := c.at(&rows[i]).(*body.Measure); !measure {
				cells[k] = shielded(tb.cell(c, &rows[i], w))
			}
		}
		l.rows = append(l.rows, cells)
	}
	out := []outgoing{l}
	if people, ok := any(rows).([]show.Performer); ok {
		out = append(out, measureLists(people, h)...)
	}
	return out
}

// header names a column with its unit, as it is read again.
func (c column[T]) header(h *show.House) string {
	key := c.key()
	switch {
	case c.isLength() || c.sized:
		if c.sized {
			return key + "_cm"
		}
		return key + "_" + h.Units.Unit()
	case c.isMoney():
		if code := currencyCode(h.Show.Currency); code != "" {
			return key + "_" + code
		}
	case c.unit != "":
		return key + "_" + c.unit
	}
	return key
}

// currencyCode is the three letters of a currency's sign, or nothing.
func currencyCode(sign string) string {
	for code, s := range signs {
		if s == sign {
			return code
		}
	}
	if len(sign) == 3 {
		return strings.ToLower(sign)
	}
	return ""
}

// measureLists write what the tape said, one list for each day and person
// that held it, the oldest first.
func measureLists(people []show.Performer, h *show.House) []outgoing {
	type held struct {
		day units.Date
		who string
	}
	groups := map[held][]int{}
	for i, p := range people {
		seen := map[held]bool{}
		for _, m := range p.Body {
			if k := (held{m.Day, m.Who}); m.Span.Known && !seen[k] {
				seen[k] = true
				groups[k] = append(groups[k], i)
			}
		}
	}
	keys := make([]held, 0, len(groups))
	for k := range groups {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool {
		if keys[i].day != keys[j].day {
			return keys[i].day < keys[j].day
		}
		return keys[i].who < keys[j].who
	})
	w := writing(h)
	var out []outgoing
	for n, k := range keys {
		l := outgoing{name: fmt.Sprintf("performers-measured-%d", n+1), rows: [][]string{{"performer_id", "name", "measured_on", "measured_by"}}}
		for _, kind := range body.All() {
			l.rows[0] = append(l.rows[0], kind.Code()+"_"+h.Units.Unit())
		}
		for _, i := range groups[k] {
			p := &people[i]
			cells := []string{string(p.ID), shielded(p.Name), k.day.String(), shielded(k.who)}
			for _, kind := range body.All() {
				m := p.Body[kind]
				cell := iff(m.Span.Known && m.Day == k.day && m.Who == k.who, w.exact(m.Span.Lo))
				if s, ok := w.as(show.Typed{Kind: performers.one, Code: string(p.ID), Field: kind.Code()}, &m); ok && cell != "" {
					cell = s
				}
				cells = append(cells, cell)
			}
			l.rows = append(l.rows, cells)
		}
		out = append(out, l)
	}
	return out
}

// shielded keeps a spreadsheet from taking a text for a formula: an
// apostrophe before what would begin one. shield undone by bare.
func shielded(s string) string {
	if s != "" && (strings.ContainsRune("=+-@\t\r", rune(s[0])) || bare(s) != s) {
		return "'" + s
	}
	return s
}

// bare takes off the apostrophe shielded put on.
func bare(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.ContainsRune("=+-@\t\r'", rune(s[1])) {
		return s[1:]
	}
	return s
}

// The show itself is a list of one row.
const showList = "show"

var showHeader = []string{"show_code", "show_name", "erase_on", "erase_on_ink", "currency", "lengths_in"}

func showRow(h show.House) []string {
	s := h.Show
	return []string{shielded(s.Code), shielded(s.Name), s.EraseOn.String(), yesNo(s.EraseOnInk), s.Currency, h.Units.Unit()}
}

// isShow says whether a sheet is the list of the show itself.
func isShow(s sheet) bool { return len(s.header) > 1 && tidy(s.header[1]) == showHeader[1] }

// takeShow reads it.
func (t *taking) takeShow(s sheet) {
	for _, r := range s.rows {
		for i, h := range s.header {
			if i >= len(r.cells) || r.cells[i] == "" {
				continue
			}
			text := bare(r.cells[i])
			switch tidy(h) {
			case "show_code":
				t.h.Show.Code = text
			case "show_name":
				t.h.Show.Name = text
			case "erase_on":
				if day, err := units.ParseDate(text); err == nil {
					t.h.Show.EraseOn = day
				}
			case "erase_on_ink":
				t.h.Show.EraseOnInk = text == "yes"
			case "currency":
				t.h.Show.Currency = text
			case "lengths_in":
				if sys, err := units.SystemOf(text); err == nil {
					t.h.Units = sys
				}
			}
		}
	}
	t.rep.Taken = append(t.rep.Taken, Line{File: s.name, What: "1 show."})
}
