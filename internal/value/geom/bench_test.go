package geom

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"hemwright/internal/value/units"
)

// wavy is a simple outline of n corners with hollows, 1 m across.
func wavy(n int, seed uint64) Outline {
	d := rand.New(rand.NewPCG(seed, 1))
	o := make(Outline, n)
	for i := range o {
		a := 2 * math.Pi * float64(i) / float64(n)
		r := 400e3 + 80e3*math.Sin(9*a+float64(seed)) + 500*d.Float64()
		o[i] = Point{units.Length(r * math.Cos(a)), units.Length(r * math.Sin(a))}
	}
	return o
}

var benchSizes = []int{100, 1000, 5000}

func BenchmarkBoolean(b *testing.B) {
	for _, n := range benchSizes {
		r, s := Region{wavy(n, 1)}, Region{wavy(n, 2).Move(Point{100e3, 50e3})}
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				r.Xor(s)
			}
		})
	}
	// Two combs of 1,250 teeth each, as long as the comb: 5,000 corners, no
	// edge but the back short.
	comb := func() (o Outline) {
		for i := range units.Length(1250) {
			o = append(o, Point{i * 800, 0}, Point{i*800 + 100, 1e6}, Point{i*800 + 300, 1e6}, Point{i*800 + 400, 0})
		}
		return append(o, Point{1e6, -1000}, Point{0, -1000})
	}()
	b.Run("combs", func(b *testing.B) {
		r, s := Region{comb}, Region{comb.Move(Point{350, 7})}
		for b.Loop() {
			r.Xor(s)
		}
	})
}

func BenchmarkOffset(b *testing.B) {
	for _, n := range benchSizes {
		r := Region{wavy(n, 1)}
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				r.Offset(10e3, Rounded(50))
			}
		})
	}
}

func BenchmarkPole(b *testing.B) {
	for _, n := range benchSizes {
		r := Fill(wavy(n, 1), wavy(n, 2).Mirror().Turn(90).Move(Point{10e3, 0})) // a region with islands and holes
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				r.Pole(100)
			}
		})
	}
}

func BenchmarkShrink(b *testing.B) {
	for _, n := range benchSizes[:2] {
		o := wavy(n, 1)
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				Shrink(o, o.Area()/200)
			}
		})
	}
}
