package web

import (
	"fmt"
	"net/http"
	"net/url"
	"sort"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

type pieceRow struct {
	ID, Name, Wearer, Colour, Hex, Source, From, Kind string
	Minutes                                           int64
	Price                                             units.Money
	Pencil, Pinned                                    bool
}

// head is a head of a table that sorts when it is followed.
type head struct{ Name, Href, Sorted, Class string }

// sorts are the orders the pieces can be listed in.
var sorts = []struct {
	key, name, class string
	less             func(a, b pieceRow) bool
}{
	{"piece", "piece", "", func(a, b pieceRow) bool { return a.ID < b.ID }},
	{"wearer", "worn by", "desk", func(a, b pieceRow) bool { return a.Wearer < b.Wearer }},
	{"colour", "colour", "", func(a, b pieceRow) bool { return a.Colour < b.Colour }},
	{"source", "comes from", "", func(a, b pieceRow) bool { return a.Source < b.Source }},
	{"from", "which", "desk", func(a, b pieceRow) bool { return a.From < b.From }},
	{"minutes", "minutes", "r", func(a, b pieceRow) bool { return a.Minutes > b.Minutes }},
	{"price", "price", "r desk", func(a, b pieceRow) bool { return a.Price > b.Price }},
}

func (s *server) pieces(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	view := struct {
		Frame
		Says, Proof         string
		Balance             Balance
		Query, Source, Kind string
		Sources             []answer.Source
		Kinds               []string
		Heads               []head
		Rows                []pieceRow
		Filtered            bool
	}{Says: planSays(p), Proof: proofWords(p.Plan), Balance: balance(p), Query: r.FormValue("q"), Source: r.FormValue("source"), Kind: r.FormValue("kind"), Sources: answer.Sources()}
	view.Filtered = view.Query+view.Source+view.Kind != ""
	var colours []string
	for _, b := range view.Balance.Rows {
		view.Kinds = append(view.Kinds, b.Kind)
	}
	for _, c := range p.Plan.Choices {
		row := rowOf(p, c)
		colours = append(colours, row.Colour)
		if matches(view.Query, row.ID, row.Name, row.Wearer, row.Colour, row.From) && (view.Source == "" || view.Source == row.Source) && (view.Kind == "" || view.Kind == row.Kind) {
			view.Rows = append(view.Rows, row)
		}
	}
	by := r.FormValue("sort")
	for _, o := range sorts {
		q := url.Values{"sort": {o.key}}
		for k, v := range map[string]string{"q": view.Query, "source": view.Source, "kind": view.Kind} {
			if v != "" {
				q.Set(k, v)
			}
		}
		h := head{Name: o.name, Href: "/pieces?" + q.Encode(), Class: o.class}
		if by == o.key {
			h.Sorted = "ascending"
			sort.SliceStable(view.Rows, func(i, j int) bool { return o.less(view.Rows[i], view.Rows[j]) })
		}
		view.Heads = append(view.Heads, h)
	}
	view.Frame = s.frame(p, "Pieces", "/pieces", colours)
	return s.show(w, http.StatusOK, "pieces", view)
}

func planSays(p *workshop.Prepared) string {
	if len(p.Plan.Choices) == 0 {
		return "No pieces yet."
	}
	var minutes units.Minutes
	for _, c := range p.Plan.Choices {
		minutes += c.Minutes()
	}
	return fmt.Sprintf("%d pieces: %s; %d lead-hours of work.", len(p.Plan.Choices), sourceWords(p.Plan), (minutes+30)/60)
}

func rowOf(p *workshop.Prepared, c answer.Choice) pieceRow {
	row := pieceRow{ID: string(c.Piece), Source: string(c.Source), From: fromWhat(c.Option), Minutes: int64(c.Minutes()), Price: c.Money, Pencil: c.Pencil, Pinned: c.Pinned}
	if q := p.House.Piece(c.Piece); q != nil {
		row.Name, row.Colour, row.Hex, row.Kind = q.Name, q.Colour, hexOf(&p.House, q.Colour), string(q.Category)
		row.Wearer = wearers(p, q)
	}
	return row
}

func wearers(p *workshop.Prepared, q *show.Piece) string {
	var out []string
	for _, id := range p.House.Wearers(q) {
		out = append(out, performerName(&p.House, id))
	}
	return strings.Join(out, ", ")
}

// sourceRow is one of the eight sources for a piece.
type sourceRow struct {
	Name                          answer.Source
	Class, Price, Minutes         string
	Look, Because, Garment, Cloth string
	Pinned                        bool
	Reasons                       []why.Reason
}

type stepChoice struct {
	Value, Name string
	Here        bool
}

func (s *server) piece(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	q := p.House.Piece(show.PieceID(r.PathValue("id")))
	if q == nil {
		return why.NotFound("piece", r.PathValue("id"))
	}
	c := p.Choice(q.ID)
	view := struct {
		Frame
		ID, Kind, Title, Answer, PinSays, Prev, Next, Currency string
		Pinned                                                 bool
		Sources                                                []sourceRow
		Facts                                                  []factView
		Steps                                                  []stepChoice
		Alterations                                            []answer.Alteration
		Cautions                                               []answer.Caution
	}{Frame: s.frame(p, q.Name, "/pieces", []string{q.Colour}), ID: string(q.ID), Kind: string(q.Category), Currency: p.House.Show.Currency,
		Title: fmt.Sprintf("%s, %s, for %s", capital(q.Name), q.Colour, wearers(p, q)), Facts: pieceFacts(p, q)}
	if c != nil {
		view.Answer, view.Pinned, view.Alterations, view.Sources = answerOf(p, *c), c.Pinned, c.Alterations, sourceRows(*c)
		if c.Pinned {
			view.PinSays = fmt.Sprintf("You pinned %s. The pin stands; it costs the plan about %s of work or its worth beside the best for this piece.", c.Source, units.Minutes(c.Price))
		} else if len(c.Why.Reasons) > 0 {
			view.PinSays = c.Why.Reasons[0].Sentence(units.Metric)
		}
	}
	for _, x := range p.Cautions {
		for _, ref := range x.About {
			if ref.Code == view.ID && len(x.About) < 5 {
				view.Cautions = append(view.Cautions, x)
			}
		}
	}
	for _, st := range []show.HowFar{show.ThoughtOf, show.FoundIt, show.InWork, show.ToBeFitted, show.Finished, show.Hung} {
		view.Steps = append(view.Steps, stepChoice{string(st), howFarWord(st), st == q.HowFar})
	}
	for i := range p.House.Pieces {
		if p.House.Pieces[i].ID == q.ID {
			if i > 0 {
				view.Prev = string(p.House.Pieces[i-1].ID)
			}
			if i+1 < len(p.House.Pieces) {
				view.Next = string(p.House.Pieces[i+1].ID)
			}
		}
	}
	return s.show(w, http.StatusOK, "piece", view)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// answerOf is the deciding sentence on a piece.
func answerOf(p *workshop.Prepared, c answer.Choice) string {
	from := fromWhat(c.Option)
	name := from
	if g := p.House.Garment(c.Garment); c.Garment != "" && g != nil {
		name = fmt.Sprintf("%s, %s, %s", from, g.Name, g.Colour)
	} else if k := p.House.Cloth(c.Cloth); c.Cloth != "" && k != nil {
		name = fmt.Sprintf("%s, %s, %s", from, k.Name, k.Colour)
	}
	switch {
	case c.Source == answer.GoWithout:
		return "Nothing yet: it goes without."
	case name == "":
		return fmt.Sprintf("%s, %s.", capital(string(c.Source)), c.Minutes())
	}
	return fmt.Sprintf("%s: %s. %s of work.", capital(string(c.Source)), name, c.Minutes())
}

// sourceRows are the eight sources in the trade's order, each with its best
// option, or why there is none.
func sourceRows(c answer.Choice) []sourceRow {
	best := map[answer.Source]answer.Option{}
	for _, o := range c.Next {
		if _, there := best[o.Source]; !there {
			best[o.Source] = o
		}
	}
	best[c.Source] = c.Option
	var out []sourceRow
	for _, src := range answer.Sources() {
		row := sourceRow{Name: src, Class: "off", Because: "Nothing of that kind is known."}
		if o, ok := best[src]; ok {
			row.Class, row.Price, row.Minutes, row.Look = "", o.Money.String(), fmt.Sprint(int64(o.Minutes())), lookWords(o.Look)
			row.Garment, row.Cloth, row.Because = string(o.Garment), string(o.Cloth), fromWhat(o)
			if len(o.Why.Reasons) > 0 {
				says := o.Why.Reasons[0].Sentence(units.Metric)
				if !strings.Contains(says, row.Because) {
					says = row.Because + ": " + says
				}
				row.Because = says
				row.Reasons = o.Why.Reasons[1:]
			}
		} else if src == answer.Use && len(c.Missed) > 0 {
			row.Because, row.Reasons = c.Missed[0].Sentence(units.Metric), c.Missed[1:]
		}
		if src == c.Source {
			row.Class, row.Pinned = "best", c.Pinned
			if c.Pinned {
				row.Class = "best held"
			}
		}
		out = append(out, row)
	}
	return out
}

// lookWords says what the house sees of an option.
func lookWords(look int) string {
	switch {
	case look >= 100:
		return "nothing there"
	case look > 25:
		return "quite another"
	case look > 10:
		return "seen to differ"
	case look > 2:
		return "nearly as drawn"
	}
	return "as drawn"
}

func pieceFacts(p *workshop.Prepared, q *show.Piece) []factView {
	out := []factView{{"worn by", wearers(p, q)}}
	add := func(name, value string) {
		if value != "" {
			out = append(out, factView{name, value})
		}
	}
	var looks []string
	for _, l := range q.Looks {
		looks = append(looks, lookName(&p.House, l))
	}
	add("in", strings.Join(looks, "; "))
	for _, n := range p.Needs.Needs {
		if n.Piece == q.ID {
			add("on stage", fmt.Sprintf("%d minutes in %d scenes", int(n.Seen.Minutes()), len(n.Scenes)))
		}
	}
	add("closes", q.Closure)
	if q.HemClear.Known {
		add("hem", fmt.Sprintf("to the %s, %s cm above the floor", q.LengthTo, units.Metric.Print(q.HemClear.V)))
	} else {
		add("to the", q.LengthTo)
	}
	add("first thought", q.FirstThought)
	if set := p.House.Set(q.Set); set != nil {
		add("set", fmt.Sprintf("%s, %s; %s", set.Name, set.Alike, set.HemRule))
	}
	add("note", q.Note)
	return out
}
