package nest

import (
	"math"
	"slices"
	"testing"

	"hemwright/internal/value/geom"

	"pgregory.net/rapid"
)

// Oracle: every box compared with every other.
func TestNearbyMissesNobody(t *testing.T) {
	n := newNearby()
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{10, 3000, 1 << 40}).Draw(t, "reach")
		at := rapid.Int64Range(-reach, reach)
		draw := func(t *rapid.T) box {
			x, y := at.Draw(t, "x"), at.Draw(t, "y")
			return box{x, y, x + rapid.Int64Range(1, reach).Draw(t, "w"), y + rapid.Int64Range(1, reach).Draw(t, "h")}
		}
		boxes := make([]box, rapid.SampledFrom([]int{1, 2, 63, 64, 65, 130}).Draw(t, "count"))
		for j := range boxes {
			boxes[j] = nowhere
			if j == 0 || rapid.IntRange(0, 3).Draw(t, "lies") > 0 {
				boxes[j] = draw(t)
			}
		}
		gap := rapid.SampledFrom([]int64{0, 1, 500}).Draw(t, "gap")
		i := rapid.IntRange(0, len(boxes)-1).Draw(t, "item")
		n.ready(boxes, i)
		for range 4 {
			b := draw(t)
			list := n.of(b, gap)
			for j := range boxes {
				if met := j != i && meet(b, boxes[j], gap); met && !slices.Contains(list, j) {
					t.Fatalf("%v meets %d at %v, gap %d, and is not in %v", b, j, boxes[j], gap, list)
				}
			}
			if slices.Contains(list, i) || !slices.IsSorted(list) || len(slices.Compact(slices.Clone(list))) != len(list) {
				t.Fatalf("%v for item %d", list, i)
			}
		}
	})
}

// Of small boxes in a long row only those around are listed.
func TestNearbyLeavesOutTheFar(t *testing.T) {
	var boxes []box
	for j := range int64(320) {
		boxes = append(boxes, box{1000 * j, 0, 1000*j + 900, 900})
	}
	n := newNearby()
	n.ready(boxes, 0)
	if list := n.of(boxes[160], 0); len(list) > 40 {
		t.Errorf("%d of 320 boxes are said to be near", len(list))
	}
}

// The measure of the greatest circles is above 0 only for shapes that collide,
// and never above the whole measure.
func TestLeastLossIsLeast(t *testing.T) {
	var c collider
	rapid.Check(t, func(t *rapid.T) {
		a, b := comb(t, "a"), comb(t, "b")
		if a.Fault() != "" || b.Fault() != "" {
			t.Skip("not simple")
		}
		var s [2]*shape
		for n, o := range []geom.Outline{a, b} {
			k := newKind(Piece{ID: "a", Outline: o, Copies: 1, Turns: []int{0}}, nil)
			k.ready()
			s[n] = &k.pose(0).shape
		}
		dx, dy := rapid.Int64Range(-5000, 5000).Draw(t, "dx"), rapid.Int64Range(-5000, 5000).Draw(t, "dy")
		low := leastLoss(s[0], dx, dy, s[1], 0, 0)
		if low > 0 && !(meet(s[0].box.at(dx, dy), s[1].box, 0) && c.collide(s[0], dx, dy, s[1], 0, 0, 0)) {
			t.Fatalf("%v moved by %d, %d does not meet %v, measured %g", a, dx, dy, b, low)
		}
		if whole := lossOf(s[0], dx, dy, s[1], 0, 0, 0, math.Inf(1)); low > whole*1.00001 {
			t.Fatalf("%g from the greatest circles, %g from all", low, whole)
		}
	})
}
