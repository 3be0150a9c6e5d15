package web

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
	"sort"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

type railRow struct {
	Place, ID, Name, Colour, Hex, Chest, Waist, Hip, Length, Closes, Note string
	For                                                                   []show.PieceID
}

func (s *server) rail(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	view := struct {
		Frame
		Says, Query string
		Rows        []railRow
	}{Query: r.FormValue("q")}
	uses := map[show.GarmentID][]show.PieceID{}
	for _, c := range p.Plan.Choices {
		if c.Garment != "" {
			uses[c.Garment] = append(uses[c.Garment], c.Piece)
		}
	}
	var colours []string
	used := 0
	for _, g := range p.House.OnOffer() {
		place := g.Place
		if f := p.House.Find(show.FindID(g.ID)); f != nil {
			place = "find, " + f.Decision
		}
		row := railRow{Place: place, ID: string(g.ID), Name: g.Name, Colour: g.Colour, Hex: hexOf(&p.House, g.Colour), Chest: flat(g.Chest), Waist: flat(g.Waist), Hip: flat(g.Hip),
			Closes: g.Closure, For: uses[g.ID]}
		if g.Length.Known {
			row.Length = units.Metric.PrintSpan(g.Length)
		}
		if !g.MayCut {
			row.Note = "may not be cut"
		}
		if len(row.For) > 0 {
			used++
		}
		if matches(view.Query, row.ID, row.Name, row.Colour, row.Place) {
			view.Rows = append(view.Rows, row)
			colours = append(colours, g.Colour)
		}
	}
	sort.SliceStable(view.Rows, func(i, j int) bool { return view.Rows[i].Place < view.Rows[j].Place })
	view.Says = fmt.Sprintf("%d garments and finds, %d of them in the plan.", len(p.House.OnOffer()), used)
	view.Frame = s.frame(p, "The rail", "/rail", colours)
	return s.show(w, http.StatusOK, "rail", view)
}

func flat(x units.Span) string {
	if !x.Known {
		return ""
	}
	return units.Metric.PrintSpan(x.Times(1, 2))
}

type clothView struct {
	ID, Name, Colour, Hex, Says, Sheet string
	Drawing                            template.HTML
	Pieces                             []show.PieceID
}

func (s *server) shelf(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	view := struct {
		Frame
		Says   string
		Short  []answer.Shortage
		Cloths []clothView
	}{Short: p.Cutting.Short}
	var colours []string
	parts, missing := 0, 0
	for i := range p.House.Cloths {
		c := &p.House.Cloths[i]
		v := clothView{ID: string(c.ID), Name: c.Name, Colour: c.Colour, Hex: hexOf(&p.House, c.Colour), Says: "Nothing is cut from it."}
		lay := answer.Lay{Cloth: c.ID}
		if l := p.LayOf(c.ID); l != nil {
			lay = *l
			v.Says, v.Sheet = words(l.Verdict), "cut-"+string(c.ID)
			parts += len(l.Placed)
			missing += len(l.Missing)
			seen := map[show.PieceID]bool{}
			for _, q := range l.Placed {
				if !seen[q.Piece] {
					seen[q.Piece] = true
					v.Pieces = append(v.Pieces, q.Piece)
				}
			}
		}
		v.Drawing = drawCloth(&p.House, c, lay)
		colours = append(colours, c.Colour)
		view.Cloths = append(view.Cloths, v)
	}
	view.Says = fmt.Sprintf("%d parts are laid on %d cloths.", parts, len(p.Cutting.Lays))
	if missing > 0 {
		view.Says += fmt.Sprintf(" For %d parts no place was found, which proves nothing.", missing)
	}
	view.Frame = s.frame(p, "The shelf", "/shelf", colours)
	return s.show(w, http.StatusOK, "shelf", view)
}

func words(v why.Verdict) string {
	var out []string
	for _, r := range v.Reasons {
		out = append(out, r.Sentence(units.Metric))
	}
	return strings.Join(out, " ")
}

// clothScale is pixels a centimetre, one for the whole page.
const clothScale = 1.15

