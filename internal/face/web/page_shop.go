package web

import (
	"bytes"
	"errors"
	"net/http"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// shopView is the answer in a shop aisle.
type shopView struct {
	Frame
	Line, Fault string
	Asked       bool
	Advice      string
	UpTo        string
	Why         []why.Reason
	Serves      []servedView
	Second      bool
	Garment     show.Garment
	Kept        string
}

type servedView struct{ ID, Name, Who, Colour, Hex, Work, Saves, Instead, UpTo, Look string }

func (s *server) shop(w http.ResponseWriter, r *http.Request) error {
	p, _, err := s.ws.Glance()
	if err != nil {
		return err
	}
	v := shopView{Frame: s.frame(p, "In the shop", "/money", nil), Line: strings.TrimSpace(r.FormValue("line")), Kept: r.FormValue("kept")}
	if v.Line == "" {
		return s.show(w, http.StatusOK, "shop", v)
	}
	find, a, err := s.ws.Appraise(v.Line)
	var e *why.Error
	switch {
	case errors.As(err, &e):
		v.Fault = e.Error()
		return s.show(w, e.Kind.HTTPStatus(), "shop", v)
	case err != nil:
		return err
	}
	v.Asked, v.Garment, v.Second = true, find.Garment, a.Second
	v.Advice = why.Capital(string(a.Advice)) + "."
	v.UpTo, v.Why = p.House.Show.Currency+a.UpTo.String(), a.Why
	for i, x := range a.Serves {
		if i == 6 {
			break
		}
		v.Serves = append(v.Serves, servedOf(p, x))
	}
	return s.show(w, http.StatusOK, "shop", v)
}

func servedOf(p *workshop.Prepared, x answer.Served) servedView {
	q := p.House.Piece(x.Piece)
	v := servedView{ID: string(x.Piece), Name: q.Name, Colour: q.Colour, Hex: hexOf(&p.House, q.Colour), Work: "as it hangs", Saves: x.Saves.String(), Instead: string(x.Instead), UpTo: x.UpTo.String()}
	v.Who = wearers(&p.House, q)
	var do []string
	for _, a := range x.Option.Alterations {
		do = append(do, a.Op)
	}
	if m := x.Option.Minutes(); m > 0 {
		v.Work = m.String()
		if len(do) > 0 {
			v.Work += ": " + strings.Join(do, ", ")
		}
	}
	if x.Other {
		v.Look = "in another colour"
	}
	return v
}

func (s *server) keepFind(w http.ResponseWriter, r *http.Request) error {
	id, err := s.ws.AddFind(r.Context(), r.FormValue("line"), r.FormValue("decision"))
	if err != nil {
		return err
	}
	return back(w, r, "/shop?kept="+string(id))
}

// pocket gives the page that goes to the shop.
func (s *server) pocket(w http.ResponseWriter, _ *http.Request) error {
	needs, p, err := s.ws.Pocket()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := sheet.Pocket(&b, p, needs); err != nil {
		return err
	}
	return give(w, "text/html; charset=utf-8", "pocket.html", b.Bytes())
}
