// Package show holds the words of the trade as plain values: the house with
// its rail, shelf and helpers, the show with its performers, roles, scenes,
// looks and pieces. It computes nothing but look-ups.
//
// Every thing is known by its code, the short name people write on labels
// and spreadsheets ("P7", "G12"). Each kind of code has a type of its own,
// so that mixing them does not compile.
package show

import (
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/value/units"
)

// The codes. The zero value means "none".
type (
	PerformerID   string
	RoleID        string
	SceneID       string
	LookID        string
	PieceID       string
	SetID         string
	GarmentID     string
	ClothID       string
	FindID        string
	HelperID      string
	PerformanceID string
	NoteID        string
	AskID         string
	LoanID        string
	ReceiptID     string
	KitID         string
	Cast          string // "A", "B"; every show has at least "A"
)

// Category is a kind of piece, garment or find, as the data names it.
type Category string

// The categories the program knows how to reason about. Others are kept and
// shown, and get no fit.
const (
	Dress     Category = "dress"
	Skirt     Category = "skirt"
	Shirt     Category = "shirt or blouse"
	Trousers  Category = "trousers"
	Bodice    Category = "waistcoat or bodice"
	Under     Category = "under-piece"
	Jacket    Category = "jacket or cloak"
	Accessory Category = "accessory"
)

// Side is a side of the stage, L or R as the performer sees it; empty where
// not known.
type Side string

// Show is the production itself.
type Show struct {
	Code       string
	Name       string
	Currency   string     // a sign or word, as written before or after sums
	EraseOn    units.Date // the day people's rows are erased
	EraseOnInk bool       // said by a person, not assumed
}

// Performer is a person on stage. Body, Care and the rest of it are people's
// data and go away on the erase date.
type Performer struct {
	ID          PerformerID
	Name        string
	Age         units.Maybe[int] // whole years on the measuring day
	BirthMonth  string           // YYYY-MM or empty
	GrowthSex   string           // f, m or empty: only growth tables use it
	Room        string
	Consent     string // yes, no measuring, home measured, not answered
	Body        body.Body
	Care        []string   // rules on pieces, without reasons
	NotBy       []HelperID // who is not to dress them, without reasons
	Note        string
	LabelSize   string
	FitsGarment GarmentID
	ShoeSize    string
}

// Held says that the family's answer is not back, so that the numbers may not
// be used yet.
func (p Performer) Held() bool { return p.Consent == "not answered" }

// Role is a part somebody plays.
type Role struct {
	ID        RoleID
	Name      string
	Kind      string // lead, support, ensemble, double
	Group     string
	Performer PerformerID // in cast A
	World     string
	Note      string
}

// Casting says who plays a role on another cast, or covers it.
type Casting struct {
	Role      RoleID
	Cast      Cast
	Performer PerformerID
	Cover     bool
	Note      string
}

// Scene is a stretch of the show. Times count in whole seconds.
type Scene struct {
	ID       SceneID
	Act      string
	Title    string
	Place    string
	Running  time.Duration
	GapAfter time.Duration
	Interval time.Duration // after the scene; 0 where there is none
	World    string
	Movement []string // "dance", "stairs", …
	What     string
}

// Appearance is a role on stage in a scene, in a look. Enter and Exit count
// from the start of the scene.
type Appearance struct {
	Scene     SceneID
	Role      RoleID
	Look      LookID
	Enter     time.Duration
	Exit      time.Duration
	EnterSide Side
	ExitSide  Side
	Note      string
}

// Look is everything one role wears at one time.
type Look struct {
	ID    LookID
	Role  RoleID
	Name  string
	World string
	Order int
	Idea  string
	Note  string
}

// HowFar is how far a piece has come.
type HowFar string

// The six steps of a piece. The zero value is ThoughtOf.
const (
	ThoughtOf  HowFar = ""
	FoundIt    HowFar = "found"
	InWork     HowFar = "in work"
	ToBeFitted HowFar = "to be fitted"
	Finished   HowFar = "finished"
	Hung       HowFar = "hung"
)

