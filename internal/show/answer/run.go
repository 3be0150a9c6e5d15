package answer

import (
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/why"
)

// Stretch is one unbroken time on stage. From and To count from curtain up.
type Stretch struct {
	Performer show.PerformerID `json:"performer"`
	Role      show.RoleID      `json:"role"`
	Look      show.LookID      `json:"look"`
	Scene     show.SceneID     `json:"scene"`
	From      time.Duration    `json:"from_ns"`
	To        time.Duration    `json:"to_ns"`
	EnterSide show.Side        `json:"enter_side"`
	ExitSide  show.Side        `json:"exit_side"`
}

// Seconds is a lower and an upper figure of stage seconds.
type Seconds struct {
	Lo int `json:"lo"`
	Hi int `json:"hi"`
}

// Change is a performer leaving in one look and entering in another.
type Change struct {
	Cast      show.Cast        `json:"cast"`
	Performer show.PerformerID `json:"performer"`
	FromScene show.SceneID     `json:"from_scene"`
	ToScene   show.SceneID     `json:"to_scene"`
	FromLook  show.LookID      `json:"from_look"`
	ToLook    show.LookID      `json:"to_look"`
	Leaves    time.Duration    `json:"leaves_ns"`
	Enters    time.Duration    `json:"enters_ns"`
	Seconds   int              `json:"seconds"` // available, exit to entrance
	FromSide  show.Side        `json:"from_side"`
	ToSide    show.Side        `json:"to_side"`
	Off       []show.PieceID   `json:"off"`                 // outermost first
	Stays     []show.PieceID   `json:"stays"`               // worn in both looks
	On        []show.PieceID   `json:"on"`                  // innermost first
	Wanted    Seconds          `json:"wanted"`              // with one dresser; alone
	FirstTry  int              `json:"first_try,omitempty"` // with one dresser, not rehearsed
	Hands     int              `json:"hands"`               // seconds of one dresser's work in Wanted.Lo
	Steps     []Step           `json:"steps,omitempty"`     // what Hands is added up from
	Timed     int              `json:"timed,omitempty"`     // best time measured, exit to ready; 0: none
	InView    bool             `json:"in_view"`
	Verdict   why.Verdict      `json:"verdict"`
	Beneath   []Beneath        `json:"beneath,omitempty"` // what could be on underneath
}

// Timeline is who is on stage when, and every change, of one cast.
type Timeline struct {
	Cast       show.Cast                      `json:"cast"`
	Starts     map[show.SceneID]time.Duration `json:"starts_ns"`
	End        time.Duration                  `json:"end_ns"`
	Playing    time.Duration                  `json:"playing_ns"`
	Stretches  []Stretch                      `json:"stretches"`    // by performer, then time
	Changes    []Change                       `json:"changes"`      // by time, then performer
	MostAtOnce int                            `json:"most_at_once"` // in fast changes, under 180 s
	MostAt     time.Duration                  `json:"most_at_ns"`
	Duties     []Duty                         `json:"duties,omitempty"` // by time
	Dressers   Dressers                       `json:"dressers"`
	Under      Under                          `json:"under"`
	Travels    []Travel                       `json:"travels,omitempty"` // by the time they are wanted
	Asks       []Favour                       `json:"asks,omitempty"`    // of the director, the most useful first
	Clashes    []Stretch                      `json:"clashes,omitempty"` // in two places at once
	Notes      []why.Reason                   `json:"notes,omitempty"`   // what could not be understood, and what was done
}

// Step is one thing done in a change, in seconds of the house table, before
// anything is multiplied.
type Step struct {
	Do      string       `json:"do"` // off, on, hair, microphone
	Piece   show.PieceID `json:"piece,omitempty"`
	By      string       `json:"by,omitempty"` // the row of the table: zip, hooks
	Seconds int          `json:"seconds"`
}

// Duty is a fast change given to a dresser.
type Duty struct {
	Change  int           `json:"change"`           // index into the timeline's changes
	Dresser show.HelperID `json:"dresser"`          // empty: nobody is free
	Second  show.HelperID `json:"second,omitempty"` // where two are wanted
	Hands   int           `json:"hands"`            // dressers wanted at once, 1 or 2
	Side    show.Side     `json:"side"`             // where it is done
	Begins  time.Duration `json:"begins_ns"`
	Ends    time.Duration `json:"ends_ns"`
	Why     *why.Reason   `json:"why,omitempty"` // where nobody helps
}

// Dressers is how few suffice, and what goes wrong with those there are.
//
// A change is done on the side of the exit, from half a short walk after the
// exit to the rest of the way and the look over before the entrance; where the
// performer crosses, or on the other side the other way round.
type Dressers struct {
	Walk     int             `json:"walk_s"`   // on one side, as reckoned here
	Across   int             `json:"across_s"` // to the other side
	Look     int             `json:"look_s"`   // the look over
	Least    int             `json:"least"`    // suffice, if everybody may dress everybody
	Proof    solve.Proof     `json:"proof"`
	Bound    int             `json:"bound"` // fewer than this do not
	Shown    []Shown         `json:"shown,omitempty"`
	There    []show.HelperID `json:"there,omitempty"`
	Clashes  []Shown         `json:"clashes,omitempty"`  // sets that those there cannot serve; none of a set can be left out
	Alone    []int           `json:"alone,omitempty"`    // changes that go without help, the least harm
	Hopeless []int           `json:"hopeless,omitempty"` // changes that do not fit even with two dressers
	// Harm counts what goes without help: ten for each second late, one for
	// each change, 50 more for a young child. At least HarmBound of it cannot
	// be helped.
	Harm      int          `json:"harm"`
	HarmBound int          `json:"harm_bound"`
	Reasons   []why.Reason `json:"reasons,omitempty"`
}

