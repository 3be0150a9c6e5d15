package web

import (
	"fmt"
	"html/template"
	"net/http"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/workshop"
)

type helperRow struct {
	Name, Can, Sheet string
	Offered, Planned int
}

type workDay struct {
	Day  string
	Rows []workRow
}

type workRow struct {
	Who, Piece, Name, Do string
	Minutes              int64
}

func (s *server) workroom(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	wr := p.Workroom
	view := struct {
		Frame
		Says, Rule string
		Weeks      template.HTML
		Helpers    []helperRow
		Late       []answer.Late
		Savings    []answer.Saving
		Days       []workDay
	}{Frame: s.frame(p, "Workroom", "/workroom", nil), Late: wr.Late, Savings: wr.Savings, Rule: words(wr.Verdict)}
	switch short := wr.Wanted - wr.Offered; {
	case len(wr.Offers) == 0:
		view.Says = "Nobody has offered an hour yet."
	case short > 0:
		view.Says = fmt.Sprintf("Not for everything: %d lead-hours wanted, %d offered, %d short.", hoursOf(wr.Wanted), hoursOf(wr.Offered), hoursOf(short))
	default:
		view.Says = fmt.Sprintf("Yes, by this plan: %d lead-hours wanted, %d offered. %d pieces come late.", hoursOf(wr.Wanted), hoursOf(wr.Offered), len(wr.Late))
	}
	has := map[show.HelperID]bool{}
	tasks := map[string]answer.Task{}
	for _, t := range wr.Tasks {
		tasks[t.ID] = t
	}
	var day units.Date
	for _, sl := range wr.Slots {
		has[sl.Helper] = true
		if sl.Day != day {
			day = sl.Day
			view.Days = append(view.Days, workDay{Day: day.Long()})
		}
		t := tasks[sl.Task]
		d := &view.Days[len(view.Days)-1]
		d.Rows = append(d.Rows, workRow{helperName(&p.House, sl.Helper), string(t.Piece), pieceName(&p.House, t.Piece), t.Do, int64(sl.Minutes)})
	}
	for _, o := range wr.Offers {
		row := helperRow{Name: string(o.Helper), Offered: hoursOf(o.Lead), Planned: hoursOf(o.Given)}
		if h := p.House.Helper(o.Helper); h != nil {
			row.Name = h.Name
		}
		for i, k := range o.Skills {
			if i > 0 {
				row.Can += ", "
			}
			row.Can += string(k)
		}
		if has[o.Helper] {
			row.Sheet = "work-" + string(o.Helper)
		}
		view.Helpers = append(view.Helpers, row)
	}
	if len(wr.Offers) > 0 {
		view.Weeks = drawWeeks(p)
	}
	return s.show(w, http.StatusOK, "workroom", view)
}

func hoursOf(m units.Minutes) int { return int((m + 30) / 60) }

// drawWeeks draws helpers down and weeks across: one slanted stitch is one
// lead-hour, inked where it is planned.
func drawWeeks(p *workshop.Prepared) template.HTML {
	wr := p.Workroom
	parade := p.House.Parade()
	if parade <= p.Day {
		parade = p.Day + 56
	}
	weeks := int(parade-p.Day)/7 + 1
	const left, row = 170.0, 27.0
	cell := (1160 - left - 50) / float64(weeks)
	s := begin(1160, 44+row*float64(len(wr.Offers))+24, "chart", fmt.Sprintf("Hours offered and planned over %d weeks", weeks))
	planned := map[show.HelperID]map[int]float64{}
	for _, sl := range wr.Slots {
		h := p.House.Helper(sl.Helper)
		if h == nil {
			continue
		}
		if planned[sl.Helper] == nil {
			planned[sl.Helper] = map[int]float64{}
		}
		planned[sl.Helper][int(sl.Day-p.Day)/7] += float64(sl.Minutes) * float64(h.Pace) / 6000
	}
	for k := range weeks {
		x := left + cell*float64(k)
		s.text(x+4, 34, 12, "start", "soft", (p.Day + units.Date(7*k)).Words())
		s.line(x, 38, x, 44+row*float64(len(wr.Offers)), "line", 1, "")
	}
	end := -100.0
	for _, m := range marks(&p.House) {
		if m.day < p.Day || m.day > parade {
			continue
		}
		x := left + cell*float64(m.day-p.Day)/7
		s.path(fmt.Sprintf("M%s 12h10l-5 8z", f(x-5)), "ink", "", 0, "")
		if x > end {
			s.text(x, 9, 12, "middle", "", m.word)
			end = x + 90
		}
	}
	for i, o := range wr.Offers {
		y := 44 + row*float64(i)
		h := p.House.Helper(o.Helper)
		if h == nil {
			continue
		}
		s.text(0, y+18, 12.5, "start", "", helperName(&p.House, o.Helper))
		s.line(0, y+row, 1160, y+row, "line", 1, "")
		for k := range weeks {
			offered := offeredIn(h, p.Day+units.Date(7*k), parade)
			stitches(s, left+cell*float64(k)+5, y+7, cell-10, offered, planned[o.Helper][k])
		}
		s.text(1160, y+18, 13, "end", "n", fmt.Sprint(hoursOf(o.Lead)))
	}
	return s.end()
}

// offeredIn is what a helper offers in the week from a day, in lead-hours.
func offeredIn(h *show.Helper, from, parade units.Date) float64 {
	days := 0
	for d := from; d < from+7 && d <= parade; d++ {
		if d >= h.From && (h.To == 0 || d <= h.To) {
			days++
		}
	}
	return h.Hours.Hours() * float64(h.Pace) / 100 * float64(days) / 7
}

func stitches(s *svg, x, y, w, offered, planned float64) {
	n := int(offered + 0.5)
	step := 6.5
	if n > 0 && float64(n)*step > w {
		step = w / float64(n)
	}
	for i := range n {
		colour, width := "line2", 1.0
		if float64(i)+0.5 <= planned {
			colour, width = "ink", 1.8
		}
		at := x + step*float64(i)
		s.line(at, y, at+4, y+13, colour, width, "")
	}
}
