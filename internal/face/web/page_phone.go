package web

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"slices"
	"sort"
	"strconv"
	"strings"

	"rsc.io/qr"

	"hemwright/internal/intake"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// phoneDesk is the page at the desk that lets a phone in.
type phoneDesk struct {
	Frame
	Open   bool
	Addr   string
	Code   string
	QR     template.HTML
	In     int // phones let in
	May    []mayView
	Hosts  []string
	Tries  int
	Locked bool
	Fault  string
}

type mayView struct {
	Key, Name string
	On        bool
}

func (s *server) phone(w http.ResponseWriter, _ *http.Request, p *workshop.Prepared) error {
	v, err := s.phonePage(p)
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "phone", v)
}

func (s *server) phonePage(p *workshop.Prepared) (phoneDesk, error) {
	v := phoneDesk{Frame: s.frame(p, "Let a phone in", "", nil), Hosts: s.hosts()}
	tries, err := s.ws.DoorTries()
	if err != nil {
		return v, err
	}
	v.Tries, v.Locked = tries, tries >= mostTries
	h := &s.hall
	h.mu.Lock()
	defer h.mu.Unlock()
	h.seen = h.clock()
	v.Open, v.In = h.srv != nil, len(h.sessions)
	if v.Open {
		v.Addr, v.Code = "http://"+h.addr+"/", h.code[:3]+" "+h.code[3:]
		if v.QR, err = square(v.Addr); err != nil {
			return v, err
		}
	}
	for _, x := range phoneWork {
		v.May = append(v.May, mayView{x.Key, x.Name, slices.Contains(h.may, x.Key) || !v.Open && x.Key != toMeasure})
	}
	return v, nil
}

// square draws a text as a square code (ISO/IEC 18004).
func square(text string) (template.HTML, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	const quiet = 4
	side := float64(c.Size + 2*quiet)
	out := begin(side*6, side*6, "square", "square code of "+text)
	out.rect(0, 0, side*6, side*6, "#ffffff", "")
	for y := range c.Size {
		for x := range c.Size {
			if c.Black(x, y) {
				out.rect(float64(x+quiet)*6, float64(y+quiet)*6, 6, 6, "#000000", "")
			}
		}
	}
	return out.end(), nil
}

// openPhone opens the hall, changes what phones may do, unlocks or closes it.
func (s *server) openPhone(w http.ResponseWriter, r *http.Request) error {
	switch r.FormValue("do") {
	case "close":
		s.closeHall()
	case "unlock":
		if err := s.ws.SetDoorTries(r.Context(), 0); err != nil {
			return err
		}
	default:
		hosts := s.hosts()
		host := r.FormValue("host")
		if !slices.Contains(hosts, host) {
			return why.Bad("host", fmt.Sprintf("This machine has no address %q in a network.", host), "Join a network, or open the laptop’s own hotspot, and choose again.")
		}
		if err := r.ParseForm(); err != nil {
			return why.Bad("form", "The form did not arrive whole.", "Send it again.")
		}
		if err := s.openHall(host, r.PostForm["may"]); err != nil {
			return err
		}
	}
	return back(w, r, "/phone")
}

// phonePaper is a page on a phone.
type phonePaper struct {
	Frame
	May     []mayView
	Fault   string
	Done    string
	Who     measureOf
	Waiting []phoneWho
	Rail    map[string]string
	Faults  map[string]string
	Count   []countRow
	Hung    int
	All     int
}

type phoneWho struct{ ID, Name, Says string }

// measureOf is one child to be measured: only what is wanted, in the order of
// the tape.
type measureOf struct {
	ID, Name   string
	Ask        string // to be asked before measuring
	Next       string
	Fields     []measureField
	By, Second string
}

type measureField struct {
	Key, Label, Unit, Value, Fault string
	MayStay                        bool
}

type countRow struct {
	ID, Name, Colour, Hex string
	Hung                  bool
}

func (s *server) paper(title string) phonePaper {
	v := phonePaper{Frame: Frame{Title: title}}
	s.hall.mu.Lock()
	defer s.hall.mu.Unlock()
	for _, x := range phoneWork {
		if slices.Contains(s.hall.may, x.Key) {
			v.May = append(v.May, mayView{x.Key, x.Name, true})
		}
	}
	return v
}

func (s *server) door(w http.ResponseWriter, _ *http.Request, fault string) {
	v := phonePaper{Frame: Frame{Title: "The door"}, Fault: fault}
	status := http.StatusOK
	if fault != "" {
		status = http.StatusForbidden
	}
	if err := s.show(w, status, "door", v); err != nil {
		s.log.Error("door", "err", err)
	}
}

// refuse says why on a page of a phone.
func (s *server) refuse(w http.ResponseWriter, e *why.Error, status int) {
	if err := s.show(w, status, "phonerefused", phonePaper{Frame: Frame{Title: "Not done"}, Fault: e.Error()}); err != nil {
		s.log.Error("phone", "err", err)
	}
}

