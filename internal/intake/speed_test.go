package intake

import (
	"fmt"
	"testing"

	"hemwright/internal/show/show"
)

// BenchmarkListLarge makes the list of 20,000 garments, and finds in it.
func BenchmarkListLarge(b *testing.B) {
	h, _, err := Take(show.House{}, demoFiles(b))
	if err != nil {
		b.Fatal(err)
	}
	for i := len(h.Garments); i < 20_000; i++ {
		g := h.Garments[i%100]
		g.ID = show.GarmentID(fmt.Sprintf("L%05d", i))
		h.Garments = append(h.Garments, g)
	}
	b.Run("all", func(b *testing.B) {
		for b.Loop() {
			if _, err := ListOf(&h, "garment"); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("find", func(b *testing.B) {
		for b.Loop() {
			l, _ := ListOf(&h, "garment")
			l.Find("satin")
		}
	})
}
