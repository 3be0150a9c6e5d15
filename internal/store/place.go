package store

import (
	"math"
	"slices"
	"sort"
)

// nowhere is the place of a row that is new, apart is how far rows are set
// apart, so that one more goes between them without moving any.
const (
	nowhere int64 = math.MinInt64
	apart   int64 = 1024
)

// placesOf finds positions for a table's rows, given those it has.
func placesOf(s *spec, want [][]any, old map[string][]any) []int64 {
	was := make([]int64, len(want))
	for i, v := range want {
		was[i] = nowhere
		if o := old[keyOf(v[:len(s.key)])]; o != nil {
			was[i], _ = o[len(o)-1].(int64)
		}
	}
	return places(was)
}

// places gives positions that rise along the list and keeps as many of the
// old ones as can be kept: a row that is only pushed along is not written.
func places(was []int64) []int64 {
	out := make([]int64, len(was))
	kept := append(rising(was), len(was))
	from, low := 0, int64(0)
	for n, k := range kept {
		free := int64(k - from)
		switch {
		case n == 0 && k == len(was): // nothing to keep
			low = -apart
		case n == 0:
			low = was[k] - (free+1)*apart
		}
		step := apart
		if n > 0 && k < len(was) {
			step = (was[k] - low) / (free + 1)
		}
		if step == 0 && free > 0 {
			for i := range out {
				out[i] = int64(i) * apart
			}
			return out
		}
		for i := from; i < k; i++ {
			low += step
			out[i] = low
		}
		if k < len(was) {
			out[k], low, from = was[k], was[k], k+1
		}
	}
	return out
}

// rising lists the indexes of a longest strictly rising run of places, as by
// patience sorting (Fredman, Discrete Mathematics 11, 1975).
func rising(was []int64) []int {
	var tails []int // tails[n] ends the best run of n+1 places
	before := make([]int, len(was))
	for i, p := range was {
		if p == nowhere {
			continue
		}
		n := sort.Search(len(tails), func(n int) bool { return was[tails[n]] >= p })
		before[i] = -1
		if n > 0 {
			before[i] = tails[n-1]
		}
		if n == len(tails) {
			tails = append(tails, i)
		} else {
			tails[n] = i
		}
	}
	var run []int
	if len(tails) > 0 {
		for i := tails[len(tails)-1]; i >= 0; i = before[i] {
			run = append(run, i)
		}
	}
	slices.Reverse(run)
	return run
}

// Path is where the file is.
func (s *Store) Path() string { return s.path }
