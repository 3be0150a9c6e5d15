package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/workshop"
)

// saidView is a line of a text with what it came to.
type saidView struct {
	intake.Said
	Open bool // nothing was understood
}

// keptView is a line kept as text.
type keptView struct {
	N          int
	Text, Why  string
	File       string
	About, Row int
}

// startView is the page that takes whatever one has.
type startView struct {
	Frame
	Text     string     // what is in the box
	Fault    string     // why it was not taken
	Heard    []saidView // the last text, line by line
	Sums     []string   // what it came to
	NotHeard int
	Looked   bool        // it was only looked at, and nothing taken
	Tables   []tableView // what the tables in it were taken for
	Whole    string      // the text last told
	Act      int64       // the deed it was
	File     string      // the file it was, or empty

	FileFault string // why a file was not taken
	Kept      []keptView
	Stands    []standView // what the house holds now
	Next      []nextStep
}

// standView is one line of what the house holds, with its list.
type standView struct{ Name, Value, Href string }

// nextStep is something to do next, with its page.
type nextStep struct{ Do, Why, Href string }

func (s *server) start(w http.ResponseWriter, _ *http.Request, p *workshop.Prepared) error {
	s.mu.Lock()
	heard := s.heard
	s.mu.Unlock()
	view := s.startPage(p)
	view.hear(heard)
	return s.show(w, http.StatusOK, "start", view)
}

func (s *server) startPage(p *workshop.Prepared) startView {
	h := &p.House
	v := startView{Frame: s.frame(p, "What you have", "/start", nil)}
	for i, u := range h.Unread {
		v.Kept = append(v.Kept, keptView{N: i, Text: u.Text, Why: u.Why, File: u.File, Row: u.Row})
	}
	add := func(n int, one, many, kind string) {
		href := ""
		if kind != "" {
			href = "/list/" + kind
		}
		switch {
		case n == 1:
			v.Stands = append(v.Stands, standView{one, "1", href})
		case n > 1:
			v.Stands = append(v.Stands, standView{many, strconv.Itoa(n), href})
		}
	}
	add(len(h.Performers), "performer", "performers", "performer")
	add(len(h.Roles), "role", "roles", "role")
	add(len(h.Scenes), "scene", "scenes", "scene")
	add(len(h.Appearances), "time on stage", "times on stage", "")
	add(len(h.Looks), "look", "looks", "look")
	add(len(h.Pieces), "piece", "pieces", "piece")
	add(len(h.Sets), "set", "sets", "set")
	add(len(h.Garments), "garment on the rail", "garments on the rail", "garment")
	add(len(h.Cloths), "cloth", "cloths", "cloth")
	add(len(h.Notions), "notion", "notions", "notion")
	add(len(h.Finds), "find", "finds", "find")
	add(len(h.Helpers), "helper", "helpers", "helper")
	add(len(h.Calendar), "date of the calendar", "dates of the calendar", "date")
	add(len(h.Performances), "performance", "performances", "performance")
	add(len(h.Budget), "line of the budget", "lines of the budget", "budget")
	add(len(h.Receipts), "receipt", "receipts", "receipt")
	add(len(h.Loans), "loan", "loans", "loan")
	add(len(h.Kits), "kit", "kits", "kit")
	add(len(h.Notes), "note", "notes", "note")
	add(len(h.Asks), "ask", "asks", "ask")
	add(len(h.Colours), "colour", "colours", "colour")
	add(len(h.Feet), "pair of feet", "feet and what is next to the skin", "feet")
	add(len(h.Headwear), "head", "heads", "head")
	add(len(h.Mics), "microphone", "microphones", "microphone")
	add(len(h.Origins), "value in pencil", "values in pencil", "")
	v.Next = nextSteps(p)
	return v
}

// nextSteps say what would sharpen the answers most, one at a time.
func nextSteps(p *workshop.Prepared) []nextStep {
	h := &p.House
	switch {
	case len(h.Performers) == 0:
		return nil
	case len(h.Scenes) == 0:
		return []nextStep{{"Write the scenes.", "One in a line under the heading “scenes”, with minutes where you know them. I take 5 minutes for each until you say.", "#box"}}
	case len(h.Appearances) == 0:
		return []nextStep{{"Tick who is on.", "A tick is a whole scene. The running chart draws itself from them.", "/who/grid"}}
	case len(h.Pieces) == 0:
		return []nextStep{{"See the changes.", joinsWords(p), "/running"}, {"Give the groups their looks.", "Choose one by its world and rank for a whole group, then change what differs.", "/looks"}}
	}
	if noDates(h) {
		return []nextStep{{"Count the dates back from the opening.", "From one day comes a calendar, in pencil.", "/calendar"}, {"See what cannot wait.", "", "/"}}
	}
	return []nextStep{{"See what cannot wait.", "", "/"}}
}

// joinsWords says how many changes look fast, and where a minute would tell.
func joinsWords(p *workshop.Prepared) string {
	if len(p.Timelines) == 0 {
		return ""
	}
	fast, joins := 0, map[string]bool{}
	for _, c := range p.Timelines[0].Changes {
		if c.Seconds < 180 {
			fast++
			joins[string(c.FromScene)+" to "+string(c.ToScene)] = true
		}
	}
	if fast == 0 {
		return "No change looks shorter than three minutes."
	}
	return fmt.Sprintf("%s shorter than three minutes; %s it. The exact minute matters there and nowhere else.",
		plural(fast, "change looks", "changes look"), plural(len(joins), "join decides", "joins decide"))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// tell takes the box.
func (s *server) tell(w http.ResponseWriter, r *http.Request) error {
	text, told := r.FormValue("text"), toldIn(r)
	var heard workshop.Heard
	var err error
	look := r.FormValue("do") == "look"
	if look {
		heard, err = s.ws.Look(text, told)
	} else {
		instead, _ := strconv.ParseInt(r.FormValue("instead"), 10, 64)
		heard, err = s.ws.TellAs(r.Context(), text, told, instead)
	}
	if err != nil {
		return s.again(w, r, err, "start", func(p *workshop.Prepared, fault string) view {
			v := s.startPage(p)
			v.Text, v.Fault = text, fault
			if seen, err := s.ws.Look(text, told); err == nil { // what was chosen stays
				v.hear(seen)
				v.Looked = true
			}
			return v
		})
	}
	if look {
		p, err := s.ws.Running()
		if err != nil {
			return err
		}
		v := s.startPage(p)
		v.Text, v.Looked = text, true
		v.hear(heard)
		return s.show(w, http.StatusOK, "start", v)
	}
	s.mu.Lock()
	s.heard = heard
	s.mu.Unlock()
	return back(w, r, "/start#heard")
}

// settleKept sees to a line that was kept.
func (s *server) settleKept(w http.ResponseWriter, r *http.Request) error {
	n, err := strconv.Atoi(r.FormValue("n"))
	if err != nil {
		n = -1
	}
	said, err := s.ws.SettleKept(r.Context(), n, r.FormValue("was"), workshop.Kept(r.FormValue("how")), strings.TrimSpace(r.FormValue("words")))
	if err != nil {
		return err
	}
	if len(said) > 0 {
		s.mu.Lock()
		s.heard = workshop.Heard{Said: said}
		s.mu.Unlock()
	}
	return back(w, r, "/start#kept")
}

// everything gives the whole house as one workbook.
func (s *server) everything(w http.ResponseWriter, _ *http.Request) error {
	book, err := s.ws.Everything()
	if err != nil {
		return err
	}
	return give(w, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "everything.xlsx", book)
}
