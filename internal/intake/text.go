package intake

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"golang.org/x/text/unicode/norm"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// Said is one line of a text, or one table in it, as it was understood.
type Said struct {
	Line int    // in the text, from 1
	Text string // as written; empty where it must not be repeated
	Says string // what was understood; empty where nothing was
	Ask  string // what is still open about it, or what it may be

	topic string // what was being told when the line came; "table" for a part of one
}

// Understood says whether the line went into the house.
func (s Said) Understood() bool { return s.Says != "" }

// Text takes a text as somebody pasted or typed it into a house: a cast mail,
// scenes, a grid of who is on, notes of the rail and the shelf, helpers,
// finds, in any order and mixture, and tables of any of them. Every line is
// understood, or kept in place as text and asked about; none is refused. What
// a rule had to assume is marked as assumed. Taking the same text again
// changes nothing. name says where the text came from; day is today.
func Text(h show.House, name, text string, day units.Date) (show.House, []Said) {
	h, said, _ := TextAs(h, name, text, day, nil)
	return h, said
}

// TextAs takes a text as Text does, and obeys what is told of its tables, by
// their number in it from 0; it says besides what each table was taken for. A
// grid of who is on has no columns to guess, and its guess says so.
func TextAs(h show.House, name, text string, day units.Date, told map[int]Told) (show.House, []Said, []Guess) {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u00a0", " ").Replace(norm.NFC.String(text))
	r := &jotting{name: name, day: day, same: map[string]int{}, told: told}
	r.h = h.Own()
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); {
		if n := tableAt(lines[i:]); n > 0 {
			r.table(i+1, lines[i:i+n])
			i += n
			continue
		}
		if line := strings.TrimSpace(lines[i]); line != "" {
			r.line(i+1, line)
		} else {
			r.topic = ""
		}
		i++
	}
	for r.again() {
	}
	sort.SliceStable(r.said, func(i, j int) bool { return r.said[i].Line < r.said[j].Line })
	r.h.Unread = inPlace(r.h.Unread, name, r.kept)
	return r.h, r.said, r.guesses
}

// again reads the lines that were kept once more: a later line may have said
// who is meant. It says whether that helped.
func (r *jotting) again() bool {
	before, kept, said := len(r.kept), r.kept, r.said
	if before == 0 {
		return false
	}
	r.kept, r.said = nil, nil
	for _, s := range said {
		if s.Understood() || s.topic == "table" {
			r.said = append(r.said, s)
			continue
		}
		r.topic = s.topic
		r.line(s.Line, s.Text)
	}
	for _, u := range kept {
		if u.Column != "" { // a cell of a table
			r.kept = append(r.kept, u)
		}
	}
	return len(r.kept) < before
}

// inPlace puts the unread lines of a text where those of its last reading
// stood.
func inPlace(all []show.Unread, name string, kept []show.Unread) []show.Unread {
	var out []show.Unread
	at := -1
	for _, u := range all {
		if u.File != name {
			out = append(out, u)
		} else if at < 0 {
			at = len(out)
		}
	}
	if at < 0 {
		at = len(out)
	}
	return slices.Insert(out, at, kept...)
}

// jotting is a text under way.
type jotting struct {
	h     show.House
	name  string
	day   units.Date
	topic string // what a heading said the lines under it are
	tape  string // the order of flat numbers a heading gave
	said  []Said
	kept  []show.Unread
	same  map[string]int // how often a thing was written in this text

	told    map[int]Told // of the tables in it
	guesses []Guess      // one for each table so far
}

// take notes a line as understood.
func (r *jotting) take(line int, text, format string, args ...any) {
	r.said = append(r.said, Said{Line: line, Text: text, Says: fmt.Sprintf(format, args...)})
}

// open notes what is still to be said about the line taken last.
func (r *jotting) open(ask string) { r.said[len(r.said)-1].Ask = ask }

