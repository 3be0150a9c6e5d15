package web

import (
	"bytes"
	"io"
	"net/http"

	"hemwright/internal/face/file"
	"hemwright/internal/face/sheet"
	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

// Bundle writes the show for the next person: sheets, lists and pictures, with
// nothing of anybody in them.
func Bundle(w io.Writer, ws *workshop.Workshop) error {
	p, lists, err := ws.Archive()
	if err != nil {
		return err
	}
	var entries []file.Entry
	for _, s := range sheet.Set(p) {
		if s.Name == "measuring" || s.Name == "letter to families" {
			continue
		}
		var b bytes.Buffer
		if err := sheet.HTML(&b, s); err != nil {
			return err
		}
		entries = append(entries, file.Entry{Name: "sheets/" + s.Key + ".html", Says: s.Name + ": " + s.Title, Body: b.Bytes()})
	}
	for _, l := range lists {
		entries = append(entries, file.Entry{Name: "lists/" + l.Name, Says: "list: " + l.Name, Body: l.Data})
	}
	for _, g := range p.House.Garments {
		if picture, err := ws.Photo(string(g.ID)); err == nil {
			entries = append(entries, file.Entry{Name: "pictures/" + string(g.ID) + ".jpg", Says: "picture of " + g.Name, Body: picture})
		}
	}
	return file.Bundle(w, p.House.Show.Name, p.Day.Long(), ws.Now(), entries)
}

func (s *server) bundle(w http.ResponseWriter, _ *http.Request) error {
	var b bytes.Buffer
	if err := Bundle(&b, s.ws); err != nil {
		return err
	}
	return give(w, "application/zip", "show.zip", b.Bytes())
}

func (s *server) calendar(w http.ResponseWriter, r *http.Request) error {
	helper := show.HelperID(r.FormValue("helper"))
	p, err := s.ws.Dates(helper)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := file.Calendar(&b, p, helper, s.ws.Now()); err != nil {
		return err
	}
	return give(w, "text/calendar; charset=utf-8", "dates.ics", b.Bytes())
}

// give sends a file to be kept.
func give(w http.ResponseWriter, kind, name string, body []byte) error {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Header().Set("Cache-Control", "no-store")
	_, err := w.Write(body)
	return err
}
