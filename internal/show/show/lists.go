package show

import "hemwright/internal/value/units"

// BudgetLine is a kind of need money is set aside for.
type BudgetLine struct {
	Line     string
	Planned  units.Money
	HeldBack bool // not to be spent by plan
	Note     string
}

// Receipt is a slip. Sum is unknown where it is to be added up from the finds
// bought at that shop on that day.
type Receipt struct {
	ID         ReceiptID
	Day        units.Date
	Shop       string
	Line       string
	Sum        units.Maybe[units.Money]
	PaidBy     HelperID
	PaidBackOn units.Date
	Slip       bool
}

// Loan is a thing borrowed, hired or lent out.
type Loan struct {
	ID                      LoanID
	Out                     bool // lent out by us
	Whom, What              string
	Garment                 GarmentID
	Piece                   PieceID
	MayCut, MayPin, MayWash bool
	Deposit, Fee            units.Maybe[units.Money]
	Cleaning                string
	Since, Due              units.Date
	State                   string
	Note                    string
}

// Kit is a take-home bag of work.
type Kit struct {
	ID                   KitID
	Helper               HelperID
	What                 string
	Pieces               []PieceID
	OutOn, DueOn, BackOn units.Date
	State                string
	Parts                units.Maybe[int]
	FinishedWhen         string
}

// Note is something to put right.
type Note struct {
	ID      NoteID
	Day     units.Date
	From    string
	Role    RoleID
	Piece   PieceID
	What    string
	Minutes units.Maybe[units.Minutes]
	Before  units.Date
	State   string // open, done
	Blocks  bool   // somebody cannot go on like that
	Helper  HelperID
}

// Ask is a request to a family, the director or somebody else.
type Ask struct {
	ID       AskID
	Day      units.Date
	OfWhom   string
	What     string
	Promised string
	SeenOn   units.Date
	Result   string
	Saves    string
}

// Notion is what lies in a box: zips, elastic, buttons.
type Notion struct {
	Name   string
	Size   string
	Colour string
	OnHand string // as counted, with its unit
	Unit   string
	Note   string
}

// Feet is what one performer has on the feet and next to the skin.
type Feet struct {
	Performer    PerformerID
	ShoeSize     string
	Shoe         string
	ShoeFrom     string // own, house, to buy
	Heel         units.Maybe[units.Length]
	Hosiery      string
	HosierySize  string
	Shade        string
	ShadeAgreed  bool
	HosieryFrom  string
	OwnVest      bool
	OwnShorts    bool
	LayerOne     string     // what it is
	LayerOneSeen units.Date // not set: promised, do not count on it
	ShoeLimit    units.Maybe[units.Money]
	HosieryLimit units.Maybe[units.Money]
}

// Headwear is hair and head pieces of one look.
type Headwear struct {
	Look   LookID
	Hair   string
	Pieces []PieceID
	HeldBy []string
	Liner  bool
}

// Mic is a role's microphone.
type Mic struct {
	Role     RoleID
	Wears    bool
	Place    string
	PocketOn string
	FittedBy string
	Note     string
}

// Backdrop is the colour behind a scene and the lamp on it.
type Backdrop struct {
	Scene             SceneID
	SetColour, SetHex string
	Lamp, LampHex     string
	Note              string
}

// Colour is one of our colour names.
type Colour struct {
	Name, Hex, Family string
}

// Pin is a choice a person made for a piece: searches respect it.
type Pin struct {
	Piece   PieceID
	Source  string // one of the sources
	Garment GarmentID
	Find    FindID
	Cloth   ClothID
	Day     units.Date
	Who     string
}

// Done is something that has been acted on and moves last: cut, bought, told
// to somebody.
type Done struct {
	Piece  PieceID
	What   string // cut, bought, told
	Detail string
	Day    units.Date
}

// Rehearsed is a fast change timed in rehearsal.
type Rehearsed struct {
	Performer PerformerID
	From, To  SceneID
	Seconds   int
	Day       units.Date
}

// Logged is time somebody wrote down.
type Logged struct {
	Helper  HelperID
	Piece   PieceID
	What    string
	Minutes units.Minutes
	Thought units.Minutes // what it was thought to take, 0 where nobody said
	Day     units.Date
}

// HandLaid is one part put on a cloth by hand: it lies there, and the rest is
// laid round it. X and Y are the top left of the box round it, on the cloth.
type HandLaid struct {
	Cloth  ClothID
	Piece  PieceID
	Part   string
	Turn   int
	Mirror bool
	X, Y   units.Length
}

// LetDown is what was let out of a garment's seams or down from its hem once.
type LetDown struct {
	Garment GarmentID
	By      units.Length
	Left    units.Maybe[units.Length] // what it holds after that
	Day     units.Date
	Words   string
}

// Decision is what a person decided about a caution.
type Decision struct {
	Caution string // the caution's key
	Who     string
	What    string
	Day     units.Date
}

// Typed is a length or a sum in the words it was typed in, kept where
// printing it would give other words.
type Typed struct {
	Kind  string // "garment"
	Code  string // of the row
	Field string // "chest"
	Words string // "28 1/2 in"
	Is    int64  // micrometres or coins; the words hold while the value is this
}

// TypedAs are the words a value was typed in; "" where printing it says the
// same, or where it has changed since.
func TypedAs(all []Typed, kind, code, field string, is int64) string {
	for _, t := range all {
		if t.Kind == kind && t.Code == code && t.Field == field && t.Is == is {
			return t.Words
		}
	}
	return ""
}

// How a value came about.
const (
	Assumed = "assumed" // by a rule: pencil
)

// Origin says that a value was assumed, by which rule. A value without one
// was said or measured: ink.
type Origin struct {
	Kind, Code, Field string // "scene", "S03", "running"
	How               string // assumed
	Rule              string // in words: "5 minutes a scene until you say"
	Day               units.Date
	Who               string
}

// Unread is a cell of an imported file that was not understood; it is kept.
type Unread struct {
	File   string
	Row    int
	Column string
	Text   string
	Why    string
	// AboutPerson marks text from a list of people: erased with them.
	AboutPerson bool
}
