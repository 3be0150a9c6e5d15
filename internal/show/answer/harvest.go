package answer

import (
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Harvest is what a garment, or a piece of household linen, gives when it is
// cut up. The zero value gives nothing.
type Harvest struct {
	Garment show.GarmentID `json:"garment,omitempty"`
	Cloth   show.ClothID   `json:"cloth,omitempty"` // household linen lies on the shelf
	Kind    string         `json:"kind"`            // the row of the table it is reckoned by
	Parts   []GivenPart    `json:"parts"`
	Bulk    []GivenBulk    `json:"bulk,omitempty"`
	Notions []GivenNotion  `json:"notions,omitempty"`
	Area    AreaSpan       `json:"area"`   // of the parts that have a shape, one by one
	Shapes  AreaSpan       `json:"shapes"` // what shapes cut from panels come to: seven to eight and a half tenths; unknown for linen
	Lost    AreaSpan       `json:"lost"`   // left in the old seams; unknown for linen
	Seams   units.Span     `json:"seams"`  // long seams between the parts, both edges counted once
	Cut     MinuteSpan     `json:"cut"`    // cutting beside the seams
	Unpick  MinuteSpan     `json:"unpick"` // saving the seams; unknown where it is not worth it
	Press   MinuteSpan     `json:"press"`
	OneWay  bool           `json:"one_way"` // nap or shine: all parts one way up
	Use     []string       `json:"use,omitempty"`
	LookOut []string       `json:"look_out,omitempty"`
	Ask     []string       `json:"ask,omitempty"` // the measures of the garment that would settle a part
	Why     []why.Reason   `json:"why"`
}

// GivenPart is one shape of a harvest, as often as Count says. X runs along
// the grain, what was up lies at the lesser X; old seams are off.
type GivenPart struct {
	Name     string       `json:"name"`
	Count    int          `json:"count"` // at least
	UpTo     int          `json:"up_to"` // Count, or more where the number is a span
	Pair     bool         `json:"pair"`  // kept together: left and right, or front and back
	Bias     bool         `json:"bias"`  // the grain runs everywhere
	Whole    bool         `json:"whole"` // kept as it is: it has no outline
	Known    bool         `json:"known"` // the outlines are there
	Measured bool         `json:"measured"`
	Guess    bool         `json:"guess"` // the usual size of its kind; nothing of the garment says more
	Least    geom.Outline `json:"least,omitempty"`
	Most     geom.Outline `json:"most,omitempty"`
	Along    units.Length `json:"along_um,omitempty"`  // of the largest upright rectangle on Least, with the grain; 0 where not reckoned
	Across   units.Length `json:"across_um,omitempty"` // and across it
	Label    string       `json:"label"`               // to pin on: what it was, right side, up
}

// GivenBulk is cloth whose shape is not known.
type GivenBulk struct {
	What string   `json:"what"`
	Area AreaSpan `json:"area"`
}

// GivenNotion goes to a box. Count and length are unknown where not said.
type GivenNotion struct {
	Name  string     `json:"name"`
	Size  string     `json:"size,omitempty"` // a zip's length in cm, as the boxes name it
	Count CountSpan  `json:"count"`
	Long  units.Span `json:"long"`
}

// AreaSpan is an area known only to lie between two others. The zero value is
// unknown. So are the next two.
type AreaSpan struct {
	Lo    units.Area `json:"lo_um2"`
	Hi    units.Area `json:"hi_um2"`
	Known bool       `json:"known"`
}

// MinuteSpan is an amount of work between two others.
type MinuteSpan struct {
	Lo    units.Minutes `json:"lo"`
	Hi    units.Minutes `json:"hi"`
	Known bool          `json:"known"`
}

// CountSpan is a number between two others.
type CountSpan struct {
	Lo    int  `json:"lo"`
	Hi    int  `json:"hi"`
	Known bool `json:"known"`
}

// Giver is a garment whose parts hold wanted shapes, each on a part of its
// own.
type Giver struct {
	Garment show.GarmentID `json:"garment"`
	Grade   why.Grade      `json:"grade"` // Yes: every shape wanted; Likely: if the parts are as large as they may be; Work: some of them
	Held    int            `json:"held"`  // of the shapes wanted
	Wanted  int            `json:"wanted"`
	Holds   []Holding      `json:"holds"`
}

// Holding is one wanted shape on one part.
type Holding struct {
	Wanted string `json:"wanted"`
	Part   string `json:"part"`
	Of     int    `json:"-"`      // the part's number in the harvest
	Shape  int    `json:"-"`      // the number of the shape among those wanted
	Likely bool   `json:"likely"` // only if the part is as large as it may be
}
