package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"hemwright/internal/craft/fit"
	"hemwright/internal/face/sheet"
	"hemwright/internal/intake"
	"hemwright/internal/plan/needs"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

type performerRow struct {
	ID, Name, Roles, Fitting, Fastest string
	Looks, Changes                    int
}

// performerGroup is the performers of one group of the company.
type performerGroup struct {
	Name string
	Rows []performerRow
}

func (s *server) performers(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Query, Says, Sharpen string
		Groups               []performerGroup
	}{Frame: s.frame(p, "Performers", "/performers", nil), Query: r.FormValue("q"), Sharpen: sharpen(&p.House)}
	t := timeline(p, "")
	fitted := 0
	for _, g := range companies(&p.House) {
		var rows []performerRow
		for _, id := range g.who {
			row := performerIn(p, t, p.House.Performer(id))
			if row.Fitting != "" {
				fitted++
			}
			if intake.Matches(view.Query, row.Name, row.Roles, row.ID, g.name) {
				rows = append(rows, row)
			}
		}
		if len(rows) > 0 {
			view.Groups = append(view.Groups, performerGroup{g.name, rows})
		}
	}
	view.Says = fmt.Sprintf("%d performers, %d changes on a night, %d of the performers to be fitted.", len(p.House.Performers), len(t.Changes), fitted)
	return s.show(w, http.StatusOK, "performers", view)
}

// performerIn is a performer's line in the list.
func performerIn(p *workshop.Prepared, t answer.Timeline, who *show.Performer) performerRow {
	row := performerRow{ID: string(who.ID), Name: who.Name, Roles: rolesOf(p, who.ID), Fitting: fittingOf(p, who.ID)}
	looks := map[show.LookID]bool{}
	for _, st := range t.Stretches {
		if st.Performer == who.ID {
			looks[st.Look] = true
		}
	}
	row.Looks = len(looks)
	fastest := -1
	for _, c := range t.Changes {
		if c.Performer == who.ID {
			row.Changes++
			if fastest < 0 || c.Seconds < fastest {
				fastest = c.Seconds
			}
		}
	}
	if fastest >= 0 {
		row.Fastest = fmt.Sprint(fastest)
	}
	return row
}

// rolesOf names the roles of a performer in the first cast.
func rolesOf(p *workshop.Prepared, id show.PerformerID) string {
	var out []string
	for _, r := range p.House.Roles {
		if r.Performer == id {
			out = append(out, r.Name)
		}
	}
	return strings.Join(out, "; ")
}

func fittingOf(p *workshop.Prepared, id show.PerformerID) string {
	for _, a := range p.Fittings.Appointments {
		if a.Performer == id {
			return fmt.Sprintf("%s, %s", a.Day.Short(), a.Start)
		}
	}
	for _, a := range p.Fittings.Unplaced {
		if a.Performer == id {
			return "no slot yet"
		}
	}
	return ""
}

// lookView is one look of a performer, with the change out of it.
type lookView struct {
	N            int
	Name, Scenes string
	Swatch       template.HTML
	Pieces       []lookPiece
	Change       *changeInto // into the next look; nil after the last
}

// changeInto is a change between two looks.
type changeInto struct {
	Mark                      template.HTML
	Seconds                   int
	Off, On, Says, Scene, Who string
}

type lookPiece struct{ ID, Name, Colour, Hex, Source, From, Minutes string }

// factView is one line of a list of facts.
type factView struct{ Name, Value string }

type measureView struct {
	Name, Value, When string
	Typed             string // the words it was typed in, where they are others
	Pencil            bool
}

// sharpen says which one measure would settle the most pieces.
func sharpen(h *show.House) string {
	k, people, pieces := needs.Sharpest(h)
	if len(people) == 0 {
		return ""
	}
	name := k.String()
	return fmt.Sprintf("%s of %s would settle %s.", why.Capital(name), plural(len(people), "person", "people"), plural(len(pieces), "piece", "pieces"))
}

// fitsRow is what there is for one piece of a performer.
type fitsRow struct {
	ID, Name, Kind string
	Goes           []string // "S010, as it is", "S011, 45 min"
	More           int
	Settle         string
}

func fitsOf(h *show.House, id show.PerformerID) []fitsRow {
	var out []fitsRow
	for _, c := range fit.OfPerformer(h, id) {
		q := h.Piece(c.Piece)
		row := fitsRow{ID: string(c.Piece), Name: q.Name, Kind: string(q.Category)}
		for i, f := range c.Goes {
			if i == 3 {
				row.More = len(c.Goes) - 3
				break
			}
			words := "as it is"
			if m := f.Minutes(); m > 0 {
				words = m.String()
			}
			if f.Verdict.Grade == why.Likely {
				words = "likely, " + words
			}
			row.Goes = append(row.Goes, string(f.Garment)+", "+words)
		}
		var settle []string
		for _, s := range c.Settles {
			settle = append(settle, s.Measure.String())
		}
		row.Settle = strings.Join(settle, ", ")
		out = append(out, row)
	}
	return out
}

