package web

import (
	"fmt"
	"net/http"
	"strings"

	"hemwright/internal/engine/trace"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// walked keeps an outline measured with a tape.
func (s *server) walked(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	walk, err := walkOf(r, p.House.Units)
	if err != nil {
		return s.refuseOutline(w, r, err)
	}
	how := "measured with a tape"
	if walk.Apart > 0 {
		how += ", the numbers " + lengthWords(p.House.Units, walk.Apart) + " apart"
	}
	id := r.PathValue("id")
	if err := s.ws.KeepOutline(r.Context(), show.ClothID(id), workshop.Outline{Corners: walk.Outline, How: how}); err != nil {
		return err
	}
	return back(w, r, "/shelf/"+id)
}

func walkOf(r *http.Request, sys units.System) (trace.Walked, error) {
	sides, err := lengthsOf(r.FormValue("sides"), "sides", sys)
	if err != nil {
		return trace.Walked{}, err
	}
	if text := strings.TrimSpace(r.FormValue("turns")); text != "" {
		var turns []float64
		for _, part := range strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == ';' }) {
			v, err := pixel(part)
			if err != nil {
				return trace.Walked{}, why.Bad("turns", fmt.Sprintf("%q is no turn.", part), "Write degrees: 90 for a square corner to the right, -90 to the left.")
			}
			turns = append(turns, v)
		}
		return trace.Turns(sides, turns)
	}
	across, err := lengthsOf(r.FormValue("across"), "across", sys)
	if err != nil {
		return trace.Walked{}, err
	}
	check, err := lengthsOf(r.FormValue("check"), "check", sys)
	if err != nil {
		return trace.Walked{}, err
	}
	if len(check) > 1 {
		return trace.Walked{}, why.Bad("check", "The check is one number.", "From corner 2 to the last corner.")
	}
	return trace.Diagonals(sides, across, append(check, 0)[0])
}

// lengthsOf reads lengths with spaces between, or with semicolons where one of
// them has a space in it.
func lengthsOf(text, field string, sys units.System) ([]units.Length, error) {
	parts := strings.Fields(text)
	if strings.Contains(text, ";") {
		parts = strings.Split(text, ";")
	}
	if len(parts) > 100 {
		return nil, why.Bad(field, fmt.Sprintf("%d numbers are more than a person walks.", len(parts)), "100 are the most.")
	}
	var out []units.Length
	for _, part := range parts {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		l, err := units.ParseLength(part, sys.One())
		if err != nil {
			return nil, why.Bad(field, fmt.Sprintf("%q is not a length.", part), "Write 120 or 120.5, with spaces between.")
		}
		out = append(out, l)
	}
	return out, nil
}

// setSold gives a cloth the size of linen as sold.
func (s *server) setSold(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("id")
	if err := s.ws.SetSold(r.Context(), show.ClothID(id), r.FormValue("sold")); err != nil {
		return s.refuseOutline(w, r, err)
	}
	return back(w, r, "/shelf/"+id)
}

// addSold puts linen of a size as sold on the shelf and opens its row.
func (s *server) addSold(w http.ResponseWriter, r *http.Request) error {
	id, err := s.ws.AddSold(r.Context(), r.FormValue("sold"), strings.TrimSpace(r.FormValue("colour")))
	if err != nil {
		return err
	}
	return back(w, r, "/edit/cloth/"+string(id))
}
