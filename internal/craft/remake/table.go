package remake

import (
	_ "embed" // the table
	"fmt"
	"strconv"
	"strings"
	"sync"

	"hemwright/internal/show/answer"
	"hemwright/internal/value/units"
)

//go:embed harvest.txt
var harvestText string

// kind is one row of the table of harvests: what a kind of garment gives.
type kind struct {
	name               string
	called             [][]string // the words of each name
	kin                []string   // nouns reckoned by this row
	nominal            map[string]units.Length
	parts              []panel
	bulk               []answer.GivenBulk
	m2                 answer.AreaSpan // usable cloth in all, as printed
	cut, unpick, press answer.MinuteSpan
	seams              string
	notions            []answer.GivenNotion
	use, lookOut       []string
	marks              []string
}

// panel is one shape of a kind.
type panel struct {
	name              string
	count, upTo       int
	pair, bias, whole bool
	shape             string // rect, trapeze, disc, half-ring
	sizes             []size
}

// size is a length that follows a measure of the garment.
type size struct {
	lo, hi  units.Length // on the nominal garment
	by      byte         // '*' in proportion, '+' centimetre by centimetre, 0 not at all
	measure string
}

// shapes are the shapes with the number of sizes each takes.
var shapes = map[string]int{"rect": 2, "trapeze": 3, "disc": 1, "half-ring": 2}

var kinds = sync.OnceValue(func() []kind {
	all, err := readKinds(harvestText)
	if err != nil {
		panic(err) // a test reads the table
	}
	return all
})

