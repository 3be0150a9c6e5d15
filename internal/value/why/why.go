// Package why holds what stands behind an answer: rules with their source,
// the facts they were applied to, reasons, verdicts, and errors a person can
// act on. A reason is data, never a ready-made sentence; Sentence is the one
// place that turns it into words, so that page, terminal and paper agree.
//
// Rules of speech, for every Says, What and Try in the program: plain words,
// short sentences, no exclamation mark, numbers with their units, one
// suggestion, and nothing ever about a person's body: speak of the garment.
package why

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"hemwright/internal/value/units"
)

// Grade says how an answer turned out. The zero value is Unknown: nothing
// passes by being forgotten.
type Grade int

// Grades, from nothing known to the best.
const (
	Unknown Grade = iota // a fact is missing
	No                   // not this one
	Work                 // goes, with work or at a price
	Likely               // goes, in pencil: a fact is assumed
	Yes                  // goes as it is
)

// String gives the grade as it is stored.
func (g Grade) String() string {
	return [...]string{"not known", "no", "with work", "likely", "yes"}[g]
}

// Basis is where a rule comes from.
type Basis struct {
	Key   string // the key in docs/sources.md
	Kind  BasisKind
	Title string // short, for a reader
}

// BasisKind says how far a basis can be trusted.
type BasisKind int

// Kinds of basis.
const (
	Estimate BasisKind = iota // our own estimate or memory: overwritable, shown as such
	Practice                  // common practice of the trade, without a printed source
	Handbook                  // a printed handbook or a teaching text
	Paper                     // a scientific paper or data set
	Standard                  // a standard, a law or a definition
)

// House is the basis of our own estimates.
var House = Basis{Key: "house", Kind: Estimate, Title: "house estimate; your own figures replace it"}

// Common is the basis of what everybody in the trade does and nobody printed.
var Common = Basis{Key: "common", Kind: Practice, Title: "common practice"}

// Exact is the basis of definitions and plain geometry.
var Exact = Basis{Key: "exact", Kind: Standard, Title: "definition"}

// Credibility is the basis of estimates that learn: n measured times count n
// in n+k, the estimate k in n+k. How large k is is a house figure.
var Credibility = Basis{Key: "credibility", Kind: Paper, Title: "H. Bühlmann, Experience rating and credibility, ASTIN Bulletin 4, 1967"}

// Rule is one thing the program knows how to say. Says holds the facts by
// name in braces: "The {garment} lacks {short} at the {where}."
type Rule struct {
	ID    string
	Says  string
	Basis Basis
}

var rules = map[string]Rule{}

// Declare makes a rule known. It is called from package variables; declaring
// an id twice, or leaving a part empty, is a broken program and panics.
func Declare(id, says string, basis Basis) Rule {
	if _, twice := rules[id]; twice || id == "" || says == "" || basis.Key == "" {
		panic("why: rule " + id + " is declared twice or lacks a part")
	}
	r := Rule{ID: id, Says: says, Basis: basis}
	rules[id] = r
	return r
}

// Rules lists every declared rule by id.
func Rules() []Rule {
	all := make([]Rule, 0, len(rules))
	for _, r := range rules {
		all = append(all, r)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].ID < all[j].ID })
	return all
}

// Ref names a thing by kind and code, as in the import: {"garment", "S015"}.
type Ref struct {
	Kind string `json:"kind"`
	Code string `json:"code"`
}

// Fact is one typed thing a reason rests on. Exactly one of the values is
// set; make it with the functions below.
type Fact struct {
	Name  string      `json:"name"`
	Kind  string      `json:"kind"` // length span money minutes seconds count date text ref
	N     int64       `json:"n,omitempty"`
	Span  *units.Span `json:"span,omitempty"`
	Text  string      `json:"text,omitempty"`
	Ref   *Ref        `json:"ref,omitempty"`
	About bool        `json:"about_a_body,omitempty"` // erased with the person
}

