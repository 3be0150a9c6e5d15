package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"hemwright/internal/craft/fit"
	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// rounded is a range in pencil to whole steps of the tape, outwards: a guess
// has no halves.
func rounded(s units.Span, sys units.System) units.Span {
	step := units.Centimetre
	if sys == units.Imperial {
		step = units.Inch / 2
	}
	return units.Between(s.Lo/step*step, (s.Hi+step-1)/step*step)
}

// grows says what a performer's hems may want more by the opening, and when
// the tape is wanted again; empty where neither is to be expected.
func grows(h *show.House, who *show.Performer) string {
	if who.Held() {
		return ""
	}
	m := who.Body[body.WaistToFloor]
	tall := who.Body[body.Height].Span
	age, ok := body.AgeOf(who.BirthMonth, who.Age, m.Day)
	opening := h.Opening()
	if !ok || !tall.Known || m.Day == 0 || opening <= m.Day {
		return ""
	}
	more := body.WaistGrowth(body.Growth(tall.Mid(), age, who.GrowthSex, int(opening-m.Day)))
	if more.Hi < 5*units.Millimetre {
		return ""
	}
	say := fmt.Sprintf("Hems may want %s %s more by the opening.", h.Units.PrintSpan(units.Between(more.Lo, more.Hi)), h.Units.Unit())
	if day := fit.MeasureAgain(h, who.ID); day != 0 {
		say += " Measure height and waist to floor again about " + day.Words() + "."
	}
	return say
}

// tapeLine is where a measure runs on the figure: across at a height, or up
// between two, at a distance from the middle.
type tapeLine struct {
	kind       body.Kind
	x1, y1, x2 float64
	y2         float64
	labelX     float64
	labelY     float64
	anchor     string
}

// tapeLines lie on one neutral form, which is nobody's.
var tapeLines = []tapeLine{
	{body.Head, 84, 34, 116, 34, 124, 38, "start"},
	{body.Neck, 91, 66, 109, 66, 124, 64, "start"},
	{body.AcrossShoulders, 66, 84, 134, 84, 178, 84, "start"},
	{body.Chest, 70, 118, 130, 118, 178, 118, "start"},
	{body.UpperArm, 48, 126, 66, 126, 34, 124, "end"},
	{body.Waist, 76, 162, 124, 162, 178, 162, "start"},
	{body.Hip, 68, 200, 132, 200, 178, 203, "start"},
	{body.ShoulderToWrist, 62, 86, 42, 214, 34, 196, "end"},
	{body.NapeToWaist, 100, 72, 100, 162, 34, 178, "end"},
	{body.WaistToKnee, 108, 162, 112, 296, 178, 268, "start"},
	{body.WaistToFloor, 138, 162, 138, 392, 178, 330, "start"},
	{body.InsideLeg, 100, 222, 98, 392, 56, 330, "end"},
	{body.Height, -66, 16, -66, 392, -60, 28, "start"},
}

// figure is the neutral form with the lines of the tape: a full line for a
// measure in ink, a broken one for pencil, none where nothing is known.
func figure(h *show.House, who *show.Performer) template.HTML {
	spans, _, from := fit.Tape(h, who)
	if who.Held() || who.Consent == "no measuring" {
		return ""
	}
	any := false
	for _, k := range body.All() {
		any = any || spans[k].Known
	}
	if !any {
		return ""
	}
	s := begin(350, 400, "figure", "a neutral form with the lines of the tape; the numbers stand in the table")
	s.open(`transform="translate(76 0)"`)
	s.path("M100 16c-11 0-17 9-17 21s7 22 17 22 17-10 17-22-6-21-17-21z"+
		"M91 58v10c-9 6-22 8-29 14-6 6-8 16-10 30l-8 52-6 48c-1 6 6 7 7 2l10-46 10-40 5 22c4 12 4 18 2 28-3 12-5 22-5 36l2 72 4 56 1 38c0 6 18 6 18 0l2-54 3-56 3-38h0l3 38 3 56 2 54c0 6 18 6 18 0l1-38 4-56 2-72c0-14-2-24-5-36-2-10-2-16 2-28l5-22 10 40 10 46c1 5 8 4 7-2l-6-48-8-52c-2-14-4-24-10-30-7-6-20-8-29-14v-10",
		"", "line2", 1.2, "")
	for _, l := range tapeLines {
		if !spans[l.kind].Known {
			continue
		}
		dash, width := "", 1.6
		if from[l.kind] != "" {
			dash, width = "3 3", 1.2
		}
		s.line(l.x1, l.y1, l.x2, l.y2, "ink", width, dash)
		s.text(l.labelX, l.labelY, 10.5, l.anchor, "", l.kind.String())
	}
	s.close()
	return s.end()
}