func (s *server) refusePhone(w http.ResponseWriter, r *http.Request, err error) {
	var e *why.Error
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		e = why.Bad("picture", "That is more than is taken at once.", "Take the picture smaller.")
	case !errors.As(err, &e):
		s.log.Error("phone", "path", r.URL.Path, "err", err)
		e = &why.Error{What: "Something went wrong in the program itself.", Try: "What was kept is kept. Try again."}
	}
	s.refuse(w, e, why.KindOf(e).HTTPStatus())
}

func (s *server) phoneMenu(w http.ResponseWriter, _ *http.Request) error {
	return s.show(w, http.StatusOK, "phonework", s.paper("What now"))
}

// phoneMeasure shows one child, or who is waiting.
func (s *server) phoneMeasure(w http.ResponseWriter, r *http.Request) error {
	h, want, err := s.ws.ToMeasure()
	if err != nil {
		return err
	}
	v := s.paper("Measuring")
	v.Units = h.Units
	v.Done = r.FormValue("done")
	id := show.PerformerID(r.PathValue("id"))
	v.Waiting = waiting(&h, want)
	if id == "" {
		return s.show(w, http.StatusOK, "phonemeasure", v)
	}
	p := h.Performer(id)
	if p == nil {
		return why.NotFound("performer", string(id))
	}
	v.Who = measureFields(&h, p, want[id])
	v.Who.By = r.FormValue("by")
	v.Who.Second = r.FormValue("second")
	return s.show(w, http.StatusOK, "phonechild", v)
}

// waiting are those of whom something is still wanted, in the order of the
// cast list: never by a number.
func waiting(h *show.House, want map[show.PerformerID][]body.Kind) []phoneWho {
	var out []phoneWho
	for i := range h.Performers {
		p := &h.Performers[i]
		open := 0
		for _, k := range want[p.ID] {
			if !p.Body[k].Span.Known {
				open++
			}
		}
		if open > 0 && p.Consent != "home measured" {
			out = append(out, phoneWho{string(p.ID), firstName(p.Name, string(p.ID)), plural(open, "number", "numbers")})
		}
	}
	return out
}

func firstName(name, other string) string {
	first, _, _ := strings.Cut(strings.TrimSpace(name), " ")
	if first == "" {
		return other
	}
	return first
}

func measureFields(h *show.House, p *show.Performer, kinds []body.Kind) measureOf {
	m := measureOf{ID: string(p.ID), Name: firstName(p.Name, string(p.ID))}
	if p.Held() {
		m.Ask = "The family’s answer is not back. Ask first."
	}
	for _, k := range kinds {
		if !p.Body[k].Span.Known {
			m.Fields = append(m.Fields, measureField{Key: k.Code(), Label: k.String(), Unit: h.Units.Unit()})
		}
	}
	m.Next = nextWaiting(h, p.ID)
	return m
}

// nextWaiting is the performer after one in the cast list.
func nextWaiting(h *show.House, id show.PerformerID) string {
	for i, p := range h.Performers {
		if p.ID == id && i+1 < len(h.Performers) {
			return string(h.Performers[i+1].ID)
		}
	}
	return ""
}

