package answer

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// ClothDoes says whether a cloth does for some pieces: by rule of thumb, by a
// lay, and what to change so that it does where it does not.
type ClothDoes struct {
	Cloth   show.ClothID   `json:"cloth"`
	Pieces  []show.PieceID `json:"pieces"`
	None    []show.PieceID `json:"no_draft,omitempty"` // there is no draft for these, or a measure lacks
	Thumb   units.Length   `json:"thumb_um"`           // of this width, by rule of thumb; 0 where a part is wider
	Have    units.Length   `json:"have_um"`            // as it will lie when it is cut
	Reserve units.Length   `json:"reserve_um"`         // what is kept beyond the lay
	Buy     units.Length   `json:"buy_um"`             // of the usual width, reserve included, to make them of something else
	Width   units.Length   `json:"buy_width_um"`
	// BuyNarrow is the same of cloth 112 wide, as shops have it.
	BuyNarrow units.Length  `json:"buy_112_um"`
	Lay       Lay           `json:"lay"`
	Verdict   why.Verdict   `json:"verdict"` // yes enough; no; not known: no place was found, which proves nothing
	Changes   []ClothChange `json:"changes,omitempty"`
}

// ClothChange is a change after which a cloth does, laid anew.
type ClothChange struct {
	Says   []string       `json:"says"` // what is changed, the least seen first
	Seen   int            `json:"seen"` // what the house sees: 0 nothing, up to 5
	Left   units.Length   `json:"left_um"`
	Lay    Lay            `json:"lay"`
	Pieces []show.PieceID `json:"elsewhere,omitempty"` // made of another cloth
	Cloth  show.ClothID   `json:"other_cloth,omitempty"`
}
