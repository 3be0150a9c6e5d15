package web

import (
	"fmt"
	"html/template"
	"net/http"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/workshop"
)

// sceneHead is the head of a scene's column: its number, minutes, and
// everybody on stage as one stripe each.
type sceneHead struct {
	Number, Title, Minutes string
	Pencil                 bool // the minutes were assumed
	Palette                template.HTML
	On                     int
	After                  bool // comes after the interval
}

// whoRow is a role, a second role of the same performer, or a group of roles.
type whoRow struct {
	Role, Performer, ID string
	Also, Group         bool
	Cells               []whoCell
}

type whoCell struct {
	Bar   template.HTML
	After bool
}

// whoGroup is the roles of one group.
type whoGroup struct {
	Name string
	Rows []whoRow
}

func (s *server) whoIsOn(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	g := newWho(&p.House)
	_, _, playing := p.House.Starts()
	view := struct {
		Frame
		Says  string
		Heads []sceneHead
		Rows  []whoRow
		All   []whoGroup
		Span  int
	}{Frame: s.frame(p, "Who is on", "/who", nil), Heads: g.heads(), Rows: g.short(), All: g.all(), Span: len(p.House.Scenes) + 2}
	view.Says = fmt.Sprintf("%d appearances of %d roles in %d looks; %d scenes, %d minutes of playing.",
		len(p.House.Appearances), len(p.House.Roles), len(p.House.Looks), len(p.House.Scenes), int(playing/time.Minute))
	return s.show(w, http.StatusOK, "who", view)
}

// who knows what the grid of who is on is drawn from.
type who struct {
	h     *show.House
	on    map[show.SceneID]map[show.RoleID][]show.Appearance
	plies map[show.LookID][2]string
	looks map[show.LookID]int // which look of its role, where there are several
}

func newWho(h *show.House) *who {
	g := &who{h: h, on: map[show.SceneID]map[show.RoleID][]show.Appearance{}, plies: map[show.LookID][2]string{}, looks: map[show.LookID]int{}}
	for _, a := range h.Appearances {
		if g.on[a.Scene] == nil {
			g.on[a.Scene] = map[show.RoleID][]show.Appearance{}
		}
		g.on[a.Scene][a.Role] = append(g.on[a.Scene][a.Role], a)
	}
	count := map[show.RoleID]int{}
	for _, l := range h.Looks {
		up, low := plies(h, l.ID)
		g.plies[l.ID] = [2]string{up, low}
		count[l.Role]++
		g.looks[l.ID] = count[l.Role]
	}
	for _, l := range h.Looks {
		if count[l.Role] < 2 {
			g.looks[l.ID] = 0
		}
	}
	return g
}

func (g *who) after(i int) bool { return i > 0 && g.h.Scenes[i-1].Interval > 0 }

func number(id show.SceneID) string {
	if n := strings.TrimLeft(strings.TrimLeft(string(id), "S"), "0"); n != "" {
		return n
	}
	return string(id)
}

func (g *who) heads() []sceneHead {
	var out []sceneHead
	for i, sc := range g.h.Scenes {
		var stripes [][2]string
		for _, as := range g.on[sc.ID] {
			ply := g.plies[as[0].Look]
			stripes = append(stripes, ply)
		}
		sort.Slice(stripes, func(a, b int) bool {
			la, lb := light(stripes[a][0]), light(stripes[b][0])
			return la < lb || la == lb && stripes[a][0]+stripes[a][1] < stripes[b][0]+stripes[b][1]
		})
		s := begin(cellWidth, 18, "", fmt.Sprintf("colours on stage in scene %s", number(sc.ID)))
		for k, ply := range stripes {
			w := cellWidth / float64(len(stripes))
			s.plain(w*float64(k), 0, w, 9, ply[0])
			s.plain(w*float64(k), 9, w, 9, ply[1])
		}
		s.rect(.5, .5, cellWidth-1, 17, "", "line2")
		out = append(out, sceneHead{Number: number(sc.ID), Title: sc.Title, Minutes: f(sc.Running.Minutes()), Pencil: g.h.Origin("scene", string(sc.ID), "running") != nil, Palette: s.end(), On: len(stripes), After: g.after(i)})
	}
	return out
}

const cellWidth = 38.0

