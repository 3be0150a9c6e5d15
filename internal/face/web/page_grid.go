package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"sort"
	"strings"

	"hemwright/internal/intake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// gridView is who is on, to be ticked.
type gridView struct {
	Frame
	Heads []sceneHead
	Rows  []gridRow
	Drawn drawn
}

// drawn is what a tick changes: how many changes look fast, the joins that
// decide it, and the chart.
type drawn struct {
	Says  string
	Joins []joinView
	Chart template.HTML
}

type gridRow struct {
	Name, Performer string
	Who             string // a role's code or a group's name
	Group, Member   bool
	Open            bool   // the group's members stand under it
	Toggle          string // the address that opens or closes it
	Cells           []gridCell
}

type gridCell struct {
	Scene string
	On    bool
	Some  string // "3 of 6", where only some of a group are on
	Ink   bool   // somebody gave exact times
	After bool
}

// joinView is a place between two scenes where a minute decides whether a
// change can be done.
type joinView struct {
	From, To            string
	Who, Name           string // who leaves: a role's code or a group, and its name
	Becomes, As         string // who comes on
	N                   int    // people
	Seconds             int    // the fewest there are
	Wanted              int
	Exit, Enter         string
	ExitSide, EnterSide string
}

func (s *server) grid(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	return s.show(w, http.StatusOK, "whogrid", s.gridPage(p, r.URL.Query()["open"]))
}

func (s *server) gridPage(p *workshop.Prepared, open []string) gridView {
	h := &p.House
	g := newWho(h)
	return gridView{Frame: s.frame(p, "Who is on", "/who", nil), Heads: g.heads(), Rows: gridRows(h, g, open), Drawn: draw(p)}
}

// gridRows are the roles by themselves, and the groups, opened where asked.
func gridRows(h *show.House, g *who, open []string) []gridRow {
	var out []gridRow
	seen := map[string]bool{}
	for _, r := range h.Roles {
		if r.Group == "" {
			out = append(out, gridRow{Name: r.Name, Performer: performerName(h, r.Performer), Who: string(r.ID), Cells: gridCells(h, g, []show.RoleID{r.ID})})
		}
	}
	for _, r := range h.Roles {
		if r.Group == "" || seen[r.Group] {
			continue
		}
		seen[r.Group] = true
		var roles []show.Role
		var ids []show.RoleID
		for _, q := range h.Roles {
			if q.Group == r.Group {
				roles, ids = append(roles, q), append(ids, q.ID)
			}
		}
		row := gridRow{Name: r.Group, Performer: plural(len(roles), "person", "people"), Who: r.Group, Group: true, Cells: gridCells(h, g, ids), Open: slices.Contains(open, r.Group)}
		row.Toggle = toggled(open, r.Group)
		out = append(out, row)
		if row.Open {
			for _, q := range roles {
				out = append(out, gridRow{Name: q.Name, Performer: performerName(h, q.Performer), Who: string(q.ID), Member: true, Cells: gridCells(h, g, []show.RoleID{q.ID})})
			}
		}
	}
	return out
}

// toggled is the address of the grid with a group opened or closed.
func toggled(open []string, group string) string {
	var q []string
	for _, o := range open {
		if o != group {
			q = append(q, "open="+template.URLQueryEscaper(o))
		}
	}
	if len(q) == len(open) {
		q = append(q, "open="+template.URLQueryEscaper(group))
	}
	return "/who/grid?" + strings.Join(q, "&")
}

func gridCells(h *show.House, g *who, roles []show.RoleID) []gridCell {
	var out []gridCell
	for i, sc := range h.Scenes {
		c := gridCell{Scene: string(sc.ID), After: g.after(i)}
		n := 0
		for _, role := range roles {
			for _, a := range g.on[sc.ID][role] {
				n++
				c.Ink = c.Ink || a.Enter > 0 || a.Exit < sc.Running
				break
			}
		}
		c.On = n == len(roles) && n > 0
		if n > 0 && !c.On {
			c.Some = fmt.Sprintf("%d of %d", n, len(roles))
		}
		out = append(out, c)
	}
	return out
}

