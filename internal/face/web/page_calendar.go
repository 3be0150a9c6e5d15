package web

import (
	"net/http"
	"slices"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// countView is the calendar counted back from the opening.
type countView struct {
	Frame
	Opening string // as typed
	Known   string // the first performance, as it is known
	Fault   string
	Taken   bool
	Dates   []countedDate
	New     int // not in the calendar yet
}

type countedDate struct {
	What, Day, Kind, Mark string
	Stands                string // how it stands in the calendar now
	Ticked, Fixed         bool   // Fixed: in ink, stays as it is
}

func (s *server) countBack(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	v, err := s.countPage(p, r.FormValue("opening"), nil)
	if err != nil {
		return err
	}
	v.Taken = r.FormValue("taken") != ""
	status := http.StatusOK
	if v.Fault != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.show(w, status, "count", v)
}

// countPage counts back from an opening as typed, else from the one known;
// ticked, if not nil, says which dates are.
func (s *server) countPage(p *workshop.Prepared, typed string, ticked []string) (countView, error) {
	v := countView{Frame: s.frame(p, "Counted back from the opening", "/fittings", nil), Opening: typed}
	opening := p.House.Opening()
	if opening != 0 {
		v.Known = opening.Long()
	}
	if typed != "" {
		day, err := units.ParseDate(typed)
		if err != nil {
			v.Fault = why.Capital(err.Error()) + "."
			return v, nil
		}
		opening = day
	} else if opening != 0 {
		v.Opening = opening.String()
	}
	counted, err := s.ws.CountBack(&p.House, opening)
	if err != nil {
		return v, err
	}
	slices.SortStableFunc(counted.Dates, func(a, b workshop.CountedDate) int { return int(a.Entry.Day - b.Entry.Day) })
	for _, d := range counted.Dates {
		row := countedDate{What: d.What, Day: d.Entry.Day.Short(), Kind: d.Kind, Mark: d.Mark, Ticked: true}
		switch {
		case d.Was == 0 && d.Entry.Day < p.Day:
			v.New++
			row.Stands, row.Ticked = "gone by", false
		case d.Was == 0:
			v.New++
		case !d.Pencil:
			row.Stands, row.Fixed, row.Ticked = "there: "+d.Was.Short(), true, false
		case d.Was == d.Entry.Day:
			row.Stands, row.Ticked = "there, in pencil", false
		default:
			row.Stands = "in pencil on " + d.Was.Short() + "; moves"
		}
		if ticked != nil {
			row.Ticked = slices.Contains(ticked, d.What)
		}
		v.Dates = append(v.Dates, row)
	}
	return v, nil
}

// takeDates puts the ticked dates into the calendar.
func (s *server) takeDates(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return why.Bad("form", "The form did not arrive whole.", "Send it again.")
	}
	typed, ticked := r.PostFormValue("opening"), append([]string{}, r.PostForm["what"]...)
	opening, err := units.ParseDate(typed)
	if err != nil {
		err = why.Bad("opening", why.Capital(err.Error())+".", "As 14 May 2027.")
	} else {
		err = s.ws.TakeDates(r.Context(), opening, ticked)
	}
	if err == nil {
		return back(w, r, "/calendar?taken=yes")
	}
	var failed error
	refused := s.again(w, r, err, "count", func(p *workshop.Prepared, fault string) view {
		v, err := s.countPage(p, typed, ticked)
		v.Fault, failed = fault, err
		return v
	})
	if failed != nil {
		return failed
	}
	return refused
}

// noDates says whether the calendar holds nothing but performances.
func noDates(h *show.House) bool {
	return !slices.ContainsFunc(h.Calendar, func(e show.Entry) bool { return e.Kind != "show" })
}
