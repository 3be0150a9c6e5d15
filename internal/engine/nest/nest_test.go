package nest

import (
	"context"
	"testing"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

const mm = units.Millimetre

func pack(t *testing.T, p Problem, b solve.Budget) Layout {
	t.Helper()
	l, err := Pack(context.Background(), p, b)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range Check(p, l) {
		t.Error(r.Sentence(units.Metric))
	}
	return l
}

func quick(seed uint64) solve.Budget { return solve.Budget{Effort: solve.Quick, Seed: seed} }

// A rectangle exactly as wide as the cloth fits, and two of them fill it.
func TestExactFit(t *testing.T) {
	p := Problem{
		Pieces: []Piece{{ID: "half", Outline: geom.Rect(700*mm, 1400*mm), Copies: 2, Turns: []int{0, 180}}},
		Cloths: []Cloth{{ID: "sheet", Outline: geom.Rect(1400*mm, 1400*mm)}},
	}
	if l := pack(t, p, quick(1)); len(l.Placed) != 2 || l.Outcome.Proof != solve.Best {
		t.Errorf("%d placed, %s", len(l.Placed), l.Outcome.Proof)
	}
	p.Cloths[0].Outline = geom.Rect(1400*mm, 1400*mm-1)
	if l := pack(t, p, quick(1)); len(l.Placed) != 0 || !l.Missing[0].Never || l.Outcome.Proof != solve.Impossible {
		t.Errorf("one micrometre too narrow: %d placed, %v, %s", len(l.Placed), l.Missing, l.Outcome.Proof)
	}
}

func TestMalformed(t *testing.T) {
	sq := geom.Rect(10*mm, 10*mm)
	good := Problem{Pieces: []Piece{{ID: "a", Outline: sq, Copies: 1}}, Cloths: []Cloth{{ID: "c", Outline: sq}}}
	if _, err := Pack(context.Background(), good, quick(1)); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(p *Problem){
		"bow tie":       func(p *Problem) { p.Pieces[0].Outline = geom.Outline{{X: 0}, {X: 2, Y: 2}, {X: 2}, {Y: 3}} },
		"no copies":     func(p *Problem) { p.Pieces[0].Copies = 0 },
		"no turn":       func(p *Problem) { p.Pieces[0].Turns = []int{} },
		"unknown cloth": func(p *Problem) { p.Pieces[0].Cloths = []string{"d"} },
		"piece twice":   func(p *Problem) { p.Pieces = append(p.Pieces, p.Pieces[0]) },
		"cloth twice":   func(p *Problem) { p.Cloths = append(p.Cloths, p.Cloths[0]) },
		"gap below 0":   func(p *Problem) { p.Gap = -1 },
		"odd roll":      func(p *Problem) { p.Cloths[0].Strip = true; p.Cloths[0].Outline = sq.Move(geom.Point{X: 1}) },
		"flat flaw":     func(p *Problem) { p.Cloths[0].Flaws = []geom.Outline{{{X: 0}, {X: 1}, {X: 2}}} },
		"worth below 0": func(p *Problem) { p.Pieces[0].Worth = -1 },
	} {
		p := Problem{Pieces: []Piece{good.Pieces[0]}, Cloths: []Cloth{good.Cloths[0]}}
		spoil(&p)
		if _, err := Pack(context.Background(), p, quick(1)); why.KindOf(err) != why.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}