// Piece is one thing to be worn.
type Piece struct {
	ID           PieceID
	Category     Category
	Name         string
	Looks        []LookID
	Layer        int // 1 next to the skin, 2 support, 3 base, 4 over, 5 outer, 6 accessory
	Colour       string
	Era          string
	Fit          string // fitted, easy, loose, tied, wrap, head, neck
	Closure      string
	LengthTo     string // hip, waist, thigh, knee, below knee, mid-calf, calf, ankle, floor
	HemClear     units.Maybe[units.Length]
	FirstThought string
	PriceLimit   units.Maybe[units.Money]
	MatchGroup   string
	Set          SetID
	HowFar       HowFar
	Note         string
}

// Set is pieces that belong together.
type Set struct {
	ID       SetID
	Name     string
	Pieces   []PieceID
	Colours  string
	Alike    string // same, near, different
	FreeHues bool   // the colours may be shared out anew inside the set
	HemRule  string
	HemFloor units.Maybe[units.Length]
	Spares   int
	Count    int
}

// Garment is a thing that exists: on the rail, seen in a shop, borrowed.
// Girths are round the garment, closed; Chest 940 000 µm is 94 cm round.
type Garment struct {
	ID          GarmentID
	Category    Category
	Name        string
	Colour      string
	Fibre       string
	Chest       units.Span
	Waist       units.Span // Hi is stretched or let right out
	Hip         units.Span
	HemRound    units.Span
	Length      units.Span
	LengthFrom  string // nape, waist, chest
	Sleeve      units.Span
	Shoulders   units.Span
	Head        units.Span
	Label       string                    // the size sewn in: 146, M, 40, US 10
	LetOut      units.Maybe[units.Length] // girth that can be released in all
	LetDown     units.Maybe[units.Length] // length that can be released
	Closure     string
	Stretch     string
	Lined       string
	Washing     string
	Condition   string
	Owner       string
	ReturnBy    units.Date
	MayCut      bool
	Place       string
	RailWidth   units.Maybe[units.Length]
	Fate        string // "", whole, altered, cut
	PromisedTo  string
	PromisedOn  units.Date
	PromisedEnd units.Date
	Note        string
}

// Find is a garment seen, bought or given.
type Find struct {
	ID       FindID
	SeenOn   units.Date
	Where    string
	Garment  Garment // its ID is the find's code
	Price    units.Maybe[units.Money]
	Decision string // bought, left, or empty
}

// Cloth is a length or piece of cloth with its real outline. Points count
// from the top left, y down.
type Cloth struct {
	ID        ClothID
	Name      string
	Fibre     string
	Colour    string
	Width     units.Length
	Length    units.Length
	Shape     string            // rectangle, round, irregular
	Outline   [][2]units.Length // empty for a plain rectangle
	Diameter  units.Maybe[units.Length]
	OneWay    bool
	RightSide string // either, one
	Stretch   string
	Repeat    units.Maybe[units.Length] // along the cloth, of a stripe, check or print that has to match
	Weight    units.Maybe[int]          // grams a square metre
	Washed    string                    // yes, no, wipe only
	Flaws     []Flaw
	Source    string
	Cost      units.Maybe[units.Money]
	Note      string
}

// Flaw is a rectangle of a cloth that is not to be used.
type Flaw struct{ X, Y, W, H units.Length }

// Helper is somebody who works on the show, the lead among them.
type Helper struct {
	ID        HelperID
	Name      string
	Skills    []string
	Pace      int // hundredths of the lead's pace: 100 is as fast
	From, To  units.Date
	Hours     units.Minutes // a week
	Machine   bool
	Dresser   bool
	Chaperone bool
	Note      string
}

// Entry is a line of the calendar.
type Entry struct {
	Day     units.Date
	Start   units.Clock
	Minutes units.Minutes
	What    string
	Who     []string // all, helpers, groups, role or helper codes
	Kind    string   // plan, fit, source, money, make, rehearse, show, care, strike
}

// Performance is one showing.
type Performance struct {
	ID    PerformanceID
	Day   units.Date
	Start units.Clock
	Cast  Cast
	Note  string
}
