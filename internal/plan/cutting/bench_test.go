package cutting

import (
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
)

func BenchmarkEstimate(b *testing.B) {
	h := demotest.House(b).At(demo.Today)
	b.ReportAllocs()
	for b.Loop() {
		Estimate(&h)
	}
}