// short is the named roles each by itself, with what else their performers
// play under them, and the rest by group.
func (g *who) short() []whoRow {
	var out []whoRow
	named := map[show.PerformerID]bool{}
	done := map[show.RoleID]bool{}
	for _, r := range g.h.Roles {
		if isNamed(r) {
			named[r.Performer] = true
		}
	}
	for _, r := range g.h.Roles {
		if !isNamed(r) {
			continue
		}
		out = append(out, g.row(r))
		for _, q := range g.h.Roles {
			if !isNamed(q) && q.Performer != "" && q.Performer == r.Performer && !done[q.ID] {
				done[q.ID] = true
				also := g.row(q)
				also.Also, also.Performer, also.ID = true, "", ""
				out = append(out, also)
			}
		}
	}
	groups := map[string][]show.Role{}
	var order []string
	for _, r := range g.h.Roles {
		if isNamed(r) || done[r.ID] {
			continue
		}
		if groups[r.Group] == nil {
			order = append(order, r.Group)
		}
		groups[r.Group] = append(groups[r.Group], r)
	}
	for _, name := range order {
		rs := groups[name]
		if len(rs) == 1 {
			out = append(out, g.row(rs[0]))
			continue
		}
		row := whoRow{Role: name, Performer: fmt.Sprintf("%d roles", len(rs)), Group: true}
		for i, sc := range g.h.Scenes {
			row.Cells = append(row.Cells, whoCell{g.bar(rs, sc), g.after(i)})
		}
		out = append(out, row)
	}
	return out
}

// isNamed says whether a role stands by itself in the grid.
func isNamed(r show.Role) bool { return r.Kind == "lead" || r.Kind == "support" || r.Group == "" }

func (g *who) all() []whoGroup {
	at := map[string]int{}
	var out []whoGroup
	for _, r := range g.h.Roles {
		name := r.Group
		if isNamed(r) {
			name = "named"
		}
		i, ok := at[name]
		if !ok {
			i = len(out)
			at[name] = i
			out = append(out, whoGroup{Name: name})
		}
		out[i].Rows = append(out[i].Rows, g.row(r))
	}
	return out
}

func (g *who) row(r show.Role) whoRow {
	row := whoRow{Role: r.Name, ID: string(r.Performer)}
	if r.Performer != "" {
		row.Performer = performerName(g.h, r.Performer)
	}
	for i, sc := range g.h.Scenes {
		row.Cells = append(row.Cells, whoCell{g.bar([]show.Role{r}, sc), g.after(i)})
	}
	return row
}

// bar draws the time of roles in a scene, each in its place and in the plies
// of its look; empty where nobody is on.
func (g *who) bar(roles []show.Role, sc show.Scene) template.HTML {
	const high = 13.0
	if sc.Running <= 0 {
		return ""
	}
	var on []show.Appearance
	n := 0
	for _, r := range roles {
		as := g.on[sc.ID][r.ID]
		on = append(on, as...)
		if len(as) > 0 {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	s := begin(cellWidth, high, "", g.barSays(on, n, sc))
	ply := high / 2 / float64(n)
	k := 0
	for i, a := range on {
		if i > 0 && a.Role != on[i-1].Role {
			k++
		}
		y := 2 * ply * float64(k)
		x0, x1 := cellWidth*float64(a.Enter)/float64(sc.Running), cellWidth*float64(a.Exit)/float64(sc.Running)
		w := max(x1-x0, 2)
		s.plain(x0, y, w, ply, g.plies[a.Look][0])
		s.plain(x0, y+ply, w, ply, g.plies[a.Look][1])
		if n == 1 {
			s.rect(x0+.4, .4, w-.8, high-.8, "", "line2")
		}
		if look := g.looks[a.Look]; n == 1 && look > 0 && w > 11 {
			s.rect(x0+1.5, 1.5, 8, high-3, "sheet", "")
			s.text(x0+5.5, 10, 9.5, "middle", "n", fmt.Sprint(look))
		}
	}
	return s.end()
}

func (g *who) barSays(on []show.Appearance, n int, sc show.Scene) string {
	if n > 1 {
		return fmt.Sprintf("%d on in scene %s", n, number(sc.ID))
	}
	var out []string
	for _, a := range on {
		out = append(out, fmt.Sprintf("minute %s to %s in %s", f(a.Enter.Minutes()), f(a.Exit.Minutes()), lookName(g.h, a.Look)))
	}
	return "scene " + number(sc.ID) + ": " + strings.Join(out, "; ")
}
