package web

import (
	"fmt"
	"html/template"
	"net/http"
	"sort"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// urgentView is one thing that cannot wait.
type urgentView struct {
	answer.Urgent
	Hero, Unit string
	Href       string
}

// tonightView is one thing to do tonight.
type tonightView struct {
	Piece, Name, Do string
	Minutes         units.Minutes
}

// stepView is how many pieces have come how far.
type stepView struct {
	Name string
	N    int
}

func (s *server) today(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Empty    bool
		Money    answer.Money
		Currency string
		Work     answer.Workroom
		Without  int
		Pieces   int
		Sources  string
		Urgent   []urgentView
		Evening  string
		Tonight  []tonightView
		Waiting  []waitView
		Steps    []stepView
		Proof    string
		Cautions int
		Text     string // of the box on an empty table
		Fault    string
		Looking  []tableView // none: the box is empty here
		EraseDue bool
		EraseDay string
	}{Frame: s.frame(p, "What cannot wait", "/", nil), Empty: len(p.House.Performers) == 0 && len(p.House.Pieces) == 0,
		Money: p.Money, Currency: p.House.Show.Currency, Work: p.Workroom, Pieces: len(p.House.Pieces), Waiting: waits(p.Today.Waiting),
		Proof: proofWords(p.Plan), Sources: sourceWords(p.Plan), Cautions: len(p.Cautions)}
	if day, _ := workshop.EraseDay(&p.House); p.EraseDue() {
		view.EraseDue, view.EraseDay = true, day.Short()
	}
	for _, c := range p.Plan.Choices {
		if c.Source == answer.GoWithout {
			view.Without++
		}
	}
	for _, u := range p.Today.Urgent {
		v := urgentView{Urgent: u, Href: "/" + u.Page}
		v.Hero, v.Unit = hero(p.House.Units, u.Number)
		view.Urgent = append(view.Urgent, v)
	}
	tasks := map[string]answer.Task{}
	for _, t := range p.Workroom.Tasks {
		tasks[t.ID] = t
	}
	for _, sl := range p.Today.Tonight {
		t := tasks[sl.Task]
		view.Evening = sl.Day.Long()
		view.Tonight = append(view.Tonight, tonightView{string(t.Piece), pieceName(&p.House, t.Piece), t.Do, sl.Minutes})
	}
	for _, st := range []show.HowFar{show.ThoughtOf, show.FoundIt, show.InWork, show.ToBeFitted, show.Finished, show.Hung} {
		view.Steps = append(view.Steps, stepView{howFarWord(st), p.Today.HowFar[st]})
	}
	return s.show(w, http.StatusOK, "today", view)
}

// waitView is the pieces that wait for the same.
type waitView struct {
	For  string
	Rows []answer.Waiting
}

func waits(all []answer.Waiting) []waitView {
	var out []waitView
	at := map[string]int{}
	for _, w := range all {
		i, ok := at[w.For]
		if !ok {
			i = len(out)
			at[w.For] = i
			out = append(out, waitView{For: w.For})
		}
		out[i].Rows = append(out[i].Rows, w)
	}
	return out
}

// hero splits a fact into its number and its unit.
func hero(sys units.System, f why.Fact) (string, string) {
	switch f.Kind {
	case "seconds":
		return fmt.Sprint(f.N), "s"
	case "length":
		return sys.Print(units.Length(f.N)), sys.Unit()
	case "minutes":
		return fmt.Sprint((f.N + 30) / 60), "h"
	case "date":
		return units.Date(f.N).Short(), ""
	case "money":
		return units.Money(f.N).String(), ""
	}
	return f.Words(sys), f.Name
}

func howFarWord(h show.HowFar) string {
	if h == show.ThoughtOf {
		return "thought of"
	}
	return string(h)
}

func pieceName(h *show.House, id show.PieceID) string {
	if q := h.Piece(id); q != nil {
		return q.Name
	}
	return string(id)
}

// proofWords says what the plan is worth, in hours.
func proofWords(p answer.Plan) string {
	switch {
	case p.Outcome.Proof.String() == "best":
		return "Proved: there is no better plan for these options."
	case p.Saves > 0:
		return fmt.Sprintf("Nothing better found; one could save at most %s of work or its worth in looks and money.", p.Saves)
	}
	return ""
}

