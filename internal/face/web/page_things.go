package web

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"sort"
	"strconv"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

type railRow struct {
	Place, ID, Name, Kind, Colour, Hex, Chest, Waist, Hip, Length, Closes, Note string
	For                                                                         []show.PieceID
	garment                                                                     show.Garment
}

// railSorts are the orders the rail can be listed in; unknown numbers last.
var railSorts = []struct {
	key, name, class string
	less             func(a, b railRow) bool
}{
	{"place", "place", "", func(a, b railRow) bool { return a.Place < b.Place }},
	{"garment", "garment", "", func(a, b railRow) bool { return a.ID < b.ID }},
	{"colour", "colour", "", func(a, b railRow) bool { return a.Colour < b.Colour }},
	{"chest", "chest", "r", func(a, b railRow) bool { return lower(a.garment.Chest, b.garment.Chest) }},
	{"waist", "waist", "r", func(a, b railRow) bool { return lower(a.garment.Waist, b.garment.Waist) }},
	{"hip", "hip", "r", func(a, b railRow) bool { return lower(a.garment.Hip, b.garment.Hip) }},
	{"length", "length", "r", func(a, b railRow) bool { return lower(a.garment.Length, b.garment.Length) }},
}

func lower(a, b units.Span) bool {
	if a.Known && b.Known {
		return a.Lo < b.Lo
	}
	return a.Known && !b.Known
}

func (s *server) rail(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Says, Query, Kind, Sort string
		Kinds                   []string
		Heads                   []head
		Rows                    []railRow
		Filtered                bool
		Of                      int
		Before, After           string // where the rows before and after these are listed
	}{Query: r.FormValue("q"), Kind: r.FormValue("kind"), Sort: r.FormValue("sort")}
	view.Filtered = view.Query+view.Kind != ""
	uses := map[show.GarmentID][]show.PieceID{}
	for _, c := range p.Plan.Choices {
		if c.Garment != "" {
			uses[c.Garment] = append(uses[c.Garment], c.Piece)
		}
	}
	var colours []string
	all, used := 0, 0
	for _, g := range p.House.OnOffer() {
		f := p.House.Find(show.FindID(g.ID))
		if f != nil && f.Decision != "bought" && len(uses[g.ID]) == 0 {
			continue // seen, and left in the shop
		}
		all++
		row := railRowOf(g, f, uses[g.ID])
		if len(row.For) > 0 {
			used++
		}
		if !slices.Contains(view.Kinds, row.Kind) {
			view.Kinds = append(view.Kinds, row.Kind)
		}
		if intake.Matches(view.Query, row.ID, row.Name, row.Colour, row.Place, row.Closes) && (view.Kind == "" || view.Kind == row.Kind) {
			view.Rows = append(view.Rows, row)
		}
	}
	sort.SliceStable(view.Rows, func(i, j int) bool { return view.Rows[i].Place < view.Rows[j].Place })
	for _, o := range railSorts {
		h := head{Name: o.name, Href: sortLink("/rail", o.key, view.Query, "", view.Kind), Class: o.class}
		if view.Sort == o.key {
			h.Sorted = "ascending"
			sort.SliceStable(view.Rows, func(i, j int) bool { return o.less(view.Rows[i], view.Rows[j]) })
		}
		view.Heads = append(view.Heads, h)
	}
	view.Of = len(view.Rows)
	view.Rows, view.Before, view.After = stretch(view.Rows, r)
	for i := range view.Rows {
		view.Rows[i].fill(&p.House)
		colours = append(colours, view.Rows[i].Colour)
	}
	view.Says = fmt.Sprintf("%d garments on the rail and bought, %d of them in the plan.", all, used)
	if all == 0 {
		view.Says = "The rail is empty."
	}
	view.Frame = s.frame(p, "The rail", "/rail", colours)
	return s.show(w, http.StatusOK, "rail", view)
}

// atOnce are as many rows as a page of a long list shows.
const atOnce = 500

// stretch is the part of a list that is asked for by the row it starts from,
// with links to the parts before and after, empty where there is none.
func stretch[R any](rows []R, r *http.Request) (part []R, before, after string) {
	from, err := strconv.Atoi(r.FormValue("from"))
	if err != nil || from < 1 || from > len(rows) {
		from = 1
	}
	link := func(n int) string {
		q := r.URL.Query()
		q.Set("from", strconv.Itoa(n))
		return r.URL.Path + "?" + q.Encode()
	}
	if from > 1 {
		before = link(max(1, from-atOnce))
	}
	till := min(len(rows), from-1+atOnce)
	if till < len(rows) {
		after = link(till + 1)
	}
	return rows[from-1 : till], before, after
}

