package nest

import (
	"math"

	"hemwright/internal/value/solve"
)

// dice draws chance within one step without allocating: a generator of the
// splitmix kind (Steele, Lea, Flood, OOPSLA 2014) started from the step's own
// stream.
type dice struct{ state uint64 }

func diceFor(b solve.Budget, step int64) *dice { return &dice{b.Chance(step).Uint64()} }

func (d *dice) next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is even in [0, n), for n above 0.
func (d *dice) below(n int) int { return int((d.next() >> 11) % uint64(n)) }

// between is even in [lo, hi].
func (d *dice) between(lo, hi int64) int64 {
	return lo + int64((d.next()>>1)%uint64(hi-lo+1))
}

// share is even in [0, 1).
func (d *dice) share() float64 { return float64(d.next()>>11) / (1 << 53) }

// normal is normal with mean 0 and deviation 1, by the method of Box and
// Muller, 1958.
func (d *dice) normal() float64 {
	return math.Sqrt(-2*math.Log(1-d.share())) * math.Cos(2*math.Pi*d.share())
}

func (d *dice) shuffle(list []int) {
	for i := len(list) - 1; i > 0; i-- {
		j := d.below(i + 1)
		list[i], list[j] = list[j], list[i]
	}
}