// draw makes the chart and what it comes to.
func draw(p *workshop.Prepared) drawn {
	d := drawn{Says: joinsWords(p), Joins: joins(p)}
	if len(p.House.Scenes) > 0 && len(p.Timelines) > 0 {
		d.Chart = drawChart(p, p.Timelines[0], chartFor{})
	}
	return d
}

// joins lists where fast changes happen, the most people first.
func joins(p *workshop.Prepared) []joinView {
	if len(p.Timelines) == 0 {
		return nil
	}
	h := &p.House
	at := map[string]int{}
	var out []joinView
	for _, c := range p.Timelines[0].Changes {
		if c.Seconds >= 180 || c.InView {
			continue
		}
		who, name := playedIn(h, c.FromLook)
		becomes, as := playedIn(h, c.ToLook)
		key := string(c.FromScene) + " " + string(c.ToScene) + " " + who + " " + becomes
		i, there := at[key]
		if !there {
			i = len(out)
			at[key] = i
			out = append(out, joinView{From: string(c.FromScene), To: string(c.ToScene), Who: who, Name: name, Becomes: becomes, As: as, Seconds: c.Seconds, Wanted: c.Wanted.Lo, ExitSide: string(c.FromSide), EnterSide: string(c.ToSide)})
			times(h, c, &out[i])
		}
		out[i].N++
		out[i].Seconds = min(out[i].Seconds, c.Seconds)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].N > out[j].N })
	return out
}

// playedIn is the group, else the role, that wears a look.
func playedIn(h *show.House, id show.LookID) (code, name string) {
	look := h.Look(id)
	if look == nil {
		return string(id), string(id)
	}
	r := h.Role(look.Role)
	switch {
	case r == nil:
		return string(look.Role), look.Name
	case r.Group != "":
		return r.Group, r.Group
	}
	return string(r.ID), r.Name
}

// times are the minutes a change begins and ends at, as they stand.
func times(h *show.House, c answer.Change, v *joinView) {
	for _, a := range h.Appearances {
		if a.Scene == c.FromScene && a.Look == c.FromLook {
			v.Exit = f(a.Exit.Minutes())
		}
		if a.Scene == c.ToScene && a.Look == c.ToLook {
			v.Enter = f(a.Enter.Minutes())
		}
	}
}

// tick takes one cell, or a whole form of them.
func (s *server) tick(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return why.Bad("form", "The ticks did not arrive whole.", "Send them again.")
	}
	var ticks []workshop.Tick
	on := map[string]bool{}
	for _, c := range r.PostForm["on"] {
		on[c] = true
	}
	was := map[string]bool{}
	for _, c := range r.PostForm["was"] {
		was[c] = true
	}
	for _, c := range r.PostForm["cell"] {
		scene, who, ok := strings.Cut(c, " ")
		if ok && on[c] != was[c] {
			ticks = append(ticks, workshop.Tick{Scene: show.SceneID(scene), Who: who, On: on[c]})
		}
	}
	if len(ticks) > 0 {
		if err := s.ws.Ticks(r.Context(), ticks); err != nil {
			return err
		}
	}
	if r.PostFormValue("drawn") == "" {
		return back(w, r, from(r))
	}
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "drawn", gridView{Frame: Frame{Units: p.House.Units}, Drawn: draw(p)})
}

// setTimes takes the exact minutes of one join.
func (s *server) setTimes(w http.ResponseWriter, r *http.Request) error {
	who := r.FormValue("who")
	for _, x := range []struct {
		scene string
		t     intake.Times
	}{
		{r.FormValue("from"), intake.Times{Exit: r.FormValue("exit"), ExitSide: r.FormValue("exit_side")}},
		{r.FormValue("to"), intake.Times{Enter: r.FormValue("enter"), EnterSide: r.FormValue("enter_side")}},
	} {
		if x.t == (intake.Times{}) {
			continue
		}
		name := who
		if x.scene == r.FormValue("to") {
			name = r.FormValue("becomes")
		}
		if err := s.ws.SetTimes(r.Context(), show.SceneID(x.scene), name, x.t); err != nil {
			return err
		}
	}
	return back(w, r, "/who/grid#joins")
}
