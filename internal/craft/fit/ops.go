package fit

import (
	_ "embed" // the table
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

//go:embed operations.txt
var operationsText string

// Operation is one thing that can be done to a garment, as the table has it.
type Operation struct {
	No          int    // in the table, 0 for what stands beside it
	Key         string // its short name
	Says        string // "take in the side seams"
	On          string // what kinds of garment
	Gives       string // where and how far, in mm
	Needs       string // cloth and notions
	Plain       units.Minutes
	Lined       units.Minutes
	Metre       units.Minutes // for a metre of hem
	Skill       answer.Skill
	Undo        string // yes, partly, no
	Seen        string // from 6 to 9 metres: no, little, yes
	Wrong       string // the usual mistake
	From        string // trade, practice or house
	look        int
	on          flags
	if_         flags
	seam, setIn bool // goes by the side; never on a guess
	edge        bool // ends a hem or a sleeve: there is one of each
	chosen      bool // by Judge: not only by a person
	at          int  // in the table
	gives       [places]give
}

// give is how far an operation changes a place: below 0 closer or shorter, as
// spare as the seams or the hem hold.
type give struct {
	by    units.Length
	spare bool
}

// flags are kinds of garments and things a garment or a look has.
type flags uint64

// flagNames are the words of the table for them, the kinds first.
var flagNames = []string{"dress", "shirt", "bodice", "waistcoat", "skirt", "trousers", "coat", "cloak", "under", "hat",
	"fitted", "not-fitted", "loose", "not-loose", "covered", "waist", "long", "short",
	"elastic", "gathered", "overlap", "buttons", "zip", "stretch", "sleeveless", "cut"}

func flag(word string) flags {
	if i := slices.Index(flagNames, word); i >= 0 {
		return 1 << i
	}
	return 0
}

// anyKind is every kind of garment.
const anyKind flags = 1<<10 - 1

// Operations lists all that can be done to a garment in a house, in the order
// of its table.
func Operations(h *show.House) []Operation { return slices.Clone(figuresOf(h).ops) }

// readOperations reads the table of operations: 16 cells a line parted by
// upright strokes, as its head says; # begins a remark.
func readOperations(text string) ([]Operation, error) {
	var out []Operation
	for _, r := range rows.Read(text) {
		bad := func(what string) error {
			return why.Bad("operations", fmt.Sprintf("Line %d, %q: %s.", r.Line, r.Text, what), "Correct it after the head of the table that ships.")
		}
		f := r.Cells
		if len(f) != 16 {
			return nil, bad(fmt.Sprintf("%d cells, 16 are wanted", len(f)))
		}
		var numbers [14]int
		for _, i := range []int{0, 7, 8, 9, 13} {
			if f[i] == "" {
				continue
			}
			v, err := strconv.Atoi(f[i])
			if err != nil || v < 0 || v > 5000 {
				return nil, bad(fmt.Sprintf("%q is no number", f[i]))
			}
			numbers[i] = v
		}
		o := Operation{No: numbers[0], Key: f[1], Says: f[2], On: f[3], Gives: f[5], Needs: f[6], Plain: units.Minutes(numbers[7]), Lined: units.Minutes(numbers[8]),
			Metre: units.Minutes(numbers[9]), Undo: f[10], Seen: f[11], Skill: answer.Skill(f[12]), look: numbers[13], Wrong: f[14], From: f[15], chosen: true, at: len(out)}
		if !slices.Contains([]string{"yes", "partly", "no"}, o.Undo) || !slices.Contains([]answer.Skill{answer.Beginner, answer.Straight, answer.Maker, answer.Tailor}, o.Skill) {
			return nil, bad("it is undone yes, partly or no, by a beginner, straight, maker or tailor")
		}
		o.conditions(f[3], f[4])
		for _, g := range strings.Fields(f[5]) {
			if !o.give(g) {
				return nil, bad(fmt.Sprintf("%q is no place and distance", g))
			}
		}
		out = append(out, o)
	}
	return out, nil
}

func (o *Operation) conditions(on, cond string) {
	for _, w := range strings.Fields(on) {
		o.on |= flag(w)
		if w == "any" {
			o.on = anyKind
		}
	}
	cond = strings.NewReplacer("not fitted", "not-fitted", "not loose", "not-loose", "set in", "set-in").Replace(cond)
	for _, w := range strings.Fields(cond) {
		switch w {
		case "seam":
			o.seam = true
		case "edge":
			o.edge = true
		case "set-in":
			o.setIn = true
		case "hand", "remake", "never":
			o.chosen = false
		default:
			o.if_ |= flag(w)
		}
	}
}

// give reads "chest-100", "waist+spare", "length+hem".
func (o *Operation) give(s string) bool {
	at := strings.IndexAny(s, "+-")
	if at < 0 {
		return false
	}
	pl := slices.Index(placeNames[:], s[:at])
	g := give{by: 1, spare: s[at+1:] == "spare" || s[at+1:] == "hem"}
	if !g.spare {
		n, err := strconv.Atoi(s[at+1:])
		if err != nil || n <= 0 {
			return false
		}
		g.by = units.Length(n) * mm
	}
	if pl < 0 {
		return false
	}
	if s[at] == '-' {
		g.by = -g.by
	}
	o.gives[pl] = g
	return true
}

// minutes on a garment, lined or not, with so much hem.
func (o *Operation) minutes(lined bool, hem units.Length) units.Minutes {
	m := o.Plain
	if lined {
		m = o.Lined
	}
	if o.Metre > 0 {
		m += units.Minutes((int64(o.Metre)*int64(hem) + int64(units.Metre)/2) / int64(units.Metre))
	}
	return m
}

// Hung is a garment with all that its words say worked out once, ready to be
// held against many.
type Hung struct {
	g     *show.Garment
	kind  string
	style string
	has   flags
	lined bool
	laced bool
	label [3]units.Span // chest, waist and hip by the label, where not measured
}

// Hang makes a garment ready.
func Hang(g *show.Garment) Hung {
	x := Hung{g: g, kind: kindOf(g.Category, g.Name), lined: g.Lined == "yes"}
	if g.Category == show.Dress {
		x.style = styleOf(g.Name)
	}
	x.has = flag(token(g.Category, x.kind))
	closes := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(g.Closure, w) })
	}
	set := func(word string, ok bool) {
		if ok {
			x.has |= flag(word)
		}
	}
	set("elastic", closes("elastic"))
	set("gathered", closes("elastic", "tie"))
	set("cut", !closes("elastic", "tie"))
	set("overlap", closes("hook", "button"))
	set("buttons", closes("button"))
	set("zip", closes("zip"))
	set("stretch", g.Stretch != "" && g.Stretch != "none")
	set("sleeveless", !g.Sleeve.Known)
	x.laced = closes("lacing")
	if g.Label != "" {
		x.label = byLabel(g)
	}
	return x
}

// token is the table's word for a kind of garment.
func token(c show.Category, kind string) string {
	switch c {
	case show.Dress:
		return "dress"
	case show.Shirt:
		return "shirt"
	case show.Bodice:
		if kind == "waistcoat" {
			return "waistcoat"
		}
		return "bodice"
	case show.Skirt:
		return "skirt"
	case show.Trousers:
		return "trousers"
	case show.Jacket:
		if kind == "cloak" {
			return "cloak"
		}
		return "coat"
	case show.Under:
		return "under"
	}
	return "hat"
}

// hemRound is the hem's girth, or a house guess from the widest girth known.
func (x *Hung) hemRound() units.Length {
	if x.g.HemRound.Known {
		return x.g.HemRound.Mid()
	}
	widest := max(x.g.Chest.Lo, x.g.Waist.Lo, x.g.Hip.Lo)
	if widest == 0 {
		return 2 * units.Metre
	}
	return widest + widest/3
}
