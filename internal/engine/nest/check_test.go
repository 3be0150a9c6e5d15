package nest

import (
	"slices"
	"testing"

	"hemwright/internal/value/geom"
)

// Every way of spoiling a good layout is found, under its own rule.
func TestCheckFindsEveryFault(t *testing.T) {
	sq := geom.Rect(100*mm, 50*mm)
	lay := func(piece string, copy int, x, y int64) Placed {
		at := geom.Point{X: lengthOf(x) * mm, Y: lengthOf(y) * mm}
		return Placed{Piece: piece, Copy: copy, Cloth: "c", At: at, Outline: sq.Move(at)}
	}
	for _, c := range []struct {
		rule  string
		spoil func(p *Problem, l *Layout)
	}{
		{"", func(p *Problem, l *Layout) {}},
		{"nest.unknown", func(p *Problem, l *Layout) { p.Pieces[0].Cloths = []string{} }},
		{"nest.unknown", func(p *Problem, l *Layout) { l.Placed[0].Cloth = "d" }},
		{"nest.twice", func(p *Problem, l *Layout) { l.Missing = append(l.Missing, Missing{Piece: "a", Copy: 1}) }},
		{"nest.twice", func(p *Problem, l *Layout) { l.Placed[0].Copy = 3 }},
		{"nest.lost", func(p *Problem, l *Layout) { l.Placed = l.Placed[1:] }},
		{"nest.turned", func(p *Problem, l *Layout) {
			l.Placed[0].Turn = 90
			l.Placed[0].Outline = sq.Turn(90).Move(l.Placed[0].At)
		}},
		{"nest.turned", func(p *Problem, l *Layout) {
			l.Placed[0].Mirror = true
			l.Placed[0].Outline = sq.Mirror().Move(l.Placed[0].At)
		}},
		{"nest.moved", func(p *Problem, l *Layout) { l.Placed[0].Outline = l.Placed[0].Outline.Move(geom.Point{X: 1}) }},
		{"nest.moved", func(p *Problem, l *Layout) { l.Placed[0].At.Y++ }},
		{"nest.outside", func(p *Problem, l *Layout) { p.Cloths[0].Outline = geom.Rect(300*mm, 100*mm-1) }},
		{"nest.edge", func(p *Problem, l *Layout) { p.EdgeGap = 1 }},
		{"nest.flaw", func(p *Problem, l *Layout) { p.Cloths[0].Flaws = []geom.Outline{geom.Rect(1, 1)} }},
		{"nest.overlap", func(p *Problem, l *Layout) { l.Placed[1] = lay("a", 2, 0, 49) }},
		{"nest.overlap", func(p *Problem, l *Layout) { l.Placed[1] = lay("a", 2, 0, 0) }},
		{"nest.near", func(p *Problem, l *Layout) { p.Gap = 1 }},
		{"nest.length", func(p *Problem, l *Layout) { l.Length = 99 * mm }},
	} {
		p := Problem{
			Pieces: []Piece{{ID: "a", Outline: sq, Copies: 2, Turns: []int{0, 180}}},
			Cloths: []Cloth{{ID: "c", Outline: geom.Rect(300*mm, 100*mm), Strip: true}},
		}
		l := Layout{Placed: []Placed{lay("a", 1, 0, 0), lay("a", 2, 0, 50)}, Length: 100 * mm}
		c.spoil(&p, &l)
		var got []string
		for _, r := range Check(p, l) {
			got = append(got, r.Rule)
		}
		if c.rule == "" && len(got) > 0 || c.rule != "" && !slices.Contains(got, c.rule) {
			t.Errorf("want %q, found %v", c.rule, got)
		}
	}
}
