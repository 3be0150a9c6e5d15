package fit

import (
	_ "embed" // the table
	"fmt"
	"strconv"
	"strings"
	"sync"

	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

//go:embed ease.txt
var easeText string

// figures are the tables a judgement rests on: the ones that ship, or the
// person's own.
type figures struct {
	eases map[string]girths
	hems  map[string]units.Length
	ops   []Operation
	// what the judging itself calls for
	elastic, drawIn, sleevesOn, loops, press *Operation

	steps sync.Map // of each task logged so far, the operations in it by their place in ops
}

// shipped are the figures that ship. They can be read: a test does.
var shipped = func() *figures {
	f, err := readFigures(easeText, operationsText)
	if err != nil {
		panic(err)
	}
	return f
}()

var own sync.Map // figures by the two texts

// figuresOf are the figures of a house: its own texts, where it has any that
// can be read.
func figuresOf(h *show.House) *figures {
	ease, ops := h.Tables["ease"], h.Tables["operations"]
	if ease+ops == "" {
		return shipped
	}
	key := [2]string{ease, ops}
	if f, ok := own.Load(key); ok {
		return f.(*figures)
	}
	if ease == "" {
		ease = easeText
	}
	if ops == "" {
		ops = operationsText
	}
	f, err := readFigures(ease, ops)
	if err != nil {
		f = shipped // Check says what is wrong before it comes to this
	}
	own.Store(key, f)
	return f
}

// stepsOf are the operations a task holds among its steps, by their place in
// the table. Logs name few tasks many times, so each is read once.
func (f *figures) stepsOf(task string) []int {
	if at, there := f.steps.Load(task); there {
		return at.([]int)
	}
	var at []int
	for i := range f.ops {
		if strings.Contains(", "+task+", ", ", "+f.ops[i].Says+", ") {
			at = append(at, i)
		}
	}
	f.steps.Store(task, at)
	return at
}

// Texts are what the figures are read from.
var Texts = []rows.Text{
	{Name: "ease", Says: "wearing ease, and how far hems hang above the floor", Ships: easeText, Check: func(text string) error {
		_, err := readFigures(text, operationsText)
		return err
	}},
	{Name: "operations", Says: "what can be done to a garment, what it gives and how long it takes", Ships: operationsText, Check: func(text string) error {
		_, err := readFigures(easeText, text)
		return err
	}},
}

func readFigures(ease, ops string) (*figures, error) {
	f := &figures{eases: map[string]girths{}, hems: map[string]units.Length{}}
	for _, r := range rows.Read(ease) {
		if !f.easeLine(r.Cells) {
			return nil, r.Bad("ease", "Write: ease | kind and fit | six numbers in mm or - | from; or: hem | where | mm | from.")
		}
	}
	for key := range mustHave {
		if _, ok := f.eases[key]; !ok {
			return nil, why.Bad("ease", fmt.Sprintf("The ease of %q is missing.", key), "Take the line over from the table that ships.")
		}
	}
	for _, key := range hemNames {
		if _, ok := f.hems[key]; !ok {
			return nil, why.Bad("ease", fmt.Sprintf("The hem %q is missing.", key), "Take the line over from the table that ships.")
		}
	}
	var err error
	if f.ops, err = readOperations(ops); err != nil {
		return nil, err
	}
	for key, at := range map[string]**Operation{"elastic for two": &f.elastic, "cord for two": &f.drawIn, "sleeves on": &f.sleevesOn, "loops for two": &f.loops, "press": &f.press} {
		for i := range f.ops {
			if f.ops[i].Key == key {
				*at = &f.ops[i]
			}
		}
		if *at == nil {
			return nil, why.Bad("operations", fmt.Sprintf("The operation %q is missing.", key), "Take the line over from the table that ships.")
		}
	}
	return f, nil
}

// mustHave are the kinds and fits a piece can ask the ease of.
var mustHave = map[string]bool{"dress fitted": true, "dress easy": true, "dress loose": true, "skirt fitted": true, "skirt easy": true, "skirt loose": true,
	"shirt fitted": true, "shirt easy": true, "shirt loose": true, "trousers fitted": true, "trousers easy": true, "trousers loose": true,
	"bodice fitted": true, "bodice easy": true, "bodice loose": true, "coat fitted": true, "coat easy": true, "coat loose": true,
	"stays": true, "shift": true, "petticoat": true, "tied": true}

var hemNames = []string{"floor", "floor, danced in", "floor, on stairs", "ankle", "ankle, trousers", "calf"}

// easeLine reads one line of the table; false where it is not understood.
func (f *figures) easeLine(c []string) bool {
	mmAt := func(s string) (units.Length, bool) {
		n, err := strconv.Atoi(s)
		return units.Length(n) * mm, err == nil && n >= 0 && n <= 2000
	}
	switch {
	case len(c) == 4 && c[0] == "hem":
		l, ok := mmAt(c[2])
		f.hems[c[1]] = l
		return ok
	case len(c) == 9 && c[0] == "ease":
		var g girths
		for i := range g {
			if c[2+2*i] == "-" {
				continue
			}
			lo, ok := mmAt(c[2+2*i])
			hi, ok2 := mmAt(c[3+2*i])
			if !ok || !ok2 || hi != 0 && hi < lo {
				return false
			}
			g[i] = ease{lo, hi, true}
		}
		f.eases[c[1]] = g
		return true
	}
	return false
}
