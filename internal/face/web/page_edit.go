package web

import (
	"errors"
	"net/http"
	"net/url"
	"slices"

	"hemwright/internal/intake"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// editView is a row of a list as a form.
type editView struct {
	Frame
	Row    intake.Row
	Title  string
	List   string // the page of the list
	Listed string // and its name
	Like   string // the row this one begins as a copy of
	CutUp  string // the page of what it gives when it is cut up
	Saved  bool
	Sizes  bool // it is made in sizes
	Faults int
}

// listPages are the pages on which each kind of row is listed.
var listPages = map[string]NavItem{
	"performer": {Name: "Performers", Href: "/performers"}, "role": {Name: "Who is on", Href: "/who"}, "scene": {Name: "Who is on", Href: "/who"},
	"look": {Name: "Pieces", Href: "/pieces"}, "piece": {Name: "Pieces", Href: "/pieces"}, "set": {Name: "Pieces", Href: "/pieces"},
	"garment": {Name: "Rail", Href: "/rail"}, "find": {Name: "Rail", Href: "/rail"}, "cloth": {Name: "Shelf", Href: "/shelf"},
	"helper": {Name: "Workroom", Href: "/workroom"}, "kit": {Name: "Workroom", Href: "/workroom"}, "note": {Name: "Workroom", Href: "/workroom"},
	"performance": {Name: "Running", Href: "/running"}, "receipt": {Name: "Money", Href: "/money"}, "loan": {Name: "Money", Href: "/money"}, "ask": {Name: "Today", Href: "/"},
	"date": {Name: "Fittings", Href: "/fittings"}, "budget": {Name: "Money", Href: "/money"}, "notion": {Name: "Shelf", Href: "/shelf"}, "colour": {Name: "Pieces", Href: "/pieces"},
	"feet": {Name: "Performers", Href: "/performers"}, "head": {Name: "Pieces", Href: "/pieces"}, "microphone": {Name: "Running", Href: "/running"},
}

func (s *server) edit(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	kind, code, like := r.PathValue("kind"), r.PathValue("code"), r.FormValue("like")
	row, err := intake.EditRow(&p.House, kind, code, like)
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "edit", s.editPage(p, row, like, r.FormValue("saved") != ""))
}

func (s *server) editPage(p *workshop.Prepared, row intake.Row, like string, saved bool) editView {
	at := listPages[row.Kind]
	v := editView{Row: row, Title: why.Capital(row.Kind) + " " + row.Code, List: at.Href, Listed: at.Name, Like: like, Saved: saved, Sizes: row.Sizes}
	if row.Code == "" {
		v.Title = "A new " + row.Kind
	}
	if row.Code != "" && slices.Contains([]string{"garment", "find", "cloth"}, row.Kind) {
		v.CutUp = at.Href + "/" + row.Code + "/cut-up"
	}
	for _, f := range row.Fields {
		if f.Fault != "" {
			v.Faults++
		}
	}
	v.Frame = s.frame(p, v.Title, at.Href, nil)
	return v
}

// save takes the form; with faults it shows it again as it was typed.
func (s *server) save(w http.ResponseWriter, r *http.Request) error {
	kind, code := r.PathValue("kind"), r.PathValue("code")
	if err := r.ParseForm(); err != nil {
		return why.Bad("form", "The form did not arrive whole.", "Send it again.")
	}
	values := map[string]string{}
	for k, v := range r.PostForm {
		values[k] = v[len(v)-1]
	}
	row, ok, err := s.ws.SaveRow(r.Context(), kind, code, values)
	if r.PostFormValue("cell") != "" {
		return s.savedInPlace(w, r, kind, row, ok, err)
	}
	switch {
	case err != nil:
		return err
	case !ok:
		p, err := s.ws.Running()
		if err != nil {
			return err
		}
		row.Code = code
		return s.show(w, http.StatusUnprocessableEntity, "edit", s.editPage(p, row, "", false))
	}
	if r.PostFormValue("then") == "same again" {
		return back(w, r, "/edit/"+kind+"?like="+url.QueryEscape(row.Code))
	}
	return back(w, r, "/edit/"+kind+"/"+url.PathEscape(row.Code)+"?saved=yes")
}

func (s *server) remove(w http.ResponseWriter, r *http.Request) error {
	kind := r.PathValue("kind")
	if err := s.ws.RemoveRow(r.Context(), kind, r.PathValue("code")); err != nil {
		return err
	}
	return back(w, r, listPages[kind].Href)
}

// again shows a page once more after a refusal that a person can mend, with
// what was typed.
func (s *server) again(w http.ResponseWriter, r *http.Request, err error, page string, make func(p *workshop.Prepared, fault string) view) error {
	var e *why.Error
	if !errors.As(err, &e) {
		return err
	}
	p, perr := s.ws.Running()
	if perr != nil {
		return perr
	}
	return s.show(w, e.Kind.HTTPStatus(), page, make(p, e.Error()))
}