func (s *server) performer(w http.ResponseWriter, r *http.Request) error {
	p, stale, err := s.ws.Glance()
	if err != nil {
		return err
	}
	who := p.House.Performer(show.PerformerID(r.PathValue("id")))
	if who == nil {
		return why.NotFound("performer", r.PathValue("id"))
	}
	view := struct {
		Frame
		ID, Name, Roles, Says, Prev, Next string
		Looks                             []lookView
		Facts                             []factView
		Measures                          []measureView
		NoMeasures                        string
		Cautions                          []cautionView
		Figure                            template.HTML
		Grows                             string
		Fits                              []fitsRow
		Stale                             bool
	}{ID: string(who.ID), Name: who.Name, Roles: rolesOf(p, who.ID)}
	var colours []string
	view.Looks, colours = looksOf(p, who.ID)
	view.Frame = s.frame(p, who.Name, "/performers", colours)
	view.Says = fmt.Sprintf("%d times dressed, in order of wearing.", len(view.Looks))
	view.Facts, view.Fits, view.Stale = factsOf(p, who), fitsOf(&p.House, who.ID), stale
	view.Measures, view.NoMeasures = measuresOf(&p.House, who)
	view.Figure, view.Grows = figure(&p.House, who), grows(&p.House, who)
	mine := map[string]bool{}
	for _, l := range view.Looks {
		for _, q := range l.Pieces {
			mine[q.ID] = true
		}
	}
	view.Cautions = cautionsOn(p, mine)
	for i, q := range p.House.Performers {
		if q.ID == who.ID {
			if i > 0 {
				view.Prev = string(p.House.Performers[i-1].ID)
			}
			if i+1 < len(p.House.Performers) {
				view.Next = string(p.House.Performers[i+1].ID)
			}
		}
	}
	return s.show(w, http.StatusOK, "performer", view)
}

// looksOf lists a performer's looks in the order of wearing, and the colours
// in them.
func looksOf(p *workshop.Prepared, id show.PerformerID) ([]lookView, []string) {
	t := timeline(p, "")
	var out []lookView
	var colours []string
	var last answer.Stretch
	for _, st := range t.Stretches {
		if st.Performer != id {
			continue
		}
		if len(out) > 0 && st.Look == last.Look {
			out[len(out)-1].Scenes += ", " + string(st.Scene)
			last = st
			continue
		}
		if len(out) > 0 {
			out[len(out)-1].Change = changeTo(p, t, st)
		}
		v := lookView{N: len(out) + 1, Name: lookName(&p.House, st.Look), Scenes: string(st.Scene), Swatch: twoPly(plies(&p.House, st.Look))}
		for _, q := range p.House.LookPieces(st.Look) {
			lp := lookPiece{ID: string(q.ID), Name: q.Name, Colour: q.Colour, Hex: hexOf(&p.House, q.Colour)}
			if c := p.Choice(q.ID); c != nil {
				lp.Source, lp.From, lp.Minutes = string(c.Source), fromWhat(c.Option), fmt.Sprint(int64(c.Minutes()))
			}
			v.Pieces = append(v.Pieces, lp)
			colours = append(colours, q.Colour)
		}
		out = append(out, v)
		last = st
	}
	return out, colours
}

func changeTo(p *workshop.Prepared, t answer.Timeline, st answer.Stretch) *changeInto {
	for i, c := range t.Changes {
		if c.Performer != st.Performer || c.Enters != st.From {
			continue
		}
		v := &changeInto{Seconds: c.Seconds, Off: names(&p.House, c.Off), On: names(&p.House, c.On), Says: sentence(p.House.Units, c.Verdict), Scene: string(c.ToScene)}
		alone := false
		for _, d := range t.Duties {
			if d.Change == i {
				if alone = d.Dresser == ""; alone {
					v.Who = "Nobody is free to help."
				} else {
					v.Who = helperName(&p.House, d.Dresser) + " helps."
				}
			}
		}
		s := begin(14, 14, "mark", "change")
		switch {
		case c.InView:
			s.inView(7, 7)
		case alone || c.Verdict.Grade == why.No:
			s.tooShort(7, 7)
		default:
			s.ring(7, 7, c.Seconds < 180)
		}
		v.Mark = s.end()
		return v
	}
	return nil
}

// twoPly is a swatch of a look: above the waist, below the waist.
func twoPly(up, low string) template.HTML {
	s := begin(30, 34, "ply", "colours of the look")
	s.plain(0, 0, 30, 17, up)
	s.plain(0, 17, 30, 17, low)
	s.rect(.5, .5, 29, 33, "", "line2")
	return s.end()
}

