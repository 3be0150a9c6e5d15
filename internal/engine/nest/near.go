package nest

import (
	"math/bits"
	"slices"
)

// While one item looks for a place all others lie still. Which of them have
// boxes that might meet its own is read from sets: the board is cut into
// stretches each way, and each stretch knows who begins in it or before and
// who ends in it or after.

const stretches = 32

// axis holds the stretches along one axis, as sets of items one after another.
type axis struct {
	from       int64 // where the first stretch begins
	shift      uint  // the length of a stretch as a power of two
	begun, due []uint64
}

// nearby lists the others that may be near a box.
type nearby struct {
	words         int
	x, y          axis
	list          []int
	without, with int // an item left out although it lies there, and one taken in; -1 for none
}

func newNearby() nearby { return nearby{without: -1, with: -1} }

// ready takes in where everything but item i lies.
func (n *nearby) ready(boxes []box, i int) {
	n.words = (len(boxes) + 63) / 64
	all := box{nowhere.x0, nowhere.y0, -nowhere.x0, -nowhere.y0}
	for j, b := range boxes {
		if j != i && b != nowhere {
			all = box{min(all.x0, b.x0), min(all.y0, b.y0), max(all.x1, b.x1), max(all.y1, b.y1)}
		}
	}
	n.x.clear(n.words, all.x0, all.x1)
	n.y.clear(n.words, all.y0, all.y1)
	for j, b := range boxes {
		if j != i && b != nowhere {
			n.x.add(n.words, j, b.x0, b.x1)
			n.y.add(n.words, j, b.y0, b.y1)
		}
	}
	n.x.join(n.words)
	n.y.join(n.words)
}

func (a *axis) clear(words int, from, to int64) {
	a.from, a.shift = from, uint(bits.Len64(uint64(max(to-from, 0))/stretches))
	if len(a.begun) != words*stretches {
		a.begun, a.due = make([]uint64, words*stretches), make([]uint64, words*stretches)
	}
	clear(a.begun)
	clear(a.due)
}

func (a *axis) stretch(v int64) int {
	return int(min(max(v-a.from, 0)>>a.shift, stretches-1))
}

func (a *axis) add(words, j int, from, to int64) {
	bit := uint64(1) << (j % 64)
	a.begun[a.stretch(from)*words+j/64] |= bit
	a.due[a.stretch(to)*words+j/64] |= bit
}

// join adds to each stretch those before it, or those after it.
func (a *axis) join(words int) {
	last := len(a.begun) - 1
	for k := words; k <= last; k++ {
		a.begun[k] |= a.begun[k-words]
		a.due[last-k] |= a.due[last-k+words]
	}
}

// of lists those whose boxes may be nearer to b than the gap, and whom it is
// told to take in.
func (n *nearby) of(b box, gap int64) []int {
	n.list = n.list[:0]
	x0, x1 := n.x.due[n.x.stretch(b.x0-gap)*n.words:], n.x.begun[n.x.stretch(b.x1+gap)*n.words:]
	y0, y1 := n.y.due[n.y.stretch(b.y0-gap)*n.words:], n.y.begun[n.y.stretch(b.y1+gap)*n.words:]
	for w := range n.words {
		for m := x0[w] & x1[w] & y0[w] & y1[w]; m != 0; m &= m - 1 {
			n.list = append(n.list, w*64+bits.TrailingZeros64(m))
		}
	}
	if k := slices.Index(n.list, n.without); k >= 0 {
		n.list = slices.Delete(n.list, k, k+1)
	}
	if n.with >= 0 {
		n.list = append(n.list, n.with)
	}
	return n.list
}
