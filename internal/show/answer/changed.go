package answer

import "time"

// Changed is what differs from what it was after an act: for a sheet printed
// then, everything that may stand on it otherwise now.
type Changed struct {
	Since int64          `json:"since"` // the number of the act, 0 the beginning
	Now   int64          `json:"now"`   // the latest act
	Lines []ChangedThing `json:"lines"`
	Final []ChangedThing `json:"erased,omitempty"` // erasings, which leave no row to compare
}

// ChangedThing is one thing that is not as it was, in words. It never holds a
// measure of a body.
type ChangedThing struct {
	Code string    `json:"code"`
	Name string    `json:"name"`
	What string    `json:"what"`
	Act  int64     `json:"act"`
	Deed string    `json:"deed"` // what was done, in the words of the act
	When time.Time `json:"when"`
	Page string    `json:"page"` // where it is looked at, or empty
}
