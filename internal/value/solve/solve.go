// Package solve is the frame every search runs in: how much effort it may
// spend, how it reports, how it draws chance, and what its answer proves.
package solve

import (
	"context"
	"math/rand/v2"
)

// Effort is how long a search may look. It counts steps, never seconds, so
// that the same effort gives the same answer on every machine.
type Effort int

// Efforts. The zero value is Normal.
const (
	Normal Effort = iota
	Quick
	Thorough
)

// Budget is what a search may spend and whom it tells.
type Budget struct {
	Effort Effort
	Steps  int64  // if above 0, exactly this many steps instead of Effort
	Seed   uint64 // 0 is taken as 1
	// Spent, if set, returns the share of the time spent, in [0,1]; at 1 the
	// search ends with what it has. It stands in for a clock.
	Spent func() float64
	// Watch, if set, is called at each improvement and now and then between.
	Watch func(Progress)
}

// Progress is one report of a running search.
type Progress struct {
	Step     int64
	Steps    int64 // 0 when not known
	Value    float64
	Bound    float64 // meaningful where HasBound
	HasBound bool
	Words    string // what it is doing, in plain words
}

// Proof says what an answer is worth. The zero value is NotKnown.
type Proof int

// Proofs.
const (
	NotKnown   Proof = iota // nothing found, nothing shown
	Found                   // found; nothing better was found in this effort
	Best                    // proved best
	Impossible              // proved that there is none
)

// String gives the proof in the words of the lab.
func (p Proof) String() string { return [...]string{"unknown", "found", "best", "impossible"}[p] }

// Outcome is what a search says of its own answer.
type Outcome struct {
	Proof    Proof   `json:"proof"`
	Value    float64 `json:"value"`
	Bound    float64 `json:"bound"` // meaningful where HasBound
	HasBound bool    `json:"has_bound"`
	Steps    int64   `json:"steps"`
	Seed     uint64  `json:"seed"`
	Stopped  bool    `json:"stopped"`          // ended early; the answer is the best so far
	Phases   []int64 `json:"phases,omitempty"` // the step at which each phase began, so that steps replay seconds
}

// Gap is the share by which the value could at most still fall, for a cost to
// be made small; 1 when there is no bound.
func (o Outcome) Gap() float64 {
	if !o.HasBound || o.Value <= 0 {
		if o.Proof == Best {
			return 0
		}
		return 1
	}
	return (o.Value - o.Bound) / o.Value
}

// Chance is a stream of chance.
type Chance = rand.Rand

// Chance is the stream for one step: step n of seed s always draws the same
// numbers, whatever came before.
func (b Budget) Chance(step int64) *Chance {
	return rand.New(rand.NewPCG(b.SeedOr1(), uint64(step)))
}

// SeedOr1 is the seed, 1 where none was given.
func (b Budget) SeedOr1() uint64 {
	if b.Seed == 0 {
		return 1
	}
	return b.Seed
}

// StepsFor chooses a number of steps: Steps if given, else quick, normal or
// thorough by Effort.
func (b Budget) StepsFor(quick, normal, thorough int64) int64 {
	switch {
	case b.Steps > 0:
		return b.Steps
	case b.Effort == Quick:
		return quick
	case b.Effort == Thorough:
		return thorough
	}
	return normal
}

// Over says whether the search has to end now: it was stopped, or its time
// is spent.
func (b Budget) Over(ctx context.Context) bool {
	return ctx.Err() != nil || b.Spent != nil && b.Spent() >= 1
}

// Tell reports progress if anybody watches.
func (b Budget) Tell(p Progress) {
	if b.Watch != nil {
		b.Watch(p)
	}
}
