package intake

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// loose says by which columns a list is known when it has no codes: all of
// the first, and one at least of the second.
type loose struct{ all, any []string }

func (l loose) fits(places map[string]place) bool {
	for _, n := range l.all {
		if _, ok := places[n]; !ok {
			return false
		}
	}
	return len(l.all) > 0 && slices.ContainsFunc(l.any, func(n string) bool { _, ok := places[n]; return ok })
}

// nothings are what people write for "not known" where a number or a day is
// wanted.
var nothings = map[string]bool{"-": true, "–": true, "—": true, "?": true, "??": true, "n/a": true, "na": true, "tbc": true, "tba": true, "tbd": true, "unknown": true, "not known": true, ".": true, "…": true, "x": true}

// saysNothing says whether a cell of a column that wants a number, a day or a
// time says that it is not known.
func (c column[T]) saysNothing(text string) bool {
	switch p := c.atNew(); p.(type) {
	case nil, *bool:
		return false
	default:
		kind := reflect.ValueOf(p).Elem().Kind()
		return kind != reflect.String && nothings[strings.ToLower(text)]
	}
}

// totals are the words with which a line of sums begins.
var totals = []string{"total", "totals", "sum", "average", "mean", "count", "subtotal", "in all"}

// isTotal says whether a line only adds up others: its first words say so.
func isTotal(cells []string) bool {
	for _, c := range cells {
		if c = strings.ToLower(strings.Trim(c, " :")); c != "" {
			return slices.Contains(totals, c)
		}
	}
	return false
}

// extra keeps the columns nobody knows, one line a column.
func (r *run[T]) extra(t *taking, cols []int) {
	for _, i := range cols {
		n := 0
		for _, line := range r.s.rows {
			if i < len(line.cells) && line.cells[i] != "" {
				n++
				t.keep(Line{File: r.s.name, Row: line.line, Column: r.s.header[i], Text: line.cells[i], What: "The column is not known."}, r.tb.person)
			}
		}
		if n > 0 || r.s.header[i] != "" {
			t.rep.Left = append(t.rep.Left, Line{File: r.s.name, Column: r.s.header[i],
				What: fmt.Sprintf("A list of %s has no such column; its %d cells are kept aside.", r.tb.many, n), Try: "Rename the column if it means one of ours."})
		}
	}
}

// signs are how currencies are written, by their code in a column name.
var signs = map[string]string{"eur": "€", "gbp": "£", "usd": "$"}

// currency takes the workroom's one currency from the first money column.
func (r *run[T]) currency(t *taking) {
	for _, c := range r.tb.cols {
		p, ok := r.places[c.key()]
		if !ok || c.at == nil || p.unit == "" {
			continue
		}
		switch c.at(new(T)).(type) {
		case *units.Money, *units.Maybe[units.Money]:
		default:
			continue
		}
		sign := signs[p.unit]
		if sign == "" {
			sign = strings.ToUpper(p.unit)
		}
		if t.h.Show.Currency == "" {
			t.h.Show.Currency = sign
		}
		if t.h.Show.Currency != sign {
			t.leave(Line{File: r.s.name, Column: c.key() + "_" + p.unit,
				What: fmt.Sprintf("Sums here count in %s, but the column counts in %s; it is not used.", t.h.Show.Currency, sign),
				Try:  "Change the sums to one currency."}, r.tb.person)
			delete(r.places, c.key())
		}
	}
}

// typicalCm is about how long a thing of a column is, in centimetres: it tells
// inches from centimetres where a column names no unit, and judges nothing.
// House figures.
var typicalCm = map[string]float64{
	"height": 148, "chest": 78, "waist": 66, "hip": 84, "nape_to_waist": 36, "waist_to_knee": 50, "waist_to_floor": 92, "inside_leg": 68,
	"shoulder_to_wrist": 52, "across_shoulders": 35, "upper_arm": 24, "neck": 31, "head": 54, "length": 105, "sleeve": 55, "hem_round": 220, "width": 145,
}

// guessUnits gives length columns that name no unit the one their numbers
// speak of, where that is plain, and says so.
func (r *run[T]) guessUnits(t *taking) {
	for _, c := range r.tb.cols {
		p, there := r.places[c.key()]
		typical := typicalCm[c.key()]
		if !there || p.unit != "" || !c.isLength() || typical == 0 {
			continue
		}
		least := 3
		if r.s.told != nil && r.s.told.Columns[p.at] != "" {
			least = 1
		}
		median := r.median(p.at, least)
		if median == 0 {
			continue
		}
		off := func(unit float64) float64 { return math.Abs(math.Log(median * unit / typical)) }
		cm, in, m := off(1), off(2.54), off(100)
		switch {
		case cm < in && cm < 0.6 || cm < 0.3:
			p.unit = "cm"
		case in < cm && in < 0.6:
			p.unit = "in"
		case m < 0.6:
			p.unit = "m"
		default:
			continue
		}
		r.places[c.key()] = p
		t.rep.Left = append(t.rep.Left, Line{File: r.s.name, Column: r.s.header[p.at], What: fmt.Sprintf("Taken as %s; the column names no unit.", p.unit), Try: "If that is wrong: undo, and write the unit into its name."})
	}
}

// median of the bare numbers in a column; 0 where there are fewer than least,
// which say little.
func (r *run[T]) median(at, least int) float64 {
	var all []float64
	for _, line := range r.s.rows {
		if at >= len(line.cells) {
			continue
		}
		if n, f := (cell{text: line.cells[at]}).number(); f == nil && n.Sign() > 0 {
			v, _ := n.Float64()
			all = append(all, v)
		}
	}
	if len(all) < least {
		return 0
	}
	sort.Float64s(all)
	return all[len(all)/2]
}

