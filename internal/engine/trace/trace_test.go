package trace

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// from: by hand. x' = x/(1+y), y' = y/(1+y) takes the unit square to (0,0),
// (1,0), (1/2,1/2), (0,1/2), and (1/2,1/2) to (1/3,1/3); moving and scaling,
// x' = 3x+1, y' = 2y-1; the square turned by a quarter.
func TestHomographyByHand(t *testing.T) {
	unit := [4]Spot{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	for _, c := range []struct {
		name     string
		to       [4]Spot
		at, want Spot
	}{
		{"perspective", [4]Spot{{0, 0}, {1, 0}, {.5, .5}, {0, .5}}, Spot{.5, .5}, Spot{1. / 3, 1. / 3}},
		{"perspective, outside", [4]Spot{{0, 0}, {1, 0}, {.5, .5}, {0, .5}}, Spot{6, 2}, Spot{2, 2. / 3}},
		{"moved and scaled", [4]Spot{{1, -1}, {4, -1}, {4, 1}, {1, 1}}, Spot{2, 5}, Spot{7, 9}},
		{"a quarter turn", [4]Spot{{0, 0}, {0, 1}, {-1, 1}, {-1, 0}}, Spot{3, 4}, Spot{-4, 3}},
	} {
		h, ok := through(unit, c.to)
		if got := h.of(c.at); !ok || got.apart(c.want) > 1e-9 {
			t.Errorf("%s: %v goes to %v, not %v", c.name, c.at, got, c.want)
		}
	}
	if _, ok := through([4]Spot{{0, 0}, {1, 1}, {2, 2}, {0, 1}}, unit); ok {
		t.Error("three corners on a line make a plane")
	}
}

// There and back again, for any bulging quadrilateral.
func TestHomographyThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c [4]Spot
		for i := range c {
			a := (float64(i) + rapid.Float64Range(.1, .9).Draw(t, "angle")) * math.Pi / 2
			r := rapid.Float64Range(50, 400).Draw(t, "radius")
			c[i] = Spot{500 + r*math.Cos(a), 400 + r*math.Sin(a)}
		}
		q, ok := around(c)
		if !ok {
			t.Skip()
		}
		floor := [4]Spot{{0, 0}, {210_000, 0}, {210_000, 297_000}, {0, 297_000}}
		h, ok1 := through(q, floor)
		back, ok2 := through(floor, q)
		if !ok1 || !ok2 {
			t.Skip()
		}
		for i := range q {
			if d := h.of(q[i]).apart(floor[i]); d > 1e-3 {
				t.Fatalf("corner %d lands %g µm off", i, d)
			}
		}
		p := q[0].plus(q[2]).by(0.5)
		if d := back.of(h.of(p)).apart(p); d > 1e-6 {
			t.Fatalf("%v comes back %g px off", p, d)
		}
	})
}

func say(err error) string {
	var e *why.Error
	if errors.As(err, &e) {
		return e.Field + ": " + e.What
	}
	return "no reason"
}

// plain is a picture of one colour with rectangles on it.
func plain(w, h int, ground uint32, rects ...any) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	paint := func(r image.Rectangle, c color.RGBA) {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				img.SetRGBA(x, y, c)
			}
		}
	}
	paint(img.Rect, rgb(ground))
	for i := 0; i < len(rects); i += 2 {
		paint(rects[i].(image.Rectangle), rgb(uint32(rects[i+1].(int))))
	}
	return img
}