// keep leaves a line as text, with a question.
func (r *jotting) keep(line int, text, ask string) {
	r.said = append(r.said, Said{Line: line, Text: text, Ask: ask, topic: r.topic})
	r.kept = append(r.kept, show.Unread{File: r.name, Row: line, Text: text, Why: ask, AboutPerson: true})
}

// line understands one line: the first reader that knows it takes it.
func (r *jotting) line(n int, text string) {
	bare := strings.TrimSpace(strings.TrimLeft(text, "-–*•· "))
	if bare == "" {
		return
	}
	for _, read := range []func(int, string) bool{
		r.heading, r.interval, r.sums, r.dates, r.paid, r.loan, r.asked, r.called, r.notion, r.cloth, r.found, r.rail, r.helper, r.ages, r.answer, r.nights, r.care, r.scene, r.group, r.person,
	} {
		if read(n, bare) {
			return
		}
	}
	r.keep(n, text, "What is this?")
}

// topics are the words by which a heading says what follows.
var topics = []struct{ word, topic string }{
	{"group", "people"}, {"cast", "people"}, {"age", "ages"}, {"size", "sizes"}, {"scene", "scenes"}, {"running order", "scenes"},
	{"rail", "rail"}, {"shelf", "shelf"}, {"cloth", "shelf"}, {"helper", "helpers"}, {"find", "finds"},
}

// heading takes a line that only says what follows: it ends in a colon, or
// names a topic and holds no numbers and no separator.
func (r *jotting) heading(n int, text string) bool {
	low := strings.ToLower(text)
	topic := ""
	for _, t := range topics {
		if strings.HasPrefix(low, t.word) || strings.Contains(low, " "+t.word) {
			topic = t.topic
			break
		}
	}
	colon := strings.HasSuffix(text, ":")
	if !colon && (topic == "" || strings.ContainsAny(text, "0123456789\t") || strings.Contains(text, " - ") || namedList(text)) {
		return false
	}
	r.topic = topic
	if _, order, ok := strings.Cut(low, "order of the tape:"); ok {
		r.tape = strings.TrimSpace(order)
	}
	if name, ok := showNamed(text); ok && r.h.Show.Name == "" {
		r.h.Show.Name = name
		r.take(n, text, "The show is called %s.", name)
		return true
	}
	r.take(n, text, "A heading.")
	return true
}

// namedList is a word, a colon, and something after it.
func namedList(text string) bool {
	head, rest, ok := strings.Cut(text, ":")
	return ok && strings.TrimSpace(rest) != "" && !strings.Contains(head, ",")
}

// showNamed finds the show in "Cast for the Night Ferry, from …".
func showNamed(text string) (string, bool) {
	for _, w := range []string{"Cast for ", "Cast of ", "Cast list for ", "Cast list of "} {
		if rest, ok := strings.CutPrefix(text, w); ok {
			name, _, _ := strings.Cut(strings.TrimSuffix(rest, ":"), ",")
			name = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(name, "the "), "The "))
			return name, name != ""
		}
	}
	return "", false
}

// assume marks a field as assumed by a rule; state takes the mark away.
func (r *jotting) assume(kind, code, field, rule string) {
	if o := r.h.Origin(kind, code, field); o != nil {
		o.Rule = rule
		return
	}
	r.h.Origins = append(r.h.Origins, show.Origin{Kind: kind, Code: code, Field: field, How: show.Assumed, Rule: rule, Day: r.day})
}

func (r *jotting) state(kind, code, field string) {
	r.h.Origins = slices.DeleteFunc(r.h.Origins, func(o show.Origin) bool { return o.Kind == kind && o.Code == code && o.Field == field })
}

// next is the first code with a letter and a number not used yet: P01, G001.
func next(letter string, digits int, taken func(code string) bool) string {
	for i := 1; ; i++ {
		if code := fmt.Sprintf("%s%0*d", letter, digits, i); !taken(code) {
			return code
		}
	}
}
