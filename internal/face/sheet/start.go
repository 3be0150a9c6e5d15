package sheet

import (
	"fmt"
	"strings"

	"hemwright/internal/plan/needs"
	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

// Measuring is one sheet for each performer who is measured: only the boxes
// that are needed, in the order of the tape, to be filled in pencil.
func Measuring(p *workshop.Prepared) []Sheet {
	want := needs.Measures(&p.House)
	var out []Sheet
	n := 0
	for _, who := range p.House.Performers {
		kinds := want[who.ID]
		if len(kinds) == 0 {
			continue
		}
		n++
		s := blank(p, "measuring-"+string(who.ID), "measuring", FirstName(who.Name))
		s.Paper, s.Size = A5, 14
		s.Corner = string(who.ID)
		s.Under = fmt.Sprintf("Over thin clothes, in pencil, with a second adult there. Sheet %d; count it back in.", n)
		t := &Table{High: 10, Columns: []Column{{Share: 5}, {Head: p.House.Units.Unit(), Share: 4}, {Head: "again", Share: 4}}}
		for _, k := range kinds {
			t.Rows = append(t.Rows, Row{Cells: []string{k.String(), "", ""}})
		}
		t.Rows = append(t.Rows, Row{Cells: []string{"shoe", "", ""}})
		if who.Held() {
			s.Blocks = append(s.Blocks, Block{Bar: "Ask first: the family’s answer is not back."})
		}
		s.Blocks = append(s.Blocks, Block{Table: t},
			Block{Say: "Fits well: label or garment ____________________"},
			Block{Ticks: []string{"here", "at home", "no, not measured", "speak to the lead"}},
			Block{Say: "on ________  by ____________  with ____________"})
		out = append(out, s)
	}
	return out
}

// Letter is the first letter to families: measuring, and what is asked.
func Letter(p *workshop.Prepared) Sheet {
	s := blank(p, "letter-1", "letter to families", "Measuring, and what we ask")
	s.Under = "One page; the slip at the foot comes back."
	day := "____________"
	for _, e := range p.House.Calendar {
		if e.Kind == "fit" && strings.Contains(strings.ToLower(e.What), "measur") {
			day = e.Day.Long()
			break
		}
	}
	for _, part := range []struct{ head, words string }{
		{"When", fmt.Sprintf("We dress everybody in %s from what we have, what we are given and what we sew. For that we measure on %s.", or(p.House.Show.Name, "the show"), day)},
		{"How", "Two adults are there. We measure over thin clothes, only what a costume hangs on, and never say a number aloud. You may measure at home on our sheet, or say no: loose and tied things always go."},
		{"The numbers", "They stay on one computer, are on no list on a wall, and are deleted after the last show. You may see them, or have them deleted, at any time."},
		{"Please bring", "To every fitting, please: a plain vest and plain shorts of your own, to wear underneath. If that is not easy, we lend them; just tick. It costs nothing."},
		{"Tell us", "Privately, what the clothes should know: skin, metal, elastic, hair or arms covered, a room of one’s own. We need no reason."},
	} {
		s.Blocks = append(s.Blocks, Block{Heading: part.head}, Block{Say: part.words})
	}
	s.Blocks = append(s.Blocks, Block{Heading: "Slip"}, Block{Say: "First name ____________________   Phone ____________________"},
		Block{Ticks: []string{"you may measure", "we measure at home", "no measuring", "please lend vest and shorts", "please ring me"}},
		Block{Say: "Label size ________   Shoe ________   Signed ____________________"})
	return s
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// RailBlank is a rail sheet of empty rows, numbered, to be filled standing.
func RailBlank(p *workshop.Prepared) Sheet {
	s := blank(p, "rail-blank", "rail sheet for pencil", "What hangs here")
	s.Paper, s.Size = A4Wide, 12
	s.Under = "Flat numbers, in " + p.House.Units.String() + ", as it hangs: the program doubles them. One line each; type them later by their number."
	t := &Table{High: 7, Columns: []Column{{Head: "no.", Share: 2, Bold: true}, {Head: "what, colour", Share: 10}, {Head: "chest", Share: 3}, {Head: "waist", Share: 3}, {Head: "hip", Share: 3}, {Head: "length", Share: 3},
		{Head: "closes", Share: 5}, {Head: "lined", Share: 2}, {Head: "spare in seam, hem", Share: 4}, {Head: "place", Share: 3}}}
	for i := range 20 {
		t.Rows = append(t.Rows, Row{Cells: []string{fmt.Sprint(i + 1), "", "", "", "", "", "", "", "", ""}})
	}
	s.Blocks = append(s.Blocks, Block{Table: t})
	return s
}

// Looks is the look list for the director: every look with its pieces and
// colours, to be agreed.
func Looks(p *workshop.Prepared) Sheet {
	s := blank(p, "looks", "look list", "Who wears what")
	s.Under = "To be agreed: tick, or write beside it what should be otherwise."
	t := &Table{Columns: []Column{{Head: "role", Share: 5, Bold: true}, {Head: "look", Share: 6}, {Head: "pieces, colours", Share: 12}, {Head: "agreed", Share: 4}}}
	groups := map[string]int{}
	for _, l := range p.House.Looks {
		role := p.House.Role(l.Role)
		if role == nil {
			continue
		}
		var names []string
		for _, q := range p.House.LookPieces(l.ID) {
			names = append(names, strings.TrimSuffix(q.Name+", "+q.Colour, ", "))
		}
		what := strings.Join(names, "; ")
		if at, there := groups[role.Group+"|"+l.Name+"|"+what]; role.Group != "" && there {
			row := &t.Rows[at]
			row.Cells[0] = role.Group
			continue
		}
		groups[role.Group+"|"+l.Name+"|"+what] = len(t.Rows)
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{shortRole(role), l.Name, what, ""}})
	}
	if len(t.Rows) == 0 {
		s.Blocks = append(s.Blocks, Block{Say: "No looks yet."})
		return s
	}
	s.Blocks = append(s.Blocks, Block{Table: t})
	return s
}

// shortRole is a role's name before its comma.
func shortRole(r *show.Role) string {
	name, _, _ := strings.Cut(r.Name, ",")
	return name
}
