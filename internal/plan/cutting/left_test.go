package cutting

import (
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

func nobody(show.ClothID) bool { return false }

// By hand: of 140 by 520 with 392.6 used, 392.8 with the shears stay and 127.2
// come off, the fade stripe along the left edge with them; of an L whose lower
// leg is 30 wide and 60 long the leg comes off, of one only 10 wide nothing is
// worth keeping.
func TestCutOffByHand(t *testing.T) {
	cm := units.Cm
	c := show.Cloth{ID: "K1", Name: "lining", Width: cm(140), Length: cm(520), Flaws: []show.Flaw{{W: cm(14), H: cm(520)}, {X: cm(50), Y: cm(10), W: cm(5), H: cm(5)}}}
	rest, off := CutOff(c, answer.Lay{Used: cm(392.6)}, nobody)
	if len(off) != 1 || off[0].ID != "K1-1" || off[0].Width != cm(140) || off[0].Length != cm(127.2) || off[0].Outline != nil || rest.Length != cm(392.8) {
		t.Fatalf("%+v, %+v", rest, off)
	}
	if len(off[0].Flaws) != 1 || off[0].Flaws[0] != (show.Flaw{W: cm(14), H: cm(127.2)}) || len(rest.Flaws) != 2 || rest.Flaws[0].H != cm(392.8) {
		t.Errorf("flaws %v and %v", rest.Flaws, off[0].Flaws)
	}
	ell := func(leg float64) show.Cloth {
		return show.Cloth{ID: "K2", Width: cm(100), Length: cm(160), Shape: "irregular", Outline: [][2]units.Length{{0, 0}, {cm(100), 0}, {cm(100), cm(100)}, {cm(leg), cm(100)}, {cm(leg), cm(160)}, {0, cm(160)}}}
	}
	if rest, off := CutOff(ell(30), answer.Lay{Used: cm(99.8)}, nobody); len(off) != 1 || off[0].Width != cm(30) || off[0].Length != cm(60) || rest.Length != cm(100) || rest.Outline != nil {
		t.Errorf("%+v, %+v", rest, off)
	}
	if rest, off := CutOff(ell(10), answer.Lay{Used: cm(99.8)}, nobody); len(off) != 0 || rest.Length != cm(160) {
		t.Errorf("%+v, %+v", rest, off)
	}
	taken := func(id show.ClothID) bool { return id == "K1-1" }
	if _, off := CutOff(c, answer.Lay{Used: cm(392.6)}, taken); off[0].ID != "K1-2" {
		t.Errorf("%s", off[0].ID)
	}
	if _, off := CutOff(c, answer.Lay{}, nobody); off != nil {
		t.Error("something comes off a cloth nothing is laid on")
	}
}

// What stays and what comes off is no more than there was, and of a rectangle
// all of it; the lay still lies on what stays.
func TestCutOffAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi int) units.Length {
			return units.Length(rapid.IntRange(lo, hi).Draw(t, name)) * units.Centimetre
		}
		w, l := draw("width", 30, 200), draw("length", 40, 500)
		c := show.Cloth{ID: "K1", Width: w, Length: l}
		odd := rapid.Bool().Draw(t, "odd")
		if odd {
			x, y := draw("x", 1, int(w/units.Centimetre)-1), draw("y", 1, int(l/units.Centimetre)-1)
			c.Outline = [][2]units.Length{{0, 0}, {w, 0}, {w, y}, {x, y}, {x, l}, {0, l}}
		}
		used := draw("used", 1, int(l/units.Centimetre))
		rest, off := CutOff(c, answer.Lay{Used: used}, nobody)
		sum := Outline(&rest).Area()
		for i := range off {
			if off[i].Outline != nil && geom.Outline(Outline(&off[i])).Fault() != "" {
				t.Fatalf("%v", off[i].Outline)
			}
			sum += Outline(&off[i]).Area()
		}
		if was := Outline(&c).Area(); sum > was || !odd && sum < was {
			t.Fatalf("%d of %d", sum, was)
		}
		if len(off) > 0 && Outline(&rest).Box().Height() < used {
			t.Fatal("the lay does not lie on what stays")
		}
	})
}
