package web

import (
	"fmt"
	"html/template"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// chart draws the running chart: one thread a performer over the seconds of
// the show, plies in the colours worn above and below the waist, a knot for
// each change.
type chart struct {
	p      *workshop.Prepared
	t      answer.Timeline
	s      *svg
	left   float64
	right  float64
	cut    time.Duration // where the interval begins; 0 where there is none
	pause  time.Duration
	bottom float64
}

const (
	threadPitch = 15.0
	chartWidth  = 1160.0
	cutWidth    = 22.0
)

// group is performers of one company group.
type group struct {
	name string
	who  []show.PerformerID
}

// companies sorts the performers into the groups of the company: those with a
// named part first, the rest by the group of their first role.
func companies(h *show.House) []group {
	at := map[string]int{}
	var out []group
	add := func(name string, id show.PerformerID) {
		i, ok := at[name]
		if !ok {
			i = len(out)
			at[name] = i
			out = append(out, group{name: name})
		}
		out[i].who = append(out[i].who, id)
	}
	for _, p := range h.Performers {
		name := ""
		for _, r := range h.Roles {
			if r.Performer != p.ID {
				continue
			}
			if r.Kind == "lead" || r.Kind == "support" {
				name = "named"
				break
			}
			if name == "" {
				name = r.Group
			}
		}
		if name == "" {
			name = "not in a role yet"
		}
		add(name, p.ID)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].name == "named" && out[j].name != "named" })
	return out
}

func drawChart(p *workshop.Prepared, t answer.Timeline) template.HTML {
	groups := companies(&p.House)
	rows := 0
	for _, g := range groups {
		rows += len(g.who)
	}
	c := &chart{p: p, t: t, left: 180, right: chartWidth - 8}
	for _, sc := range p.House.Scenes {
		if sc.Interval > 0 {
			c.cut, c.pause = t.Starts[sc.ID]+sc.Running+sc.GapAfter, sc.Interval
		}
	}
	c.bottom = 62 + threadPitch*float64(rows) + 16*float64(len(groups))
	c.s = begin(chartWidth, c.bottom+96, "chart", fmt.Sprintf("Running chart: %d performers, %d changes, %d under 3 minutes", rows, len(t.Changes), fast(t)))
	c.ruler()
	y := 62.0
	for _, g := range groups {
		c.s.text(c.left-8, y+12, 12, "end", "it", g.name)
		y += 16
		top := y
		for _, id := range g.who {
			c.thread(id, y+threadPitch/2)
			y += threadPitch
		}
		c.s.line(c.left-4, top+2, c.left-4, y-2, "ink", 1, "")
	}
	c.atOnce()
	c.interval()
	// a chart with links in it is a group of them, not one picture
	return template.HTML(strings.Replace(string(c.s.end()), `role="img"`, `role="group"`, 1))
}

func fast(t answer.Timeline) int {
	n := 0
	for _, c := range t.Changes {
		if c.Seconds < 180 {
			n++
		}
	}
	return n
}

// x is where a moment lies; the interval is cut out.
func (c *chart) x(d time.Duration) float64 {
	span := float64(c.t.End - c.pause)
	if span <= 0 {
		return c.left
	}
	gap := 0.0
	if c.pause > 0 {
		gap = cutWidth
	}
	unit := (c.right - c.left - gap) / span
	switch {
	case c.pause == 0 || d <= c.cut:
		return c.left + float64(d)*unit
	case d < c.cut+c.pause:
		return c.left + float64(c.cut)*unit + gap*float64(d-c.cut)/float64(c.pause)
	}
	return c.left + gap + float64(d-c.pause)*unit
}

