package geom

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"hemwright/internal/value/units"
)

// dice draws small cases from a seed: corners on a coarse grid, where shared
// corners, edges on one another and threefold crossings are the rule.
type dice struct{ *rand.Rand }

func (d dice) region(side int, step units.Length) Region {
	var r Region
	for range 1 + d.IntN(2) {
		var o Outline
		for range 3 + d.IntN(5) {
			o = append(o, Point{units.Length(d.IntN(side+1)) * step, units.Length(d.IntN(side+1)) * step})
		}
		r = append(r, o)
	}
	return r
}

// steps is how many random cases are tried: HEMWRIGHT_FUZZ_STEPS of them, or a
// few where it is not set.
func steps(t *testing.T, few int) int {
	s := os.Getenv("HEMWRIGHT_FUZZ_STEPS")
	if s == "" {
		return few
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// A step is two regions, their four set operations and what these must obey.
func TestDenseBooleans(t *testing.T) {
	n := steps(t, 4000)
	d := dice{rand.New(rand.NewPCG(1, 2))}
	for k := range n {
		switch k % 5 {
		case 0, 1: // nothing may be rounded
			holdsBooleans(t, d, d.region(3, exactStep), d.region(3, exactStep), true)
		case 2: // crossings are rounded, far from the corners
			holdsBooleans(t, d, d.region(6, 1000), d.region(6, 1000), false)
		case 3: // all crossings are rounded on top of one another
			holdsBooleans(t, d, d.region(12, 1), d.region(12, 1), false)
		case 4: // as far as the numbers carry
			holdsBooleans(t, d, d.region(9, 2*Reach/9), d.region(8, 2*Reach/8), false)
		}
		if t.Failed() {
			t.Fatalf("after %d steps", k+1)
		}
	}
	t.Logf("%d steps, %d set operations", n, 4*n)
}

func holdsBooleans(t *testing.T, d dice, a, b Region, exact bool) {
	fa, fb := Fill(a...), Fill(b...)
	union, both, minus, xor := a.Union(b), a.Intersect(b), a.Minus(b), a.Xor(b)
	slack := int64(0) // twice a micrometre times the length of all borders
	if !exact {
		slack = 2 * int64(rim(a)+rim(b)) * 2
	}
	off := func(name string, x, y int64) {
		if x-y > slack || y-x > slack {
			t.Errorf("%v and %v: %s: %d and %d, more than %d apart", a, b, name, x, y, slack)
		}
	}
	off("|A|+|B| = |A or B|+|A and B|", fa.Twice()+fb.Twice(), union.Twice()+both.Twice())
	off("|A-B|+|A and B| = |A|", minus.Twice()+both.Twice(), fa.Twice())
	off("|A xor B|+|A and B| = |A or B|", xor.Twice()+both.Twice(), union.Twice())
	for i, r := range []Region{fa, fb, union, both, minus, xor} {
		if why := plain(r); why != "" {
			t.Errorf("%v and %v: %d: %v %s", a, b, i, r, why)
		}
	}
	if again := Fill(xor...); !same(again, xor) {
		t.Errorf("%v and %v: filling %v gives %v", a, b, xor, again)
	}
	box := append(append(Region{}, a...), b...).Box()
	for range 3 {
		p := Point{box.Min.X + units.Length(d.Int64N(int64(box.Width())+1)), box.Min.Y + units.Length(d.Int64N(int64(box.Height())+1))}
		na, onA := winding(a, p)
		nb, onB := winding(b, p)
		if onA || onB || !exact && (close2(a, p) || close2(b, p)) {
			continue
		}
		for i, r := range []Region{union, both, minus, xor} {
			if n, on := winding(r, p); on || n != 0 != ops[i].in(na != 0, nb != 0) || n < 0 || n > 1 {
				t.Errorf("%v and %v: %s %v is wrong at %v", a, b, ops[i].name, r, p)
			}
		}
	}
}

// rim is at least the length of all borders, in whole micrometres.
func rim(r Region) (sum units.Length) {
	for _, o := range r {
		for i := range o {
			a, b := o.edge(i)
			sum += (b.X - a.X).Abs() + (b.Y - a.Y).Abs() + 1
		}
	}
	return sum
}

// close2 says whether p lies within 2 micrometres of the border.
func close2(r Region, p Point) bool {
	for _, o := range r {
		for i := range o {
			if a, b := o.edge(i); nearer(p, a, b, 2) {
				return true
			}
		}
	}
	return false
}

// plain is inOrder without what takes long: that no two edges cross or run
// along one another, and that no area is less than nothing.
func plain(r Region) string {
	for i, o := range r {
		if len(o) < 3 || o.Twice() == 0 {
			return "has an outline without area"
		}
		for k := range o {
			a, b := o.edge(k)
			for l := range k {
				c, d := o.edge(l)
				if next := b == c || a == d; Meet(a, b, c, d) != Apart && !next || next && alongside(a, b, c, d) {
					return "has an outline that touches or crosses itself"
				}
			}
			for _, p := range r[:i] {
				for l := range p {
					if c, d := p.edge(l); Meet(a, b, c, d) == Crossing || alongside(a, b, c, d) {
						return "has outlines that cross or run along one another"
					}
				}
			}
		}
	}
	if r.Twice() < 0 {
		return "has an area below nothing"
	}
	return ""
}

// A step is one offset and what it must obey.
func TestDenseOffsets(t *testing.T) {
	n := steps(t, 2000) / 10
	d := dice{rand.New(rand.NewPCG(3, 4))}
	for range n {
		step := units.Length(1)
		for range d.IntN(4) {
			step *= 30
		}
		r := Fill(d.region(7, step)...)
		if r == nil {
			continue
		}
		holdsOffset(t, r, units.Length(d.Int64N(int64(5*step))+1)-2*step, 1+units.Length(d.Int64N(int64(1+step/10))))
	}
	t.Logf("%d steps", n)
}

// FuzzBoolean reads a step from bytes: the size of the grid, then corners.
func FuzzBoolean(f *testing.F) {
	f.Add([]byte{0, 0, 0, 3, 0, 3, 3, 0, 3, 255, 1, 1, 4, 1, 4, 4})
	f.Add([]byte{1, 0, 0, 9, 9, 9, 0, 0, 9, 255, 0, 1, 9, 8, 3, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 2 || len(data) > 80 {
			return
		}
		side, step := byte(3), units.Length(exactStep)
		if data[0]&1 == 1 {
			side, step = 20, units.Length(1)<<(data[0]>>1%16)
		}
		a, b := operands(data[1:], side, step)
		holdsBooleans(t, dice{rand.New(rand.NewPCG(uint64(len(data)), 5))}, a, b, side == 3)
	})
}

// FuzzOffset reads a region, a distance and an error from bytes.
func FuzzOffset(f *testing.F) {
	f.Add([]byte{4, 130, 3, 0, 0, 3, 0, 3, 3, 0, 3, 255, 1, 1, 4, 1, 4, 4})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 4 || len(data) > 60 {
			return
		}
		step := units.Length(1) << (data[0] % 16)
		a, b := operands(data[3:], 20, step)
		if r := a.Union(b); r != nil {
			holdsOffset(t, r, units.Length(int8(data[1]))*step/8, 1+units.Length(data[2])*step/100)
		}
	})
}

// operands reads outlines, ended by 255, in turn for one and the other.
func operands(data []byte, side byte, step units.Length) (a, b Region) {
	var o Outline
	for i := 0; i < len(data); i++ {
		if data[i] == 255 || i+1 == len(data) {
			a, b, o = b, append(a, o), nil
			continue
		}
		o = append(o, Point{units.Length(data[i]%(side+1)) * step, units.Length(data[i+1]%(side+1)) * step})
		i++
	}
	return append(a, o), b
}