var slashDay = regexp.MustCompile(`^(\d{1,2})([/.-])(\d{1,2})[/.-](\d{2,4})$`)

// monthsFirst finds the columns of days in which the month comes first: one
// of them cannot be read otherwise.
func (r *run[T]) monthsFirst() map[string]bool {
	out := map[string]bool{}
	for _, c := range r.tb.cols {
		p, there := r.places[c.key()]
		_, day := c.atNew().(*units.Date)
		if !there || !day && c.key() != "measured_on" {
			continue
		}
		for _, line := range r.s.rows {
			if p.at >= len(line.cells) {
				continue
			}
			if m := slashDay.FindStringSubmatch(line.cells[p.at]); m != nil && len(m[3]) == 2 && m[3] > "12" {
				out[c.key()] = true
			}
		}
	}
	return out
}

// dayFirst turns "3/14/2027" round.
func dayFirst(text string) string {
	if m := slashDay.FindStringSubmatch(text); m != nil {
		return m[3] + m[2] + m[1] + m[2] + m[4]
	}
	return text
}

// giveCodes gives the lines of a list without codes theirs: that of the row
// they are by their own words, else a new one.
func (r *run[T]) giveCodes(t *taking, filled []*filling[T], rows []T) {
	if r.tb.natural == nil {
		return
	}
	have := map[string][]string{}
	for i := range rows {
		n := r.tb.natural(&rows[i])
		have[n] = append(have[n], r.tb.keys[0](&rows[i]))
	}
	used := map[string]bool{}
	for _, x := range filled {
		used[x.cells[r.tb.cols[0].key()].text] = true
	}
	for _, x := range filled {
		if !x.codeless {
			continue
		}
		scratch := new(T)
		for _, c := range r.tb.cols {
			if got, ok := x.cells[c.key()]; ok && c.at != nil {
				c.set(scratch, got)
			}
		}
		n := r.tb.natural(scratch)
		var code string
		if codes := have[n]; len(codes) > 0 {
			code, have[n] = codes[0], codes[1:]
		} else {
			code = next(r.tb.letter, r.tb.digits, func(c string) bool { return used[c] || taken(&t.h, c) })
		}
		used[code] = true
		first := r.tb.cols[0]
		x.cells[first.key()] = cell{text: code}
		first.set(x.row, x.cells[first.key()])
	}
}

// roughly are words before a number that say it was not read off exactly.
var roughly = regexp.MustCompile(`^(?i:~|≈|ca\.?|c\.|about|approx\.?|around)\s*`)

// namesake asks about two names that may be one child spelled two ways; it
// merges nothing.
func (t *taking) namesakes() {
	for i := range t.h.Performers {
		for k := range i {
			a, b := fold(t.h.Performers[k].Name), fold(t.h.Performers[i].Name)
			if a == "" || b == "" || !likeNames(a, b) {
				continue
			}
			what := fmt.Sprintf("%s and %s: the same child spelled two ways? Both are kept.", t.h.Performers[k].ID, t.h.Performers[i].ID)
			if slices.ContainsFunc(t.rep.Left, func(l Line) bool { return l.What == what }) {
				continue
			}
			t.rep.Left = append(t.rep.Left, Line{File: t.from[performersList], Column: "name", What: what, Try: "If so, take one out and keep the other."})
		}
	}
}

const performersList = "performers"

// likeNames says whether two folded names are one or two letters apart, or
// the same words in another order. Numbered ones, as child 1 and child 2, are
// not alike.
func likeNames(a, b string) bool {
	if a == b {
		return true
	}
	wa, wb := strings.Fields(strings.ReplaceAll(a, ",", "")), strings.Fields(strings.ReplaceAll(b, ",", ""))
	sort.Strings(wa)
	sort.Strings(wb)
	if len(wa) > 1 && slices.Equal(wa, wb) {
		return true
	}
	return !strings.ContainsAny(a+b, "0123456789") && len(wa) > 1 && len(wb) > 1 && len(a) >= 7 && apart([]rune(a), []rune(b)) <= 1
}

// apart is the edit distance of two words (Levenshtein, 1966).
func apart(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		before := row[0]
		row[0] = i + 1
		for j := range b {
			cost := before
			if a[i] != b[j] {
				cost++
			}
			before = row[j+1]
			row[j+1] = min(cost, row[j]+1, before+1)
		}
	}
	return row[len(b)]
}

// playsRole gives a performer the role written beside the name.
func playsRole(x *filling[show.Performer]) {
	for _, name := range strings.FieldsFunc(x.cells["role"].text, func(c rune) bool { return c == '/' || c == ';' || c == '+' }) {
		name = strings.TrimSpace(name)
		if name == "" {
			continue
		}
		r := &jotting{h: x.t.h}
		role := r.roleNamed(name)
		switch {
		case role != nil && role.Performer != "" && role.Performer != x.row.ID:
			x.fail("role", &fault{fmt.Sprintf("%s is given to %s already; it stays so.", role.Name, role.Performer), "Write each role beside one performer, or number a group: wave 1, wave 2."})
		case role != nil:
			role.Performer = x.row.ID
		default:
			x.t.h.Roles = append(slices.Clone(x.t.h.Roles), show.Role{ID: show.RoleID(next("R", 2, func(c string) bool { return x.t.h.Role(show.RoleID(c)) != nil })), Name: name, Performer: x.row.ID})
		}
	}
}