// drawCloth draws the lay of a cloth from the same strokes as the sheet.
func drawCloth(h *show.House, c *show.Cloth, lay answer.Lay) template.HTML {
	d := sheet.LayDrawing(c, lay)
	px := func(l units.Length) float64 { return l.Cm()*clothScale + 6 }
	s := begin(px(d.W)+6, px(d.H)+6, "", fmt.Sprintf("%s, %s. %s", c.ID, c.Name, d.Says))
	for i, st := range d.Strokes {
		var b strings.Builder
		for k, q := range st.Points {
			fmt.Fprintf(&b, "%s%s %s", map[bool]string{true: "M", false: "L"}[k == 0], f(px(q.X)), f(px(q.Y)))
		}
		fill, width, dash, stroke := "", 1.0, "", "ink"
		if st.Closed {
			b.WriteString("Z")
			fill = st.Fill
			if i == 0 {
				fill = hexOf(h, c.Colour)
			}
		}
		switch st.Pen {
		case sheet.Heavy:
			width = 1.5
		case sheet.Dots:
			dash = "1.5 2.5"
		case sheet.Offer:
			dash = "7 4"
		case sheet.Chain:
			dash = "9 3 2 3"
		case sheet.Fine:
			stroke, width = "line2", .8
		case sheet.Hatch:
			width = .8
		}
		if fill == "" && st.Closed {
			fill = "none"
		}
		s.path(b.String(), fill, stroke, width, dash)
	}
	for _, l := range d.Labels {
		if l.Turn != 0 {
			s.turned(px(l.At.X)+3, px(l.At.Y), 9, "n", l.Text)
		} else {
			s.text(px(l.At.X), px(l.At.Y)+3, 9, "middle", "n", l.Text)
		}
	}
	return s.end()
}

type slipView struct {
	ID, Day, Shop, Sum, Back string
	Lost                     bool
}

type owedView struct{ Name, Sum string }

func (s *server) money(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	view := struct {
		Frame
		Says, Currency string
		Money          answer.Money
		Errands        []answer.Errand
		Slips          []slipView
		Owed           []owedView
	}{Frame: s.frame(p, "Money", "/money", nil), Says: words(p.Money.Verdict), Currency: p.House.Show.Currency, Money: p.Money, Errands: p.Errands}
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
	Lines                         []cautionLine
}

type cautionLine struct {
	Says, Decided string
	Pieces        []string
}

// ruleNames are heads for groups of cautions, by the first word of their key.
var ruleNames = map[string]string{"cord-neck": "Cords and hoods at the neck", "cord-waist": "Ties at the waist", "hem-dance": "Hems in a dance", "hem-stairs": "Hems on stairs",
	"head": "One hat, several heads", "chaperones": "Chaperones", "chaperone-dresser": "Chaperones", "wish-0": "No bare metal", "wish-1": "No rubber elastic", "wish-2": "No wool", "wish-3": "Arms and hair covered"}

func (s *server) cautions(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
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
			view.Groups = append(view.Groups, cautionGroup{Rule: ruleNames[first], Suggest: c.Suggest, Decides: capital(c.Decides), Basis: c.Reason.Basis().Title})
		}
		line := cautionLine{Says: c.Reason.Sentence(units.Metric)}
		if c.Decided != nil {
			line.Decided = c.Decided.What
		}
		for _, ref := range c.About {
			if ref.Kind == "piece" {
				line.Pieces = append(line.Pieces, ref.Code)
			}
		}
		view.Groups[i].Lines = append(view.Groups[i].Lines, line)
	}
	return s.show(w, http.StatusOK, "cautions", view)
}

type sheetKind struct {
	Name   string
	Sheets []sheet.Sheet
}

func (s *server) sheets(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	view := struct {
		Frame
		N     int
		Kinds []sheetKind
	}{Frame: s.frame(p, "Sheets", "/sheets", nil)}
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
func (s *server) oneSheet(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	name := r.PathValue("file")
	key, kind, _ := strings.Cut(name, ".")
	var b bytes.Buffer
	x, ok := findSheet(p, key)
	switch all := sheet.Set(p); {
	case key == "all" && kind == "pdf" && len(all) > 0:
		w.Header().Set("Content-Type", "application/pdf")
		err = sheet.PDF(&b, all...)
	case !ok:
		return why.NotFound("sheet", key)
	case kind == "pdf":
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
	for _, x := range sheet.Set(p) {
		if x.Key == key {
			return x, true
		}
	}
	return sheet.Sheet{}, false
}
