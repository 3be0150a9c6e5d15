package sheet

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// Set is all the sheets of a show, by kind, in the order people hand them
// out.
func Set(p *workshop.Prepared) []Sheet {
	var out []Sheet
	for i := range p.House.Performers {
		out = append(out, MyClothes(p, p.House.Performers[i].ID))
	}
	out = append(out, RunningList(p))
	out = append(out, ChangeSheets(p)...)
	out = append(out, Presets(p))
	out = append(out, Work(p)...)
	out = append(out, Shopping(p), Rail(p))
	out = append(out, CutSheets(p)...)
	out = append(out, PartSheets(p)...)
	out = append(out, Money(p), Wash(p), Letter(p), RailBlank(p), Looks(p))
	return append(out, Measuring(p)...)
}

// blank is a sheet with its foot filled in.
func blank(p *workshop.Prepared, key, name, title string) Sheet {
	return Sheet{Key: key, Name: name, Title: title, Show: p.House.Show.Name,
		Printed: p.Day.Words() + year(p.Day), Print: fmt.Sprintf("as of act %d", p.Act), Paper: A4, Size: 12}
}

func year(d units.Date) string {
	if y, _, _ := d.YMD(); y != 0 {
		return fmt.Sprintf(" %d", y)
	}
	return ""
}

// FirstName is what stands on paper of a performer's name.
func FirstName(name string) string {
	if title, _, more := strings.Cut(name, " ("); more {
		return title // a part, not a name: "Costume lead (you)"
	}
	if club, _, more := strings.Cut(name, ","); more {
		return club // several people: "Sewing club, three members"
	}
	first, _, _ := strings.Cut(strings.TrimSpace(name), " ")
	return first
}

// Side is a side of the stage in a word.
func Side(s show.Side) string {
	switch s {
	case "L":
		return "left"
	case "R":
		return "right"
	}
	return "side not known"
}

