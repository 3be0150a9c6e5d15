package web

import (
	"fmt"
	"html/template"
	"slices"
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
	alone  map[int]bool // changes nobody is free to help with
	head   float64      // where the name of the group stands
	said   map[time.Duration]bool
}

const (
	threadPitch = 15.0
	chartWidth  = 1160.0
	cutWidth    = 22.0
	paperShape  = 380.0 / 210 // millimetres there are for the chart on A3
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
			if r.Kind == "lead" || r.Kind == "support" || r.Group == "" {
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

// chartFor is whom a chart shows, and for what.
type chartFor struct {
	paper bool         // as wide as an A3 sheet wants it for the height it has
	group string       // one group of the company; empty: everybody
	scene show.SceneID // those who are on in it; empty: all
	zoom  int          // so many screens wide
}

// inScene keeps those who are on in a scene; everybody where none is asked
// for.
func inScene(groups []group, t answer.Timeline, scene show.SceneID) []group {
	on := map[show.PerformerID]bool{}
	for _, st := range t.Stretches {
		if st.Scene == scene {
			on[st.Performer] = true
		}
	}
	if len(on) == 0 {
		return groups
	}
	var out []group
	for _, g := range groups {
		kept := group{name: g.name}
		for _, id := range g.who {
			if on[id] {
				kept.who = append(kept.who, id)
			}
		}
		if len(kept.who) > 0 {
			out = append(out, kept)
		}
	}
	return out
}

// drawChart draws the running chart.
func drawChart(p *workshop.Prepared, t answer.Timeline, as chartFor) template.HTML {
	groups := companies(&p.House)
	if i := slices.IndexFunc(groups, func(g group) bool { return g.name == as.group }); i >= 0 {
		groups = groups[i : i+1]
	}
	groups = inScene(groups, t, as.scene)
	rows := 0
	for _, g := range groups {
		rows += len(g.who)
	}
	c := &chart{p: p, t: t, left: 180, right: chartWidth - 8, alone: map[int]bool{}}
	c.bottom = 62 + threadPitch*float64(rows) + 16*float64(len(groups))
	if wide := paperShape * (c.bottom + 96); as.paper && wide > chartWidth {
		c.right = wide - 8
	}
	class := "chart"
	if as.zoom > 1 && !as.paper {
		c.right = chartWidth*float64(as.zoom) - 8
		class = fmt.Sprintf("chart z%d", as.zoom)
	}
	for _, d := range t.Duties {
		if d.Dresser == "" {
			c.alone[d.Change] = true
		}
	}
	for _, sc := range p.House.Scenes {
		if sc.Interval > 0 {
			c.cut, c.pause = t.Starts[sc.ID]+sc.Running+sc.GapAfter, sc.Interval
		}
	}
	c.s = begin(c.right+8, c.bottom+96, class, fmt.Sprintf("Running chart: %d performers, %d changes, %d under 3 minutes", rows, len(t.Changes), fast(t)))
	c.ruler()
	y := 62.0
	for _, g := range groups {
		c.s.text(c.left-8, y+12, 12, "end", "it", g.name)
		c.head, c.said = y+12, map[time.Duration]bool{}
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
	for i, ch := range c.t.Changes {
		if ch.Performer == id {
			c.knot(ch, c.alone[i], c.x(ch.Leaves+(ch.Enters-ch.Leaves)/2), y)
		}
	}
}

// knot is a change: ring, ring with a core under three minutes, diamond in
// view, filled diamond with a cross where it is too short for somebody: too
// short in itself, or nobody is free to help.
func (c *chart) knot(ch answer.Change, alone bool, x, y float64) {
	c.s.open(`tabindex="0" role="img"`)
	says := fmt.Sprintf("%s to %s, %d s. %s", ch.FromScene, ch.ToScene, ch.Seconds, sentence(c.p.House.Units, ch.Verdict))
	switch {
	case ch.InView:
		c.s.title(says)
		c.s.inView(x, y)
	case ch.Verdict.Grade == why.No || alone:
		if alone {
			says += " Nobody is free to help."
		}
		c.s.title(says)
		c.s.tooShort(x, y)
		if !c.said[ch.Leaves] {
			c.said[ch.Leaves] = true
			c.s.text(x, c.head, 12, "middle", "n warn", fmt.Sprintf("%d s", ch.Seconds))
			c.s.line(x, c.head+3, x, y-6, "madder", 1, "2 3")
		}
	default:
		c.s.title(says)
		c.s.ring(x, y, ch.Seconds < 180)
	}
	c.s.close()
}

func diamond(x, y float64) string {
	return fmt.Sprintf("M%s %sl5.5 -5.5 5.5 5.5 -5.5 5.5z", f(x-5.5), f(y))
}

func (s *svg) inView(x, y float64) {
	s.path(diamond(x, y), "paper", "ink", 1.3, "")
	s.circle(x, y, 1.4, "ink", "")
}

func (s *svg) tooShort(x, y float64) {
	s.path(diamond(x, y), "madder", "madder", 1.3, "")
	s.path(fmt.Sprintf("M%s %sl4 4m0 -4l-4 4", f(x-2), f(y-2)), "", "paper", 1.2, "")
}

func (s *svg) ring(x, y float64, fast bool) {
	if fast {
		s.circle(x, y, 4, "paper", "ink")
		s.circle(x, y, 1.5, "ink", "")
		return
	}
	s.circle(x, y, 3.2, "paper", "ink")
}

// legend explains the knots and the plies under the chart.
func legend() template.HTML {
	s := begin(chartWidth, 26, "chart legend", "")
	x := 0.0
	say := func(room float64, words string) {
		s.text(x+room, 17, 13, "start", "soft", words)
		x += room + 24 + float64(len(words))*6.4
	}
	s.line(x, 13, x+44, 13, "ink2", 1, "")
	s.rect(x+10, 9, 24, 4, "line", "")
	s.rect(x+10, 13, 24, 4, "ink2", "")
	say(52, "on stage: above the waist, below it; thin is off")
	s.ring(x+4, 13, false)
	say(13, "change")
	s.ring(x+4, 13, true)
	say(13, "under 3 minutes")
	s.inView(x+5, 13)
	say(15, "in view")
	s.tooShort(x+5, 13)
	say(15, "too short for somebody, or nobody free to help")
	s.path(fmt.Sprintf("M%s 14q3 -3 6 0t6 0t6 0", f(x)), "", "line2", 1, "")
	say(24, "the other world")
	return template.HTML(strings.Replace(string(s.end()), `role="img" aria-label=""`, `role="group" aria-label="what the signs mean"`, 1))
}

// atOnce is the stepped line of people changing at once in gaps under four
// minutes, with a dashed line at the number of dressers.
func (c *chart) atOnce() {
	base := c.bottom + 78
	unit := 5.5
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
	c.s.path(d, "edge", "ink", 1, "")
	dressers := 0
	for _, h := range c.p.House.Helpers {
		if h.Dresser && !h.Chaperone {
			dressers++
		}
	}
	if dressers > 0 {
		y := base - unit*float64(dressers)
		c.s.line(c.left, y, c.right, y, "ink", 1, "7 4")
		c.s.text(c.left-8, y+4, 12, "end", "soft", fmt.Sprintf("%d dressers", dressers))
	}
	c.s.text(c.left-8, base-unit*10-4, 12, "end", "n", "changing at once")
	c.s.text(c.left-8, base+4, 12, "end", "soft", "gaps under 4 min")
	c.peaks(es, dressers, peak)
}

// edge is somebody beginning or ending a change in a short gap.
type edge struct {
	at   time.Duration
	step int
}

// peaks says beside the line how many change at once, wherever it is more
// than there are dressers, with room between.
func (c *chart) peaks(es []edge, dressers, most int) {
	base, n, end := c.bottom+78, 0, c.left
	for i, e := range es {
		n += e.step
		if e.step < 0 || n <= dressers || i+1 < len(es) && es[i+1].step > 0 && es[i+1].at == e.at {
			continue
		}
		x := c.x(e.at)
		words := fmt.Sprintf("%d at once", n)
		if x-8-float64(len(words))*6 < end || n < most && n-dressers < 2 {
			continue
		}
		c.s.text(x-6, base-5.5*float64(n)+9, 12, "end", "n", words)
		end = x
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
func sentence(sys units.System, v why.Verdict) string {
	if len(v.Reasons) == 0 {
		return ""
	}
	return v.Reasons[0].Sentence(sys)
}