func corners4(x, y, w, h float64) [4]Spot {
	return [4]Spot{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// from: arithmetic. Seen straight from above a sheet of A4 of 105 by 148.5
// pixels makes a pixel 2 mm: the cloth of 300 by 200 pixels is 60 by 40 cm.
func TestStraightFromAbove(t *testing.T) {
	img := plain(600, 400, 0x777777, image.Rect(150, 100, 450, 300), 0x203a70, image.Rect(200, 120, 305, 268), 0xf4f4f0)
	// half a row more of paper: its lower edge lies at 268.5
	for x := 200; x < 305; x++ {
		img.SetRGBA(x, 268, color.RGBA{0x8a, 0x97, 0xb0, 255})
	}
	a := Ask{Picture: img, Sheet: Sheets[0], Corners: corners4(202, 118, 100, 152), Cloth: []Spot{{400, 200}}}
	for grain, want := range map[Grain][2]float64{LongEdge: {60, 40}, ShortEdge: {40, 60}, LongestSide: {40, 60}} {
		a.Grain = grain
		f, err := Trace(a)
		if err != nil {
			t.Fatal(err)
		}
		box := f.Outline.Box()
		if w, h := box.Width().Cm(), box.Height().Cm(); math.Abs(w-want[0]) > .5 || math.Abs(h-want[1]) > .5 || box.Min != (geom.Point{}) {
			t.Errorf("grain %d: %.1f by %.1f from %v, want %v", grain, w, h, box.Min, want)
		}
		if len(f.Outline) != 4 || !f.Followed || f.Outline.Fault() != "" {
			t.Errorf("grain %d: %d corners, followed %v", grain, len(f.Outline), f.Followed)
		}
	}
}

// from: arithmetic, as above: a flaw of 20 by 50 pixels, 250 and 100 from the
// corner of the cloth, is 4 by 10 cm, 50 and 20 from its edges.
func TestFlawFromAbove(t *testing.T) {
	img := plain(600, 400, 0x777777, image.Rect(150, 100, 450, 300), 0x203a70, image.Rect(200, 120, 305, 268), 0xf4f4f0)
	a := Ask{Picture: img, Sheet: Sheets[0], Corners: corners4(200, 120, 105, 148.5), Cloth: []Spot{{400, 200}}}
	for grain, want := range map[Grain][4]float64{LongEdge: {50, 20, 54, 30}, ShortEdge: {10, 50, 20, 54}} {
		a.Grain = grain
		f, err := Trace(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range [][2]Spot{{{400, 200}, {420, 250}}, {{420, 200}, {400, 250}}} {
			box, ok := f.Flaw(q[0], q[1])
			got := [4]float64{box.Min.X.Cm(), box.Min.Y.Cm(), box.Max.X.Cm(), box.Max.Y.Cm()}
			for i := range got {
				out := want[i] - got[i] // how much larger the box is
				if i > 1 {
					out = -out
				}
				if !ok || out < 0 || out > f.Doubt.Cm()+.5 {
					t.Errorf("grain %d: %v cm, want %v and up to %.1f more all round", grain, got, want, f.Doubt.Cm())
				}
			}
		}
		for _, q := range [][2]Spot{{{500, 340}, {550, 380}}, {{400, 200}, {400, 250}}, {{math.NaN(), 1}, {2, 2}}} {
			if box, ok := f.Flaw(q[0], q[1]); ok {
				t.Errorf("%v makes the flaw %v", q, box)
			}
		}
		if box, ok := f.Flaw(Spot{140, 90}, Spot{170, 120}); !ok || box.Min != (geom.Point{}) && grain == LongEdge {
			t.Errorf("across the corner of the cloth: %v, %v", box, ok)
		}
	}
}

func TestRefusals(t *testing.T) {
	cloth, sheet := image.Rect(150, 100, 450, 300), image.Rect(200, 120, 305, 268)
	paper := corners4(200, 120, 105, 148.5)
	on := []Spot{{400, 200}}
	good := plain(600, 400, 0x777777, cloth, 0x203a70, sheet, 0xf4f4f0)
	for _, c := range []struct {
		name, want string
		ask        Ask
	}{
		{"no picture", "picture: The picture is smaller", Ask{Sheet: Sheets[0], Corners: paper, Cloth: on}},
		{"tiny", "picture: The picture is smaller", Ask{Picture: plain(50, 50, 0), Sheet: Sheets[0], Corners: paper, Cloth: on}},
		{"corner outside", "corners: Corner 3 of the sheet, 900 across", Ask{Picture: good, Sheet: Sheets[0], Corners: [4]Spot{{200, 120}, {305, 120}, {900, 268}, {200, 268}}, Cloth: on}},
		{"corner nowhere", "corners: Corner 1", Ask{Picture: good, Sheet: Sheets[0], Corners: [4]Spot{{math.NaN(), 1}}, Cloth: on}},
		{"one corner four times", "corners: These are not", Ask{Picture: good, Sheet: Sheets[0], Corners: [4]Spot{{200, 120}, {200, 120}, {200, 120}, {200, 120}}, Cloth: on}},
		{"a corner inside the others", "corners: These are not", Ask{Picture: good, Sheet: Sheets[0], Corners: [4]Spot{{200, 120}, {305, 120}, {230, 150}, {200, 268}}, Cloth: on}},
		{"sheet too small", "sheet: The sheet is only 10 pixels", Ask{Picture: good, Sheet: Sheets[0], Corners: corners4(200, 120, 10, 14), Cloth: on}},
		{"no such sheet", "corners: No camera sees", Ask{Picture: plain(600, 400, 0x777777, cloth, 0x203a70, image.Rect(180, 150, 420, 190), 0xf4f4f0), Sheet: Sheets[0], Corners: corners4(180, 150, 240, 40), Cloth: on}},
		{"no place on the cloth", "cloth: No place", Ask{Picture: good, Sheet: Sheets[0], Corners: paper}},
		{"place outside", "cloth: The place on the cloth", Ask{Picture: good, Sheet: Sheets[0], Corners: paper, Cloth: []Spot{{-3, 2}}}},
		{"place on the paper", "cloth: The ring lies on the sheet", Ask{Picture: good, Sheet: Sheets[0], Corners: paper, Cloth: []Spot{{250, 200}}}},
		{"no contrast", "picture: The cloth and what it lies on", Ask{Picture: plain(600, 400, 0x777777, cloth, 0x787776, sheet, 0xf4f4f0), Sheet: Sheets[0], Corners: paper, Cloth: on}},
		{"leaves the picture", "picture: The cloth leaves the picture", Ask{Picture: plain(600, 400, 0x777777, image.Rect(150, 100, 600, 300), 0x203a70, sheet, 0xf4f4f0), Sheet: Sheets[0], Corners: paper, Cloth: on}},
		{"sheet across the edge", "sheet: The sheet of paper lies across", Ask{Picture: plain(600, 400, 0x777777, image.Rect(250, 60, 450, 340), 0x203a70, sheet, 0xf4f4f0), Sheet: Sheets[0], Corners: paper, Cloth: on}},
	} {
		if _, err := Trace(c.ask); err == nil || !strings.HasPrefix(say(err), c.want) {
			t.Errorf("%s: %s (%v)", c.name, say(err), err)
		}
	}
	if _, err := ByHand(Ask{Picture: good, Sheet: Sheets[0], Corners: paper}, []Spot{{1, 1}, {2, 2}}, 2); err == nil {
		t.Error("two corners make an outline")
	}
	if _, err := ByHand(Ask{Picture: good, Sheet: Sheets[0], Corners: paper}, []Spot{{1, 1}, {200, 200}, {300, 300}}, 2); err == nil {
		t.Error("a line makes an outline")
	}
	for want, corners := range map[string][]Spot{
		"outline: The outline touches or crosses itself at edges 1 and 3": {{150, 100}, {450, 300}, {450, 100}, {150, 300}},
		"outline: A corner of the outline, 700 across and 5 down":         {{150, 100}, {700, 5}, {450, 300}},
	} {
		if _, err := ByHand(Ask{Picture: good, Sheet: Sheets[0], Corners: paper}, corners, 2); !strings.HasPrefix(say(err), want) {
			t.Errorf("drawn %v: %s", corners, say(err))
		}
	}
}

// from: arithmetic, as above: 2 mm to the pixel.
func TestDrawnByHand(t *testing.T) {
	img := plain(600, 400, 0x777777, image.Rect(200, 120, 305, 268), 0xf4f4f0)
	f, err := ByHand(Ask{Picture: img, Sheet: Sheets[0], Corners: corners4(200, 120, 105, 148.5), Grain: LongEdge}, []Spot{{100, 50}, {400, 50}, {400, 350}}, 3)
	if err != nil {
		t.Fatal(err)
	}
	if box := f.Outline.Box(); len(f.Outline) != 3 || math.Abs(box.Width().Cm()-60) > .6 || math.Abs(box.Height().Cm()-60) > .6 {
		t.Errorf("%v", f.Outline)
	}
	if f.Doubt.Cm() < 0.6 || f.Doubt.Cm() > 3 {
		t.Errorf("3 pixels of 2 mm make a doubt of %.1f cm", f.Doubt.Cm())
	}
}

// lengths reads whole centimetres.
func lengths(cm ...int) []units.Length {
	var out []units.Length
	for _, c := range cm {
		out = append(out, units.Length(c)*10_000)
	}
	return out
}

func same(o geom.Outline, want ...[2]int) bool {
	if len(o) != len(want) {
		return false
	}
	for i, p := range o {
		if p.X != units.Length(want[i][0])*10_000 || p.Y != units.Length(want[i][1])*10_000 {
			return false
		}
	}
	return true
}

// from: triangles of 3, 4, 5 and of 5, 12, 13.
func TestDiagonals(t *testing.T) {
	for _, c := range []struct {
		name          string
		sides, across []units.Length
		check         int
		want          [][2]int
		apart         float64
	}{
		{"a triangle of 3, 4, 5", lengths(30, 40, 50), nil, 0, [][2]int{{0, 0}, {30, 0}, {30, 40}}, 0},
		{"a rectangle 30 by 40", lengths(30, 40, 30, 40), lengths(50), 50, [][2]int{{0, 0}, {30, 0}, {30, 40}, {0, 40}}, 0},
		{"two triangles, 3 4 5 and 5 12 13 scaled by 4", lengths(120, 50, 130), nil, 0, [][2]int{{0, 0}, {120, 0}, {120, 50}}, 0},
		{"the other diagonal a centimetre out", lengths(60, 80, 60, 80), lengths(100), 101, [][2]int{{0, 0}, {60, 0}, {60, 80}, {0, 80}}, 1},
		{"a right trapeze: 30 along the top, 40 and 80 deep", lengths(30, 40, 50, 80), lengths(50), 0, [][2]int{{0, 0}, {30, 0}, {30, 40}, {0, 80}}, 0},
	} {
		w, err := Diagonals(c.sides, c.across, units.Length(c.check)*10_000)
		if err != nil || !same(w.Outline, c.want...) || math.Abs(w.Apart.Cm()-c.apart) > 0.01 {
			t.Errorf("%s: %v, %.2f cm apart, %v", c.name, w.Outline, w.Apart.Cm(), err)
		}
	}
	for _, c := range []struct {
		want          string
		sides, across []units.Length
		check         units.Length
	}{
		{"sides: A cloth has three sides", lengths(3, 4), nil, 0},
		{"across: With 4 sides the ways across from corner 1 are 1; here are 0", lengths(30, 40, 30, 40), nil, 0},
		{"across: There is no triangle of corners 1, 2 and 3", lengths(30, 40, 30, 40), lengths(71), 0},
		{"across: There is no triangle of corners 1, 3 and 4", lengths(30, 40, 30, 90), lengths(50), 0},
		{"check: By the other numbers it is 50.0 cm", lengths(30, 40, 30, 40), lengths(50), 520_000},
		{"sides: Number 2 is 0.0 cm", lengths(30, 0, 30, 40), lengths(50), 0},
		{"across: Number 1 is -5.0 cm", lengths(30, 40, 30, 40), lengths(-5), 0},
	} {
		if _, err := Diagonals(c.sides, c.across, c.check); !strings.HasPrefix(say(err), c.want) {
			t.Errorf("%v %v: %s", c.sides, c.across, say(err))
		}
	}
}

// from: by hand. A walk of 100, 50, 102, 50 with square corners ends at
// (-2, 0), 2 cm off in 302; the corners move by 0, 100/302, 150/302 and
// 252/302 of that: to (0, 0), (100.66, 0), (100.99, 50), (-0.33, 50), and all
// by 0.33 to the right.
func TestTurns(t *testing.T) {
	w, err := Turns(lengths(100, 50, 102, 50), []float64{90, 90, 90})
	if err != nil || math.Abs(w.Apart.Cm()-2) > 1e-6 {
		t.Fatalf("%v apart, %v", w.Apart, err)
	}
	for i, want := range [][2]float64{{.33, 0}, {101, 0}, {101.32, 50}, {0, 50}} {
		if p := w.Outline[i]; math.Abs(p.X.Cm()-want[0]) > .06 || math.Abs(p.Y.Cm()-want[1]) > .06 {
			t.Errorf("corner %d at %.2f, %.2f, want %v", i+1, p.X.Cm(), p.Y.Cm(), want)
		}
	}
	// an L with one corner to the left
	w, err = Turns(lengths(80, 30, 50, 40, 30, 70), []float64{90, 90, -90, 90, 90, 90})
	if err != nil || !same(w.Outline, [2]int{0, 0}, [2]int{80, 0}, [2]int{80, 30}, [2]int{30, 30}, [2]int{30, 70}, [2]int{0, 70}) || w.Apart != 0 {
		t.Errorf("an L: %v, %v", w, err)
	}
	for _, c := range []struct {
		want  string
		sides []units.Length
		turns []float64
	}{
		{"turns: The walk ends 10.0 cm", lengths(100, 50, 110, 50), []float64{90, 90, 90}},
		{"turns: Between 4 sides are 3 turns; here are 2", lengths(100, 50, 110, 50), []float64{90, 90}},
		{"turns: Nobody turns by 270", lengths(100, 50, 100, 50), []float64{90, 270, 90}},
		{"sides: A cloth has three", lengths(100), nil},
	} {
		if _, err := Turns(c.sides, c.turns); !strings.HasPrefix(say(err), c.want) {
			t.Errorf("%v %v: %s", c.sides, c.turns, say(err))
		}
	}
}

// The ways across of any bulging outline give the outline back.
func TestDiagonalsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		r := rapid.Float64Range(20, 200).Draw(t, "radius")
		var at []Spot
		for i := range n {
			a := 2 * math.Pi * (float64(i) + rapid.Float64Range(0, .5).Draw(t, "angle")) / float64(n)
			at = append(at, Spot{r * math.Cos(a), r * math.Sin(a)}.by(10_000))
		}
		var sides, across []units.Length
		for i := range at {
			sides = append(sides, units.Length(math.Round(at[i].apart(at[(i+1)%n]))))
			if i >= 2 && i < n-1 {
				across = append(across, units.Length(math.Round(at[0].apart(at[i]))))
			}
		}
		w, err := Diagonals(sides, across, 0)
		if err != nil {
			t.Fatal(err)
		}
		for i := range at {
			for j := range i {
				p, q := w.Outline[i], w.Outline[j]
				got := math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y))
				if math.Abs(got-at[i].apart(at[j])) > 2500 {
					t.Fatalf("corners %d and %d: %.0f, not %.0f µm apart", i+1, j+1, got, at[i].apart(at[j]))
				}
			}
		}
	})
}

// A 12-megapixel JPEG, decoded, made small, its sheet guessed, traced.
func BenchmarkTrace12(b *testing.B) {
	s := scenes[2]
	s.w, s.h, s.taken = 4000, 3000, nil
	big := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	small := scenes[2].take(b)
	for y := range s.h {
		for x := range s.w {
			big.SetRGBA(x, y, small.RGBAAt(x*small.Rect.Dx()/s.w, y*small.Rect.Dy()/s.h))
		}
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, big, &jpeg.Options{Quality: 85}); err != nil {
		b.Fatal(err)
	}
	cam := s.camera()
	a := Ask{Sheet: s.paper, Cloth: []Spot{cam.of(s.onCloth()).by(.5)}}
	for i, c := range s.sheet() {
		a.Corners[i] = cam.of(c).by(.5)
	}
	for b.Loop() {
		img, err := jpeg.Decode(bytes.NewReader(file.Bytes()))
		if err != nil {
			b.Fatal(err)
		}
		a.Picture = Smaller(img)
		Guess(a.Picture)
		if _, err := Trace(a); err != nil {
			b.Fatal(err)
		}
	}
}