// garmentFit is one piece a garment was held against.
type garmentFit struct {
	ID, Name, Colour, Hex, Who string
	Says, Look                 string
	Pencil                     bool
	Settle                     string
}

// garmentPage says whom a garment fits.
func (s *server) garment(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	h := &p.House
	g := h.Garment(show.GarmentID(r.PathValue("id")))
	if g == nil {
		return why.NotFound("garment", r.PathValue("id"))
	}
	view := struct {
		Frame
		ID, Name, Edit, Says, Swap, Flat, Place string
		Hex, Colour                             string
		Goes, Waits, Not                        []garmentFit
		Planned                                 string
		LetDowns                                []string
		Drawing                                 template.HTML
	}{Frame: s.frame(p, string(g.ID)+" "+g.Name, "/rail", []string{g.Colour}), ID: string(g.ID), Name: g.Name, Edit: "/edit/garment/" + string(g.ID), Hex: hexOf(h, g.Colour), Colour: g.Colour, Place: g.Place}
	if f := h.Find(show.FindID(g.ID)); f != nil {
		view.Edit = "/edit/find/" + string(g.ID)
	}
	view.Flat = flatWords(h.Units, g)
	for _, f := range fit.OfGarment(h, g) {
		row := garmentFitOf(p, f)
		switch {
		case f.Verdict.Grade > why.No:
			view.Goes = append(view.Goes, row)
		case f.Verdict.Grade == why.Unknown:
			view.Waits = append(view.Waits, row)
		default:
			view.Not = append(view.Not, row)
		}
	}
	view.Says = garmentSays(len(view.Goes), len(view.Waits), len(view.Not))
	for _, c := range p.Plan.Choices {
		if c.Garment == g.ID && len(c.Alterations) > 0 {
			view.Planned = fmt.Sprintf("Planned for %s: %s.", wearerWords(p, c.Piece), workWords(h.Units, c.Alterations))
		}
	}
	for _, l := range h.LetDowns {
		if l.Garment == g.ID {
			say := l.Words + ", " + lengthWords(h.Units, l.By)
			if l.Left.Known {
				say += "; " + lengthWords(h.Units, l.Left.V) + " left"
			}
			if l.Day != 0 {
				say += ", " + l.Day.Words()
			}
			view.LetDowns = append(view.LetDowns, say)
		}
	}
	if x, ok := fit.SwapOf(h, g); ok {
		view.Swap = swapSays(p, x)
	}
	return s.show(w, http.StatusOK, "garment", view)
}

func garmentSays(goes, waits, not int) string {
	switch {
	case goes+waits+not == 0:
		return "Nothing in this show asks for one of these."
	case goes == 0 && waits == 0:
		return fmt.Sprintf("It goes for none of the %s of its kind.", plural(not, "piece", "pieces"))
	case goes == 0:
		return fmt.Sprintf("It waits for a number: %s hang on one.", plural(waits, "piece", "pieces"))
	case waits == 0:
		return fmt.Sprintf("It goes for %s of %d.", plural(goes, "piece", "pieces"), goes+not)
	}
	return fmt.Sprintf("It goes for %s of %d; %d wait for a number.", plural(goes, "piece", "pieces"), goes+waits+not, waits)
}