// readKinds reads a table written as the one that ships. The error names the
// line.
func readKinds(text string) ([]kind, error) {
	var out []kind
	for i, line := range strings.Split(text, "\n") {
		bare := strings.TrimSpace(line)
		switch {
		case bare == "" || strings.HasPrefix(bare, "#"):
			continue
		case !strings.HasPrefix(line, " "):
			out = append(out, kind{name: bare, nominal: map[string]units.Length{}})
			continue
		case len(out) == 0:
			return nil, fmt.Errorf("line %d: nothing stands above it", i+1)
		}
		key, value, _ := strings.Cut(bare, ":")
		if err := out[len(out)-1].set(key, strings.TrimSpace(value)); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	for _, k := range out {
		if err := k.whole(); err != nil {
			return nil, fmt.Errorf("%s: %w", k.name, err)
		}
	}
	return out, nil
}

// whole says whether every measure a size follows has its nominal figure.
func (k *kind) whole() error {
	if len(k.called) == 0 || len(k.marks) == 0 {
		return fmt.Errorf("it is called nothing, or has no mark")
	}
	for _, p := range k.parts {
		for _, s := range p.sizes {
			if s.measure != "" && k.nominal[s.measure] <= 0 {
				return fmt.Errorf("no nominal %s for the %s", s.measure, p.name)
			}
		}
	}
	return nil
}

func (k *kind) set(key, value string) (err error) {
	switch key {
	case "called":
		for _, name := range fields(value, ";") {
			k.called = append(k.called, strings.Fields(name))
		}
	case "kin":
		k.kin = fields(value, ";")
	case "nominal":
		for _, f := range fields(value, ";") {
			name, cm, _ := strings.Cut(f, " ")
			if k.nominal[name], _, err = cms(cm); err != nil {
				return err
			}
		}
	case "part":
		p, err := panelOf(fields(value, "|"))
		k.parts = append(k.parts, p)
		return err
	case "bulk":
		f := fields(value, "|")
		a, err := areas(f[len(f)-1])
		k.bulk = append(k.bulk, answer.GivenBulk{What: f[0], Area: a})
		return err
	case "m2":
		k.m2, err = areas(value)
	case "cut":
		k.cut, err = minutes(value)
	case "unpick":
		k.unpick, err = minutes(value)
	case "press":
		k.press, err = minutes(value)
	case "seams":
		k.seams = value
		if _, ok := rates[value]; !ok {
			err = fmt.Errorf("what are %q seams?", value)
		}
	case "and":
		n, err := notionOf(fields(value, "|"))
		k.notions = append(k.notions, n)
		return err
	case "use":
		k.use = fields(value, ";")
	case "look out":
		k.lookOut = append(k.lookOut, value)
	case "mark":
		k.marks = fields(value, ";")
		for _, m := range k.marks {
			if _, ok := origins[m]; !ok {
				err = fmt.Errorf("what is the mark %q?", m)
			}
		}
	default:
		err = fmt.Errorf("what is %q?", key)
	}
	return err
}

// fields splits and trims.
func fields(s, at string) []string {
	out := strings.Split(s, at)
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

func panelOf(f []string) (panel, error) {
	if len(f) < 2 {
		return panel{}, fmt.Errorf("a part lacks how many")
	}
	p := panel{name: f[0]}
	for _, w := range strings.Fields(f[1]) {
		switch w {
		case "pair":
			p.pair = true
		case "bias":
			p.bias = true
		case "whole":
			p.whole = true
		default:
			lo, hi, err := ints(strings.TrimPrefix(w, "x"))
			if err != nil || lo < 1 {
				return p, fmt.Errorf("%q is no number of parts", w)
			}
			p.count, p.upTo = lo, hi
		}
	}
	if p.count == 0 || p.whole != (len(f) == 2) {
		return p, fmt.Errorf("the %s lacks a number or a shape", p.name)
	}
	if p.whole {
		return p, nil
	}
	words := strings.Fields(f[2])
	p.shape = words[0]
	if n, ok := shapes[p.shape]; !ok || len(words) != n+1 {
		return p, fmt.Errorf("%q is no shape", f[2])
	}
	for _, w := range words[1:] {
		s, err := sizeOf(w)
		if err != nil {
			return p, err
		}
		p.sizes = append(p.sizes, s)
	}
	return p, nil
}

func sizeOf(w string) (s size, err error) {
	if i := strings.IndexAny(w, "*+"); i > 0 {
		s.by, s.measure = w[i], w[i+1:]
		w = w[:i]
	}
	s.lo, s.hi, err = cms(w)
	if err == nil && s.lo <= 0 {
		err = fmt.Errorf("%q is no size", w)
	}
	return s, err
}

// notionOf reads what, size or length, how many. A size in cm is a length.
func notionOf(f []string) (answer.GivenNotion, error) {
	if len(f) != 3 && len(f) != 2 {
		return answer.GivenNotion{}, fmt.Errorf("%d fields where there are 3", len(f))
	}
	n := answer.GivenNotion{Name: f[0]}
	if long, ok := strings.CutSuffix(f[1], " cm"); ok {
		lo, hi, err := cms(long)
		if err != nil {
			return n, err
		}
		n.Long = units.Between(lo, hi)
	} else {
		n.Size = f[1]
	}
	if len(f) == 3 && f[2] != "" {
		lo, hi, err := ints(f[2])
		if err != nil {
			return n, err
		}
		n.Count = answer.CountSpan{Lo: lo, Hi: hi, Known: true}
	}
	return n, nil
}

// numbers reads "15" or "15-25".
func numbers(s string) (lo, hi float64, err error) {
	a, b, two := strings.Cut(strings.TrimSpace(s), "-")
	if !two {
		b = a
	}
	if lo, err = strconv.ParseFloat(a, 64); err == nil {
		hi, err = strconv.ParseFloat(b, 64)
	}
	if err != nil || lo < 0 || hi < lo {
		return 0, 0, fmt.Errorf("%q is no figure", s)
	}
	return lo, hi, nil
}

func cms(s string) (lo, hi units.Length, err error) {
	a, b, err := numbers(s)
	return units.Cm(a), units.Cm(b), err
}

func ints(s string) (lo, hi int, err error) {
	a, b, err := numbers(s)
	return int(a), int(b), err
}

func minutes(s string) (answer.MinuteSpan, error) {
	lo, hi, err := ints(s)
	return answer.MinuteSpan{Lo: units.Minutes(lo), Hi: units.Minutes(hi), Known: err == nil}, err
}

func areas(s string) (answer.AreaSpan, error) {
	lo, hi, err := numbers(s)
	return answer.AreaSpan{Lo: units.Area(lo * float64(units.SquareMetre)), Hi: units.Area(hi * float64(units.SquareMetre)), Known: err == nil}, err
}

// called finds the row for a name: the row whose words are all in it, the most
// words first; else the row its noun is reckoned by. near says that it is only
// reckoned so.
func calledRow(name, noun string) (k *kind, near bool) {
	name = strings.ToLower(name)
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(name, func(r rune) bool { return strings.ContainsRune(" ,;:/()", r) }) {
		words[w] = true
	}
	most := 0
	all := kinds()
	for i := range all {
		for _, c := range all[i].called {
			if len(c) > most && allWords(words, c) {
				k, most = &all[i], len(c)
			}
		}
	}
	if k != nil {
		return k, false
	}
	for i := range all {
		for _, n := range all[i].kin {
			if n == noun && noun != "" {
				return &all[i], true
			}
		}
	}
	return nil, false
}

func allWords(have map[string]bool, want []string) bool {
	for _, w := range want {
		if !have[w] {
			return false
		}
	}
	return true
}