func sourceWords(p answer.Plan) string {
	n := map[answer.Source]int{}
	for _, c := range p.Choices {
		n[c.Source]++
	}
	out := ""
	for _, s := range answer.Sources() {
		if n[s] > 0 && s != answer.GoWithout {
			if out != "" {
				out += ", "
			}
			out += fmt.Sprintf("%d %s", n[s], s)
		}
	}
	return out
}

// Balance is where all the pieces come from: kinds down, sources across.
type Balance struct {
	Sources []answer.Source
	Rows    []balanceRow
	Total   balanceRow
	Hours   []string
}

type balanceRow struct {
	Kind  string
	All   int
	Cells []balanceCell
	Hours int
}

type balanceCell struct {
	N    int
	Rail template.HTML
}

// balance counts the plan by kind and source and hangs each piece on a rail
// in the colour asked for, dark to light.
func balance(p *workshop.Prepared) Balance {
	b := Balance{}
	for _, s := range answer.Sources() {
		for _, c := range p.Plan.Choices {
			if c.Source == s {
				b.Sources = append(b.Sources, s)
				break
			}
		}
	}
	type key struct {
		kind show.Category
		src  answer.Source
	}
	pieces := map[key][]string{}
	minutes, bySource := map[show.Category]units.Minutes{}, map[answer.Source]units.Minutes{}
	var kinds []show.Category
	for _, c := range p.Plan.Choices {
		q := p.House.Piece(c.Piece)
		if q == nil {
			continue
		}
		if _, ok := minutes[q.Category]; !ok {
			kinds = append(kinds, q.Category)
		}
		minutes[q.Category] += c.Minutes()
		bySource[c.Source] += c.Minutes()
		k := key{q.Category, c.Source}
		pieces[k] = append(pieces[k], hexOf(&p.House, q.Colour))
	}
	b.Total = balanceRow{Kind: "pieces", Cells: make([]balanceCell, len(b.Sources))}
	for _, kind := range kinds {
		row := balanceRow{Kind: string(kind), Hours: int((minutes[kind] + 30) / 60)}
		for i, s := range b.Sources {
			hexes := pieces[key{kind, s}]
			row.Cells = append(row.Cells, balanceCell{len(hexes), hangers(hexes, s == answer.GoWithout)})
			row.All += len(hexes)
			b.Total.Cells[i].N += len(hexes)
		}
		b.Total.All += row.All
		b.Total.Hours += row.Hours
		b.Rows = append(b.Rows, row)
	}
	for _, s := range b.Sources {
		b.Hours = append(b.Hours, fmt.Sprintf("%d h", (bySource[s]+30)/60))
	}
	return b
}

// hangers draws pieces on a rail, or empty hangers.
func hangers(hexes []string, empty bool) template.HTML {
	if len(hexes) == 0 {
		return ""
	}
	sort.SliceStable(hexes, func(i, j int) bool { return light(hexes[i]) < light(hexes[j]) })
	const perRow = 18
	rows := (len(hexes) + perRow - 1) / perRow
	s := begin(float64(min(len(hexes), perRow))*7+2, float64(rows)*26, "hang", fmt.Sprintf("%d pieces", len(hexes)))
	for i, hex := range hexes {
		x, y := float64(i%perRow)*7+1, float64(i/perRow)*26+2
		if i%perRow == 0 {
			s.line(x-1, y, x+float64(min(len(hexes)-i, perRow))*7, y, "ink", 1.2, "")
		}
		if empty {
			s.path(fmt.Sprintf("M%s %sh5v19h-5z", f(x), f(y+2)), "", "ink", .8, "1.5 1.5")
			continue
		}
		s.rect(x, y+2, 5.5, 19, hex, "line2")
	}
	return s.end()
}

// light is how light a colour is, for sorting only.
func light(hex string) int {
	var r, g, b int
	if _, err := fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b); err != nil {
		return 999
	}
	return 2*r + 5*g + b
}
