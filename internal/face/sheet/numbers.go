package sheet

import (
	"fmt"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// Numbers is everything kept about one performer, for the family: what was
// measured, when and by whom, and when it is erased. Besides the measuring
// sheet no other sheet holds a measure; it is not among the set that is
// printed for everybody.
func Numbers(p *workshop.Prepared, id show.PerformerID) Sheet {
	s := blank(p, "our-numbers-"+string(id), "our numbers", string(id))
	who := p.House.Performer(id)
	if who == nil {
		return s
	}
	s.Title = who.Name
	s.Corner = string(id)
	s.Under = "What we keep about your child: all of it. For the family only."
	s.Blocks = append(s.Blocks, measuresBlock(who, p.House.Units))
	kept := Table{Columns: []Column{{Head: "kept", Share: 3, Bold: true}, {Head: "what", Share: 7}}}
	add := func(name, value string) {
		if strings.TrimSpace(value) != "" {
			kept.Rows = append(kept.Rows, Row{Cells: []string{name, value}})
		}
	}
	if who.Age.Known {
		add("age", fmt.Sprintf("%d years on the measuring day", who.Age.V))
	}
	add("born", who.BirthMonth)
	add("letter for growth tables", who.GrowthSex)
	add("answer about measuring", who.Consent)
	add("dressing room", who.Room)
	add("rules for pieces", strings.Join(who.Care, "; "))
	for _, by := range who.NotBy {
		if h := p.House.Helper(by); h != nil {
			add("not dressed by", h.Name)
		}
	}
	add("note", who.Note)
	add("size on a label", who.LabelSize)
	add("a garment that fits", string(who.FitsGarment))
	add("shoe size", who.ShoeSize)
	if f := p.House.FeetOf(id); f != nil {
		add("shoes", strings.Join(nonEmpty(f.ShoeSize, f.Shoe, f.ShoeFrom), ", "))
		add("hosiery", strings.Join(nonEmpty(f.Hosiery, f.HosierySize, f.Shade, f.HosieryFrom), ", "))
		add("worn beneath", f.LayerOne)
	}
	if len(kept.Rows) > 0 {
		s.Blocks = append(s.Blocks, Block{Heading: "Besides", Table: &kept})
	}
	day, pencil := workshop.EraseDay(&p.House)
	says := "No day is set yet on which this is erased. You may have it erased at any time."
	if day != 0 {
		says = "All of it is erased on " + day.Words() + year(day) + ". You may have it erased earlier, at any time."
		if pencil {
			says = "All of it is to be erased on " + day.Words() + year(day) + ", a day assumed from the last performance. You may have it erased earlier, at any time."
		}
	}
	s.Blocks = append(s.Blocks, Block{Heading: "How long", Say: says},
		Block{Say: "It lies on one machine, in one file and the copies beside it. First names stand on sheets of clothes; measures stand on the measuring sheet and here."})
	return s
}

func measuresBlock(who *show.Performer, sys units.System) Block {
	t := Table{Columns: []Column{{Head: "measure", Share: 4, Bold: true}, {Head: sys.Unit(), Share: 2, Right: true}, {Head: "taken", Share: 3}, {Head: "by", Share: 4}}}
	for _, k := range body.All() {
		m := who.Body[k]
		if !m.Span.Known {
			continue
		}
		taken := m.Origin.String()
		if m.Day != 0 {
			taken = m.Day.Words() + year(m.Day)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{k.String(), sys.PrintSpan(m.Span), taken, m.Who}})
	}
	if len(t.Rows) == 0 {
		return Block{Heading: "Measures", Say: "None."}
	}
	return Block{Heading: "Measures", Table: &t}
}

// ToDestroy lists the papers and files outside the program that may hold
// people's data, to be destroyed by hand and ticked off.
func ToDestroy(showName, printed string, e store.Erasing) Sheet {
	s := Sheet{Key: "to-destroy", Name: "to destroy", Title: "Papers and files to destroy", Show: showName, Printed: printed, Paper: A4, Size: 12,
		Under: "These the program cannot reach."}
	known := map[string][]string{}
	for _, o := range e.Outside {
		known[o.Kind] = append(known[o.Kind], strings.TrimSpace(o.Name+" "+o.Day))
	}
	for _, part := range []struct{ kind, heading, always string }{
		{"paper", "Paper", "measuring sheets, all of them, counted"},
		{"spreadsheet", "Spreadsheets they came from", "cast lists in mail, on sticks and in shared folders"},
		{"copy", "Other copies of the house", "copies on sticks and other machines; the wastebasket of this one"},
	} {
		s.Blocks = append(s.Blocks, Block{Heading: part.heading, Ticks: append(known[part.kind], part.always)})
	}
	s.Blocks = append(s.Blocks, Block{Heading: "And", Ticks: []string{"pocket pages on phones", "photographs of people on phones and cameras", "lists on the wall"}},
		Block{Say: "A disk may keep parts of deleted files where no program finds them. Where that matters, keep the machine’s disk encrypted."})
	return s
}
