package web

import (
	"net/http"

	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// awayRole is one role of somebody who is away.
type awayRole struct {
	Name string
	Ins  []stepIn
}

type stepIn struct {
	ID, Name, Work, Not, Open, Breaks string
	Cover                             bool
}

func (s *server) away(w http.ResponseWriter, r *http.Request) error {
	p, _, err := s.ws.Glance()
	if err != nil {
		return err
	}
	id := show.PerformerID(r.PathValue("id"))
	who := p.House.Performer(id)
	if who == nil {
		return why.NotFound("performer", string(id))
	}
	v := struct {
		Frame
		ID, Name, Cast string
		Casts          []show.Cast
		Roles          []awayRole
	}{Frame: s.frame(p, who.Name+" is away", "/performers", nil), ID: string(id), Name: who.Name, Cast: r.FormValue("cast"), Casts: p.House.Casts()}
	if v.Cast == "" {
		v.Cast = string(v.Casts[0])
	}
	for _, a := range workshop.Away(p, show.Cast(v.Cast), id) {
		row := awayRole{Name: string(a.Role)}
		if x := p.House.Role(a.Role); x != nil {
			row.Name = x.Name
		}
		for _, in := range a.Ins {
			x := stepIn{ID: string(in.Performer), Name: performerName(&p.House, in.Performer), Cover: in.Cover, Work: plural(in.Minutes, "minute", "minutes"), Not: names(&p.House, in.Not), Open: names(&p.House, in.Open)}
			if in.Twice > 0 {
				x.Breaks = plural(in.Twice, "time in two places", "times in two places")
			}
			if in.Short > 0 {
				x.Breaks += " " + plural(in.Short, "change too short", "changes too short")
			}
			row.Ins = append(row.Ins, x)
		}
		v.Roles = append(v.Roles, row)
	}
	return s.show(w, http.StatusOK, "away", v)
}