func (c *chart) ruler() {
	s := c.s
	for i, sc := range c.p.House.Scenes {
		x0, x1 := c.x(c.t.Starts[sc.ID]), c.x(c.t.Starts[sc.ID]+sc.Running)
		s.rect(x0, 44, x1-x0, c.bottom-44, "sheet", "")
		if c.otherWorld(sc.World) {
			c.waves(x0, x1)
		}
		s.text(x0+3, 56, 12, "start", "n", strings.TrimLeft(strings.TrimLeft(string(sc.ID), "S"), "0"))
		if i == 0 || c.p.House.Scenes[i-1].Act != sc.Act {
			s.text(x0, 12, 16, "start", "", "Act "+sc.Act)
		}
	}
	s.text(c.left-8, 56, 12, "end", "soft", "scene")
	s.text(c.right, 12, 12, "end", "soft", "minutes from curtain up")
	for m := 0; time.Duration(m)*time.Minute <= c.t.End; m++ {
		d := time.Duration(m) * time.Minute
		if c.pause > 0 && d > c.cut && d < c.cut+c.pause {
			continue
		}
		tick := 4.0
		if m%10 == 0 {
			tick = 8
			s.text(c.x(d), 28, 12, "middle", "n", fmt.Sprint(m))
		}
		s.line(c.x(d), 40-tick, c.x(d), 40, "ink", .8, "")
	}
	s.line(c.left, 40, c.right, 40, "ink", 1, "")
}

// otherWorld says whether a scene lies in the second of the show's worlds.
func (c *chart) otherWorld(world string) bool {
	return len(c.p.House.Scenes) > 0 && world != c.p.House.Scenes[0].World
}

// waves is the line pattern of the other world: never a tint.
func (c *chart) waves(x0, x1 float64) {
	var d strings.Builder
	for y := 70.0; y < c.bottom; y += 15 {
		fmt.Fprintf(&d, "M%s %s", f(x0), f(y))
		for x := x0; x+12 <= x1; x += 12 {
			d.WriteString("q3 -3 6 0t6 0")
		}
	}
	c.s.path(d.String(), "", "line", .8, "")
}

func (c *chart) interval() {
	if c.pause == 0 {
		return
	}
	x0, x1 := c.x(c.cut)+2, c.x(c.cut+c.pause)-2
	c.s.rect(x0, 42, x1-x0, c.bottom-40, "paper", "")
	for _, x := range []float64{x0, x1} {
		d := fmt.Sprintf("M%s 42", f(x))
		for y := 42.0; y < c.bottom; y += 8 {
			d += "l3 4l-3 4"
		}
		c.s.path(d, "", "ink", .9, "")
	}
	c.s.turned((x0+x1)/2+4, (44+c.bottom)/2, 11.5, "soft", fmt.Sprintf("interval, %d minutes", int(c.pause/time.Minute)))
}

// thread draws one performer.
func (c *chart) thread(id show.PerformerID, y float64) {
	who := c.p.House.Performer(id)
	var mine []answer.Stretch
	for _, st := range c.t.Stretches {
		if st.Performer == id {
			mine = append(mine, st)
		}
	}
	n := 0
	for _, ch := range c.t.Changes {
		if ch.Performer == id {
			n++
		}
	}
	c.s.b.WriteString(fmt.Sprintf(`<a href="/performers/%s" aria-label="%s">`, template.URLQueryEscaper(string(id)), template.HTMLEscapeString(fmt.Sprintf("%s: %d times on stage, %d changes", who.Name, len(mine), n))))
	c.s.text(c.left-10, y+4, 12, "end", "", who.Name)
	c.s.b.WriteString("</a>")
	if len(mine) == 0 {
		return
	}
	c.s.line(c.x(mine[0].From), y, c.x(mine[len(mine)-1].To), y, "ink2", 1, "")
	for _, st := range mine {
		up, low := plies(&c.p.House, st.Look)
		x0, w := c.x(st.From), max(c.x(st.To)-c.x(st.From), 1.5)
		c.s.open("")
		c.s.title(fmt.Sprintf("%s, %s: %s", who.Name, st.Scene, lookName(&c.p.House, st.Look)))
		c.s.rect(x0, y-4, w, 4, up, "")
		c.s.rect(x0, y, w, 4, low, "")
		c.s.rect(x0, y-4, w, 8, "", "ink2")
		c.s.close()
	}
	for _, ch := range c.t.Changes {
		if ch.Performer == id {
			c.knot(ch, c.x(ch.Leaves+(ch.Enters-ch.Leaves)/2), y)
		}
	}
}

