// Package nest lays irregular pieces on irregular cloth: every piece inside
// its cloth, clear of flaws and of its neighbours, as many as will go, and on
// a roll in as little length as can be found. It knows nothing of garments.
//
// Everything lies on the lattice of whole micrometres, and legal is decided
// there with integers: touching is allowed, overlapping by one micrometre is
// not, so that a piece exactly as wide as the cloth fits.
package nest

import (
	"fmt"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Problem is what is to be laid on what. Coordinates within geom.Reach.
type Problem struct {
	Pieces []Piece
	// Cloths in order of preference: a piece goes on the first where there is
	// room for it. At most one may be a strip.
	Cloths []Cloth
	// Gap is the least distance between two pieces, EdgeGap that between a
	// piece and the border of its cloth. A flaw may be touched.
	Gap, EdgeGap units.Length
	// Previous, if any, is a layout to start from; what of it is no longer
	// legal is laid anew.
	Previous []Placed
}

// Piece is a piece to cut, in one or more copies.
type Piece struct {
	ID      string
	Outline geom.Outline // simple, seam allowance included
	Copies  int          // at least 1
	// Turns are the allowed turns in degrees, counter-clockwise; nil allows
	// every whole degree. With the grain is {0, 180}, with a nap {0}.
	Turns  []int
	Mirror bool     // may be turned face down
	Cloths []string // the cloths it may be cut from; nil allows all
	Hidden bool     // may lie over a flaw
	// Worth says which pieces to leave out if not all go: those worth least.
	// 0 stands for the area in square millimetres, at least 1.
	Worth int64
}

// Cloth is one piece of cloth to cut from.
type Cloth struct {
	ID      string
	Outline geom.Outline   // simple
	Flaws   []geom.Outline // simple; only hidden pieces may overlap them
	// Strip says that this is a roll: an upright rectangle with one corner in
	// the origin, whose length runs along X, of which as little as possible is
	// to be used, from X = 0.
	Strip bool
}

// Placed is one copy where it lies: mirrored first if Mirror, then turned
// about its own origin by Turn degrees and rounded to the lattice, then moved
// by At. Outline is the result.
type Placed struct {
	Piece   string       `json:"piece"`
	Copy    int          `json:"copy"` // from 1
	Cloth   string       `json:"cloth"`
	Turn    int          `json:"turn"`
	Mirror  bool         `json:"mirror"`
	At      geom.Point   `json:"at"`
	Outline geom.Outline `json:"outline"`
}

// Missing is one copy that was not laid. Never says that it was proved to fit
// none of its cloths, even alone.
type Missing struct {
	Piece string `json:"piece"`
	Copy  int    `json:"copy"`
	Never bool   `json:"never"`
}

// Layout is an answer: always legal, perhaps not whole.
//
// Outcome.Proof is Best where nothing better can exist (all laid, and no
// strip used or the strip as short as its bound), Found where all are laid,
// NotKnown where some are missing and more effort might lay them, Impossible
// where it is proved that not all can be laid. Outcome.Value is a cost: the
// length used of the strip in micrometres, or without a strip the area not
// laid in square millimetres; Bound is the least it can be.
type Layout struct {
	Placed  []Placed      `json:"placed"`  // by piece in the order of the problem, then copy
	Missing []Missing     `json:"missing"` // in the same order
	Length  units.Length  `json:"length"`  // used of the strip, 0 without one
	Looked  int64         `json:"looked"`  // places looked at in the search
	Outcome solve.Outcome `json:"outcome"`
}

// validate returns what is wrong with the problem, and nil where nothing is.
func (p Problem) validate() error {
	if p.Gap < 0 || p.EdgeGap < 0 {
		return why.Bad("gap", fmt.Sprintf("The gap between pieces is %d and to the edge %d micrometres; neither may be below 0.", p.Gap, p.EdgeGap), "Use 0 where none is needed.")
	}
	cloths, strips := map[string]bool{}, 0
	for _, c := range p.Cloths {
		if cloths[c.ID] {
			return why.Bad("cloth", fmt.Sprintf("Cloth %q is there twice.", c.ID), "Give each its own code.")
		}
		cloths[c.ID] = true
		if c.Strip {
			strips++
		}
		if err := c.validate(); err != nil {
			return err
		}
	}
	if strips > 1 {
		return why.Bad("cloth", fmt.Sprintf("There are %d rolls.", strips), "Lay on one roll at a time.")
	}
	pieces := map[string]bool{}
	for _, q := range p.Pieces {
		if pieces[q.ID] {
			return why.Bad("piece", fmt.Sprintf("Piece %q is there twice.", q.ID), "Use its number of copies.")
		}
		pieces[q.ID] = true
		if err := q.validate(cloths); err != nil {
			return err
		}
	}
	return nil
}

func (c Cloth) validate() error {
	if fault := c.Outline.Fault(); fault != "" {
		return why.Bad("cloth", fmt.Sprintf("The outline of cloth %q %s.", c.ID, fault), "Draw it again.")
	}
	box := c.Outline.Box()
	if c.Strip && (box.Min != geom.Point{} || len(c.Outline) != 4 || c.Outline.Area() != box.Width().By(box.Height())) {
		return why.Bad("cloth", fmt.Sprintf("Roll %q is not a rectangle from the origin.", c.ID), "Enter it as a length of cloth instead.")
	}
	for i, f := range c.Flaws {
		if fault := f.Fault(); fault != "" {
			return why.Bad("flaw", fmt.Sprintf("Flaw %d of cloth %q %s.", i+1, c.ID, fault), "Draw it again.")
		}
	}
	return nil
}

func (q Piece) validate(cloths map[string]bool) error {
	if fault := q.Outline.Fault(); fault != "" {
		return why.Bad("piece", fmt.Sprintf("The outline of piece %q %s.", q.ID, fault), "Draw it again.")
	}
	if q.Copies < 1 {
		return why.Bad("copies", fmt.Sprintf("Piece %q is wanted %d times.", q.ID, q.Copies), "Ask for 1 or more, or leave it out.")
	}
	if q.Turns != nil && len(q.Turns) == 0 {
		return why.Bad("turns", fmt.Sprintf("Piece %q may lie in no direction at all.", q.ID), "Allow 0 degrees.")
	}
	if q.Worth < 0 {
		return why.Bad("worth", fmt.Sprintf("Piece %q is worth %d.", q.ID, q.Worth), "Use 0 or more.")
	}
	for _, id := range q.Cloths {
		if !cloths[id] {
			return why.Bad("cloth", fmt.Sprintf("Piece %q is to be cut from cloth %q, which is not here.", q.ID, id), "Add the cloth or name another.")
		}
	}
	return nil
}

// worth is Worth, or the area where none is given.
func (q Piece) worth() int64 {
	if q.Worth > 0 {
		return q.Worth
	}
	return max(int64(q.Outline.Area()/1e6), 1)
}