// Of makes facts of a length, sum, amount of work, day, count or text.
func Of(name string, v any) Fact {
	f := Fact{Name: name}
	switch v := v.(type) {
	case units.Length:
		f.Kind, f.N = "length", int64(v)
	case units.Span:
		f.Kind, f.Span = "span", &v
	case units.Money:
		f.Kind, f.N = "money", int64(v)
	case units.Minutes:
		f.Kind, f.N = "minutes", int64(v)
	case units.Date:
		f.Kind, f.N = "date", int64(v)
	case int:
		f.Kind, f.N = "count", int64(v)
	case Ref:
		f.Kind, f.Ref = "ref", &v
	case string:
		f.Kind, f.Text = "text", v
	default:
		panic(fmt.Sprintf("why: %T cannot be a fact", v))
	}
	return f
}

// Seconds makes a fact of an amount of stage time.
func Seconds(name string, s int) Fact { return Fact{Name: name, Kind: "seconds", N: int64(s)} }

// AboutBody marks a fact that quotes a body, so that erasing can find it.
func (f Fact) AboutBody() Fact { f.About = true; return f }

// Words prints the fact in the workroom's units, with the unit.
func (f Fact) Words(sys units.System) string {
	switch f.Kind {
	case "length":
		return sys.Print(units.Length(f.N)) + " " + sys.Unit()
	case "span":
		return sys.PrintSpan(*f.Span) + " " + sys.Unit()
	case "money":
		return units.Money(f.N).String()
	case "minutes":
		return units.Minutes(f.N).String()
	case "seconds":
		return fmt.Sprintf("%d s", f.N)
	case "date":
		return units.Date(f.N).Words()
	case "count":
		return fmt.Sprint(f.N)
	case "ref":
		return f.Ref.Code
	}
	return f.Text
}

// Reason is a rule applied to facts.
type Reason struct {
	Rule  string `json:"rule"` // the id
	Grade Grade  `json:"grade"`
	Facts []Fact `json:"facts,omitempty"`
}

// Because applies a rule: the result is data that can be stored, compared and
// put into words later.
func (r Rule) Because(g Grade, facts ...Fact) Reason {
	return Reason{Rule: r.ID, Grade: g, Facts: facts}
}

// Sentence puts a reason into words. A hole without a fact stays visible as
// "not known".
func (r Reason) Sentence(sys units.System) string {
	rule, ok := rules[r.Rule]
	if !ok {
		return "A rule this program no longer has: " + r.Rule
	}
	s := rule.Says
	for _, f := range r.Facts {
		s = strings.ReplaceAll(s, "{"+f.Name+"}", f.Words(sys))
	}
	for {
		i := strings.IndexByte(s, '{')
		j := strings.IndexByte(s, '}')
		if i < 0 || j < i {
			return s
		}
		s = s[:i] + "not known" + s[j+1:]
	}
}

// Basis is where the reason's rule comes from.
func (r Reason) Basis() Basis { return rules[r.Rule].Basis }

// AboutBody says whether any fact of the reason quotes a body.
func (r Reason) AboutBody() bool {
	for _, f := range r.Facts {
		if f.About {
			return true
		}
	}
	return false
}

// Verdict is a grade with everything that led to it, for and against.
type Verdict struct {
	Grade   Grade    `json:"grade"`
	Reasons []Reason `json:"reasons,omitempty"`
}

// Diff lists the reasons that are only in the one or only in the other
// verdict, in order: what changed between two runs.
func Diff(before, after Verdict) (gone, come []Reason) {
	return missing(before.Reasons, after.Reasons), missing(after.Reasons, before.Reasons)
}

func missing(from, in []Reason) []Reason {
	have := map[string]bool{}
	for _, r := range in {
		have[r.key()] = true
	}
	var out []Reason
	for _, r := range from {
		if !have[r.key()] {
			out = append(out, r)
		}
	}
	return out
}

func (r Reason) key() string { return fmt.Sprint(r.Rule, r.Grade) + r.Sentence(units.Metric) }

// And joins words for a sentence: "chest, waist and hip". Nothing gives "".
func And(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// Capital begins a sentence: its first letter is a capital.
func Capital(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}
