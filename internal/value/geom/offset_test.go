package geom

import (
	"math"
	"testing"

	"hemwright/internal/value/units"

	"pgregory.net/rapid"
)

const mm = units.Millimetre

// distance is how far p lies from the border of r, in floats: the judge's own
// way.
func distance(r Region, p Point) float64 {
	best := math.Inf(1)
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			ux, uy, vx, vy := float64(b.X-a.X), float64(b.Y-a.Y), float64(p.X-a.X), float64(p.Y-a.Y)
			k := 0.0
			if l := ux*ux + uy*uy; l > 0 {
				k = min(max((ux*vx+uy*vy)/l, 0), 1)
			}
			best = min(best, math.Hypot(vx-k*ux, vy-k*uy))
		}
	}
	return best
}

func perimeter(r Region) (sum float64) {
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			sum += math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
		}
	}
	return sum
}

// from: closed forms. The rectangle is w by h with or without a hole, the
// distance d.
func TestOffsetClosedForms(t *testing.T) {
	w, h, d := 300*mm, 200*mm, 15*mm
	hole := Rect(60*mm, 80*mm).Move(Point{50 * mm, 50 * mm}).Mirror().Move(Point{0, 180 * mm})
	frame := Fill(Rect(w, h), hole)
	round := Rounded(10)
	disc := math.Pi * float64(d) * float64(d)
	within := func(name string, got Region, want, off float64) {
		t.Helper()
		if why := inOrder(got); why != "" {
			t.Errorf("%s: %v %s", name, got, why)
		}
		if a := float64(got.Twice()) / 2; math.Abs(a-want) > off {
			t.Errorf("%s: area %.0f, want %.0f, %.0f off", name, a, want, a-want)
		}
	}
	area := func(w, h units.Length) float64 { return float64(w) * float64(h) }
	rect := Region{Rect(w, h)}
	within("mitred", rect.Offset(d, Mitred(2)), area(w+2*d, h+2*d), 0)
	within("mitred to a right angle", rect.Offset(d, Mitred(1.415)), area(w+2*d, h+2*d), 0)
	within("not in order", Region{Rect(w, h).Mirror(), Rect(w, h/2).Mirror()}.Offset(d, Mitred(2)), area(w+2*d, h+2*d), 0)
	within("mitred below its limit", rect.Offset(d, Mitred(1.414)), area(w+2*d, h+2*d)-2*area(d, d), 0)
	within("bevelled", rect.Offset(d, Join{}), area(w+2*d, h+2*d)-2*area(d, d), 0)
	// four quarters of a circle, up to 10 µm too wide
	within("rounded", rect.Offset(d, round), area(w, h)+2*area(w+h, d)+disc, 2*math.Pi*float64(d)*11)
	within("shrunk", rect.Offset(-d, round), area(w-2*d, h-2*d), 0)
	within("shrunk away", rect.Offset(-h/2, round), 0, 0)
	within("shrunk to 2 µm", rect.Offset(1-h/2, Join{}), area(w-h+2, 2), 0)
	within("frame", frame, area(w, h)-area(60*mm, 80*mm), 0)
	within("frame mitred", frame.Offset(d, Mitred(2)), area(w+2*d, h+2*d)-area(60*mm-2*d, 80*mm-2*d), 0)
	within("frame shrunk, mitred", frame.Offset(-d, Mitred(2)), area(w-2*d, h-2*d)-area(60*mm+2*d, 80*mm+2*d), 0)
	within("frame shrunk, rounded", frame.Offset(-d, round), area(w-2*d, h-2*d)-area(60*mm, 80*mm)-2*area(140*mm, d)-disc, 2*math.Pi*float64(d)*11)
	within("hole closed", frame.Offset(31*mm, Mitred(2)), area(w+62*mm, h+62*mm), 0)

	for _, j := range []Join{{}, Mitred(2), round} {
		if got := frame.Offset(0, j); !same(got, frame) {
			t.Errorf("the frame by nothing: %v", got)
		}
	}

	// An L: the hollow corner stays sharp outward. Two squares of 100 mm joined
	// by a neck of 20 mm: shrunk by 11 mm, two squares of 78 mm.
	ell := Region{{{0, 0}, {w, 0}, {w, h / 2}, {w / 2, h / 2}, {w / 2, h}, {0, h}}}
	within("ell", ell.Offset(d, Mitred(2)), area(w+2*d, h+2*d)-area(w/2, h/2), 0)
	within("ell shrunk", ell.Offset(-d, Mitred(2)), area(w-2*d, h-2*d)-area(w/2, h/2), 0)
	dumbbell := Region{Rect(100*mm, 100*mm)}.
		Union(Region{Rect(100*mm, 100*mm).Move(Point{200 * mm, 0})}).
		Union(Region{Rect(120*mm, 20*mm).Move(Point{90 * mm, 40 * mm})})
	within("dumbbell", dumbbell, 2*area(100*mm, 100*mm)+area(100*mm, 20*mm), 0)
	if two := dumbbell.Offset(-11*mm, round); len(two) != 2 {
		t.Errorf("the dumbbell falls into %d", len(two))
	} else {
		// and four bumps between the neck and the circles round its corners
		bump := 110 - (5*math.Sqrt(21) + 60.5*math.Asin(10/11.0))
		within("dumbbell, split", two, 2*area(78*mm, 78*mm)+4*bump*1e6, 4*11e3*1.6*11)
	}
	// A circle of r grows to one of r+d and shrinks to one of r-d.
	c := Region{Circle(Point{7, 9}, 100*mm, 10)}
	for _, d := range []units.Length{d, -d, 99 * mm, -99 * mm} {
		r := float64(100*mm + d)
		within("circle", c.Offset(d, round), math.Pi*r*r, 2*math.Pi*r*22)
	}
	if gone := c.Offset(-100*mm, round); gone != nil {
		t.Errorf("a circle shrunk by its radius: %v", gone)
	}
}

