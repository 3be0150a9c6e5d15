package workshop

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// One change of the demo, worked out again as a page does it: a pin, a price, a
// new find.
func BenchmarkOneChange(b *testing.B) {
	ctx := context.Background()
	day, err := units.ParseDate("2027-03-14")
	if err != nil {
		b.Fatal(err)
	}
	for what, change := range map[string]func(w *Workshop, n int) error{
		"pin": func(w *Workshop, n int) error {
			if n > 0 {
				if err := w.Unpin(ctx, show.PieceID(fmt.Sprintf("C%03d", 91+(n-1)%20))); err != nil {
					return err
				}
			}
			return w.Pin(ctx, show.Pin{Piece: show.PieceID(fmt.Sprintf("C%03d", 91+n%20)), Source: "make"})
		},
		"price": func(w *Workshop, n int) error {
			_, _, err := w.SaveRow(ctx, "piece", "C097", map[string]string{"price_limit": fmt.Sprintf("%d.50", 3+n)})
			return err
		},
		"find": func(w *Workshop, n int) error {
			_, err := w.AddFind(ctx, fmt.Sprintf("gown violet 45 36.5 49 136 zip, %d", 2+n), "")
			return err
		},
	} {
		b.Run(what, func(b *testing.B) {
			w, _, err := Demo(filepath.Join(b.TempDir(), "h"), Settings{Day: day})
			if err != nil {
				b.Fatal(err)
			}
			defer w.Close()
			if _, err := w.Prepared(ctx); err != nil {
				b.Fatal(err)
			}
			n, gap := 0, 0.0
			for b.Loop() {
				b.StopTimer()
				if err := change(w, n); err != nil {
					b.Fatal(err)
				}
				n++
				b.StartTimer()
				p, err := w.Prepared(ctx)
				if err != nil {
					b.Fatal(err)
				}
				gap = max(gap, p.Plan.Outcome.Gap())
			}
			b.ReportMetric(gap*100, "gap-in-100")
		})
	}
}