// swapSays is moment three: two colours of a set exchanged.
func swapSays(p *workshop.Prepared, x fit.Swap) string {
	h := &p.House
	other := h.Garment(x.Other)
	was := "as drawn one of them does not go"
	if x.AsWere > 0 {
		was = "as drawn it is " + x.AsWere.String()
	}
	return fmt.Sprintf("Exchange two colours: %s to %s, %s %s to %s; %s in all, %s. Their colours are free inside the set.",
		x.Garment, wearerWords(p, x.With), x.Other, other.Colour, wearerWords(p, x.Piece), x.Swapped, was)
}

// wearerWords names a piece by who wears it.
func wearerWords(p *workshop.Prepared, id show.PieceID) string {
	return string(id) + " (" + wearers(&p.House, p.House.Piece(id)) + ")"
}

// flatWords are a garment's numbers as the tape reads them, flat.
func flatWords(sys units.System, g *show.Garment) string {
	var out []string
	add := func(word string, s units.Span, half bool) {
		if !s.Known {
			return
		}
		if half {
			s = units.Span{Lo: s.Lo / 2, Hi: s.Hi / 2, Known: true}
		}
		out = append(out, word+" "+sys.PrintSpan(s))
	}
	add("chest", g.Chest, true)
	add("waist", g.Waist, true)
	add("hip", g.Hip, true)
	add("length", g.Length, false)
	add("sleeve", g.Sleeve, false)
	add("across shoulders", g.Shoulders, false)
	add("head", g.Head, false)
	if g.LetOut.V > 0 {
		out = append(out, "seams hold "+lengthWords(sys, g.LetOut.V))
	}
	if g.LetDown.V > 0 {
		out = append(out, "hem holds "+lengthWords(sys, g.LetDown.V))
	}
	return strings.Join(out, " · ")
}

func garmentFitOf(p *workshop.Prepared, f answer.Fit) garmentFit {
	h := &p.House
	q := h.Piece(f.Piece)
	row := garmentFit{ID: string(q.ID), Name: q.Name, Colour: q.Colour, Hex: hexOf(h, q.Colour), Pencil: f.Verdict.Grade == why.Likely, Who: wearers(h, q)}
	switch {
	case f.Verdict.Grade == why.No:
		for _, r := range f.Verdict.Reasons {
			if r.Grade == why.No {
				row.Says = r.Sentence(h.Units)
				break
			}
		}
	case f.Verdict.Grade == why.Unknown:
		var ask []string
		for _, x := range f.Settles {
			ask = append(ask, x.Measure.String()+" of "+performerName(h, x.Performer))
		}
		if len(ask) == 0 {
			ask = []string{"a number of the garment"}
		}
		row.Settle = why.And(ask)
	case len(f.Alterations) == 0:
		row.Says = "as it is"
	default:
		row.Says = f.Minutes().String() + ": " + workWords(h.Units, f.Alterations)
	}
	return row
}

// workWords names each operation once, with each place and how far.
func workWords(sys units.System, work []answer.Alteration) string {
	var out []string
	last := ""
	for _, a := range work {
		at := ""
		if a.By > 0 {
			at = ", " + a.Where + " " + lengthWords(sys, a.By)
		}
		if a.Op == last {
			out[len(out)-1] += at
			continue
		}
		out, last = append(out, a.Op+at), a.Op
	}
	return strings.Join(out, "; ")
}

// pairCell is one garment against one piece.
type pairCell struct {
	Says string
	Mark string // how it is set: yes, work, pencil, no, wait
	Best bool
	Full string // the whole sentence, for those who hear it
}

// altered says that a garment's work in the plan is done.
func (s *server) altered(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("id")
	if err := s.ws.Altered(r.Context(), show.GarmentID(id)); err != nil {
		return err
	}
	return back(w, r, "/rail/"+url.PathEscape(id))
}