// Shown is why fewer dressers do not suffice.
//
// Kind clash: no dresser can do two of the changes. Kind energy: so much of
// the changes' work cannot lie outside the spans that this many are wanted
// inside. Kind search: every order was tried. Kind cannot: these are too many
// for those there, and none of them can be left out of the set.
type Shown struct {
	Kind    string   `json:"kind"`
	Changes []int    `json:"changes"`
	Spans   [][2]int `json:"spans,omitempty"` // seconds from curtain up
	Needs   int      `json:"needs"`           // dressers wanted at least
	// Smallest says that every set of fewer changes there was tried and can be
	// served.
	Smallest bool       `json:"smallest,omitempty"`
	Why      why.Reason `json:"why"`
}

// Beneath is one piece that could be on underneath and so save seconds of a
// change.
type Beneath struct {
	Piece   show.PieceID `json:"piece"`
	When    string       `json:"when"` // already: on under the look before; stays: on under the look after
	Saves   int          `json:"saves"`
	Verdict why.Verdict  `json:"verdict"` // yes; not known: ask; no
}

// Hidden is one piece worn underneath a look, from one scene to another.
type Hidden struct {
	Performer show.PerformerID `json:"performer"`
	Piece     show.PieceID     `json:"piece"`
	Look      show.LookID      `json:"look"` // the look it is under
	From      show.SceneID     `json:"from"`
	To        show.SceneID     `json:"to"`
	Begins    time.Duration    `json:"begins_ns"`
	Ends      time.Duration    `json:"ends_ns"`
	Verdict   why.Verdict      `json:"verdict"` // yes, or not known: to be asked in the fitting
}

// Under is the best set of pieces to wear underneath, for the whole show.
type Under struct {
	Hidden  []Hidden      `json:"hidden,omitempty"` // by performer, then time
	Wanted  map[int]int   `json:"wanted,omitempty"` // of each change that becomes another: seconds with one dresser
	Saves   int           `json:"saves"`            // dresser seconds in fast changes
	Short   int           `json:"short"`            // changes too short, with it
	Least   int           `json:"least"`            // dressers that suffice, with it
	Alone   int           `json:"alone"`            // changes that go without help, with it and those there
	Bound   int           `json:"bound"`
	Outcome solve.Outcome `json:"outcome"`
}

// Stand is how the show stands, for comparing.
type Stand struct {
	Short    int `json:"short"`     // changes too short
	LateBy   int `json:"late_by"`   // seconds they lack in all
	Alone    int `json:"alone"`     // changes nobody is free for
	Harm     int `json:"harm"`      // see Dressers
	Least    int `json:"least"`     // dressers that suffice
	Crossing int `json:"crossing"`  // fast changes that cross
	FastWork int `json:"fast_work"` // dresser seconds in fast changes
}

// Favour is something to ask of the director, and what it would repair; both
// stands are worked out, not guessed.
type Favour struct {
	Kind    string             `json:"kind"` // side, later, keep
	Who     []show.PerformerID `json:"who"`
	From    show.SceneID       `json:"from"`
	To      show.SceneID       `json:"to"`
	Look    show.LookID        `json:"look,omitempty"`    // to be kept on
	Seconds int                `json:"seconds,omitempty"` // later by
	Before  Stand              `json:"before"`
	After   Stand              `json:"after"`
	Why     why.Reason         `json:"why"`
}

// Away is who could step into a role in its clothes when its performer is
// away, the best first.
type Away struct {
	Role show.RoleID `json:"role"`
	Ins  []StepIn    `json:"step_ins"`
}

// StepIn is one performer in the place of another.
type StepIn struct {
	Performer show.PerformerID `json:"performer"`
	Cover     bool             `json:"cover"`   // cast as the cover
	Minutes   int              `json:"minutes"` // of work on the clothes
	Not       []show.PieceID   `json:"not,omitempty"`
	Open      []show.PieceID   `json:"open,omitempty"` // not known for want of a number
	Twice     int              `json:"twice"`          // times in two places at once
	Short     int              `json:"short"`          // more changes too short than before
	Why       []why.Reason     `json:"why"`
}

// Travel is a piece that comes off on one side and is wanted next on the
// other: somebody must carry it.
type Travel struct {
	Piece   show.PieceID  `json:"piece"`
	Off     int           `json:"off"` // change in which it comes off
	On      int           `json:"on"`  // change in which it goes on again
	Dropped time.Duration `json:"dropped_ns"`
	Wanted  time.Duration `json:"wanted_ns"`
	Why     why.Reason    `json:"why"`
}
