package fit

import (
	"testing"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// from: design of the demo, moment 3: the fog grey gown and the lilac one
// exchanged, about 80 minutes each; as drawn the fog grey one does not go.
func TestSwapTwoColours(t *testing.T) {
	h := demo(t)
	s, ok := SwapOf(h, h.Garment("S015"))
	if !ok || s.Piece != "C019" || s.With != "C020" || s.Other != "S011" || s.AsWere != 0 {
		t.Fatalf("%+v", s)
	}
	if s.Swapped < 140 || s.Swapped > 190 {
		t.Errorf("exchanged it is %s", s.Swapped)
	}
	if got := Judge(Wanted(h, h.Piece("C019")), *h.Garment("S015")).Verdict.Grade; got != why.No {
		t.Errorf("as drawn: %s", got)
	}
	// a set with its colours fixed is not exchanged
	for i := range h.Sets {
		h.Sets[i].FreeHues = false
	}
	if _, ok := SwapOf(h, h.Garment("S015")); ok {
		t.Error("fixed colours are exchanged")
	}
}

// The garments shared out over a set: as many pieces as any sharing gives one,
// and no sharing of as many costs less (all tried).
func TestGridSharesBest(t *testing.T) {
	h := demo(t)
	set := h.Set("G6")
	g := GridOf(h, set.Pieces[:5])
	cost := func(i, k int) (int, bool) {
		s := g.Sums[i][k]
		return int(s.Minutes) + lookMinutes*s.Look, s.Grade > why.No
	}
	n, sum := 0, 0
	at := map[show.GarmentID]int{}
	for i, id := range g.Garments {
		at[id] = i
	}
	for k, id := range g.Best {
		if id != "" {
			c, ok := cost(at[id], k)
			if !ok {
				t.Errorf("%s gets %s, which does not go", g.Pieces[k], id)
			}
			n, sum = n+1, sum+c
		}
	}
	bestN, bestSum := 0, 0
	used := make([]bool, len(g.Garments))
	var try func(k, have, paid int)
	try = func(k, have, paid int) {
		if have > bestN || have == bestN && paid < bestSum {
			bestN, bestSum = have, paid
		}
		if k == len(g.Pieces) || have+len(g.Pieces)-k < bestN {
			return
		}
		for i := range g.Garments {
			if c, ok := cost(i, k); ok && !used[i] {
				used[i] = true
				try(k+1, have+1, paid+c)
				used[i] = false
			}
		}
		try(k+1, have, paid)
	}
	try(0, 0, 0)
	if n != bestN || sum != bestSum {
		t.Errorf("%d pieces at %d, all sharings: %d at %d", n, sum, bestN, bestSum)
	}
	if n == 0 {
		t.Error("nothing goes")
	}
}

// Those that go stand before those that do not, the least work first.
func TestWhomAGarmentFits(t *testing.T) {
	h := demo(t)
	fits := OfGarment(h, h.Garment("S015"))
	var order []answer.Fit
	for i, f := range fits {
		if i > 0 && f.Verdict.Grade > why.No && fits[i-1].Verdict.Grade <= why.No {
			t.Errorf("%s goes and stands behind %s", f.Piece, fits[i-1].Piece)
		}
		if f.Verdict.Grade > why.No {
			order = append(order, f)
		}
	}
	for i := 1; i < len(order); i++ {
		if order[i].Minutes() < order[i-1].Minutes() {
			t.Errorf("%s after %s", order[i].Piece, order[i-1].Piece)
		}
	}
}
