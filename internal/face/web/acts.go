package web

import (
	"fmt"
	"net/http"
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// back sends the browser to where it came from.
func back(w http.ResponseWriter, r *http.Request, to string) error {
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

func (s *server) pin(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("id")
	pin := show.Pin{Piece: show.PieceID(id), Source: r.FormValue("source"), Garment: show.GarmentID(r.FormValue("garment")), Cloth: show.ClothID(r.FormValue("cloth"))}
	if !slices.Contains(answer.Sources(), answer.Source(pin.Source)) {
		return why.Bad("source", fmt.Sprintf("%q is not a source.", pin.Source), "Choose one of the eight on the page.")
	}
	if err := s.ws.Pin(r.Context(), pin); err != nil {
		return err
	}
	return back(w, r, "/pieces/"+id)
}

func (s *server) unpin(w http.ResponseWriter, r *http.Request) error {
	if err := s.ws.Unpin(r.Context(), show.PieceID(r.PathValue("id"))); err != nil {
		return err
	}
	return back(w, r, "/pieces/"+r.PathValue("id"))
}

func (s *server) howFar(w http.ResponseWriter, r *http.Request) error {
	if err := s.ws.SetHowFar(r.Context(), show.PieceID(r.PathValue("id")), show.HowFar(r.FormValue("howfar"))); err != nil {
		return err
	}
	return back(w, r, "/pieces/"+r.PathValue("id"))
}

func (s *server) setUnits(w http.ResponseWriter, r *http.Request) error {
	sys, err := units.SystemOf(r.FormValue("lengths"))
	if err != nil {
		return why.Bad("lengths", err.Error()+".", "Choose one of the two.")
	}
	if err := s.ws.SetUnits(r.Context(), sys); err != nil {
		return err
	}
	return back(w, r, from(r))
}

func (s *server) undo(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.ws.Undo(r.Context()); err != nil {
		return err
	}
	return back(w, r, from(r))
}

func (s *server) redo(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.ws.Redo(r.Context()); err != nil {
		return err
	}
	return back(w, r, from(r))
}

// from is the path of the page a form stood on.
func from(r *http.Request) string {
	if u := r.Referer(); u != "" {
		if req, err := http.NewRequest("GET", u, nil); err == nil && req.URL.Path != "" && req.URL.Host == r.Host {
			return req.URL.RequestURI()
		}
	}
	return "/"
}
