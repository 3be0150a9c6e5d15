package remake

import (
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// BenchmarkGiving asks the demo's whole rail and finds for a set of shapes,
// one of which lies nowhere.
func BenchmarkGiving(b *testing.B) {
	h := demotest.House(b).At(demo.Today)
	rail := h.OnOffer()
	want := []Wanted{
		{Name: "front", Outline: geom.Rect(units.Cm(60), units.Cm(30)), Count: 2},
		{Name: "gore", Outline: trapeze(units.Cm(15), units.Cm(50), units.Cm(70)), Count: 4},
		{Name: "band", Outline: geom.Rect(units.Cm(80), units.Cm(10)), Count: 1, AnyWay: true},
		{Name: "cloak", Outline: geom.Rect(units.Cm(90), units.Cm(200)), Count: 1},
	}
	for b.Loop() {
		Giving(rail, want)
	}
}
