package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"sort"
	"strings"

	"hemwright/internal/craft/fit"
	"hemwright/internal/intake"
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
	Held                                              string
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

func (s *server) pieces(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Says, Proof         string
		Sharpen             string
		Balance             Balance
		Query, Source, Kind string
		Sources             []answer.Source
		Kinds               []string
		Heads               []head
		Rows                []pieceRow
		Filtered            bool
		Short               scarceView
	}{Says: planSays(p), Proof: proofWords(p.Plan), Sharpen: sharpen(&p.House), Balance: balance(p), Query: r.FormValue("q"), Source: r.FormValue("source"), Kind: r.FormValue("kind"), Sources: answer.Sources()}
	var err error
	if view.Short, err = s.shortOf(r, p); err != nil {
		return err
	}
	view.Filtered = view.Query+view.Source+view.Kind != ""
	var colours []string
	for _, b := range view.Balance.Rows {
		view.Kinds = append(view.Kinds, b.Kind)
	}
	for _, c := range p.Plan.Choices {
		row := rowOf(p, c)
		colours = append(colours, row.Colour)
		if intake.Matches(view.Query, row.ID, row.Name, row.Wearer, row.Colour, row.From) && (view.Source == "" || view.Source == row.Source) && (view.Kind == "" || view.Kind == row.Kind) {
			view.Rows = append(view.Rows, row)
		}
	}
	by := r.FormValue("sort")
	for _, o := range sorts {
		h := head{Name: o.name, Href: sortLink("/pieces", o.key, view.Query, view.Source, view.Kind) + "#all", Class: o.class}
		if by == o.key {
			h.Sorted = "ascending"
			if strings.HasPrefix(o.class, "r") {
				h.Sorted = "descending" // numbers: most first
			}
			sort.SliceStable(view.Rows, func(i, j int) bool { return o.less(view.Rows[i], view.Rows[j]) })
		}
		view.Heads = append(view.Heads, h)
	}
	view.Frame = s.frame(p, "Pieces", "/pieces", colours)
	return s.show(w, http.StatusOK, "pieces", view)
}

// sortLink is the address of a list in another order, its filters kept.
func sortLink(page, key, query, source, kind string) string {
	q := url.Values{"sort": {key}}
	for _, x := range [][2]string{{"q", query}, {"source", source}, {"kind", kind}} {
		if x[1] != "" {
			q.Set(x[0], x[1])
		}
	}
	return page + "?" + q.Encode()
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
	row := pieceRow{ID: string(c.Piece), Source: string(c.Source), From: fromWhat(c.Option), Minutes: int64(c.Minutes()), Price: c.Money, Pencil: c.Pencil, Pinned: c.Pinned, Held: c.Held}
	if q := p.House.Piece(c.Piece); q != nil {
		row.Name, row.Colour, row.Hex, row.Kind = q.Name, q.Colour, hexOf(&p.House, q.Colour), string(q.Category)
		row.Wearer = wearers(&p.House, q)
	}
	return row
}

// wearers names those who wear a piece.
func wearers(h *show.House, q *show.Piece) string {
	var out []string
	for _, id := range h.Wearers(q) {
		out = append(out, performerName(h, id))
	}
	return why.And(out)
}

// sourceRow is one of the eight sources for a piece.
type sourceRow struct {
	Name                          answer.Source
	Class, Price, Minutes         string
	Look, Because, Garment, Cloth string
	Pinned                        bool
	Reasons                       []why.Reason
}

// fitRow is one garment that would go for a piece, after what work.
type fitRow struct {
	ID, Name, Colour, Hex, Work, Wanted string
	Minutes                             int64
	Source                              answer.Source
	Here                                bool
}

// fitsShown is how many garments a piece's page lists.
const fitsShown = 6

// fitRows are the garments that go, with the least work first.
func fitRows(p *workshop.Prepared, q *show.Piece, fits []answer.Fit) []fitRow {
	uses := map[show.GarmentID]show.PieceID{}
	for _, c := range p.Plan.Choices {
		if c.Garment != "" {
			uses[c.Garment] = c.Piece
		}
	}
	var out []fitRow
	for _, x := range fits {
		g := p.House.Garment(x.Garment)
		if g == nil {
			continue
		}
		row := fitRow{ID: string(g.ID), Name: g.Name, Colour: g.Colour, Hex: hexOf(&p.House, g.Colour), Minutes: int64(x.Minutes()), Source: answer.Use, Work: "as it is"}
		if len(x.Alterations) > 0 {
			row.Source, row.Work = answer.Alter, workWords(p.House.Units, x.Alterations)
		}
		switch other := uses[g.ID]; {
		case other == q.ID:
			row.Here = true
		case other != "":
			row.Wanted = string(other)
		}
		out = append(out, row)
	}
	return out
}

type stepChoice struct {
	Value, Name string
	Here        bool
}

