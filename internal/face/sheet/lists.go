package sheet

import (
	"fmt"
	"sort"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// length prints a length for a column whose head names the unit.
func length(p *workshop.Prepared, l units.Length) string { return p.House.Units.Print(l) }

// lengthWords prints a length with its unit.
func lengthWords(p *workshop.Prepared, l units.Length) string {
	return length(p, l) + " " + p.House.Units.Unit()
}

func span(p *workshop.Prepared, s units.Span) string {
	if !s.Known {
		return ""
	}
	return p.House.Units.PrintSpan(s)
}

// Work is one sheet for each helper who has work: what, for which piece, when.
func Work(p *workshop.Prepared) []Sheet {
	tasks := map[string]answer.Task{}
	for _, t := range p.Workroom.Tasks {
		tasks[t.ID] = t
	}
	by := map[show.HelperID][]answer.Slot{}
	for _, s := range p.Workroom.Slots {
		by[s.Helper] = append(by[s.Helper], s)
	}
	var out []Sheet
	for _, h := range p.House.Helpers {
		if len(by[h.ID]) == 0 {
			continue
		}
		s := blank(p, "work-"+string(h.ID), "work", h.Name)
		s.Under = "House estimates in minutes at your own pace. Write down what it took."
		var day units.Date
		var table *Table
		for _, slot := range by[h.ID] {
			if slot.Day != day {
				day = slot.Day
				table = &Table{Columns: []Column{{Head: "piece", Share: 2, Bold: true}, {Head: "what it is", Share: 7}, {Head: "do", Share: 6}, {Head: "minutes", Share: 2, Right: true}, {Head: "took", Share: 2}}}
				s.Blocks = append(s.Blocks, Block{Heading: day.Short()}, Block{Table: table})
			}
			t := tasks[slot.Task]
			name := ""
			if q := p.House.Piece(t.Piece); q != nil {
				name = fmt.Sprintf("%s (%s)", q.Name, q.Colour)
			}
			table.Rows = append(table.Rows, Row{Tick: true, Cells: []string{string(t.Piece), name, t.Do, fmt.Sprint(int64(slot.Minutes)), ""}})
		}
		out = append(out, s)
	}
	return out
}

// Shopping is the shopping list: garment numbers and colours, no name and no
// body. Girths are flat, as the tape reads them in the shop.
func Shopping(p *workshop.Prepared) Sheet {
	s := blank(p, "shopping", "shopping list", "To look for in shops")
	s.Under = "Lay it flat and measure: half round the garment. Say no to beads on seams, moth, no seam to let out."
	unit := p.House.Units.Unit()
	asked := []Column{{Head: "piece", Share: 3, Bold: true}, {Head: "what, colour", Share: 8}, {Head: "chest flat, " + unit, Share: 4, Right: true},
		{Head: "waist flat, " + unit, Share: 4, Right: true}, {Head: "hip flat, " + unit, Share: 4, Right: true}, {Head: "length, " + unit, Share: 4, Right: true}, {Head: "at most", Share: 3, Right: true}}
	garments, wanted := &Table{Columns: asked}, &Table{Columns: asked}
	cloth := &Table{Columns: []Column{{Head: "piece", Share: 3, Bold: true}, {Head: "for", Share: 8}, {Head: "colour", Share: 5}, {Head: "length, " + unit, Share: 3, Right: true}, {Head: "about", Share: 3, Right: true}}}
	var sum units.Money
	for _, e := range p.Errands {
		sum += e.Price
		if e.Cloth > 0 {
			cloth.Rows = append(cloth.Rows, Row{Tick: true, Cells: []string{string(e.Piece), strings.TrimPrefix(e.What, "cloth for "), e.Colour, length(p, e.Cloth), e.Price.String()}})
			continue
		}
		t, most := garments, ""
		if e.Limit.Known {
			most = e.Limit.V.String()
		}
		if e.Without {
			t = wanted
		}
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{string(e.Piece), e.What + ", " + e.Colour,
			flat(p, e, "chest"), flat(p, e, "waist"), flat(p, e, "hip"), along(p, e, "length"), most}})
	}
	garments.Foot = []string{"", "in all, with cloth", "", "", "", "", sum.String()}
	if len(garments.Rows)+len(cloth.Rows) == 0 {
		s.Blocks = append(s.Blocks, Block{Say: "The plan buys nothing."})
	} else {
		s.Blocks = append(s.Blocks, Block{Heading: "Garments"}, Block{Table: garments})
	}
	if len(cloth.Rows) > 0 {
		s.Blocks = append(s.Blocks, Block{Heading: "Cloth"}, Block{Table: cloth})
	}
	if len(wanted.Rows) > 0 {
		s.Blocks = append(s.Blocks, Block{Heading: "Without a source, no money set aside"}, Block{Table: wanted})
	}
	return s
}

// flat prints half of what is asked round the garment.
func flat(p *workshop.Prepared, e answer.Errand, where string) string {
	for _, w := range e.Windows {
		if w.Where == where {
			half := w.Span.Times(1, 2)
			if w.Open {
				return length(p, half.Lo) + " up"
			}
			return span(p, half)
		}
	}
	return ""
}

func along(p *workshop.Prepared, e answer.Errand, where string) string {
	for _, w := range e.Windows {
		if w.Where == where {
			return span(p, w.Span)
		}
	}
	return ""
}