// phoneMeasured keeps the numbers of one child, or that there are none.
func (s *server) phoneMeasured(w http.ResponseWriter, r *http.Request) error {
	id := show.PerformerID(r.PathValue("id"))
	h, want, err := s.ws.ToMeasure()
	if err != nil {
		return err
	}
	p := h.Performer(id)
	if p == nil {
		return why.NotFound("performer", string(id))
	}
	switch r.FormValue("do") {
	case "no", "home":
		if err := s.ws.NoMeasuring(r.Context(), id, r.FormValue("do") == "home"); err != nil {
			return err
		}
	case "skip":
	default:
		fields := measureFields(&h, p, want[id])
		fields.By, fields.Second = strings.TrimSpace(r.FormValue("by")), strings.TrimSpace(r.FormValue("second"))
		if again, err := s.keepMeasures(r, id, &fields); err != nil || again {
			if err != nil {
				return err
			}
			v := s.paper("Measuring")
			v.Units, v.Who, v.Fault = h.Units, fields, "Not kept yet: look below the fields."
			return s.show(w, http.StatusUnprocessableEntity, "phonechild", v)
		}
	}
	to := "/measure?done=" + template.URLQueryEscaper(firstName(p.Name, string(id)))
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

// keepMeasures saves what was typed; again says that something beside a field
// wants to be looked at.
func (s *server) keepMeasures(r *http.Request, id show.PerformerID, m *measureOf) (again bool, err error) {
	if m.Second == "" {
		m.Fields[0].Fault = "Who else is there? Two adults, please."
		for i := range m.Fields {
			m.Fields[i].Value = r.FormValue(m.Fields[i].Key)
		}
		return true, nil
	}
	h, _, err := s.ws.ToMeasure()
	if err != nil {
		return false, err
	}
	values := map[string]string{"measured_on": s.ws.Day(h.Show).String(), "measured_by": strings.TrimSpace(m.By + " with " + m.Second)}
	for i := range m.Fields {
		f := &m.Fields[i]
		if f.Value = strings.TrimSpace(r.FormValue(f.Key)); f.Value != "" {
			values[f.Key] = f.Value
			values["keep-"+f.Key] = r.FormValue("keep-" + f.Key)
		}
	}
	row, ok, err := s.ws.SaveRow(r.Context(), "performer", string(id), values)
	if err != nil {
		return false, err
	}
	for _, f := range row.Fields {
		for i := range m.Fields {
			if m.Fields[i].Key == f.Key {
				m.Fields[i].Fault, m.Fields[i].MayStay = f.Fault, f.MayStay
			}
		}
	}
	return !ok, nil
}

// phoneRail writes one garment down: a picture, words, flat numbers.
func (s *server) phoneRail(w http.ResponseWriter, r *http.Request) error {
	v := s.paper("The rail")
	v.Done, v.Rail = r.FormValue("done"), map[string]string{"rail": r.FormValue("rail")}
	return s.show(w, http.StatusOK, "phonerail", v)
}

var railFields = []string{"garment", "colour", "chest", "waist", "hip", "length", "closure", "rail"}

func (s *server) phoneHung(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseMultipartForm(mostUpload); err != nil {
		return err
	}
	typed, values := map[string]string{}, map[string]string{"owner": "own", "may_cut": "yes"}
	for _, k := range railFields {
		typed[k] = strings.TrimSpace(r.FormValue(k))
		values[k] = typed[k]
		if (k == "chest" || k == "waist" || k == "hip") && values[k] != "" {
			values[k] += " flat"
		}
	}
	v := s.paper("The rail")
	v.Rail = typed
	if typed["garment"] == "" {
		v.Faults = map[string]string{"garment": "What is it? A word is enough: gown, shirt, trousers."}
		return s.show(w, http.StatusUnprocessableEntity, "phonerail", v)
	}
	values["category"], values["length_from"] = intake.KindOfGarment(typed["garment"])
	row, ok, err := s.ws.SaveRow(r.Context(), "garment", "", values)
	if err != nil {
		return err
	}
	if !ok {
		v.Faults = map[string]string{}
		for _, f := range row.Fields {
			if f.Fault != "" {
				v.Faults[f.Key] = f.Fault
			}
		}
		return s.show(w, http.StatusUnprocessableEntity, "phonerail", v)
	}
	if err := s.keepPicture(r, row.Code); err != nil {
		return err
	}
	http.Redirect(w, r, "/rail?done="+template.URLQueryEscaper(row.Code+" "+typed["garment"])+"&rail="+template.URLQueryEscaper(typed["rail"]), http.StatusSeeOther)
	return nil
}

func (s *server) keepPicture(r *http.Request, code string) error {
	f, _, err := r.FormFile("picture")
	if errors.Is(err, http.ErrMissingFile) {
		return nil
	}
	if err != nil {
		return err
	}
	defer f.Close()
	picture, err := io.ReadAll(f)
	if err != nil || len(picture) == 0 {
		return err
	}
	return s.ws.AddPhoto(r.Context(), code, picture)
}

// phoneCount ticks off what hangs.
func (s *server) phoneCount(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	v := s.paper("Count what hangs")
	v.Done = r.FormValue("done")
	h := &p.House
	for _, q := range h.Pieces {
		v.All++
		hung := q.HowFar == show.Hung
		if hung {
			v.Hung++
		}
		v.Count = append(v.Count, countRow{string(q.ID), q.Name, q.Colour, hexOf(h, q.Colour), hung})
	}
	sort.SliceStable(v.Count, func(i, j int) bool { return !v.Count[i].Hung && v.Count[j].Hung })
	return s.show(w, http.StatusOK, "phonecount", v)
}

func (s *server) phoneCounted(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return why.Bad("form", "The ticks did not arrive whole.", "Send them again.")
	}
	for _, id := range r.PostForm["hung"] {
		if err := s.ws.SetHowFar(r.Context(), show.PieceID(id), show.Hung); err != nil {
			return err
		}
	}
	http.Redirect(w, r, "/count?done="+strconv.Itoa(len(r.PostForm["hung"])), http.StatusSeeOther)
	return nil
}

// picture shows a garment's picture.
func (s *server) picture(w http.ResponseWriter, r *http.Request) error {
	b, err := s.ws.Photo(r.PathValue("code"))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "no-store")
	_, err = w.Write(b)
	return err
}
