package running

import (
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// job is one change as a dresser sees it: so many seconds of work inside a
// window, on one side or, where the performer crosses, on either.
type job struct {
	change int // index into the changes
	takes  int // seconds
	hands  int // dressers at once: 1 or 2
	harm   int // of leaving it alone
	may    uint64
	ways   []way
}

// way is one place where a job can be done, and when: from the earliest begin
// to the latest end, in seconds from curtain up.
type way struct {
	place      int8
	from, till int
}

// Places. Nobody knows the way from or to an unknown one: it counts as across.
const (
	left int8 = iota
	right
	somewhere
)

// early is the first second any way allows; late the last.
func (j *job) early() int {
	e := j.ways[0].from
	for _, w := range j.ways {
		e = min(e, w.from)
	}
	return e
}

func (j *job) late() int {
	l := j.ways[0].till
	for _, w := range j.ways {
		l = max(l, w.till)
	}
	return l
}

// wantsHelp says whether a dresser is planned for a change: a fast one, or one
// that does not go alone. What is done in view is nobody's.
func wantsHelp(ch *answer.Change) bool { return ch.Hands > 0 && tight(ch) }

// tight says whether a change would want help if there were anything to do.
func tight(ch *answer.Change) bool {
	return !ch.InView && (ch.Seconds < Fast || ch.Seconds < ch.Wanted.Hi)
}

// jobOf makes a job of a change; false where it does not fit its window even
// with two dressers.
func (t *table) jobOf(i int, ch *answer.Change, young bool) (job, bool) {
	j := job{change: i, takes: ch.Hands, hands: 1, harm: harm(ch, young), may: ^uint64(0)}
	off, on := seconds(ch.Leaves), seconds(ch.Enters)
	half := t.walkSame / 2
	before, after := half, t.walkSame-half
	switch {
	case crosses(ch):
		far := t.walkAcross - half
		j.ways = []way{{placeOf(ch.FromSide), off + half, on - t.lookOver - far}, {placeOf(ch.ToSide), off + far, on - t.lookOver - half}}
	case known(ch.FromSide) && known(ch.ToSide):
		j.ways = []way{{placeOf(ch.FromSide), off + before, on - t.lookOver - after}}
	default:
		j.ways = []way{{somewhere, off + before, on - t.lookOver - after}}
	}
	var fits bool
	j.takes, j.hands, fits = t.hands(j.takes, j.ways[0].till-j.ways[0].from)
	return j, fits && ch.Verdict.Grade != why.No
}

// hands says how long some work takes with as few dressers as bring it into
// the room there is: one, or two, who save about a third of longer work. More
// hardly help.
func (t *table) hands(work, room int) (takes, hands int, fits bool) {
	two := (work*t.twoLeave + 99) / 100
	switch {
	case work <= room:
		return work, 1, true
	case work > t.twoFrom && two <= room:
		return two, 2, true
	}
	return work, 1, false
}

// harm of going without help: ten for each second late, one for the change,
// 50 for a young child.
func harm(ch *answer.Change, young bool) int {
	n := 1 + 10*max(0, ch.Wanted.Hi-ch.Seconds)
	if young {
		n += 50
	}
	return n
}

func seconds(d time.Duration) int { return int(d / time.Second) }

func placeOf(s show.Side) int8 {
	switch s {
	case "L":
		return left
	case "R":
		return right
	}
	return somewhere
}

func sideOf(p int8) show.Side { return [...]show.Side{"L", "R", ""}[p] }

// travel is how long a dresser takes from one place to another.
func (t *table) travel(a, b int8) int {
	if a == b && a != somewhere {
		return 0
	}
	return t.walkAcross
}

// clusters parts jobs, sorted by their first second, where a dresser has time
// to be anywhere again before the next begins.
func (t *table) clusters(jobs []job) [][]job {
	var out [][]job
	begin, until := 0, 0
	for i := range jobs {
		if i > begin && jobs[i].early() >= until+t.walkAcross {
			out = append(out, jobs[begin:i])
			begin = i
		}
		if i == begin {
			until = jobs[i].late()
		}
		until = max(until, jobs[i].late())
	}
	if begin < len(jobs) {
		out = append(out, jobs[begin:])
	}
	return out
}
