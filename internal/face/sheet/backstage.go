package sheet

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// RunningList is the show scene by scene for everybody backstage: who is on,
// in which look, from which side; changes under three minutes stand in bars.
func RunningList(p *workshop.Prepared) Sheet {
	s := blank(p, "running-list", "running list", "Who is on")
	s.Size = 12
	if len(p.Timelines) == 0 || len(p.House.Scenes) == 0 {
		s.Blocks = append(s.Blocks, Block{Say: "No scenes yet."})
		return s
	}
	t := p.Timelines[0]
	s.Under = fmt.Sprintf("Cast %s. Minutes count from curtain up. Changes under three minutes stand in bars.", t.Cast)
	for _, sc := range p.House.Scenes {
		from := t.Starts[sc.ID]
		s.Blocks = append(s.Blocks, Block{Number: number(sc.ID), Heading: fmt.Sprintf("%s  %s to %s", sc.Title, Clock(from), Clock(from+sc.Running))})
		s.Blocks = append(s.Blocks, Block{Table: onIn(p, t, sc)})
		for _, c := range t.Changes {
			if c.ToScene == sc.ID && c.Seconds < 180 {
				s.Blocks = append(s.Blocks, Block{Bar: fmt.Sprintf("%s  %s  %s, %s to %s. %s", Clock(c.Leaves), firstOf(p, c.Performer), about(p, c)+lasting(c.Seconds), Side(c.FromSide), Side(c.ToSide), helped(p, t, c))})
			}
		}
		if sc.Interval > 0 {
			s.Blocks = append(s.Blocks, Block{Bar: fmt.Sprintf("INTERVAL, %d minutes", int(sc.Interval/time.Minute))})
		}
	}
	return s
}

// onIn lists who is on in a scene, those of one group, look and times in one
// line.
func onIn(p *workshop.Prepared, t answer.Timeline, sc show.Scene) *Table {
	out := &Table{Columns: []Column{{Head: "from", Share: 2, Bold: true}, {Head: "to", Share: 2}, {Head: "who", Share: 10}, {Head: "look", Share: 6}, {Head: "on, off", Share: 4}}}
	type line struct {
		from, to    time.Duration
		look, sides string
		who         []string
	}
	var lines []*line
	at := map[string]*line{}
	for _, st := range t.Stretches {
		if st.Scene != sc.ID {
			continue
		}
		look := ""
		if l := p.House.Look(st.Look); l != nil {
			look = l.Name
		}
		group := ""
		if r := p.House.Role(st.Role); r != nil {
			group = r.Group
		}
		sides := letter(st.EnterSide) + ", " + letter(st.ExitSide)
		key := fmt.Sprint(group, "|", st.From, st.To, sides)
		if group == "" {
			key = fmt.Sprint(st.Performer, st.From, look, sides)
		}
		l := at[key]
		if l == nil {
			l = &line{from: st.From, to: st.To, look: look, sides: sides}
			at[key] = l
			lines = append(lines, l)
		} else if l.look != look {
			l.look = group
		}
		l.who = append(l.who, firstOf(p, st.Performer))
	}
	sort.SliceStable(lines, func(i, j int) bool { return lines[i].from < lines[j].from })
	for _, l := range lines {
		out.Rows = append(out.Rows, Row{Cells: []string{Clock(l.from), Clock(l.to), strings.Join(l.who, ", "), l.look, l.sides}})
	}
	return out
}

func number(id show.SceneID) string {
	if n := strings.TrimLeft(strings.TrimLeft(string(id), "S"), "0"); n != "" {
		return n
	}
	return string(id)
}

func letter(s show.Side) string {
	if s == "" {
		return "?"
	}
	return string(s)
}

func firstOf(p *workshop.Prepared, id show.PerformerID) string {
	if who := p.House.Performer(id); who != nil {
		return FirstName(who.Name)
	}
	return string(id)
}

// Presets are what lies ready where: for each side the pieces that go on
// there, in the order they are wanted, with a box for each night.
func Presets(p *workshop.Prepared) Sheet {
	s := blank(p, "presets", "preset sheet", "What lies ready where")
	s.Size = 16
	if len(p.Timelines) == 0 {
		return s
	}
	t := p.Timelines[0]
	s.Under = "In the order they are wanted. Tick before each show. What comes off goes back to the same place."
	n := min(4, max(1, len(p.House.Performances)))
	for _, side := range []show.Side{"L", "R", ""} {
		table := &Table{Columns: []Column{{Head: "at", Share: 3, Bold: true}, {Head: "who", Share: 4}, {Head: "lies ready, the first on top", Share: 10}, {Head: "comes off", Share: 7}}}
		for range n {
			table.Columns = append(table.Columns, Column{Head: "n", Share: 1})
		}
		for _, c := range t.Changes {
			if c.FromSide != side || len(c.On) == 0 || c.InView {
				continue
			}
			cells := []string{Clock(c.Leaves), firstOf(p, c.Performer), pieceNames(p, c.On), pieceNames(p, c.Off)}
			for range n {
				cells = append(cells, "")
			}
			table.Rows = append(table.Rows, Row{Cells: cells})
		}
		if len(table.Rows) > 0 {
			head := why.Capital(Side(side))
			s.Blocks = append(s.Blocks, Block{Heading: head}, Block{Table: table})
		}
	}
	return s
}

// Away is what is done when somebody is away: for each role whose clothes go
// on whom, what must be changed, and who to tell. Roles, not bodies.
func Away(p *workshop.Prepared, gone show.PerformerID, all []answer.Away) Sheet {
	s := blank(p, "away-"+string(gone), "if somebody is away", firstOf(p, gone)+" is away")
	s.Under = "By what else would break, then by what does not go, then by the work. Ask before you decide."
	if len(all) == 0 {
		s.Blocks = append(s.Blocks, Block{Say: "Not in a role in this cast."})
	}
	for _, a := range all {
		name := string(a.Role)
		if r := p.House.Role(a.Role); r != nil {
			name = r.Name
		}
		t := &Table{Columns: []Column{{Head: "clothes go on", Share: 5, Bold: true}, {Head: "work, min", Share: 3, Right: true}, {Head: "must change", Share: 8}, {Head: "would break", Share: 6}, {Head: "told", Share: 2}}}
		for _, in := range a.Ins[:min(3, len(a.Ins))] {
			breaks := "nothing"
			if in.Twice+in.Short > 0 {
				breaks = fmt.Sprintf("%d times in two places, %d changes too short", in.Twice, in.Short)
			}
			t.Rows = append(t.Rows, Row{Tick: true, Cells: []string{firstOf(p, in.Performer), fmt.Sprint(in.Minutes), pieceNames(p, in.Not), breaks, ""}})
		}
		s.Blocks = append(s.Blocks, Block{Heading: name}, Block{Table: t})
	}
	return s
}
