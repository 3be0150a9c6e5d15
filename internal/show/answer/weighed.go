package answer

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Taken says where a piece comes from, in short.
type Taken struct {
	Source  Source           `json:"source"`
	Garment show.GarmentID   `json:"garment,omitempty"`
	Cloth   show.ClothID     `json:"cloth,omitempty"`
	Apart   []show.GarmentID `json:"apart,omitempty"`  // garments cut up for it
	ToBuy   bool             `json:"to_buy,omitempty"` // something is still to be paid
}

// Taken is where an option has the piece from.
func (o Option) Taken() Taken { return Taken{o.Source, o.Garment, o.Cloth, o.Apart, o.Money > 0} }

// Move is a piece that another plan has from elsewhere.
type Move struct {
	Piece show.PieceID `json:"piece"`
	Was   Taken        `json:"was"`
	Now   Taken        `json:"now"`
}

// Difference holds another plan for the whole show against the one in hand:
// what the other takes more. Below zero it takes less.
type Difference struct {
	Cost    int64         `json:"cost"`    // as the plan weighs, lead-minutes
	Minutes units.Minutes `json:"minutes"` // of work at the lead's pace, without redoing
	Money   units.Money   `json:"price_coins"`
	Look    int           `json:"look"` // hundredths, added up over the pieces: above zero is farther from what is drawn
	Moves   []Move        `json:"moves,omitempty"`
	Proved  bool          `json:"proved"` // both plans are proved best
}

// Back is the difference seen from the other plan.
func (d Difference) Back() Difference {
	out := Difference{Cost: -d.Cost, Minutes: -d.Minutes, Money: -d.Money, Look: -d.Look, Proved: d.Proved}
	for _, m := range d.Moves {
		out.Moves = append(out.Moves, Move{m.Piece, m.Now, m.Was})
	}
	return out
}

// Scarce is something there is only so much of, with what more would buy.
type Scarce struct {
	Name  string       `json:"name"` // as the limit is called: money, hours maker, cloth K14
	Unit  string       `json:"unit"` // coins, minutes, um
	Used  int64        `json:"used"`
	Have  int64        `json:"have"`
	More  int64        `json:"more"` // how much more is asked about
	Buys  Difference   `json:"buys"` // the plan with more of it against the one in hand
	Short bool         `json:"short"`
	Why   []why.Reason `json:"why"`
}

// PinCost is what a pin costs, or holding to what was acted on: the plan
// without it against the one in hand.
type PinCost struct {
	Piece   show.PieceID `json:"piece"`
	Pinned  Taken        `json:"pinned"`
	Held    string       `json:"held,omitempty"` // cut, bought, told; empty for a pin
	Without Difference   `json:"without"`
	Why     []why.Reason `json:"why"`
}

// Short is what is short in the whole show, and what the pins cost.
type Short struct {
	Scarce []Scarce  `json:"scarce"` // what binds, the most worth first
	Pins   []PinCost `json:"pins"`
}

// Instead is another option for a piece: the whole plan with the piece held to
// it against the one in hand, and what would have to change for it to win.
type Instead struct {
	Option  Option        `json:"option"`
	Alone   Difference    `json:"alone"` // this piece alone, everything else left; without moves
	Whole   Difference    `json:"whole"` // the best plan that has it
	Never   bool          `json:"never"` // no plan has it: it clashes with a pin or a limit
	Shorter units.Minutes `json:"shorter_minutes"`
	Cheaper units.Money   `json:"cheaper_coins"` // one of the two would make it as good; 0 where neither can
	Why     []why.Reason  `json:"why"`
}