func (s *server) piece(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	q := p.House.Piece(show.PieceID(r.PathValue("id")))
	if q == nil {
		return why.NotFound("piece", r.PathValue("id"))
	}
	c := p.Choice(q.ID)
	view := struct {
		Frame
		ID, Kind, Title, Answer, PinSays, Prev, Next, Currency string
		Parts                                                  string // the sheet of how it is cut from parts
		Pinned, Asked                                          bool
		Instead                                                []weighedView
		Sources                                                []sourceRow
		Fits                                                   []fitRow
		Wearers                                                []pieceLink
		Facts                                                  []factView
		Steps                                                  []stepChoice
		Alterations                                            []answer.Alteration
		Cautions                                               []cautionView
	}{Frame: s.frame(p, q.Name, "/pieces", []string{q.Colour}), ID: string(q.ID), Kind: string(q.Category), Currency: p.House.Show.Currency,
		Title: pieceTitle(p, q), Facts: pieceFacts(p, q)}
	if c != nil {
		view.Answer, view.Pinned, view.Alterations, view.Sources = answerOf(p, *c), c.Pinned, c.Alterations, sourceRows(p.House.Units, q, *c)
		if c.Pinned {
			view.PinSays = fmt.Sprintf("You pinned %s. The pin stands; it costs the plan about %s of work or its worth beside the best for this piece.", c.Source, units.Minutes(c.Price))
		} else if len(c.Why.Reasons) > 0 {
			view.PinSays = c.Why.Reasons[0].Sentence(p.House.Units)
		}
		if c.Held != "" && c.Price > 0 {
			view.PinSays += fmt.Sprintf(" Keeping it so costs the plan about %s of work or its worth beside the best for this piece.", units.Minutes(c.Price))
		}
	}
	if slices.ContainsFunc(p.Cutting.Apart, func(l answer.PartLay) bool { return l.Piece == q.ID }) {
		view.Parts = "parts-" + string(q.ID)
	}
	var err error
	if view.Instead, err = s.insteadOf(r, p, q.ID); err != nil {
		return err
	}
	view.Asked = r.FormValue("instead") != ""
	view.Fits = fitRows(p, q, fit.Nearest(&p.House, q, fitsShown))
	for _, id := range p.House.Wearers(q) {
		view.Wearers = append(view.Wearers, pieceLink{string(id), performerName(&p.House, id)})
	}
	view.Cautions = cautionsOn(p, map[string]bool{view.ID: true})
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

func pieceTitle(p *workshop.Prepared, q *show.Piece) string {
	title := why.Capital(q.Name)
	if q.Colour != "" {
		title += ", " + q.Colour
	}
	if who := wearers(&p.House, q); who != "" {
		title += ", for " + who
	}
	return title
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
		return fmt.Sprintf("%s, %s.", why.Capital(string(c.Source)), c.Minutes())
	}
	return fmt.Sprintf("%s: %s. %s of work.", why.Capital(string(c.Source)), name, c.Minutes())
}

// sourceRows are the eight sources in the trade's order, each with its best
// option, or why there is none.
func sourceRows(sys units.System, q *show.Piece, c answer.Choice) []sourceRow {
	best := map[answer.Source]answer.Option{}
	for _, o := range c.Next {
		if _, there := best[o.Source]; !there {
			best[o.Source] = o
		}
	}
	best[c.Source] = c.Option
	var out []sourceRow
	for _, src := range answer.Sources() {
		row := sourceRow{Name: src, Class: "off", Because: noneOf(q, src)}
		if o, ok := best[src]; ok {
			row.Class, row.Price, row.Minutes, row.Look = "", o.Money.String(), fmt.Sprint(int64(o.Minutes())), lookWords(o.Look)
			row.Garment, row.Cloth, row.Because = string(o.Garment), string(o.Cloth), fromWhat(o)
			reasons := o.Why.Reasons
			if src == c.Source && c.Pinned && len(reasons) > 1 {
				reasons = reasons[1:] // the first says that it is pinned, which the row shows
			}
			if len(reasons) > 0 {
				says := reasons[0].Sentence(sys)
				if !strings.Contains(says, row.Because) {
					says = row.Because + ": " + says
				}
				row.Because = says
				row.Reasons = reasons[1:]
			}
		} else if src == answer.Use && len(c.Missed) > 0 {
			row.Because, row.Reasons = "The nearest: "+c.Missed[0].Sentence(sys), c.Missed[1:]
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

// noneOf says why a source has nothing for a piece.
func noneOf(q *show.Piece, src answer.Source) string {
	switch src {
	case answer.Use:
		return "No garment of that kind goes as it is."
	case answer.Alter:
		return "No garment of that kind comes there by altering."
	case answer.Remake:
		return "No garment that may be cut would give it."
	case answer.Make:
		return "No pattern of the house for it, or no cloth."
	case answer.Borrow:
		return "None among the loans and promises."
	case answer.Buy:
		if !q.PriceLimit.Known {
			return "No top price is set for it."
		}
		return "None seen."
	case answer.Own:
		return "Nobody has said they bring their own."
	}
	return "Not asked."
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
	var out []factView
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
		add("hem", fmt.Sprintf("to the %s, %s above the floor", q.LengthTo, lengthWords(p.House.Units, q.HemClear.V)))
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
