package running

import (
	"slices"
	"sort"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
)

// clock knows what a change needs in one cast: who plays what, the pieces of
// each look, hair, microphones, and the table of seconds.
type clock struct {
	h      *show.House
	t      *table
	cast   show.Cast
	roles  map[show.RoleID]show.PerformerID
	people map[show.PerformerID]*show.Performer
	scenes map[show.SceneID]*show.Scene
	pieces map[show.LookID][]*show.Piece // from the skin outwards
	piece  map[show.PieceID]*show.Piece
	hair   map[show.LookID]string
	mics   map[show.RoleID]*show.Mic
	stops  [][2]time.Duration      // the intervals
	takes  map[[2]string]fastening // by name and closure
}

func newClock(h *show.House, cast show.Cast, t *table) *clock {
	c := &clock{h: h, t: t, cast: cast, roles: map[show.RoleID]show.PerformerID{}, people: map[show.PerformerID]*show.Performer{},
		scenes: map[show.SceneID]*show.Scene{}, pieces: map[show.LookID][]*show.Piece{}, piece: map[show.PieceID]*show.Piece{},
		hair: map[show.LookID]string{}, mics: map[show.RoleID]*show.Mic{}, takes: map[[2]string]fastening{}}
	for i := range h.Performers {
		c.people[h.Performers[i].ID] = &h.Performers[i]
	}
	for i := range h.Scenes {
		c.scenes[h.Scenes[i].ID] = &h.Scenes[i]
	}
	for i := range h.Pieces {
		p := &h.Pieces[i]
		c.piece[p.ID] = p
		for _, l := range p.Looks {
			c.pieces[l] = append(c.pieces[l], p)
		}
	}
	for _, worn := range c.pieces {
		sort.SliceStable(worn, func(i, j int) bool { return worn[i].Layer < worn[j].Layer })
	}
	for _, hw := range h.Headwear {
		c.hair[hw.Look] = strings.ToLower(strings.TrimSpace(hw.Hair))
	}
	for i := range h.Mics {
		c.mics[h.Mics[i].Role] = &h.Mics[i]
	}
	starts, _, _ := h.Starts()
	for i, s := range h.Scenes {
		if begins := starts[s.ID] + s.Running + s.GapAfter; s.Interval > 0 && i+1 < len(h.Scenes) {
			c.stops = append(c.stops, [2]time.Duration{begins, begins + s.Interval})
		}
	}
	return c
}

// of is the line of the table for a piece.
func (c *clock) of(p *show.Piece) fastening {
	k := [2]string{p.Name, p.Closure}
	f, ok := c.takes[k]
	if !ok {
		f = c.t.of(p)
		c.takes[k] = f
	}
	return f
}

// who plays a role in this cast.
func (c *clock) who(r show.RoleID) show.PerformerID {
	id, asked := c.roles[r]
	if !asked {
		id = c.h.PlayedBy(r, c.cast)
		c.roles[r] = id
	}
	return id
}

func (c *clock) young(id show.PerformerID) bool {
	p := c.people[id]
	return p != nil && p.Age.Known && p.Age.V < c.t.youngUnder
}

// known says whether a side is one of the two.
func known(s show.Side) bool { return s == "L" || s == "R" }

// crosses says whether somebody goes out on one side and in on the other.
func crosses(ch *answer.Change) bool {
	return known(ch.FromSide) && known(ch.ToSide) && ch.FromSide != ch.ToSide
}

// walk is the least and the most the way takes.
func (t *table) walk(ch *answer.Change) (lo, hi int) {
	switch {
	case !known(ch.FromSide) || !known(ch.ToSide):
		return t.walkSame, t.walkAcross
	case ch.FromSide == ch.ToSide:
		return t.walkSame, t.walkSame
	}
	return t.walkAcross, t.walkAcross
}

// change takes two times on stage apart: what comes off, stays and goes on.
func (c *clock) change(from, to answer.Stretch) answer.Change {
	ch := answer.Change{
		Cast: c.cast, Performer: from.Performer, FromScene: from.Scene, ToScene: to.Scene,
		FromLook: from.Look, ToLook: to.Look, Leaves: from.To, Enters: to.From,
		Seconds: int((to.From - from.To) / time.Second), FromSide: from.ExitSide, ToSide: to.EnterSide,
	}
	scene := c.scenes[from.Scene]
	ch.InView = from.Scene == to.Scene && scene != nil && hasWord(scene.Movement, "change in view")
	before, after := c.pieces[from.Look], c.pieces[to.Look]
	for i := len(before) - 1; i >= 0; i-- {
		if p := before[i]; slices.Contains(after, p) {
			ch.Stays = append(ch.Stays, p.ID)
		} else {
			f := c.of(p)
			ch.Off = append(ch.Off, p.ID)
			ch.Steps = append(ch.Steps, answer.Step{Do: "off", Piece: p.ID, By: f.word, Seconds: f.off})
		}
	}
	if a, b := c.hair[from.Look], c.hair[to.Look]; a != "" && b != "" && a != b {
		ch.Steps = append(ch.Steps, answer.Step{Do: "hair", By: a + " to " + b, Seconds: c.t.hair})
	}
	if a, b := c.pack(from.Role, before, after), c.pack(to.Role, after, after); a != b {
		ch.Steps = append(ch.Steps, answer.Step{Do: "microphone", By: a + " to " + b, Seconds: c.t.mic})
	}
	for _, p := range after {
		if !slices.Contains(before, p) {
			f := c.of(p)
			ch.On = append(ch.On, p.ID)
			ch.Steps = append(ch.Steps, answer.Step{Do: "on", Piece: p.ID, By: f.word, Seconds: f.on})
		}
	}
	sum := 0
	for _, s := range ch.Steps {
		sum += s.Seconds
	}
	if c.young(ch.Performer) {
		sum = sum * c.t.young / 100
	}
	if c.dark(&ch) {
		sum = sum * c.t.dark / 100
	}
	ch.Hands = sum
	return ch
}

// pack says where a role's microphone sits. A pocket on a piece that is worn
// before and not after is a place of its own.
func (c *clock) pack(role show.RoleID, worn, stays []*show.Piece) string {
	m := c.mics[role]
	if m == nil || !m.Wears {
		return "none"
	}
	for _, p := range worn {
		if string(p.ID) == m.PocketOn && !slices.Contains(stays, p) {
			return m.Place + ", on " + p.Name
		}
	}
	return m.Place
}

func (c *clock) dark(ch *answer.Change) bool {
	return c.word(ch.FromScene, "dark") || c.word(ch.ToScene, "dark")
}

func (c *clock) word(id show.SceneID, word string) bool {
	s := c.scenes[id]
	return s != nil && hasWord(s.Movement, word)
}

func hasWord(list []string, word string) bool {
	for _, s := range list {
		if strings.EqualFold(strings.TrimSpace(s), word) {
			return true
		}
	}
	return false
}