// fitGrid shows every garment on offer against every piece of a set.
func (s *server) fitGrid(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	h := &p.House
	type option struct {
		ID, Name string
		Here     bool
	}
	type column struct{ ID, Name, Who, Hex, Best string }
	type line struct {
		ID, Name, Hex string
		Cells         []pairCell
	}
	view := struct {
		Frame
		Sets    []option
		Set     string
		Says    string
		Columns []column
		Rows    []line
		Others  int
	}{Frame: s.frame(p, "Garments and pieces", "/rail", nil), Set: r.FormValue("set")}
	if len(h.Sets) > 0 && view.Set == "" {
		view.Set = string(firstSet(h))
	}
	for _, x := range h.Sets {
		view.Sets = append(view.Sets, option{string(x.ID), x.Name, string(x.ID) == view.Set})
	}
	set := h.Set(show.SetID(view.Set))
	if set == nil {
		if view.Set != "" {
			return why.NotFound("set", view.Set)
		}
		return s.show(w, http.StatusOK, "fitgrid", view)
	}
	g := fit.GridOf(h, set.Pieces)
	served := 0
	for k, id := range g.Pieces {
		q := h.Piece(id)
		if g.Best[k] != "" {
			served++
		}
		view.Columns = append(view.Columns, column{string(id), q.Name, wearers(h, q), hexOf(h, q.Colour), string(g.Best[k])})
	}
	for i, id := range g.Garments {
		x := h.Garment(id)
		row := line{ID: string(id), Name: x.Name, Hex: hexOf(h, x.Colour)}
		for k := range g.Pieces {
			row.Cells = append(row.Cells, pairCellOf(g.Sums[i][k], g.Best[k] == id))
		}
		view.Rows = append(view.Rows, row)
	}
	view.Others = g.Others
	view.Says = fmt.Sprintf("%d of %s of %s can have a garment of their own from the rail and the finds.", served, plural(len(g.Pieces), "piece", "pieces"), set.Name)
	return s.show(w, http.StatusOK, "fitgrid", view)
}

// firstSet is the first set of dresses or skirts, else the first of all.
func firstSet(h *show.House) show.SetID {
	for _, x := range h.Sets {
		if len(x.Pieces) == 0 {
			continue
		}
		if q := h.Piece(x.Pieces[0]); q != nil && (q.Category == show.Dress || q.Category == show.Skirt) {
			return x.ID
		}
	}
	return h.Sets[0].ID
}

func pairCellOf(s fit.Sum, best bool) pairCell {
	c := pairCell{Best: best}
	switch s.Grade {
	case why.Yes:
		c.Says, c.Mark, c.Full = "0", "yes", "as it is"
	case why.Work:
		c.Says, c.Mark, c.Full = fmt.Sprint(int64(s.Minutes)), "work", s.Minutes.String()
	case why.Likely:
		c.Says, c.Mark, c.Full = fmt.Sprint(int64(s.Minutes)), "pencil", "likely, "+s.Minutes.String()
	case why.Unknown:
		c.Says, c.Mark, c.Full = "?", "wait", "waits for a number"
	default:
		c.Says, c.Mark, c.Full = "·", "no", "not this one"
	}
	return c
}

// operations is the table of what can be done, with what was logged.
func (s *server) operations(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	type row struct {
		fit.Operation
		Learned string
	}
	view := struct {
		Frame
		Says, Query string
		Rows        []row
	}{Frame: s.frame(p, "What can be done", "/rail", nil), Query: r.FormValue("q")}
	taken := fit.Taken(&p.House)
	for _, o := range fit.Operations(&p.House) {
		if !intake.Matches(view.Query, o.Says, o.On, o.Needs, o.Gives, string(o.Skill)) {
			continue
		}
		x := row{Operation: o}
		if share := taken(o.Says); share != 100 {
			x.Learned = fmt.Sprintf("taken at %d in 100, as logged", share)
		}
		view.Rows = append(view.Rows, x)
	}
	view.Says = fmt.Sprintf("%d ways to make a garment sit or look otherwise.", len(view.Rows))
	return s.show(w, http.StatusOK, "operations", view)
}
