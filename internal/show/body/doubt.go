package body

import (
	"math"
	"strconv"

	"hemwright/internal/value/units"
)

// Reading is another way a number may have been meant.
type Reading int

// Readings. The zero value is none: measure again.
const (
	NoReading   Reading = iota
	Inches              // the tape showed inches
	Centimetres         // it was centimetres, and was taken for inches
	Flat                // half of a girth
	Exchanged           // with another measure
	Digits              // two digits the wrong way round
)

// Doubt is a measure that does not go with the others, and the reading that
// would. A person decides.
type Doubt struct {
	Kind    Kind
	Reading Reading
	Value   units.Length // what it would be
	With    Kind         // the measure it was exchanged with
	Beside  []Kind       // the measures it was held against
}

// apart is how many standard deviations a measure lies from what the others
// say before it is asked about again: at 3, fewer than one true number in a
// hundred is asked about, half girths and inches are found always, two swapped
// digits nine times in ten, and a slip of 5 cm about one time in ten.
const apart = 3

// Doubtful lists the measures that do not go with the others, each held
// against all the rest, the one furthest off first and, once its best reading
// is taken, the next. What no table holds is left alone.
func Doubtful(seen [Kinds]units.Span, age Age, aged bool, sex string) []Doubt {
	return doubtful(seen, age, aged, sex, true)
}

func doubtful(seen [Kinds]units.Span, age Age, aged bool, sex string, tape bool) []Doubt {
	var out []Doubt
	for range 3 {
		worst, off := Kind(-1), float64(apart)
		for _, k := range All() {
			if z, ok := distance(seen, k, age, aged, sex, tape); ok && z > off {
				worst, off = k, z
			}
		}
		if worst < 0 {
			return out
		}
		d := bestReading(seen, worst, age, aged, sex, tape)
		out = append(out, d)
		blame := d.Kind
		if d.Reading == Exchanged {
			seen[d.Kind], seen[d.With] = seen[d.With], seen[d.Kind]
			continue
		}
		seen[blame] = units.Span{}
		if d.Reading != NoReading {
			seen[blame] = units.Exactly(d.Value)
		}
	}
	return out
}

// distance is how many standard deviations the logarithm of a measure lies
// from what all the others say.
func distance(seen [Kinds]units.Span, k Kind, age Age, aged bool, sex string, tape bool) (float64, bool) {
	if !seen[k].Known || seen[k].Lo <= 0 || !Surveyed(k) {
		return 0, false
	}
	was := seen[k]
	seen[k] = units.Span{}
	s := guess(seen, age, aged, sex, tape).At[k]
	if !s.Known {
		return 0, false
	}
	lo, hi := lnMM(s.Lo), lnMM(s.Hi)
	sd := (hi - lo) / 2 / nine
	return math.Abs(lnMM(was.Mid())-(lo+hi)/2) / sd, true
}

// seldom is how much better a reading has to fit than another unit or half a
// girth, which are the usual slips (house figures).
var seldom = map[Reading]float64{Exchanged: .5, Digits: 1}

// bestReading looks for the one change after which everything goes together
// best: of the measure itself or, as the fault may lie in another, of any.
func bestReading(seen [Kinds]units.Span, worst Kind, age Age, aged bool, sex string, tape bool) Doubt {
	best, off := Doubt{Kind: worst}, math.Inf(1)
	for _, k := range All() {
		if !seen[k].Known || !Surveyed(k) {
			continue
		}
		for _, d := range readings(seen, k) {
			try := seen
			try[k] = units.Exactly(d.Value)
			if d.Reading == Exchanged {
				try[k], try[d.With] = seen[d.With], seen[k]
			}
			far := 0.0
			for _, q := range All() {
				if z, ok := distance(try, q, age, aged, sex, tape); ok {
					far = max(far, z)
				}
			}
			if far <= apart && far+seldom[d.Reading] < off {
				best, off = d, far+seldom[d.Reading]
			}
		}
	}
	for _, q := range All() {
		if q != best.Kind && seen[q].Known && Surveyed(q) {
			best.Beside = append(best.Beside, q)
		}
	}
	return best
}

// readings are the ways a number may have been meant, within the limits of
// its kind.
func readings(seen [Kinds]units.Span, k Kind) []Doubt {
	v := seen[k].Mid()
	var out []Doubt
	add := func(r Reading, to units.Length) {
		if lo, hi := Limits(k); to >= lo && to <= hi && to != v {
			out = append(out, Doubt{Kind: k, Reading: r, Value: to})
		}
	}
	add(Inches, v.Times(int64(units.Inch), int64(units.Centimetre)))
	add(Centimetres, v.Times(int64(units.Centimetre), int64(units.Inch)))
	if girth[k] {
		add(Flat, 2*v)
	}
	for _, to := range swappedDigits(v) {
		add(Digits, to)
	}
	for _, other := range All() {
		if other > k && girth[other] == girth[k] && seen[other].Known && Surveyed(other) && seen[other] != seen[k] {
			lo, hi := Limits(other)
			if lo2, hi2 := Limits(k); v >= lo && v <= hi && seen[other].Mid() >= lo2 && seen[other].Mid() <= hi2 {
				out = append(out, Doubt{Kind: k, Reading: Exchanged, Value: seen[other].Mid(), With: other})
			}
		}
	}
	return out
}

// girth says which measures go round and may have been taken flat.
var girth = [Kinds]bool{Chest: true, Waist: true, Hip: true, UpperArm: true, Neck: true, Head: true}

// swappedDigits are the numbers of centimetres with two neighbouring digits
// before the point exchanged.
func swappedDigits(v units.Length) []units.Length {
	whole := int64(v / units.Centimetre)
	rest := v % units.Centimetre
	d := []byte(strconv.FormatInt(whole, 10))
	var out []units.Length
	for i := 0; i+1 < len(d); i++ {
		if d[i] == d[i+1] || i == 0 && d[1] == '0' {
			continue
		}
		d[i], d[i+1] = d[i+1], d[i]
		n, _ := strconv.ParseInt(string(d), 10, 64)
		out = append(out, units.Length(n)*units.Centimetre+rest)
		d[i], d[i+1] = d[i+1], d[i]
	}
	return out
}