// railRowOf is what a garment's line is found and sorted by; f is its find, or
// nil.
func railRowOf(g show.Garment, f *show.Find, uses []show.PieceID) railRow {
	row := railRow{Place: g.Place, ID: string(g.ID), Name: g.Name, Kind: string(g.Category), Colour: g.Colour,
		Closes: g.Closure, For: uses, garment: g}
	if f != nil {
		row.Place = "find"
		if f.Decision != "bought" {
			row.Note = "seen, not bought"
		}
	}
	if !g.MayCut {
		row.Note = "may not be cut"
	}
	return row
}

// fill adds what is only looked at.
func (row *railRow) fill(h *show.House) {
	g := &row.garment
	row.Hex = hexOf(h, g.Colour)
	row.Chest, row.Waist, row.Hip = flat(h.Units, g.Chest), flat(h.Units, g.Waist), flat(h.Units, g.Hip)
	if g.Length.Known {
		row.Length = h.Units.PrintSpan(g.Length)
	}
}

func flat(sys units.System, x units.Span) string {
	if !x.Known {
		return ""
	}
	return sys.PrintSpan(x.Times(1, 2))
}

// lengthWords prints a length with its unit.
func lengthWords(sys units.System, l units.Length) string { return sys.Print(l) + " " + sys.Unit() }

func words(sys units.System, v why.Verdict) string {
	var out []string
	for _, r := range v.Reasons {
		out = append(out, r.Sentence(sys))
	}
	return strings.Join(out, " ")
}

type slipView struct {
	ID, Day, Shop, Sum, Back string
	Lost                     bool
}

type owedView struct{ Name, Sum string }

func (s *server) money(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Says, Currency string
		Empty          bool
		Money          answer.Money
		Buys, Without  []answer.Errand
		SetAside       units.Money
		Slips          []slipView
		Owed           []owedView
	}{Frame: s.frame(p, "Money", "/money", nil), Says: words(p.House.Units, p.Money.Verdict), Currency: p.House.Show.Currency, Money: p.Money,
		Empty: len(p.House.Budget)+len(p.House.Receipts)+len(p.Errands) == 0}
	for _, e := range p.Errands {
		if e.Without {
			view.Without = append(view.Without, e)
			continue
		}
		view.Buys = append(view.Buys, e)
		view.SetAside += e.Price
	}
	for _, x := range p.Receipts {
		back := "not yet"
		if x.PaidBackOn != 0 {
			back = x.PaidBackOn.Short()
		}
		view.Slips = append(view.Slips, slipView{string(x.ID), x.Day.Short(), x.Shop, x.Sum.V.String(), back, !x.Slip})
	}
	for _, o := range p.Money.Owed {
		view.Owed = append(view.Owed, owedView{helperName(&p.House, o.To), o.Sum.String()})
	}
	return s.show(w, http.StatusOK, "money", view)
}

// cautionGroup is the cautions of one rule.
type cautionGroup struct {
	Rule, Suggest, Decides, Basis string
	Lines, More                   []cautionLine
}

type cautionLine struct {
	Code, Says, Decided string // the code of the one piece it begins with, if it does
	Pieces              []string
}

// cautionView is one caution beside the thing it is about.
type cautionView struct{ Says, Suggest, Decides string }

// cautionsOn lists the cautions about any of some things, but those that
// speak of many at once.
func cautionsOn(p *workshop.Prepared, codes map[string]bool) []cautionView {
	var out []cautionView
	for _, c := range p.Cautions {
		for _, ref := range c.About {
			if codes[ref.Code] && len(c.About) < 5 {
				out = append(out, cautionView{c.Reason.Sentence(p.House.Units), c.Suggest, decides(c.Decides)})
				break
			}
		}
	}
	return out
}

// decides says who decides, as a sentence.
func decides(who string) string {
	if who == "you" || who == "You" {
		return "You decide."
	}
	return why.Capital(who) + " decides."
}

// ruleNames are heads for groups of cautions, by the first word of their key.
var ruleNames = map[string]string{"cord-neck": "Cords and hoods at the neck", "cord-waist": "Ties at the waist", "hem-dance": "Hems in a dance", "hem-stairs": "Hems on stairs",
	"head": "One hat, several heads", "chaperones": "Chaperones", "chaperone-dresser": "Chaperones", "wish-0": "No bare metal", "wish-1": "No rubber elastic", "wish-2": "No wool", "wish-3": "Arms and hair covered"}

