package fit

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// crowd is a show of so many performers, each in one of the demo's pieces that
// has a fit, and a rail of so many of the demo's garments, all a little
// different.
func crowd(b *testing.B, performers, garments int) (*show.House, []show.Garment) {
	h := demo(b)
	rnd := rand.New(rand.NewPCG(1, 2))
	off := func(s units.Span, most int64) units.Span {
		if !s.Known {
			return s
		}
		return s.Add(units.Length(rnd.Int64N(2*most)-most) * mm)
	}
	out := &show.House{Performances: h.Performances}
	for i := range performers {
		p := h.Performers[i%len(h.Performers)]
		p.ID = show.PerformerID(fmt.Sprintf("P%03d", i))
		for k := range p.Body {
			p.Body[k].Span = off(p.Body[k].Span, 30)
		}
		role := show.RoleID(fmt.Sprintf("R%03d", i))
		look := show.LookID(fmt.Sprintf("L%03d", i))
		q := h.Pieces[i%len(h.Pieces)]
		q.ID, q.Looks = show.PieceID(fmt.Sprintf("C%03d", i)), []show.LookID{look}
		out.Performers = append(out.Performers, p)
		out.Roles = append(out.Roles, show.Role{ID: role, Performer: p.ID})
		out.Looks = append(out.Looks, show.Look{ID: look, Role: role})
		out.Pieces = append(out.Pieces, q)
	}
	var rail []show.Garment
	for i := range garments {
		g := h.Garments[i%len(h.Garments)]
		g.Chest, g.Waist, g.Hip, g.Length = off(g.Chest, 80), off(g.Waist, 80), off(g.Hip, 80), off(g.Length, 80)
		rail = append(rail, g)
	}
	return out, rail
}

// BenchmarkEverybody holds every garment against everybody's piece.
func BenchmarkEverybody(b *testing.B) {
	for _, c := range [][2]int{{60, 2000}, {300, 20000}} {
		b.Run(fmt.Sprintf("%dx%d", c[0], c[1]), func(b *testing.B) {
			h, rail := crowd(b, c[0], c[1])
			b.ReportAllocs()
			for b.Loop() {
				r := NewRail(rail)
				for i := range h.Pieces {
					w := Wanted(h, &h.Pieces[i])
					for _, x := range r.Of(&w) {
						Weigh(&w, x)
					}
				}
			}
			b.ReportMetric(float64(c[0]*c[1]), "pairs")
		})
	}
}

// BenchmarkInner holds one gown that wants three operations: no memory is
// taken.
func BenchmarkInner(b *testing.B) {
	h, p := stage(whole, gown())
	w := Wanted(h, p)
	g := satin(94, 66, 94, 138)
	x := Hang(&g)
	b.ReportAllocs()
	for b.Loop() {
		Weigh(&w, &x)
	}
}

// BenchmarkOneMeasure changes one measure of one of 60 performers and judges
// 2,000 garments anew for what is hers.
func BenchmarkOneMeasure(b *testing.B) {
	h, rail := crowd(b, 60, 2000)
	r := NewRail(rail)
	for b.Loop() {
		h.Performers[7].Body[body.Chest].Span = h.Performers[7].Body[body.Chest].Span.Add(mm)
		w := Wanted(h, &h.Pieces[7])
		for _, x := range r.Of(&w) {
			Weigh(&w, x)
		}
	}
}
