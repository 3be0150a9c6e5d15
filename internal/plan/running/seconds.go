package running

import (
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
)

// Seconds of a change outside the clothes: walking on the same side and to
// the other, and looking the performer over. House figures; a teaching text
// gives 3 to 5, 8 to 15 and 10.
const (
	walkSame   = 4
	walkAcross = 12
	lookCheck  = 10
)

// fastening is how long one closure takes off and on, in seconds, with one
// dresser, rehearsed a little. House estimates, to be replaced by rehearsed
// times.
type fastening struct {
	word    string
	off, on int
}

// fastenings are tried in this order; the first whose words are all in the
// closure's name counts.
var fastenings = []fastening{
	{"pull-cord", 5, 9},
	{"lacing zip", 5, 9}, // lacing for the eye, a zip beneath
	{"lacing", 25, 75},
	{"hook-and-loop", 3, 5},
	{"snaps buttons", 3, 6}, // snaps beneath buttons for the eye
	{"hooks buttons", 9, 16},
	{"wrap", 3, 5},
	{"zip", 4, 7},
	{"snaps", 3, 6},
	{"snap", 1, 2},
	{"hooks", 9, 16},
	{"placket", 6, 12},
	{"buttons", 10, 20},
	{"toggle", 10, 20},
	{"fly", 6, 11}, // zip, hook, and the legs
	{"elastic neck", 5, 9},
	{"elastic", 4, 7},
	{"pull-over", 5, 9},
	{"tie", 5, 8},
	{"open", 4, 7},
	{"clip", 1, 2},
	{"comb", 3, 8},
	{"cross", 4, 8},
	{"none", 1, 2},
}

// unknownClosure is taken where nothing is said: over the head, loose.
var unknownClosure = fastening{"", 5, 9}

func closureOf(p *show.Piece) fastening {
	name := strings.ToLower(p.Closure)
	for _, f := range fastenings {
		if allIn(name, f.word) {
			return f
		}
	}
	return unknownClosure
}

func allIn(name, words string) bool {
	for _, w := range strings.Fields(words) {
		if !strings.Contains(name, w) {
			return false
		}
	}
	return true
}

// fastenings adds up a change's closures, half as much again for a child
// under eleven (house estimate).
func (c *clock) fastenings(ch *answer.Change) int {
	sum := 0
	for _, id := range ch.Off {
		sum += closureOf(c.h.Piece(id)).off
	}
	for _, id := range ch.On {
		sum += closureOf(c.h.Piece(id)).on
	}
	if p := c.h.Performer(ch.Performer); p != nil && p.Age.Known && p.Age.V < 11 {
		sum = sum * 3 / 2
	}
	return sum
}

// walk is the least and the most the way takes.
func walk(ch *answer.Change) (lo, hi int) {
	switch {
	case ch.FromSide == "" || ch.ToSide == "":
		return walkSame, walkAcross
	case ch.FromSide == ch.ToSide:
		return walkSame, walkSame
	}
	return walkAcross, walkAcross
}
