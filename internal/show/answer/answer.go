// Package answer holds what the rooms of the plan floor hand to each other
// and to the faces: timeline, verdict on a fit, option, plan, lay, task, slot,
// appointment, caution, sums. Plain values, computed elsewhere.
package answer

import (
	"time"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Skill is what a piece of work asks of the hand that does it.
type Skill string

// Skills, from the easiest. Trim stands beside the others: hats, masks, paint.
const (
	Beginner Skill = "beginner" // unpick, press, labels, buttons
	Straight Skill = "straight" // straight machine seams, hems, elastic
	Maker    Skill = "maker"    // makes and fits garments
	Tailor   Skill = "tailor"   // coats, tailored trousers
	Trim     Skill = "trim"     // hats, masks, paint, glue
)

// Skills lists all skills.
func Skills() []Skill { return []Skill{Beginner, Straight, Maker, Tailor, Trim} }

// Work is an amount of one kind of work at the lead's pace.
type Work struct {
	Skill   Skill         `json:"skill"`
	Minutes units.Minutes `json:"minutes"`
}

// Alteration is one operation on a garment.
type Alteration struct {
	Op      string        `json:"op"`    // "take in the side seams"
	Where   string        `json:"where"` // chest, waist, hip, length, sleeve, neck, head, shoulders
	By      units.Length  `json:"by_um"` // of the garment, always positive
	Minutes units.Minutes `json:"minutes"`
	Skill   Skill         `json:"skill"`
	Undo    string        `json:"undo"` // yes, partly, no
	Seen    string        `json:"seen"` // no, little, yes
}

// Fit is whether one garment sits for one piece on all who wear it.
type Fit struct {
	Piece       show.PieceID   `json:"piece"`
	Garment     show.GarmentID `json:"garment"`
	Verdict     why.Verdict    `json:"verdict"`
	Alterations []Alteration   `json:"alterations,omitempty"`
	Comfort     units.Span     `json:"comfort"`           // ease left where it is least, after the work
	Look        int            `json:"look"`              // hundredths off the wanted shape; 0 is as wanted
	Settles     []Question     `json:"settles,omitempty"` // the measures that would settle it
}

// Minutes adds up the alterations.
func (f Fit) Minutes() units.Minutes {
	var m units.Minutes
	for _, a := range f.Alterations {
		m += a.Minutes
	}
	return m
}

// Question is a measure whose taking would settle an answer.
type Question struct {
	Performer show.PerformerID `json:"performer"`
	Measure   body.Kind        `json:"measure"`
}

// Source is where a piece comes from.
type Source string

// The eight sources, in the trade's order.
const (
	Use       Source = "use as is"
	Alter     Source = "alter"
	Remake    Source = "remake"
	Make      Source = "make"
	Borrow    Source = "borrow"
	Buy       Source = "buy"
	Own       Source = "own"
	GoWithout Source = "go without"
)

// Sources lists the sources in the trade's order.
func Sources() []Source { return []Source{Use, Alter, Remake, Make, Borrow, Buy, Own, GoWithout} }

// Part is one thing a recipe takes: a garment, a length of cloth, notions.
type Part struct {
	From   why.Ref      `json:"from"` // garment, find, cloth, notion
	What   string       `json:"what"`
	Length units.Length `json:"length_um,omitempty"` // of cloth, along its length
	Count  int          `json:"count,omitempty"`
}

// Option is one way to come by one piece: parts and work with a price.
type Option struct {
	Piece       show.PieceID   `json:"piece"`
	Source      Source         `json:"source"`
	Garment     show.GarmentID `json:"garment,omitempty"` // of the rail, or a find's code
	Cloth       show.ClothID   `json:"cloth,omitempty"`
	ClothLength units.Length   `json:"cloth_length_um,omitempty"`
	Parts       []Part         `json:"parts,omitempty"`
	Money       units.Money    `json:"price_coins"` // still to be paid
	Work        []Work         `json:"work,omitempty"`
	Alterations []Alteration   `json:"alterations,omitempty"`
	// Apart are the garments cut up for it, Garment the first of them. Others may
	// be made of what is left of them; nobody wears them whole.
	Apart  []show.GarmentID `json:"apart,omitempty"`
	Cuts   bool             `json:"cuts"` // cannot be undone: the garment serves nothing else
	Look   int              `json:"look"` // what the house sees: 0 as drawn, 100 nothing there
	Pencil bool             `json:"pencil"`
	Why    why.Verdict      `json:"why"`
	Cost   int64            `json:"cost"` // what the plan weighs, see sourcing
}

// Minutes adds up the work.
func (o Option) Minutes() units.Minutes {
	var m units.Minutes
	for _, w := range o.Work {
		m += w.Minutes
	}
	return m
}

// Choice is the plan's word on one piece.
type Choice struct {
	Option
	Pinned bool         `json:"pinned"`
	Held   string       `json:"held,omitempty"`   // cut, bought or told to somebody: it stays so until a pin says otherwise
	Price  int64        `json:"pin_price"`        // what the pin, or holding to it, costs the plan beside its own best
	Next   []Option     `json:"next,omitempty"`   // the next best, one of each source at most
	Missed []why.Reason `json:"missed,omitempty"` // why a source that suggests itself is not among them
}

// Limit is something there is only so much of.
type Limit struct {
	Name string `json:"name"` // money, hours maker, cloth K14
	Unit string `json:"unit"` // coins, minutes, um
	Used int64  `json:"used"`
	Have int64  `json:"have"`
	// Worth is what one more unit would save, in thousandths of a cost point.
	Worth int64 `json:"worth"`
}

// Errand is one thing to look for in a shop, in garment numbers only.
type Errand struct {
	Piece   show.PieceID `json:"piece"`
	What    string       `json:"what"`
	Colour  string       `json:"colour"`
	Closure string       `json:"closure"`
	Windows []Asked      `json:"windows,omitempty"`
	Cloth   units.Length `json:"cloth_um,omitempty"` // where it is cloth: how much
	Width   units.Length `json:"width_um,omitempty"`
	Price   units.Money  `json:"price_coins"` // what the plan sets aside for it
	// Limit is the most to pay: what is set aside, or where the plan goes
	// without, the person's own limit, if there is one.
	Limit   units.Maybe[units.Money] `json:"limit_coins"`
	Without bool                     `json:"without"` // the plan has no source for it
	Pencil  bool                     `json:"pencil"`
}

// Asked is what a garment must measure at one place, round it or along it.
type Asked struct {
	Where string     `json:"where"`
	Span  units.Span `json:"span"`
	Open  bool       `json:"open"` // as wide as you like above
}

// Plan is the chosen source of every piece.
type Plan struct {
	Choices []Choice      `json:"choices"` // in the order of the pieces
	Limits  []Limit       `json:"limits"`
	Outcome solve.Outcome `json:"outcome"`
	Saves   units.Minutes `json:"could_save_minutes"` // what a better plan could save at most, in lead minutes
}

// DraftPart is one shape to be cut.
type DraftPart struct {
	Name    string       `json:"name"`
	Copies  int          `json:"copies"`
	Mirror  bool         `json:"mirror"`  // half of the copies mirrored
	Outline geom.Outline `json:"outline"` // seam and hem inside; grain runs along y
	Note    string       `json:"note,omitempty"`
	Hidden  bool         `json:"hidden,omitempty"`  // may sit on a flaw
	AnyWay  bool         `json:"any_way,omitempty"` // may be cut across the grain as well
}

// ClothWant is how much of one cloth a piece would take if it were made from
// it, by rule of thumb or by lay.
type ClothWant struct {
	Cloth  show.ClothID `json:"cloth"`
	Length units.Length `json:"length_um"` // along the cloth
	Fits   bool         `json:"fits"`      // by this estimate
}

// Estimate is what making a piece would take, before anything is chosen.
type Estimate struct {
	Piece  show.PieceID `json:"piece"`
	Draft  string       `json:"draft"` // the pattern it would be drafted from
	Pencil bool         `json:"pencil"`
	Width  units.Length `json:"width_um"`  // the width Length is reckoned at, for buying
	Length units.Length `json:"length_um"` // to buy at that width
	Cloths []ClothWant  `json:"cloths"`    // every cloth of the shelf it could come from, colour not asked
	Apart  []ApartWant  `json:"apart"`     // garments it could be made from the parts of
}

// ApartWant is garments, cut up, from whose parts a piece could be made: every
// part of its draft on a part of its own.
type ApartWant struct {
	Garments []show.GarmentID `json:"garments"`
	Parts    []PartUse        `json:"parts"`
	Minutes  units.Minutes    `json:"minutes"` // its share of cutting them up and pressing, a beginner's work
	Likely   bool             `json:"likely"`  // only if the parts are as large, or as many, as they may be
}

// PartUse is how many copies of a part of a garment go.
type PartUse struct {
	Garment show.GarmentID `json:"garment"`
	Part    string         `json:"part"`
	Count   int            `json:"count"`
	Of      int            `json:"of"` // copies it gives
}

// Draft is a pattern for one piece.
type Draft struct {
	Piece   show.PieceID `json:"piece"`
	Name    string       `json:"name"`
	Parts   []DraftPart  `json:"parts"`
	Verdict why.Verdict  `json:"verdict"`
}

// Laid is one part on a cloth, as it is to be cut.
type Laid struct {
	Piece   show.PieceID `json:"piece"`
	Part    string       `json:"part"`
	Copy    int          `json:"copy"`
	Turn    int          `json:"turn"`
	Mirror  bool         `json:"mirror"`
	Outline geom.Outline `json:"outline"` // on the cloth: x across, y along, from the top left
}

// Lay is what is cut from one cloth.
type Lay struct {
	Cloth   show.ClothID  `json:"cloth"`
	Placed  []Laid        `json:"placed"`
	Missing []Laid        `json:"missing,omitempty"` // no place found or none there
	Used    units.Length  `json:"used_um"`           // along the length
	Left    units.Length  `json:"left_um"`
	Share   int           `json:"share"` // hundredths of the cloth's area that are cut out
	Verdict why.Verdict   `json:"verdict"`
	Outcome solve.Outcome `json:"outcome"`
}

// Shortage is cloth that is not there.
type Shortage struct {
	Pieces []show.PieceID `json:"pieces"`
	Colour string         `json:"colour"`
	Wanted units.Length   `json:"wanted_um"` // at Width
	Width  units.Length   `json:"width_um"`
	Why    why.Reason     `json:"why"`
}

// Cutting is which pieces come from which cloth.
type Cutting struct {
	Drafts []Draft    `json:"drafts"`
	Lays   []Lay      `json:"lays"`
	Short  []Shortage `json:"short,omitempty"`
	Apart  []PartLay  `json:"apart,omitempty"`
}

// PartLay is how one piece is cut from the parts of garments that are cut up.
type PartLay struct {
	Piece  show.PieceID `json:"piece"`
	Draft  string       `json:"draft"`
	Wanted int          `json:"wanted"` // shapes of the draft, copies counted
	Shapes []OnPart     `json:"shapes"`
}

// OnPart is one shape of a draft on one copy of a part: both outlines X along
// the grain, the shape where it lies on the part.
type OnPart struct {
	Shape   string         `json:"shape"`
	Outline geom.Outline   `json:"outline"`
	Garment show.GarmentID `json:"garment"`
	Part    GivenPart      `json:"part"`
	Likely  bool           `json:"likely,omitempty"` // only if the part is as large, or there are as many, as may be
}

// Task is one step of work on one piece.
type Task struct {
	ID        string        `json:"id"`
	Piece     show.PieceID  `json:"piece"`
	Do        string        `json:"do"`
	Minutes   units.Minutes `json:"minutes"` // at the lead's pace
	Skill     Skill         `json:"skill"`
	After     []string      `json:"after,omitempty"`
	NotBefore units.Date    `json:"not_before,omitempty"`
	Due       units.Date    `json:"due,omitempty"`
}

// Slot is a task, or part of one, given to a helper on a day.
type Slot struct {
	Task    string        `json:"task"`
	Helper  show.HelperID `json:"helper"`
	Day     units.Date    `json:"day"`
	Start   units.Clock   `json:"start"`
	Minutes units.Minutes `json:"minutes"` // at the helper's pace
}

// Late is a piece that will not be ready.
type Late struct {
	Piece show.PieceID  `json:"piece"`
	Due   units.Date    `json:"due"`
	Ready units.Date    `json:"ready,omitempty"` // not set: not within the calendar
	Left  units.Minutes `json:"left_minutes"`
	Why   why.Reason    `json:"why"`
}

// Offer is what one helper offers until the parade.
type Offer struct {
	Helper  show.HelperID `json:"helper"`
	Skills  []Skill       `json:"skills"`
	Pace    int           `json:"pace"`          // hundredths of the lead's, as said or as logged work has it
	Minutes units.Minutes `json:"minutes"`       // by the clock
	Lead    units.Minutes `json:"lead_minutes"`  // at the lead's pace
	Given   units.Minutes `json:"given_minutes"` // planned, at the lead's pace
}

// Saving is something that could be let go.
type Saving struct {
	What    string         `json:"what"`
	Pieces  []show.PieceID `json:"pieces"`
	Minutes units.Minutes  `json:"minutes"`
	Seen    string         `json:"seen"` // what the house would see
}

// PutBack is what has to be undone on something borrowed before it goes back.
type PutBack struct {
	Garment show.GarmentID `json:"garment"`
	Piece   show.PieceID   `json:"piece"`
	To      string         `json:"to"`
	Due     units.Date     `json:"due"`
	Do      []string       `json:"undo"`
	Minutes units.Minutes  `json:"minutes"` // at the lead's pace, after the last night
}

// Workroom is who does what when, and whether it is enough.
type Workroom struct {
	Tasks   []Task        `json:"tasks"`
	Slots   []Slot        `json:"slots"`
	Late    []Late        `json:"late,omitempty"`
	Offers  []Offer       `json:"offers"`
	Wanted  units.Minutes `json:"wanted_minutes"` // at the lead's pace, redoing included
	Plain   units.Minutes `json:"plain_minutes"`  // without redoing
	Offered units.Minutes `json:"offered_minutes"`
	Savings []Saving      `json:"savings,omitempty"`
	Back    []PutBack     `json:"put_back,omitempty"`
	Verdict why.Verdict   `json:"verdict"`
	Outcome solve.Outcome `json:"outcome"`
}

// Appointment is one performer's fitting.
type Appointment struct {
	Performer show.PerformerID `json:"performer"`
	Kind      string           `json:"kind"` // first, second
	Day       units.Date       `json:"day"`
	Start     units.Clock      `json:"start"`
	Minutes   units.Minutes    `json:"minutes"`
	Station   int              `json:"station"`
	Pieces    []show.PieceID   `json:"pieces"`
	Why       why.Reason       `json:"why"`
}

// Fittings is who is fitted when.
type Fittings struct {
	Appointments []Appointment `json:"appointments"` // by day and start
	Unplaced     []Appointment `json:"unplaced,omitempty"`
	Outcome      solve.Outcome `json:"outcome"`
}

// Caution is one thing that must change, or be decided, before it is worn.
type Caution struct {
	Key     string         `json:"key"` // stays the same from run to run
	About   []why.Ref      `json:"about"`
	Reason  why.Reason     `json:"reason"`
	Suggest string         `json:"suggest"`
	Decides string         `json:"decides"` // who decides
	Decided *show.Decision `json:"decided,omitempty"`
}

// Need is a piece with what is known of its wearers.
type Need struct {
	Piece     show.PieceID       `json:"piece"`
	Category  show.Category      `json:"category"`
	Layer     int                `json:"layer"`
	Wearers   []show.PerformerID `json:"wearers"`
	HasSource bool               `json:"has_source"` // a person has settled it
	Scenes    []show.SceneID     `json:"scenes"`     // in which it is on stage
	Seen      time.Duration      `json:"seen_ns"`    // on stage in all
}

// MissingLayer is an under-layer a look wants and has not.
type MissingLayer struct {
	Look show.LookID `json:"look"`
	What string      `json:"what"`
	Why  why.Reason  `json:"why"`
}

// Needs is what is needed in all.
type Needs struct {
	Needs   []Need         `json:"needs"` // in the order of the pieces
	Missing []MissingLayer `json:"missing,omitempty"`
	Notions []NotionNeed   `json:"notions,omitempty"`
}

// NotionNeed is how much of a notion the closures want, against the boxes.
type NotionNeed struct {
	Name string `json:"name"`
	Size string `json:"size"`
	Need int    `json:"need"`
	Unit string `json:"unit"` // piece, cm
	Have int    `json:"have"`
}

// MoneyLine is one line of the money.
type MoneyLine struct {
	Line     string      `json:"line"`
	Planned  units.Money `json:"planned_coins"`
	Spent    units.Money `json:"spent_coins"`
	Promised units.Money `json:"promised_coins"`
	Needed   units.Money `json:"needed_coins"` // what the plan still buys
	Held     bool        `json:"held_back"`
}

// Money is how the money stands.
type Money struct {
	Lines    []MoneyLine `json:"lines"`
	Sum      units.Money `json:"sum_coins"`
	Held     units.Money `json:"held_back_coins"`
	Spent    units.Money `json:"spent_coins"`
	Promised units.Money `json:"promised_coins"`
	Needed   units.Money `json:"needed_coins"`
	Free     units.Money `json:"free_coins"` // sum less held back, spent, promised and needed
	Owed     []Owed      `json:"owed,omitempty"`
	NoSlip   units.Money `json:"no_slip_coins"`
	Verdict  why.Verdict `json:"verdict"`
}

// Owed is what one person laid out and has not got back.
type Owed struct {
	To  show.HelperID `json:"to"`
	Sum units.Money   `json:"sum_coins"`
}

// Urgent is one thing that cannot wait.
type Urgent struct {
	Number  why.Fact   `json:"number"` // the hero
	Say     string     `json:"say"`
	Why     string     `json:"why"`
	Do      string     `json:"do"`
	Page    string     `json:"page"` // where it is dealt with
	DueSoon bool       `json:"due_soon"`
	Due     units.Date `json:"due,omitempty"`
}

// Today is what to do tonight and how far everything is.
type Today struct {
	Urgent  []Urgent            `json:"urgent"`
	Tonight []Slot              `json:"tonight"` // the next two hours, in doing order
	Waiting []Waiting           `json:"waiting"`
	HowFar  map[show.HowFar]int `json:"how_far"`
}

// Waiting is a piece that waits, and for what.
type Waiting struct {
	Piece show.PieceID `json:"piece"`
	For   string       `json:"for"` // you, a fitting, a shop, somebody else
	What  string       `json:"what"`
}

// Advice is what to do with a find.
type Advice string

// The advice in a shop aisle.
const (
	BuyIt   Advice = "buy it"
	LeaveIt Advice = "leave it"
)

// Appraisal is what a find would do for the show, and up to which price.
type Appraisal struct {
	Advice Advice        `json:"advice"`
	UpTo   units.Money   `json:"up_to_coins"` // worth no more
	Serves []Served      `json:"serves"`      // the most saved first
	Second bool          `json:"second"`      // another like it would serve as well
	Left   units.Money   `json:"left_coins"`  // free before this one
	Wanted int           `json:"wanted"`      // pieces of its kind still to be bought or missing
	Why    []why.Reason  `json:"why"`
	Work   units.Minutes `json:"minutes"` // on the first it serves
}

// Served is one piece a find could be.
type Served struct {
	Piece   show.PieceID  `json:"piece"`
	Option  Option        `json:"option"`
	Instead Source        `json:"instead"`           // of what the plan has now
	Saves   units.Minutes `json:"saves_minutes"`     // of work, redoing included
	UpTo    units.Money   `json:"up_to_coins"`       // where the plan's own choice would be as good
	Other   bool          `json:"in_another_colour"` // it goes, but in another colour
}

// PocketNeed is what one may look for in a shop, in garment numbers only: a letter
// for a name, windows for a body.
type PocketNeed struct {
	Letter  string         `json:"letter"` // "G3"
	Kind    show.Category  `json:"kind"`
	What    string         `json:"what"`
	Colour  string         `json:"colour"`
	Hex     string         `json:"hex"`
	Windows []PocketSpan   `json:"windows"`
	Limit   units.Money    `json:"limit_coins"` // 0 where none is set
	Saves   units.Minutes  `json:"saves_minutes"`
	Pieces  []show.PieceID `json:"-"`
	Count   int            `json:"count"`
}

// PocketSpan is a window of a flat measure: from Lo to Hi it goes as it hangs,
// up to Most it can be taken in or up. Rounded outward.
type PocketSpan struct {
	Where string       `json:"where"`
	Lo    units.Length `json:"lo_um"`
	Hi    units.Length `json:"hi_um"`
	Most  units.Length `json:"most_um"`
}