// fromWhat names the garment or cloth of an option.
func fromWhat(o answer.Option) string {
	if len(o.Apart) > 0 {
		return strings.TrimPrefix(sheet.TakenWords(o.Taken()), string(o.Source)+" from the ")
	}
	if o.Garment != "" {
		return string(o.Garment)
	}
	if o.Cloth != "" {
		return string(o.Cloth)
	}
	for _, part := range o.Parts {
		if part.From.Kind == "cloth" {
			return "cloth to buy"
		}
	}
	return ""
}

func factsOf(p *workshop.Prepared, who *show.Performer) []factView {
	var out []factView
	add := func(name, value string) {
		if value != "" {
			out = append(out, factView{name, value})
		}
	}
	add("room", who.Room)
	add("fitting", fittingOf(p, who.ID))
	add("answer about measuring", who.Consent)
	add("rules", strings.Join(who.Care, "; "))
	for _, id := range who.NotBy {
		add("not dressed by", helperName(&p.House, id))
	}
	if f := p.House.FeetOf(who.ID); f != nil {
		add("shoe", f.Shoe+", "+f.ShoeFrom)
		add("hosiery", strings.TrimSpace(f.Hosiery+", "+f.HosieryFrom))
		one := "promised, not seen: do not count on it"
		if f.LayerOneSeen != 0 {
			one = f.LayerOne + ", seen " + f.LayerOneSeen.Words()
		}
		add("layer one", one)
	}
	for _, h := range p.House.Casting {
		if h.Performer == who.ID && h.Cover {
			add("covers", string(h.Role))
		}
	}
	return out
}

func measuresOf(h *show.House, who *show.Performer) ([]measureView, string) {
	switch {
	case who.Held():
		return nil, "The family’s answer is not back: the numbers are held, and nothing uses them."
	case who.Consent == "no measuring":
		return nil, "No measuring. Loose, elastic and tied things; hems pinned on the garment."
	}
	var out []measureView
	for _, k := range body.All() {
		m := who.Body[k]
		if m.Span.Known {
			v := measureView{Name: k.String(), Value: h.Units.PrintSpan(m.Span), When: m.Day.Short(), Pencil: m.Origin == body.Assumed}
			typed := show.TypedAs(h.PeopleTyped, "performer", string(who.ID), k.Code(), int64(m.Span.Lo))
			if m.Span.Exact() && typed != lengthWords(h.Units, m.Span.Lo) {
				v.Typed = typed
			}
			out = append(out, v)
		}
	}
	spans, _, from := fit.Tape(h, who)
	for _, k := range body.All() {
		if !who.Body[k].Span.Known && spans[k].Known && from[k] != "" {
			out = append(out, measureView{Name: k.String(), Value: h.Units.PrintSpan(rounded(spans[k], h.Units)), When: "likely, from " + from[k], Pencil: true})
		}
	}
	return out, "Not measured yet."
}

// fittingDay is the appointments of one day.
type fittingDay struct {
	Day  string
	Rows []fittingRow
}

type fittingRow struct {
	At, ID, Name string
	Minutes      int64
	Station      int
	Pieces       []pieceLink
}

// pieceLink is a piece named by its code and what it is.
type pieceLink struct{ ID, Name string }

func pieceLinks(h *show.House, ids []show.PieceID) []pieceLink {
	var out []pieceLink
	for _, id := range ids {
		out = append(out, pieceLink{string(id), pieceName(h, id)})
	}
	return out
}

func (s *server) fittings(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Says     string
		Days     []fittingDay
		Unplaced []string
	}{Frame: s.frame(p, "Fittings", "/fittings", nil)}
	for _, a := range p.Fittings.Appointments {
		day := a.Day.Long()
		if len(view.Days) == 0 || view.Days[len(view.Days)-1].Day != day {
			view.Days = append(view.Days, fittingDay{Day: day})
		}
		d := &view.Days[len(view.Days)-1]
		d.Rows = append(d.Rows, fittingRow{a.Start.String(), string(a.Performer), performerName(&p.House, a.Performer), int64(a.Minutes), a.Station, pieceLinks(&p.House, a.Pieces)})
	}
	for _, a := range p.Fittings.Unplaced {
		view.Unplaced = append(view.Unplaced, performerName(&p.House, a.Performer)+": "+a.Why.Sentence(p.House.Units))
	}
	switch n := len(p.Fittings.Appointments); {
	case n == 0 && len(view.Unplaced) == 0:
		view.Says = "No fitting is planned."
	case len(view.Unplaced) == 0:
		view.Says = fmt.Sprintf("%d fittings on %d days; everybody who must be fitted has a slot.", n, len(view.Days))
	default:
		view.Says = fmt.Sprintf("%d fittings on %d days; %d performers have no slot yet.", n, len(view.Days), len(view.Unplaced))
	}
	return s.show(w, http.StatusOK, "fittings", view)
}

func helperName(h *show.House, id show.HelperID) string {
	if p := h.Helper(id); p != nil {
		return sheet.FirstName(p.Name)
	}
	return string(id)
}
