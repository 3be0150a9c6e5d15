package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// house shows what is kept, copied and to be forgotten.
func (s *server) house(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	return s.showHouse(w, p, http.StatusOK, "", "")
}

func (s *server) showHouse(w http.ResponseWriter, p *workshop.Prepared, status int, refused, typed string) error {
	day, pencil := workshop.EraseDay(&p.House)
	view := struct {
		Frame
		Copies    []store.Copy
		NotCopied string
		Day       string
		DayWords  string
		Pencil    bool
		Due, Kept bool
		People    []show.Performer
		Tables    []tableRow
		NotRead   string
	}{Frame: s.frame(p, "The house", "", nil), Copies: s.ws.Copies(), Pencil: pencil, Due: p.EraseDue(),
		Kept: p.Kept, People: p.House.Performers}
	if day != 0 {
		view.Day, view.DayWords = day.String(), day.Long()
	}
	if typed != "" {
		view.Day = typed
	}
	view.Refused = refused
	own, err := s.ws.OwnTables()
	if err != nil {
		view.NotRead = err.Error()
	}
	for _, t := range workshop.Tables() {
		view.Tables = append(view.Tables, tableRow{t.Name, t.Says, slices.Contains(own, t.Name)})
	}
	if err := s.ws.NotCopied(); err != nil {
		view.NotCopied = err.Error()
	}
	return s.show(w, status, "house", view)
}

// tableRow is one text of figures, and whether the person's own is read.
type tableRow struct {
	Name, Says string
	Own        bool
}

// oneTable sends a text of figures as it ships.
func (s *server) oneTable(w http.ResponseWriter, r *http.Request) error {
	for _, t := range workshop.Tables() {
		if t.Name+".txt" == r.PathValue("file") {
			return give(w, "text/plain; charset=utf-8", t.Name+".txt", []byte(t.Ships))
		}
	}
	return why.NotFound("table", r.PathValue("file"))
}

func (s *server) restore(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(r.FormValue("copy"))
	if err != nil {
		return why.NotFound("copy", r.FormValue("copy"))
	}
	if err := s.ws.Restore(r.Context(), n); err != nil {
		return err
	}
	return back(w, r, "/house")
}

func (s *server) eraseDay(w http.ResponseWriter, r *http.Request) error {
	day, err := units.ParseDate(r.FormValue("day"))
	if err == nil {
		err = s.ws.SetEraseDay(r.Context(), day)
	} else {
		err = why.Bad("day", err.Error()+".", "Write it as 2027-06-30.")
	}
	if err == nil {
		return back(w, r, "/house")
	}
	if why.KindOf(err) != why.Invalid {
		return err
	}
	p, perr := s.ws.Prepared(r.Context())
	if perr != nil {
		return perr
	}
	return s.showHouse(w, p, why.Invalid.HTTPStatus(), err.Error(), r.FormValue("day"))
}

// eraseView is one erasing, before or after the yes.
type eraseView struct {
	Frame
	Who, Name string
	Done      bool
	Small     bool
	Lines     []store.ErasedLine
	Similar   []store.ErasedLine
	List      sheet.Sheet
	store.Erasing
}

func (s *server) eraseView(p *workshop.Prepared, who show.PerformerID, e store.Erasing) eraseView {
	v := eraseView{Frame: s.frame(p, "Erase", "", nil), Who: string(who), Name: "all people of the show", Erasing: e}
	if q := p.House.Performer(who); q != nil {
		v.Name = strings.TrimSpace(string(who) + " " + q.Name)
	}
	for _, l := range e.Lines {
		if l.OnlySimilar {
			v.Similar = append(v.Similar, l)
		} else {
			v.Lines = append(v.Lines, l)
		}
	}
	v.List = sheet.ToDestroy(p.House.Show.Name, p.Day.Words(), e)
	return v
}

// beforeErasing shows what would go, and asks.
func (s *server) beforeErasing(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	who := show.PerformerID(r.URL.Query().Get("who"))
	e, err := s.ws.BeforeErasing(r.Context(), who, r.URL.Query().Get("small") == "yes")
	if err != nil {
		return err
	}
	v := s.eraseView(p, who, e)
	v.Small = r.URL.Query().Get("small") == "yes"
	return s.show(w, http.StatusOK, "erase", v)
}

// erase does it, and shows what is left to do by hand.
func (s *server) erase(w http.ResponseWriter, r *http.Request) error {
	who := show.PerformerID(r.FormValue("who"))
	if r.FormValue("yes") != "yes" {
		return why.Bad("yes", "Nothing was erased.", "Tick the box: an erasing cannot be undone.")
	}
	e, err := s.ws.Erase(r.Context(), who, r.FormValue("small") == "yes")
	if err != nil {
		return err
	}
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	v := s.eraseView(p, who, e)
	v.Done = true
	return s.show(w, http.StatusOK, "erase", v)
}
