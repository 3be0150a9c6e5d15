package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

// changeView is one change in a list.
type changeView struct {
	At, ID, Name, From, To, Wanted, Side, Dresser, Because, Off, On, Stays string
	Seconds                                                                int
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
	}{}
	var colours []string
	for _, l := range p.House.Looks {
		for _, q := range p.House.LookPieces(l.ID) {
			colours = append(colours, q.Colour)
		}
	}
	view.Frame = s.frame(p, "The running chart", "/running", colours)
	t := timeline(p, r.FormValue("cast"))
	view.Cast, view.Changes, view.Fast, view.AtOnce = t.Cast, len(t.Changes), fast(t), t.MostAtOnce
	for _, other := range p.Timelines {
		if other.Cast != t.Cast {
			view.Casts = append(view.Casts, other.Cast)
		}
	}
	if len(p.House.Scenes) > 0 {
		view.Chart, view.Paper, view.Legend = drawChart(p, t, false), drawChart(p, t, true), legend()
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
		From: string(c.FromScene), To: string(c.ToScene), Seconds: c.Seconds, Wanted: fmt.Sprintf("%d to %d", c.Wanted.Lo, c.Wanted.Hi),
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