// Rail is the rail list: what hangs where, its flat numbers, and what it is
// for.
func Rail(p *workshop.Prepared) Sheet {
	s := blank(p, "rail", "rail list", "The rail")
	s.Paper, s.Size = A4Wide, 10
	s.Under = "Flat numbers, in " + p.House.Units.String() + ", as it hangs."
	uses := map[show.GarmentID][]string{}
	for _, c := range p.Plan.Choices {
		if c.Garment != "" {
			uses[c.Garment] = append(uses[c.Garment], string(c.Piece)+" "+string(c.Source))
		}
	}
	gs := append([]show.Garment{}, p.House.Garments...)
	for _, f := range p.House.Finds {
		if f.Decision == "bought" {
			g := f.Garment
			if g.Place == "" {
				g.Place = "found"
			}
			gs = append(gs, g)
		}
	}
	sort.SliceStable(gs, func(i, j int) bool { return gs[i].Place < gs[j].Place })
	t := &Table{Columns: []Column{{Head: "place", Share: 2}, {Head: "code", Share: 2, Bold: true}, {Head: "what, colour", Share: 9}, {Head: "chest", Share: 3, Right: true}, {Head: "waist", Share: 4, Right: true},
		{Head: "hip", Share: 3, Right: true}, {Head: "length", Share: 3, Right: true}, {Head: "sleeve", Share: 2, Right: true}, {Head: "closes", Share: 4}, {Head: "for", Share: 6}}}
	for _, g := range gs {
		half := func(x units.Span) string { return span(p, x.Times(1, 2)) }
		t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{g.Place, string(g.ID), g.Name + ", " + g.Colour, half(g.Chest), half(g.Waist), half(g.Hip),
			span(p, g.Length), span(p, g.Sleeve), g.Closure, strings.Join(uses[g.ID], ", ")}})
	}
	s.Blocks = append(s.Blocks, Block{Table: t})
	return s
}

// Money is the money sheet: lines, slips, who is owed.
func Money(p *workshop.Prepared) Sheet {
	s := blank(p, "money", "money", "How the money stands")
	m := p.Money
	cur := p.House.Show.Currency
	s.Under = fmt.Sprintf("In %s. Lines are shown, the limit is the sum less what is held back.", cur)
	t := &Table{Columns: []Column{{Head: "line", Share: 9}, {Head: "planned", Share: 3, Right: true}, {Head: "spent", Share: 3, Right: true}, {Head: "promised", Share: 3, Right: true}, {Head: "still needed", Share: 3, Right: true}}}
	for _, l := range m.Lines {
		t.Rows = append(t.Rows, Row{Cells: []string{l.Line, l.Planned.String(), l.Spent.String(), l.Promised.String(), l.Needed.String()}})
	}
	t.Foot = []string{"in all", m.Sum.String(), m.Spent.String(), m.Promised.String(), m.Needed.String()}
	s.Blocks = append(s.Blocks, Block{Table: t}, Block{Say: fmt.Sprintf("%s is held back. %s is free.", m.Held, m.Free)})
	slips := &Table{Columns: []Column{{Head: "slip", Share: 2, Bold: true}, {Head: "day", Share: 4}, {Head: "shop", Share: 8}, {Head: "sum", Share: 3, Right: true}, {Head: "paid by", Share: 5}, {Head: "paid back", Share: 4}}}
	for _, r := range p.Receipts {
		who := string(r.PaidBy)
		if h := p.House.Helper(r.PaidBy); h != nil {
			who = h.Name
		}
		back := "not yet"
		if r.PaidBackOn != 0 {
			back = r.PaidBackOn.Short()
		}
		slip := string(r.ID)
		if !r.Slip {
			slip += ", lost"
		}
		slips.Rows = append(slips.Rows, Row{Cells: []string{slip, r.Day.Short(), r.Shop, r.Sum.V.String(), who, back}})
	}
	if len(slips.Rows) > 0 {
		s.Blocks = append(s.Blocks, Block{Heading: "Slips"}, Block{Table: slips})
	}
	if m.NoSlip > 0 {
		s.Blocks = append(s.Blocks, Block{Say: m.NoSlip.String() + " spent without a slip."})
	}
	return s
}

// Wash is the wash list: what lies on the skin or at the neck, by how it is
// washed.
func Wash(p *workshop.Prepared) Sheet {
	s := blank(p, "wash", "wash list", "Wash after each show")
	s.Under = "What lies on the skin or at the neck. Make-up on white first."
	groups := map[string][]Row{}
	var order []string
	for _, c := range p.Plan.Choices {
		q := p.House.Piece(c.Piece)
		if q == nil || c.Source == answer.GoWithout || !(q.Layer == 1 || q.Category == show.Shirt || q.Fit == "neck") {
			continue
		}
		how := "not known: test first"
		if g := p.House.Garment(c.Garment); c.Garment != "" && g != nil && g.Washing != "" {
			how = g.Washing
		} else if k := p.House.Cloth(c.Cloth); c.Cloth != "" && k != nil {
			how = k.Fibre
		}
		if groups[how] == nil {
			order = append(order, how)
		}
		groups[how] = append(groups[how], Row{Tick: true, Cells: []string{string(q.ID), q.Name, q.Colour, ""}})
	}
	sort.Strings(order)
	for _, how := range order {
		s.Blocks = append(s.Blocks, Block{Heading: how}, Block{Table: &Table{Columns: []Column{{Head: "piece", Share: 2, Bold: true}, {Head: "what", Share: 8}, {Head: "colour", Share: 4}, {Head: "mend", Share: 5}}, Rows: groups[how]}})
	}
	return s
}
