package web

import (
	"fmt"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

// changeView is one change in a list.
type changeView struct {
	At, ID, Name, From, To, Wanted, Side, Dresser, Because, Off, On, Stays string
	FromScene, ToScene                                                     string
	Seconds, Timed                                                         int
}

func (s *server) running(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	view := struct {
		Frame
		Cast          show.Cast
		Casts         []show.Cast
		Changes, Fast int
		AtOnce        int
		Chart, Paper  template.HTML
		Legend        template.HTML
		Rows, All     []changeView
		Missing       []string
		Pencil        int // changes that rest on assumed times
		Help          helpView
		Under         []underRow
		UnderSays     string
		Asks, Notes   []string
		Travels       []string
		Groups        []string
		Scene         string
		Scenes        []show.Scene
		Group         string
		Zoom          int
		Zooms         []int
		A4            bool
	}{}
	var colours []string
	for _, l := range p.House.Looks {
		for _, q := range p.House.LookPieces(l.ID) {
			colours = append(colours, q.Colour)
		}
	}
	view.Frame = s.frame(p, "The running chart", "/running", colours)
	t := timeline(p, r.FormValue("cast"))
	view.Help, view.Asks, view.Notes = helpOf(p, t), favours(p, t), sentencesOf(p, t.Notes)
	view.Under, view.UnderSays = underRows(p, t)
	for _, x := range t.Travels {
		view.Travels = append(view.Travels, pieceName(&p.House, x.Piece)+", "+performerName(&p.House, t.Changes[x.On].Performer)+". "+x.Why.Sentence(p.House.Units))
	}
	view.Scene, view.Scenes = r.FormValue("scene"), p.House.Scenes
	view.Group, view.Zoom, view.Zooms = r.FormValue("group"), zoomOf(r.FormValue("zoom")), []int{1, 2, 4, 8}
	view.A4 = r.FormValue("a4") == "yes"
	for _, g := range companies(&p.House) {
		view.Groups = append(view.Groups, g.name)
	}
	view.Cast, view.Changes, view.Fast, view.AtOnce = t.Cast, len(t.Changes), fast(t), t.MostAtOnce
	for _, other := range p.Timelines {
		if other.Cast != t.Cast {
			view.Casts = append(view.Casts, other.Cast)
		}
	}
	if len(p.House.Scenes) > 0 {
		as := chartFor{group: view.Group, scene: show.SceneID(view.Scene), zoom: view.Zoom}
		view.Chart, view.Legend = drawChart(p, t, as), legend()
		as.paper = true
		view.Paper = drawChart(p, t, as)
	}
	helped := map[int]show.HelperID{}
	wants := map[int]bool{}
	for _, d := range t.Duties {
		helped[d.Change], wants[d.Change] = d.Dresser, true
	}
	for i, c := range t.Changes {
		if sheet.Pencil(p, c) {
			view.Pencil++
		}
		v := s.changeView(p, c)
		if wants[i] {
			v.Dresser = "nobody free"
			if h := p.House.Helper(helped[i]); h != nil {
				v.Dresser = sheet.FirstName(h.Name)
			}
		}
		view.All = append(view.All, v)
		if c.Seconds < 180 {
			view.Rows = append(view.Rows, v)
		}
	}
	for _, m := range p.Needs.Missing {
		view.Missing = append(view.Missing, m.Why.Sentence(p.House.Units))
	}
	return s.show(w, http.StatusOK, "running", view)
}

// timeline is that of the cast asked for, or the first; an empty one where
// there is none.
func timeline(p *workshop.Prepared, cast string) answer.Timeline {
	for _, t := range p.Timelines {
		if string(t.Cast) == cast {
			return t
		}
	}
	if len(p.Timelines) > 0 {
		return p.Timelines[0]
	}
	return answer.Timeline{}
}

func (s *server) changeView(p *workshop.Prepared, c answer.Change) changeView {
	v := changeView{At: sheet.Clock(c.Leaves), ID: string(c.Performer), Name: performerName(&p.House, c.Performer),
		From: string(c.FromScene), To: string(c.ToScene), FromScene: string(c.FromScene), ToScene: string(c.ToScene), Timed: c.Timed, Seconds: c.Seconds, Wanted: fmt.Sprintf("%d to %d", c.Wanted.Lo, c.Wanted.Hi),
		Side: sheet.Side(c.FromSide), Because: sentence(p.House.Units, c.Verdict), Off: names(&p.House, c.Off), On: names(&p.House, c.On), Stays: names(&p.House, c.Stays)}
	if c.FromSide != c.ToSide {
		v.Side += " to " + sheet.Side(c.ToSide)
	}
	if c.InView {
		v.Wanted = "in view"
	}
	return v
}

func names(h *show.House, ids []show.PieceID) string {
	if len(ids) == 0 {
		return "nothing"
	}
	var out []string
	for _, id := range ids {
		out = append(out, pieceName(h, id))
	}
	return strings.Join(out, ", ")
}

func performerName(h *show.House, id show.PerformerID) string {
	if p := h.Performer(id); p != nil {
		return p.Name
	}
	return string(id)
}

// helpView is how few dressers suffice, and what those there leave undone.
type helpView struct {
	Says  string
	Shown []string
	Alone []string
}

func helpOf(p *workshop.Prepared, t answer.Timeline) helpView {
	d := t.Dressers
	var v helpView
	there := plural(len(d.There), "is there", "are there")
	switch {
	case len(t.Duties) == 0:
		return v
	case d.Proof == solve.Best || d.Least == d.Bound:
		v.Says = fmt.Sprintf("%s; fewer do not. %s.", plural(d.Least, "dresser suffices", "dressers suffice"), there)
	default:
		v.Says = fmt.Sprintf("%s; fewer than %d do not. %s.", plural(d.Least, "dresser suffices", "dressers suffice"), d.Bound, there)
	}
	for _, x := range d.Shown {
		v.Shown = append(v.Shown, x.Why.Sentence(p.House.Units))
	}
	if len(d.Clashes) > 0 { // the smallest says enough
		small := slices.MinFunc(d.Clashes, func(a, b answer.Shown) int { return len(a.Changes) - len(b.Changes) })
		v.Shown = append(v.Shown, small.Why.Sentence(p.House.Units))
	}
	for _, i := range d.Alone {
		c := t.Changes[i]
		v.Alone = append(v.Alone, fmt.Sprintf("%s at %s, %s to %s", performerName(&p.House, c.Performer), sheet.Clock(c.Leaves), c.FromScene, c.ToScene))
	}
	for _, r := range d.Reasons {
		v.Shown = append(v.Shown, r.Sentence(p.House.Units))
	}
	return v
}

// underRow is one piece to wear underneath.
type underRow struct{ ID, Name, Piece, Under, From, To, Says string }

func underRows(p *workshop.Prepared, t answer.Timeline) ([]underRow, string) {
	var out []underRow
	for _, x := range t.Under.Hidden {
		row := underRow{ID: string(x.Performer), Name: performerName(&p.House, x.Performer), Piece: string(x.Piece) + " " + pieceName(&p.House, x.Piece),
			Under: lookName(&p.House, x.Look), From: string(x.From), To: string(x.To), Says: sentence(p.House.Units, x.Verdict)}
		if x.Verdict.Grade == why.Unknown {
			row.Says = "Ask in the fitting. " + row.Says
		}
		out = append(out, row)
	}
	if len(out) == 0 {
		return nil, ""
	}
	return out, fmt.Sprintf("%d seconds of a dresser saved in the fast changes; then %s.", t.Under.Saves, plural(t.Under.Least, "dresser suffices", "dressers suffice"))
}

func favours(p *workshop.Prepared, t answer.Timeline) []string {
	var out []string
	for _, a := range t.Asks {
		out = append(out, a.Why.Sentence(p.House.Units))
	}
	return out
}

func sentencesOf(p *workshop.Prepared, rs []why.Reason) []string {
	var out []string
	for _, r := range rs {
		out = append(out, r.Sentence(p.House.Units))
	}
	return out
}

// zoomOf is how many times wider than a screen the chart is drawn.
func zoomOf(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 8 {
		return 1
	}
	return n
}

// best keeps the best time of a change.
func (s *server) best(w http.ResponseWriter, r *http.Request) error {
	seconds, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(r.FormValue("seconds")), "s")))
	if err != nil {
		return why.Bad("seconds", fmt.Sprintf("%q is no number of seconds.", r.FormValue("seconds")), "Write the seconds it took, as 75.")
	}
	if err := s.ws.Rehearse(r.Context(), show.PerformerID(r.FormValue("who")), show.SceneID(r.FormValue("from")), show.SceneID(r.FormValue("to")), seconds); err != nil {
		return err
	}
	return back(w, r, "/running")
}