// knot is a change: ring, ring with a core under three minutes, diamond in
// view, filled diamond with a cross where it is too short.
func (c *chart) knot(ch answer.Change, x, y float64) {
	c.s.open("")
	c.s.title(fmt.Sprintf("%s to %s, %d s. %s", ch.FromScene, ch.ToScene, ch.Seconds, sentence(ch.Verdict)))
	diamond := fmt.Sprintf("M%s %sl5.5 -5.5 5.5 5.5 -5.5 5.5z", f(x-5.5), f(y))
	switch {
	case ch.InView:
		c.s.path(diamond, "paper", "ink", 1.3, "")
		c.s.circle(x, y, 1.4, "ink", "")
	case ch.Verdict.Grade == why.No:
		c.s.path(diamond, "madder", "madder", 1.3, "")
		c.s.path(fmt.Sprintf("M%s %sl4 4m0 -4l-4 4", f(x-2), f(y-2)), "", "paper", 1.2, "")
	case ch.Seconds < 180:
		c.s.circle(x, y, 4, "paper", "ink")
		c.s.circle(x, y, 1.5, "ink", "")
	default:
		c.s.circle(x, y, 3.2, "paper", "ink")
	}
	c.s.close()
}

// atOnce is the stepped line of people changing at once in gaps under four
// minutes, with a dashed line at the number of dressers.
func (c *chart) atOnce() {
	base := c.bottom + 78
	unit := 5.5
	type edge struct {
		at   time.Duration
		step int
	}
	var es []edge
	for _, ch := range c.t.Changes {
		if ch.Seconds < 240 {
			es = append(es, edge{ch.Leaves, 1}, edge{ch.Enters, -1})
		}
	}
	sort.Slice(es, func(i, j int) bool {
		return es[i].at < es[j].at || es[i].at == es[j].at && es[i].step < es[j].step
	})
	d, n, peak := fmt.Sprintf("M%s %s", f(c.left), f(base)), 0, 0
	for _, e := range es {
		d += fmt.Sprintf("H%s", f(c.x(e.at)))
		n += e.step
		peak = max(peak, n)
		d += fmt.Sprintf("V%s", f(base-unit*float64(n)))
	}
	d += fmt.Sprintf("H%s", f(c.right))
	dressers := 0
	for _, h := range c.p.House.Helpers {
		if h.Dresser && !h.Chaperone {
			dressers++
		}
	}
	c.s.path(d, "edge", "ink", 1, "")
	if dressers > 0 {
		y := base - unit*float64(dressers)
		c.s.line(c.left, y, c.right, y, "ink", 1, "7 4")
		c.s.text(c.left-8, y+4, 12, "end", "soft", fmt.Sprintf("%d dressers", dressers))
	}
	c.s.text(c.left-8, base-unit*10-4, 12, "end", "n", "changing at once")
	c.s.text(c.left-8, base+4, 12, "end", "soft", "gaps under 4 min")
	if peak > 0 {
		c.s.text(c.right, c.bottom+16, 12, "end", "n", fmt.Sprintf("%d at once, at most", peak))
	}
}

// plies are the colours worn above and below the waist in a look: the
// outermost of each.
func plies(h *show.House, id show.LookID) (up, low string) {
	for _, q := range h.LookPieces(id) {
		hex := hexOf(h, q.Colour)
		if hex == "" || q.Layer < 3 {
			continue
		}
		switch q.Category {
		case show.Skirt, show.Trousers:
			low = hex
		case show.Dress:
			up, low = hex, hex
		case show.Jacket:
			up = hex
			if q.LengthTo != "hip" && q.LengthTo != "waist" {
				low = hex
			}
		case show.Shirt, show.Bodice:
			up = hex
		}
	}
	if up == "" {
		up = "line"
	}
	if low == "" {
		low = "line"
	}
	return up, low
}

func lookName(h *show.House, id show.LookID) string {
	if l := h.Look(id); l != nil {
		return l.Name
	}
	return string(id)
}

// sentence is the first reason of a verdict in words.
func sentence(v why.Verdict) string {
	if len(v.Reasons) == 0 {
		return ""
	}
	return v.Reasons[0].Sentence(units.Metric)
}
