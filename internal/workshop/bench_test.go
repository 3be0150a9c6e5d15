package workshop

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
)

// BenchmarkReplan is one small change of the demo and everything worked out
// anew from what is there, with the normal effort of the pages; with the first
// working-out beside it.
func BenchmarkReplan(b *testing.B) {
	ctx := context.Background()
	w, _, err := Demo(filepath.Join(b.TempDir(), "h"), Settings{})
	if err != nil {
		b.Fatal(err)
	}
	defer w.Close()
	h, err := w.store.House()
	if err != nil {
		b.Fatal(err)
	}
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			p, err := Prepare(ctx, h, demo.Today, nil, solve.Budget{}, func(string) {})
			if err != nil {
				b.Fatal(err)
			}
			b.ReportMetric(100*p.Plan.Outcome.Gap(), "gap-%")
		}
	})
	n := 0
	for _, c := range []struct {
		what   string
		change func() error
	}{
		{"price", func() error {
			return w.act(ctx, "a price", func(h *show.House) error {
				h.Finds[0].Price = units.Some(units.Money(500 + n))
				return nil
			})
		}},
		{"pin", func() error {
			piece := show.PieceID(fmt.Sprintf("C%03d", 100+n%80))
			return w.Pin(ctx, show.Pin{Piece: piece, Source: string(answer.GoWithout)})
		}},
		{"unpin", func() error {
			return w.act(ctx, "pins out", func(h *show.House) error { h.Pins = nil; h.Pieces[n%200].Note += "x"; return nil })
		}},
		{"find", func() error {
			_, err := w.AddFind(ctx, fmt.Sprintf("gown, deep violet, chest 45, waist 36.5, length 136, %d", 5+n%9), "")
			return err
		}},
	} {
		b.Run(c.what, func(b *testing.B) {
			if _, err := w.Prepared(ctx); err != nil {
				b.Fatal(err)
			}
			b.ResetTimer()
			gap := 0.0
			for range b.N {
				n++
				b.StopTimer()
				if err := c.change(); err != nil {
					b.Fatal(err)
				}
				b.StartTimer()
				p, err := w.Prepared(ctx)
				if err != nil {
					b.Fatal(err)
				}
				gap = max(gap, 100*p.Plan.Outcome.Gap())
				if p.Plan.Outcome.Proof == solve.NotKnown {
					b.Fatal("no plan")
				}
			}
			b.ReportMetric(gap, "gap-%")
		})
	}
}

// BenchmarkShop is what a find typed in a line would do, as the shop's page
// asks: beside the plan in hand, and beside one a deed has made old.
func BenchmarkShop(b *testing.B) {
	ctx := context.Background()
	w, _, err := Demo(filepath.Join(b.TempDir(), "h"), Settings{})
	if err != nil {
		b.Fatal(err)
	}
	defer w.Close()
	if _, err := w.Prepared(ctx); err != nil {
		b.Fatal(err)
	}
	ask := func(b *testing.B) {
		for b.Loop() {
			if _, _, err := w.Appraise("gown, deep violet, chest 45, waist 36.5, length 136, 9"); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.Run("beside the plan", ask)
	if err := w.Pin(ctx, show.Pin{Piece: "C100", Source: string(answer.GoWithout)}); err != nil {
		b.Fatal(err)
	}
	b.Run("after a deed", ask)
}
