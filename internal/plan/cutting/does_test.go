package cutting

import (
	"context"
	"slices"
	"strings"
	"testing"

	"hemwright/internal/demo"
	"hemwright/internal/demo/demotest"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

func waves(h *show.House, colour string) []show.PieceID {
	var out []show.PieceID
	for _, id := range h.Set("G2").Pieces {
		if h.Piece(id).Colour == colour {
			out = append(out, id)
		}
	}
	return out
}

func does(t *testing.T, h *show.House, cloth show.ClothID, pieces []show.PieceID) answer.ClothDoes {
	t.Helper()
	out, err := Does(context.Background(), h, cloth, pieces, solve.Budget{Effort: solve.Quick})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range out.Changes {
		lieApart(t, h, x.Lay)
	}
	lieApart(t, h, out.Lay)
	return out
}

// lieApart holds a lay against its cloth: everything within, nothing over another.
func lieApart(t *testing.T, h *show.House, l answer.Lay) {
	t.Helper()
	edge := Outline(washed(h).Cloth(l.Cloth))
	for i, a := range l.Placed {
		if !geom.Within(a.Outline, edge) {
			t.Errorf("%s %s leaves %s", a.Piece, a.Part, l.Cloth)
		}
		for _, b := range l.Placed[:i] {
			if geom.Overlap(a.Outline, b.Outline) {
				t.Errorf("%s %s and %s %s overlap", a.Piece, a.Part, b.Piece, b.Part)
			}
		}
	}
}

// from: design of the demo, moment 7: the teal makes its three wave skirts, the
// deep blue its two, the grey-green its two; both weed green ones come out of
// one curtain, 186 of 213, and as it has a nap their bands lie across it.
func TestWaveSkirts(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	for cloth, colour := range map[show.ClothID]string{"K14": "teal", "K15": "deep blue", "K16": "grey-green"} {
		pieces := waves(&h, colour)
		if colour == "deep blue" {
			pieces = pieces[:2]
		}
		out := does(t, &h, cloth, pieces)
		if out.Verdict.Grade != why.Yes && out.Verdict.Grade != why.Work || len(out.Lay.Missing) > 0 || len(out.Changes) > 0 {
			t.Errorf("%s for %v: %s, %s", cloth, pieces, out.Verdict.Grade, out.Verdict.Reasons[0].Sentence(units.Metric))
		}
	}
}

// from: the same, by hand: 99 and 87 cm of widths beside one another, 26.8 left
// of 213, and two bands of 11.5 in it.
func TestBothOutOfOneCurtain(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	out := does(t, &h, "K06", waves(&h, "weed green"))
	for _, x := range out.Changes {
		if len(x.Says) == 1 && x.Says[0] == "bands across the nap" && x.Seen == 0 {
			return
		}
	}
	t.Errorf("%s, %v", out.Verdict.Grade, out.Changes)
}

// from: by hand: the three teal skirts want 596 for their widths. Of 590 they
// do with faced hems, six lengths 6 shorter each, and of 330 with one width
// each, 298 and the bands beside; of 90 nothing makes them.
func TestWhatToChange(t *testing.T) {
	for _, c := range []struct {
		have  float64
		first string
	}{{590, "hems faced"}, {330, "one width fewer"}, {90, ""}} {
		h := demotest.House(t).At(demo.Today)
		h.Cloth("K14").Length = units.Cm(c.have)
		out := does(t, &h, "K14", waves(&h, "teal"))
		if out.Verdict.Grade != why.No && out.Verdict.Grade != why.Unknown {
			t.Errorf("%v: %s", c.have, out.Verdict.Grade)
		}
		if out.Buy < units.Cm(380) || out.Buy > units.Cm(700) {
			t.Errorf("%v of 140 wide to buy", out.Buy)
		}
		if c.first == "" {
			if len(out.Changes) > 0 {
				t.Errorf("%v does after %v", c.have, out.Changes[0].Says)
			}
			continue
		}
		if len(out.Changes) == 0 || !strings.Contains(strings.Join(out.Changes[0].Says, "; "), c.first) {
			t.Errorf("%v: %+v", c.have, out.Changes)
			continue
		}
		if !slices.IsSortedFunc(out.Changes, func(a, b answer.ClothChange) int { return a.Seen - b.Seen }) {
			t.Errorf("%v: what is seen most comes first", c.have)
		}
	}
}

// A part wider than the cloth is said before anything is laid.
func TestWiderThanTheCloth(t *testing.T) {
	h := demotest.House(t).At(demo.Today)
	h.Cloth("K14").Width = units.Cm(30)
	out := does(t, &h, "K14", []show.PieceID{"C184"})
	if out.Verdict.Grade != why.No {
		t.Errorf("%s", out.Verdict.Grade)
	}
	if _, err := Does(context.Background(), &h, "K999", nil, solve.Budget{}); why.KindOf(err) != why.Missing {
		t.Errorf("%v", err)
	}
	if _, err := Does(context.Background(), &h, "K14", []show.PieceID{"C999"}, solve.Budget{}); why.KindOf(err) != why.Missing {
		t.Errorf("%v", err)
	}
}
