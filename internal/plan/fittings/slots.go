package fittings

import (
	_ "embed" // the table

	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

//go:embed slots.txt
var slotsText string

var shipped = rows.Shipped("slots", "how long fittings take, and how many at once", slotsText, readSlots)

// slots are what a fitting takes.
type slots struct {
	crowd, named units.Minutes
	stations     int
	emptyOne     int // one place in so many is left empty
}

// Text is what the slots are read from.
var Text = shipped.Text

func readSlots(text string) (slots, error) {
	var s slots
	var crowd, named int
	err := rows.Numbers("slots", text, 240, map[string]*int{"crowd": &crowd, "named part": &named, "stations": &s.stations, "one empty in": &s.emptyOne})
	s.crowd, s.named = units.Minutes(crowd), units.Minutes(named)
	if err == nil && (crowd == 0 || named == 0 || s.stations == 0 || s.emptyOne < 2) {
		err = why.Bad("slots", "A fitting takes minutes and a station, and one place in 2 or more is left empty.", "Write numbers of 1 or more, and of 2 or more for the empty one.")
	}
	return s, err
}
