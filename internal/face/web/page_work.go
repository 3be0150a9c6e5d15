package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

type helperRow struct {
	ID, Name, Can, Sheet string
	Offered, Planned     int
	Tasks                []workRow
}

// workRow is one task, or part of one, on a day; the day is said once.
type workRow struct {
	Day, Piece, Name, Do string
	Minutes              int64
	Took                 string // what it took, where that was logged
}

// savingView is something that could be let go.
type savingView struct {
	What, Seen string
	Minutes    int64
	Pieces     []pieceLink
}

// backView is something borrowed that is undone before it goes back.
type backView struct {
	Garment, Piece, To, Due, Do string
	Minutes                     int64
}

func (s *server) workroom(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	wr := p.Workroom
	view := struct {
		Frame
		Says, Rule string
		Weeks      template.HTML
		Helpers    []helperRow
		Late       []answer.Late
		Savings    []savingView
		Back       []backView
		Lines      template.HTML
	}{Frame: s.frame(p, "Workroom", "/workroom", nil), Late: wr.Late, Rule: words(p.House.Units, wr.Verdict)}
	switch short := wr.Wanted - wr.Offered; {
	case len(wr.Offers) == 0:
		view.Says = "Nobody has offered an hour yet."
	case short > 0:
		view.Says = fmt.Sprintf("Not for everything: %d lead-hours wanted, %d offered, %d short.", hoursOf(wr.Wanted), hoursOf(wr.Offered), hoursOf(short))
	case len(wr.Late) > 0:
		view.Says = fmt.Sprintf("Enough hours, not all in time: %d lead-hours wanted, %d offered, %d pieces late.", hoursOf(wr.Wanted), hoursOf(wr.Offered), len(wr.Late))
	default:
		view.Says = fmt.Sprintf("Yes, by this plan: %d lead-hours wanted, %d offered; nothing comes late.", hoursOf(wr.Wanted), hoursOf(wr.Offered))
	}
	for _, x := range wr.Savings {
		view.Savings = append(view.Savings, savingView{x.What, x.Seen, int64(x.Minutes), pieceLinks(&p.House, x.Pieces)})
	}
	for _, b := range wr.Back {
		view.Back = append(view.Back, backView{string(b.Garment), string(b.Piece), b.To, b.Due.Words(), strings.Join(b.Do, "; "), int64(b.Minutes)})
	}
	tasks := tasksBy(p)
	for _, o := range wr.Offers {
		row := helperRow{ID: string(o.Helper), Name: string(o.Helper), Offered: hoursOf(o.Lead), Planned: hoursOf(o.Given), Tasks: tasks[o.Helper]}
		if h := p.House.Helper(o.Helper); h != nil {
			row.Name = h.Name
		}
		for i, k := range o.Skills {
			if i > 0 {
				row.Can += ", "
			}
			row.Can += string(k)
		}
		if len(row.Tasks) > 0 {
			row.Sheet = "work-" + string(o.Helper)
		}
		view.Helpers = append(view.Helpers, row)
	}
	if len(wr.Offers) > 0 {
		view.Weeks, view.Lines = drawWeeks(p), drawHours(p)
	}
	return s.show(w, http.StatusOK, "workroom", view)
}

// tasksBy is each helper's work in the order of doing.
func tasksBy(p *workshop.Prepared) map[show.HelperID][]workRow {
	tasks := map[string]answer.Task{}
	for _, t := range p.Workroom.Tasks {
		tasks[t.ID] = t
	}
	out := map[show.HelperID][]workRow{}
	last := map[show.HelperID]units.Date{}
	for _, sl := range p.Workroom.Slots {
		t := tasks[sl.Task]
		row := workRow{Piece: string(t.Piece), Name: pieceName(&p.House, t.Piece), Do: t.Do, Minutes: int64(sl.Minutes)}
		for _, l := range p.House.Logged {
			if l.Helper == sl.Helper && l.Piece == t.Piece && l.What == t.Do {
				row.Took = l.Minutes.String()
			}
		}
		if sl.Day != last[sl.Helper] {
			last[sl.Helper] = sl.Day
			row.Day = sl.Day.Short()
		}
		out[sl.Helper] = append(out[sl.Helper], row)
	}
	return out
}

// took keeps what a piece of work took: minutes, or a share of what was
// thought in hundredths.
func (s *server) took(w http.ResponseWriter, r *http.Request) error {
	thought, _ := strconv.Atoi(r.FormValue("thought"))
	said := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(r.FormValue("took")), "min"))
	took, err := strconv.Atoi(strings.TrimSpace(said))
	if share, bad := strconv.Atoi(r.FormValue("share")); bad == nil && said == "" {
		took, err = thought*share/100, nil
	}
	if err != nil {
		return why.Bad("took", fmt.Sprintf("%q is no number of minutes.", r.FormValue("took")), "Write the minutes it took, as 45.")
	}
	if err := s.ws.Took(r.Context(), show.HelperID(r.FormValue("who")), show.PieceID(r.FormValue("piece")), r.FormValue("what"), units.Minutes(took), units.Minutes(thought)); err != nil {
		return err
	}
	return back(w, r, "/workroom")
}

func hoursOf(m units.Minutes) int { return int((m + 30) / 60) }

const weeksLeft = 170.0

// weeksOf is the span the workroom is drawn over: to the parade, or eight
// weeks where there is none, with the width of a week.
func weeksOf(p *workshop.Prepared) (parade units.Date, weeks int, cell float64) {
	if parade = p.House.Parade(); parade <= p.Day {
		parade = p.Day + 56
	}
	weeks = int(parade-p.Day)/7 + 1
	return parade, weeks, (1160 - weeksLeft - 50) / float64(weeks)
}

