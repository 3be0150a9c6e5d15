package web

import (
	"fmt"
	"html/template"
	"sort"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

// Frame is what every page carries round its answer.
type Frame struct {
	Title   string
	Show    string
	DayLong string
	Nav     []NavItem
	Tape    template.HTML
	Dots    template.HTML
	Last    string // the last deed
	CanRedo bool
	Refused string // why what was just asked was not done
	Units   units.System
}

// OtherUnits are what lengths are not shown in.
func (f Frame) OtherUnits() units.System {
	if f.Units == units.Imperial {
		return units.Metric
	}
	return units.Imperial
}

func (f Frame) units() units.System { return f.Units }

// NavItem is one page in the word-line.
type NavItem struct {
	Name, Href string
	Here       bool
}

var pages = []NavItem{
	{Name: "Today", Href: "/"}, {Name: "Who is on", Href: "/who"}, {Name: "Running", Href: "/running"},
	{Name: "Performers", Href: "/performers"}, {Name: "Pieces", Href: "/pieces"}, {Name: "Rail", Href: "/rail"},
	{Name: "Shelf", Href: "/shelf"}, {Name: "Workroom", Href: "/workroom"}, {Name: "Fittings", Href: "/fittings"},
	{Name: "Money", Href: "/money"}, {Name: "Sheets", Href: "/sheets"}, {Name: "What you have", Href: "/start"},
}

// frame makes the frame of a page; here is its address in the word-line,
// colours the cloth of the page.
func frame(p *workshop.Prepared, title, here string, colours []string) Frame {
	f := Frame{Title: title, Show: p.House.Show.Name, DayLong: p.Day.Long(), Units: p.House.Units, Tape: tape(p), Dots: dots(&p.House, colours)}
	for _, n := range pages {
		n.Here = n.Href == here
		f.Nav = append(f.Nav, n)
	}
	return f
}

// dots are the cloth colours of a page, down the selvedge.
func dots(h *show.House, colours []string) template.HTML {
	var hexes []string
	seen := map[string]bool{}
	for _, c := range colours {
		if hex := hexOf(h, c); hex != "" && !seen[hex] && len(hexes) < 7 {
			seen[hex] = true
			hexes = append(hexes, hex)
		}
	}
	s := begin(16, float64(18*len(hexes)+2), "dots", "")
	for i, hex := range hexes {
		s.circle(8, float64(9+18*i), 6, hex, "line2")
	}
	return s.end()
}

// hexOf is a colour's hex as listed; the first word list that knows part of a
// two-colour name wins.
func hexOf(h *show.House, name string) string {
	if c := h.ColourNamed(name); c != nil {
		return c.Hex
	}
	return ""
}

// mark is a date on the tape.
type mark struct {
	day  units.Date
	word string
}

// marks are the first days of each kind of thing that does not move.
func marks(h *show.House) []mark {
	var out []mark
	add := func(word string, ok func(e show.Entry) bool) {
		for _, e := range h.Calendar {
			if ok(e) {
				out = append(out, mark{e.Day, word})
				return
			}
		}
	}
	add("fittings", func(e show.Entry) bool { return e.Kind == "fit" && e.Day > firstDay(h)+14 })
	add("rehearsals in costume", func(e show.Entry) bool { return e.Kind == "rehearse" && e.Day >= h.Opening()-4 })
	if d := h.Parade(); d != 0 {
		out = append(out, mark{d, "parade"})
	}
	if d := h.Opening(); d != 0 {
		out = append(out, mark{d, "opening"})
	}
	add("strike", func(e show.Entry) bool { return e.Kind == "strike" })
	sort.SliceStable(out, func(i, j int) bool { return out[i].day < out[j].day })
	return out
}

func firstDay(h *show.House) units.Date {
	var first units.Date
	for _, e := range h.Calendar {
		if first == 0 || e.Day < first {
			first = e.Day
		}
	}
	return first
}

// tape is the measuring tape of days, numbered in weeks to the opening, today
// marked by a pin.
func tape(p *workshop.Prepared) template.HTML {
	h := &p.House
	first, opening := firstDay(h), h.Opening()
	last := opening
	for _, e := range h.Calendar {
		last = max(last, e.Day)
	}
	if first == 0 || opening == 0 || last <= first {
		return ""
	}
	first, last = min(first, p.Day), max(last, p.Day)
	const w = 1160.0
	x := func(d units.Date) float64 { return 8 + (w-16)*float64(d-first)/float64(last-first) }
	s := begin(w, 60, "tape", fmt.Sprintf("%s, %d days to opening", p.Day.Long(), int(opening-p.Day)))
	s.rect(0, 16, w, 22, "sheet", "ink")
	s.rect(0, 16, x(p.Day), 22, "edge", "ink")
	s.rect(0, 16, 8, 22, "ink", "ink")
	for d := first; d <= last; d++ {
		tick := 4.0
		if left := int(opening - d); left%7 == 0 {
			tick = 9
			if left >= 0 {
				s.text(x(d), 35, 12, "middle", "n", fmt.Sprint(left/7))
			}
		}
		s.line(x(d), 16, x(d), 16+tick, "ink", .8, "")
	}
	end := -100.0
	for _, m := range marks(h) {
		at := x(m.day)
		s.path(fmt.Sprintf("M%s 38h8l-4 -6z", f(at-4)), "ink", "", 0, "")
		wide := float64(len(m.word)) * 6.5
		anchor, dx, from := "start", 5.0, at+5
		if at > w-90 {
			anchor, dx, from = "end", -5, at-5-wide
		}
		if from < end+6 {
			continue // no room beside the one before
		}
		s.text(at+dx, 53, 12, anchor, "soft", m.word)
		end = from + wide
	}
	at := x(p.Day)
	s.line(at, 4, at, 44, "madder", 1.6, "")
	s.circle(at, 5, 4.5, "madder", "madder")
	words := fmt.Sprintf("%s  ·  %d days to opening", p.Day.Short(), int(opening-p.Day))
	if at > w/2 {
		s.text(at-9, 11, 13, "end", "", words)
	} else {
		s.text(at+9, 11, 13, "start", "", words)
	}
	return s.end()
}