// Clock is a stage time from curtain up, as minutes and seconds.
func Clock(d time.Duration) string {
	s := int(d / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// MyClothes is one performer's sheet: what I wear, in order, with the changes
// bold.
func MyClothes(p *workshop.Prepared, id show.PerformerID) Sheet {
	who := p.House.Performer(id)
	s := blank(p, "my-clothes-"+string(id), "my clothes", FirstName(who.Name))
	s.Paper, s.Size = A5Wide, 14
	if who.Age.Known && who.Age.V < 9 {
		s.Size = 18
	}
	if who.Room != "" {
		s.Corner = "room " + who.Room
	}
	if len(p.Timelines) == 0 {
		return s
	}
	t := p.Timelines[0]
	var roles []string
	var looks int
	var last show.LookID
	for _, st := range t.Stretches {
		if st.Performer != id {
			continue
		}
		if r := p.House.Role(st.Role); r != nil && !slices.Contains(roles, r.Name) {
			roles = append(roles, r.Name)
		}
		if st.Look != last {
			if last != "" {
				s.Blocks = append(s.Blocks, changeBar(p, t, id, last, st))
			}
			looks++
			s.Blocks = append(s.Blocks, lookBlock(p, st.Look, looks), Block{Table: &Table{Columns: []Column{{Share: 1, Bold: true}, {Share: 8}, {Share: 3}}}})
			last = st.Look
		}
		table := s.Blocks[len(s.Blocks)-1].Table
		if sc := p.House.Scene(st.Scene); sc != nil {
			table.Rows = append(table.Rows, Row{Cells: []string{string(sc.ID), sc.Title, "from " + Side(st.EnterSide)}})
		}
	}
	s.Under = strings.Join(roles, ", ") + ". What I wear, in order."
	s.Blocks = append(s.Blocks, bring(p, id), Block{Say: "If something tears, tell your dresser at once. Hang every piece up by its label."})
	return s
}

func lookBlock(p *workshop.Prepared, id show.LookID, n int) Block {
	b := Block{Number: fmt.Sprint(n)}
	if l := p.House.Look(id); l != nil {
		b.Heading = l.Name
	}
	var names []string
	for _, q := range p.House.LookPieces(id) {
		names = append(names, fmt.Sprintf("%s (%s)", q.Name, q.Colour))
	}
	b.Say = strings.Join(names, ", ")
	return b
}

// changeBar finds the change into a stretch and says it in a line.
func changeBar(p *workshop.Prepared, t answer.Timeline, id show.PerformerID, from show.LookID, to answer.Stretch) Block {
	for _, c := range t.Changes {
		if c.Performer == id && c.FromLook == from && c.ToLook == to.Look && c.Enters == to.From {
			return Block{Bar: fmt.Sprintf("CHANGE, %s. Off: %s. On: %s. %s", about(p, c)+lasting(c.Seconds), pieceNames(p, c.Off), pieceNames(p, c.On), helped(p, t, c))}
		}
	}
	return Block{}
}

func helped(p *workshop.Prepared, t answer.Timeline, c answer.Change) string {
	if c.InView {
		return "On stage, in view."
	}
	for _, d := range t.Duties {
		if o := t.Changes[d.Change]; o.Performer == c.Performer && o.Enters == c.Enters && d.Dresser != "" {
			if h := p.House.Helper(d.Dresser); h != nil {
				return FirstName(h.Name) + " helps you, stage " + Side(c.FromSide) + "."
			}
		}
	}
	return "You do this yourself."
}

// about is the word before a time that rests on what was only assumed.
func about(p *workshop.Prepared, c answer.Change) string {
	if Pencil(p, c) {
		return "about "
	}
	return ""
}

// Pencil says whether the seconds of a change rest on times that were
// assumed.
func Pencil(p *workshop.Prepared, c answer.Change) bool {
	for scene, look := range map[show.SceneID]show.LookID{c.FromScene: c.FromLook, c.ToScene: c.ToLook} {
		if l := p.House.Look(look); l != nil && p.House.Pencilled(scene, l.Role) {
			return true
		}
	}
	return false
}

// closings are how the pieces that go on are closed, each once.
func closings(p *workshop.Prepared, ids []show.PieceID) string {
	var out []string
	for _, id := range ids {
		if q := p.House.Piece(id); q != nil && q.Closure != "" && q.Closure != "none" && !slices.Contains(out, q.Closure) {
			out = append(out, q.Closure)
		}
	}
	return strings.Join(out, ", ")
}

// lasting says a number of seconds as a person would.
func lasting(s int) string {
	if s < 240 {
		return fmt.Sprintf("%d seconds", s)
	}
	return fmt.Sprintf("%d minutes", s/60)
}

func pieceNames(p *workshop.Prepared, ids []show.PieceID) string {
	if len(ids) == 0 {
		return "nothing"
	}
	var out []string
	for _, id := range ids {
		if q := p.House.Piece(id); q != nil {
			out = append(out, q.Name)
		}
	}
	return strings.Join(out, ", ")
}

// bring lists what the performer's family sees to.
func bring(p *workshop.Prepared, id show.PerformerID) Block {
	f := p.House.FeetOf(id)
	if f == nil {
		return Block{}
	}
	var own []string
	if f.OwnVest {
		own = append(own, "plain vest")
	}
	if f.OwnShorts {
		own = append(own, "plain shorts")
	}
	if f.HosieryFrom == "own" && f.Hosiery != "" {
		own = append(own, f.Hosiery)
	}
	if f.ShoeFrom == "own" && f.Shoe != "" {
		own = append(own, f.Shoe)
	}
	b := Block{}
	if len(own) > 0 {
		b.Say = "Bring your own: " + strings.Join(own, ", ") + "."
	}
	for _, a := range p.Fittings.Appointments {
		if a.Performer == id {
			b.Say += fmt.Sprintf(" Come to be fitted: %s, %s.", a.Day.Short(), a.Start)
		}
	}
	b.Say = strings.TrimSpace(b.Say)
	return b
}

// ChangeSheets are one for each dresser, of every cast's first; and one for
// the changes nobody is free for.
func ChangeSheets(p *workshop.Prepared) []Sheet {
	if len(p.Timelines) == 0 {
		return nil
	}
	t := p.Timelines[0]
	by := map[show.HelperID][]answer.Duty{}
	for _, d := range t.Duties {
		by[d.Dresser] = append(by[d.Dresser], d)
		if d.Second != "" {
			by[d.Second] = append(by[d.Second], d)
		}
	}
	var ids []show.HelperID
	for id := range by {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return ids[i] < ids[j] })
	var out []Sheet
	for _, id := range ids {
		s := blank(p, "changes-"+string(id), "change sheet", "Nobody is free for these")
		s.Size = 14
		if h := p.House.Helper(id); h != nil {
			s.Title = FirstName(h.Name)
		} else {
			s.Key = "changes-nobody"
		}
		s.Corner = fmt.Sprintf("%d changes", len(by[id]))
		s.Under = fmt.Sprintf("Cast %s. Seconds count from going off to coming on; the first try takes twice as long.", t.Cast)
		for _, d := range by[id] {
			s.Blocks = append(s.Blocks, dutyBlocks(p, t.Changes[d.Change])...)
		}
		out = append(out, s)
	}
	return out
}

func dutyBlocks(p *workshop.Prepared, c answer.Change) []Block {
	name := string(c.Performer)
	if who := p.House.Performer(c.Performer); who != nil {
		name = FirstName(who.Name)
	}
	where := Side(c.FromSide)
	if c.FromSide != c.ToSide {
		where += " to " + Side(c.ToSide)
	}
	closes := closings(p, c.On)
	return []Block{
		{Heading: fmt.Sprintf("%s  %s  %s", Clock(c.Leaves), name, about(p, c)+lasting(c.Seconds)), Number: ""},
		{Say: fmt.Sprintf("%s to %s, %s.", c.FromScene, c.ToScene, where)},
		{Table: &Table{Columns: []Column{{Share: 2, Bold: true}, {Share: 13}}, Rows: []Row{
			{Cells: []string{"OFF", pieceNames(p, c.Off)}}, {Cells: []string{"ON", pieceNames(p, c.On)}}, {Cells: []string{"closes", closes}}}}},
		{Why: "Then check: collar, closure, hem. Best time ______"},
	}
}