func (s *server) cautions(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		N      int
		Groups []cautionGroup
	}{Frame: s.frame(p, "Cautions", "", nil), N: len(p.Cautions)}
	at := map[string]int{}
	for _, c := range p.Cautions {
		first, _, _ := strings.Cut(c.Key, " ")
		i, ok := at[first]
		if !ok {
			i = len(view.Groups)
			at[first] = i
			view.Groups = append(view.Groups, cautionGroup{Rule: ruleNames[first], Suggest: c.Suggest, Decides: decides(c.Decides), Basis: c.Reason.Basis().Title})
		}
		line := cautionLine{Says: c.Reason.Sentence(p.House.Units)}
		if c.Decided != nil {
			line.Decided = c.Decided.What
		}
		for _, ref := range c.About {
			if ref.Kind == "piece" {
				line.Pieces = append(line.Pieces, ref.Code)
			}
		}
		if len(line.Pieces) == 1 && strings.HasPrefix(line.Says, line.Pieces[0]+" ") {
			line.Code, line.Says, line.Pieces = line.Pieces[0], strings.TrimPrefix(line.Says, line.Pieces[0]), nil
		}
		if g := &view.Groups[i]; len(g.Lines) < 6 {
			g.Lines = append(g.Lines, line)
		} else {
			g.More = append(g.More, line)
		}
	}
	return s.show(w, http.StatusOK, "cautions", view)
}

type sheetKind struct {
	Name   string
	Sheets []sheet.Sheet
}

func (s *server) sheets(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		N     int
		Act   int64
		Kinds []sheetKind
	}{Frame: s.frame(p, "Sheets", "/sheets", nil), Act: p.Act}
	for _, x := range sheet.Set(p) {
		view.N++
		if k := len(view.Kinds); k > 0 && view.Kinds[k-1].Name == x.Name {
			view.Kinds[k-1].Sheets = append(view.Kinds[k-1].Sheets, x)
			continue
		}
		view.Kinds = append(view.Kinds, sheetKind{x.Name, []sheet.Sheet{x}})
	}
	return s.show(w, http.StatusOK, "sheets", view)
}

// oneSheet answers with a sheet as PDF, text or a page; "all" is every sheet
// in one PDF.
func (s *server) oneSheet(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	name := r.PathValue("file")
	key, kind, _ := strings.Cut(name, ".")
	var b bytes.Buffer
	var err error
	x, ok := findSheet(p, key)
	switch all := sheet.Set(p); {
	case key == "all" && kind == "pdf" && len(all) > 0:
		w.Header().Set("Content-Type", "application/pdf")
		err = sheet.PDF(&b, all...)
	case !ok:
		return why.NotFound("sheet", key)
	case kind == "pdf":
		if err := s.ws.Printed(x.Name); err != nil {
			s.log.Warn("the print is not noted", "err", err) // it can be printed all the same
		}
		w.Header().Set("Content-Type", "application/pdf")
		err = sheet.PDF(&b, x)
	case kind == "txt":
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		err = sheet.Text(&b, x)
	case kind == "html":
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		err = sheet.HTML(&b, x)
	default:
		return why.NotFound("sheet", name)
	}
	if err != nil {
		return err
	}
	w.Header().Set("Cache-Control", "no-store")
	_, err = w.Write(b.Bytes())
	return err
}

func findSheet(p *workshop.Prepared, key string) (sheet.Sheet, bool) {
	if id, ok := strings.CutPrefix(key, "our-numbers-"); ok && p.House.Performer(show.PerformerID(id)) != nil {
		return sheet.Numbers(p, show.PerformerID(id)), true // not among the set: for one family
	}
	if id, ok := strings.CutPrefix(key, "away-"); ok && p.House.Performer(show.PerformerID(id)) != nil {
		return sheet.Away(p, show.PerformerID(id), workshop.Away(p, p.House.Casts()[0], show.PerformerID(id))), true
	}
	if code, ok := strings.CutPrefix(key, "unpick-"); ok {
		if c, err := workshop.CutUpOf(p, code); err == nil {
			return sheet.UnpickCard(p, c), true
		}
	}
	for _, x := range sheet.Set(p) {
		if x.Key == key {
			return x, true
		}
	}
	return sheet.Sheet{}, false
}