// from: Steiner's formula. A convex outline of area A and perimeter L, grown
// by d, has A + Ld + pi d^2.
func TestOffsetSteiner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.SampledFrom([]int64{20, 1000, 1e6, 1e8}).Draw(t, "reach")
		o := star(t, max(reach/4, 1), "o").Hull()
		d := units.Length(rapid.Int64Range(1, reach).Draw(t, "d"))
		err := units.Length(rapid.Int64Range(1, max(reach/100, 1)).Draw(t, "err"))
		got := Region{o}.Offset(d, Rounded(err))
		l := perimeter(Region{o})
		want := float64(o.Twice())/2 + l*float64(d) + math.Pi*float64(d)*float64(d)
		rim := l + 2*math.Pi*float64(d+err)
		if a := float64(got.Twice()) / 2; a < want-2*rim || a > want+rim*float64(2+err)+8 {
			t.Fatalf("%v grown by %d (err %d) has %.0f, want %.0f", o, d, err, a, want)
		}
		if why := inOrder(got); why != "" {
			t.Fatalf("%v grown by %d: %v %s", o, d, got, why)
		}
	})
}

// The judge measures distances by brute force: a grown region holds what lies
// within d and nothing beyond d and the error, a shrunk one likewise from
// outside. Bevelled offsets cut more, mitred ones reach further.
func TestOffsetByDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]int64{1, 10, 1000, 1e6}).Draw(t, "step")
		r := Fill(anyRegion(t, 7, step, "r")...)
		if r == nil {
			t.Skip("empty")
		}
		d := units.Length(rapid.Int64Range(-2*step, 3*step).Draw(t, "d"))
		err := units.Length(rapid.Int64Range(1, max(step/10, 1)).Draw(t, "err"))
		holdsOffset(t, r, d, err)
		round, bevel, mitre := r.Offset(d, Rounded(err)), r.Offset(d, Join{}), r.Offset(d, Mitred(120))
		if d < 0 {
			bevel, mitre = mitre, bevel
		}
		more := err + 4 // a mitre reaches the circle, a rounded join may pass it
		if in := bevel.Offset(-4, Mitred(2)).Minus(round); in != nil {
			t.Fatalf("%v by %d: bevelled %v leaves rounded %v", r, d, bevel, round)
		}
		if in := round.Offset(-more, Mitred(2)).Minus(mitre); in != nil && sharpest(r) < 100 {
			t.Fatalf("%v by %d: rounded %v leaves mitred %v", r, d, round, mitre)
		}
	})
}

