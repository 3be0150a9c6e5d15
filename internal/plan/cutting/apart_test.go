package cutting

import (
	"testing"

	"hemwright/internal/craft/remake"
	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// What is offered from the parts of garments is there: as many parts as the
// harvest gives at most, no less cloth in them than the draft wants, and
// nothing that may not be cut. Added up from the harvests, which the search
// does not do.
func TestPartsAreThere(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	offered := 0
	for _, e := range Estimate(&h) {
		for _, w := range e.Apart {
			offered++
			var area units.Area
			for _, q := range w.Parts {
				g := h.Garment(q.Garment)
				if g == nil || !g.MayCut || g.Fate == "cut" {
					t.Fatalf("%s: %s may not be cut", e.Piece, q.Garment)
				}
				give, _ := remake.Harvest(g)
				most := 0
				for _, x := range give.Parts {
					if x.Name == q.Part {
						most += x.UpTo
						area += x.Most.Area() * units.Area(q.Count)
					}
				}
				if q.Count > q.Of || q.Of > most {
					t.Errorf("%s: %d of %d %s of %s, which gives %d", e.Piece, q.Count, q.Of, q.Part, q.Garment, most)
				}
			}
			// laid by rows a draft fills at least a quarter of its cloth
			if least := e.Length.Times(1, 4); area < least.By(e.Width) {
				t.Errorf("%s: parts of %v make what takes %.0f cm of cloth %.0f wide", e.Piece, w.Garments, e.Length.Cm(), e.Width.Cm())
			}
		}
	}
	if offered == 0 {
		t.Error("nothing is offered from the parts of anything")
	}
}

// from: hand calculation. A half apron of 60 by 40 and a band of 90 by 6 from
// a skirt of two panels of 100 by 70: one panel each. A third shape finds no
// part; a shape longer than a panel finds none.
func TestEachPartOnAPartOfItsOwn(t *testing.T) {
	panel := rects([2]float64{70, 100})[0].Outline // across, along
	give := answer.Harvest{Parts: []answer.GivenPart{{Name: "panel", Count: 2, UpTo: 2, Known: true, Least: alongGrain(panel), Most: alongGrain(panel)}}}
	hp := newHeap([]*show.Garment{{ID: "G1"}}, give)
	try := func(sizes ...[2]float64) (answer.ApartWant, bool) {
		want, ok := hp.wanted(rects(sizes...))
		if !ok {
			return answer.ApartWant{}, false
		}
		return hp.gives(want)
	}
	w, ok := try([2]float64{60, 40}, [2]float64{6, 90})
	if !ok || len(w.Parts) != 1 || w.Parts[0].Count != 2 || w.Parts[0].Of != 2 || w.Likely {
		t.Errorf("apron and band: %+v, %v", w, ok)
	}
	if w, ok := try([2]float64{60, 40}, [2]float64{6, 90}, [2]float64{6, 90}); ok {
		t.Errorf("three shapes on two panels: %+v", w)
	}
	if w, ok := try([2]float64{60, 101}); ok {
		t.Errorf("longer than the panel: %+v", w)
	}
	if w, ok := try([2]float64{90, 60}); ok {
		t.Errorf("across the grain: %+v", w)
	}

	// A gore of 20 above and 70 below, 100 long, has the area, the length and the
	// breadth for a rectangle of 60 by 60, and no place for it: it is as wide from
	// 80 down only.
	gore := geom.Outline{{X: 0, Y: units.Cm(25)}, {X: units.Cm(100), Y: 0}, {X: units.Cm(100), Y: units.Cm(70)}, {X: 0, Y: units.Cm(45)}}
	give.Parts[0].Least, give.Parts[0].Most = gore, gore
	hp = newHeap([]*show.Garment{{ID: "G1"}}, give)
	if w, ok := try([2]float64{60, 60}); ok {
		t.Errorf("wider than the gore where it would lie: %+v", w)
	}
	if _, ok := try([2]float64{40, 55}); !ok {
		t.Error("a rectangle of 40 by 55 lies on the lower half of the gore, which is 42 wide at 45")
	}
}

// from: hand calculation. Three garments of one panel each, 100 by 70: three
// shapes of 90 by 60 want all three, two want two, and each takes a part of
// its own garment.
func TestThreeGarmentsForOnePiece(t *testing.T) {
	panel := alongGrain(rects([2]float64{70, 100})[0].Outline)
	var own []*heap
	for _, id := range []show.GarmentID{"G1", "G2", "G3", "G4"} {
		hp := newHeap([]*show.Garment{{ID: id}}, answer.Harvest{Parts: []answer.GivenPart{{Name: "panel", Count: 1, UpTo: 1, Known: true, Least: panel, Most: panel}}})
		own = append(own, &hp)
	}
	if two, three := len(together(own, 2)), len(together(own, 3)); two != 6 || three != 4 {
		t.Errorf("of four, %d pairs and %d threes; by hand 6 and 4", two, three)
	}
	try := func(n int, shapes ...[2]float64) (answer.ApartWant, bool) {
		hp := joined(together(own, n)[0])
		want, ok := hp.wanted(rects(shapes...))
		if !ok {
			return answer.ApartWant{}, false
		}
		return hp.gives(want)
	}
	shape := [2]float64{60, 90}
	if w, ok := try(2, shape, shape, shape); ok {
		t.Errorf("three shapes on two panels: %+v", w)
	}
	w, ok := try(3, shape, shape, shape)
	if !ok || len(w.Garments) != 3 || len(w.Parts) != 3 {
		t.Fatalf("three shapes on three panels: %+v, %v", w, ok)
	}
	for k, id := range []show.GarmentID{"G1", "G2", "G3"} {
		if q := w.Parts[k]; w.Garments[k] != id || q.Garment != id || q.Count != 1 || q.Of != 1 {
			t.Errorf("part %d: %+v of %v", k, q, w.Garments)
		}
	}
	if w, ok := try(3, shape, shape); !ok || len(w.Garments) != 2 {
		t.Errorf("two shapes take %v, two would do", w.Garments)
	}
}
