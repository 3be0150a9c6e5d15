// Package body says which measurements of a person exist, what each one
// means, and how far it can be trusted. A missing measure is a range, guessed
// from what is there, never a zero.
package body

import (
	"fmt"

	"hemwright/internal/value/units"
)

// Kind is one measurement, as the tape takes it.
type Kind int

// The measurements, in the order of the tape. Girths are taken round the body
// over thin clothes, lengths in stocking feet.
const (
	Height          Kind = iota // floor to crown
	Chest                       // round the fullest place, under the arms
	Waist                       // natural waist: the narrowest place, not the trouser top
	Hip                         // round the fullest place
	NapeToWaist                 // nape to natural waist at the back
	WaistToKnee                 // natural waist to the middle of the knee
	WaistToFloor                // natural waist to the floor
	InsideLeg                   // fork to the floor
	ShoulderToWrist             // shoulder point over the bent elbow to the wrist
	AcrossShoulders             // shoulder point to shoulder point over the back
	UpperArm                    // round the upper arm
	Neck                        // round the base of the neck
	Head                        // round the head above the ears
	Kinds           int  = iota // how many there are
)

var names = [Kinds]struct{ code, words string }{
	{"height", "height"}, {"chest", "chest"}, {"waist", "natural waist"}, {"hip", "hip"},
	{"nape_to_waist", "nape to waist"}, {"waist_to_knee", "waist to knee"},
	{"waist_to_floor", "waist to floor"}, {"inside_leg", "inside leg"},
	{"shoulder_to_wrist", "shoulder to wrist"}, {"across_shoulders", "across shoulders"},
	{"upper_arm", "upper arm"}, {"neck", "neck"}, {"head", "head"},
}

// Code is the measurement's name in files: "nape_to_waist".
func (k Kind) Code() string { return names[k].code }

// String is its name for people: "nape to waist".
func (k Kind) String() string { return names[k].words }

// All lists the kinds in the order of the tape.
func All() []Kind {
	ks := make([]Kind, Kinds)
	for i := range ks {
		ks[i] = Kind(i)
	}
	return ks
}

// KindOf finds a kind by its code.
func KindOf(code string) (Kind, error) {
	for i, n := range names {
		if n.code == code {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("%q is not a measurement", code)
}

// limits are the smallest and largest value taken at all, from a small child
// to a very tall adult; outside them a number was not read off a tape in
// centimetres. House figures.
var limits = [Kinds][2]units.Length{
	Height: {units.Cm(80), units.Cm(220)}, Chest: {units.Cm(40), units.Cm(160)},
	Waist: {units.Cm(38), units.Cm(160)}, Hip: {units.Cm(45), units.Cm(170)},
	NapeToWaist: {units.Cm(18), units.Cm(60)}, WaistToKnee: {units.Cm(25), units.Cm(85)},
	WaistToFloor: {units.Cm(45), units.Cm(140)}, InsideLeg: {units.Cm(30), units.Cm(110)},
	ShoulderToWrist: {units.Cm(25), units.Cm(85)}, AcrossShoulders: {units.Cm(20), units.Cm(60)},
	UpperArm: {units.Cm(12), units.Cm(60)}, Neck: {units.Cm(20), units.Cm(60)},
	Head: {units.Cm(44), units.Cm(66)},
}

// Limits are the smallest and largest value of a kind that is taken at all.
func Limits(k Kind) (lo, hi units.Length) { return limits[k][0], limits[k][1] }

// Origin says where a value comes from: pencil or ink.
type Origin int

// Origins. The zero value is Assumed: nothing is ink by being forgotten.
const (
	Assumed  Origin = iota // by a rule, in pencil
	Said                   // somebody said or wrote it
	Measured               // with a tape, on a day
)

// String is the origin in a word.
func (o Origin) String() string { return [...]string{"assumed", "said", "measured"}[o] }

// Measure is one value of one kind: a range with its day and origin. The zero
// value is unknown.
type Measure struct {
	Span   units.Span
	Origin Origin
	Rule   string     // the rule that assumed it, where Assumed
	Day    units.Date // the day it was taken
	Who    string     // who took it
}

// Body is what is known of one person's measurements; the zero value knows
// nothing.
type Body [Kinds]Measure

// Known says whether anything is known of a kind, even a range.
func (b Body) Known(k Kind) bool { return b[k].Span.Known }

// Ink says whether a kind was measured or said, not assumed.
func (b Body) Ink(k Kind) bool { return b[k].Span.Known && b[k].Origin != Assumed }