// The offset of a region moved is the offset moved, to the last micrometre;
// turned by a quarter it may be rounded the other way.
func TestOffsetMovesAlong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]int64{1, 10, 1e4}).Draw(t, "step")
		r := Fill(anyRegion(t, 7, step, "r")...)
		d := units.Length(rapid.Int64Range(-2*step, 3*step).Draw(t, "d"))
		j := rapid.SampledFrom([]Join{{}, Mitred(2), Rounded(units.Length(step))}).Draw(t, "join")
		by := point(t, 1e7, "by")
		var moved, movedGot, turned Region
		got := r.Offset(d, j)
		for _, o := range r {
			moved, turned = append(moved, o.Move(by)), append(turned, o.Turn(90))
		}
		for _, o := range got {
			movedGot = append(movedGot, o.Move(by))
		}
		if again := moved.Offset(d, j); !same(again, movedGot) {
			t.Fatalf("%v by %d %+v: %v, moved by %v: %v", r, d, j, got, by, again)
		}
		off := turned.Offset(d, j).Twice() - got.Twice()
		if most := 8 * int64(rim(r)+8*units.Length(len(r))*d.Abs()); off > most || off < -most {
			t.Fatalf("%v by %d %+v: turned by a quarter, the area is %d/2 off", r, d, j, off)
		}
	})
}

// sharpest is how many times the distance the longest tip of a mitre reaches.
func sharpest(r Region) float64 {
	most := 1.0
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			c := o[(i+2)%len(o)]
			in, out := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X)), math.Atan2(float64(c.Y-b.Y), float64(c.X-b.X))
			most = max(most, 1/math.Abs(math.Cos((out-in)/2)))
		}
	}
	return most
}

type fataler interface{ Fatalf(string, ...any) }

func holdsOffset(t fataler, r Region, d, err units.Length) {
	got := r.Offset(d, Rounded(err))
	if why := inOrder(got); why != "" {
		t.Fatalf("%v by %d, %d: %v %s", r, d, err, got, why)
	}
	const slack = 3
	away := func(p Point) float64 { // from the region, below 0 in it
		if n, on := winding(r, p); n > 0 || on {
			return -distance(r, p)
		}
		return distance(r, p)
	}
	lo, hi := float64(d)-slack, float64(d+err)+slack
	if d < 0 {
		lo, hi = float64(d-err)-slack, float64(d)+slack
		if d > -slack {
			hi = slack
		}
	}
	for _, o := range got { // the border lies at the distance
		for i := range o {
			a, b := o.edge(i)
			for _, p := range []Point{a, {(a.X + b.X) / 2, (a.Y + b.Y) / 2}} {
				if x := away(p); x < lo || x > hi {
					t.Fatalf("%v by %d, %d: %v lies at %f", r, d, err, p, x)
				}
			}
		}
	}
	box := r.Box() // and places all over lie on the side they should
	for x := range units.Length(12) {
		for y := range units.Length(12) {
			p := Point{box.Min.X + box.Width()*(2*x-5)/13, box.Min.Y + box.Height()*(2*y-5)/13}
			n, on := winding(got, p)
			if x := away(p); !on && (x < lo && n == 0 || x > hi && n != 0) {
				t.Fatalf("%v by %d, %d: %v, %f away, is held %d times by %v", r, d, err, p, x, n, got)
			}
		}
	}
}