// drawHours draws two lines added up over the same weeks: offered, solid, and
// wanted by the days work falls due, in long dashes. Where less was offered
// than is wanted in all, a bar says how much.
func drawHours(p *workshop.Prepared) template.HTML {
	wr := p.Workroom
	parade, _, cell := weeksOf(p)
	top := max(wr.Wanted, wr.Offered)
	if top <= 0 {
		return ""
	}
	const high, base = 150.0, 176.0
	x := func(d units.Date) float64 { return weeksLeft + cell*float64(min(d, parade)-p.Day)/7 }
	y := func(hours float64) float64 { return base - high*hours/top.Hours() }
	s := begin(1160, 200, "chart", fmt.Sprintf("Hours added up to the parade: %d offered, %d wanted", hoursOf(wr.Offered), hoursOf(wr.Wanted)))
	for k := 100; float64(k) <= top.Hours(); k += 100 {
		s.line(weeksLeft, y(float64(k)), 1110, y(float64(k)), "line", 1, "")
		s.text(weeksLeft-8, y(float64(k))+4, 12, "end", "n", fmt.Sprint(k))
	}
	s.line(weeksLeft, base, 1110, base, "ink", 1, "")
	s.text(0, 20, 12.5, "start", "", "lead-hours, added up")
	offered, sum := fmt.Sprintf("M%s %s", f(weeksLeft), f(base)), 0.0
	perDay := offeredEachDay(p, parade)
	for d := p.Day; d <= parade; d++ {
		sum += perDay[d]
		offered += fmt.Sprintf("L%s %s", f(x(d)), f(y(sum)))
	}
	s.path(offered, "", "ink", 1.6, "")
	due := map[units.Date]units.Minutes{}
	for _, t := range wr.Tasks {
		day := parade
		if t.Due != 0 && t.Due < parade {
			day = max(t.Due, p.Day)
		}
		due[day] += t.Minutes
	}
	wanted, done := fmt.Sprintf("M%s %s", f(weeksLeft), f(base)), units.Minutes(0)
	for d := p.Day; d <= parade; d++ {
		if due[d] == 0 {
			continue
		}
		done += due[d]
		wanted += fmt.Sprintf("H%sV%s", f(x(d)), f(y(done.Hours())))
	}
	s.path(wanted, "", "ink", 1.6, "7 4")
	up, down := y(wr.Offered.Hours())+4, y(wr.Wanted.Hours())+4
	if d := up - down; d > -14 && d < 14 {
		up = down + map[bool]float64{true: 14, false: -14}[d >= 0]
	}
	s.text(1112, up, 12, "start", "", "offered")
	if gap := wr.Wanted - wr.Offered; gap > 0 {
		s.line(1106, y(wr.Offered.Hours()), 1106, y(wr.Wanted.Hours()), "madder", 3, "")
		s.text(1098, y(wr.Wanted.Hours())+14, 13, "end", "n warn", fmt.Sprintf("%d h short", hoursOf(gap)))
	}
	s.text(1112, down, 12, "start", "", "wanted")
	return s.end()
}

// offeredEachDay spreads what each helper offers over the days they are there,
// in lead-hours.
func offeredEachDay(p *workshop.Prepared, parade units.Date) map[units.Date]float64 {
	out := map[units.Date]float64{}
	for _, o := range p.Workroom.Offers {
		h := p.House.Helper(o.Helper)
		if h == nil {
			continue
		}
		from, to := max(h.From, p.Day), parade
		if h.To != 0 {
			to = min(h.To, parade)
		}
		for d := from; d <= to; d++ {
			out[d] += o.Lead.Hours() / float64(to-from+1)
		}
	}
	return out
}

// drawWeeks draws helpers down and weeks across: one slanted stitch is one
// lead-hour, inked where it is planned.
func drawWeeks(p *workshop.Prepared) template.HTML {
	wr := p.Workroom
	parade, weeks, cell := weeksOf(p)
	const left, row = weeksLeft, 27.0
	s := begin(1160, 44+row*float64(len(wr.Offers))+24, "chart", fmt.Sprintf("Hours offered and planned over %d weeks", weeks))
	planned, pace := map[show.HelperID]map[int]float64{}, map[show.HelperID]int{}
	for _, o := range wr.Offers {
		planned[o.Helper], pace[o.Helper] = map[int]float64{}, o.Pace
	}
	for _, sl := range wr.Slots {
		planned[sl.Helper][int(sl.Day-p.Day)/7] += float64(sl.Minutes) * float64(pace[sl.Helper]) / 6000
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
			offered := offeredIn(h, o.Pace, p.Day+units.Date(7*k), parade)
			stitches(s, left+cell*float64(k)+5, y+7, cell-10, offered, planned[o.Helper][k])
		}
		s.text(1160, y+18, 13, "end", "n", fmt.Sprint(hoursOf(o.Lead)))
	}
	return s.end()
}

// offeredIn is what a helper offers in the week from a day, in lead-hours.
func offeredIn(h *show.Helper, pace int, from, parade units.Date) float64 {
	days := 0
	for d := from; d < from+7 && d <= parade; d++ {
		if d >= h.From && (h.To == 0 || d <= h.To) {
			days++
		}
	}
	return h.Hours.Hours() * float64(pace) / 100 * float64(days) / 7
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
