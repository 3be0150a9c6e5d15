package store

import "hemwright/internal/show/show"

// tables are all tables a house is kept in, in an order in which each row is
// there before the rows that complete it.
var tables = known(
	garmentTable, clothTable, notionTable, helperTable, colourTable,
	performerTable, roleTable, castingTable, sceneTable, lookTable, appearanceTable,
	setTable, pieceTable, pieceLooks, setPieces, headwearTable, headwearPieces, micTable, backdropTable,
	findTable, entryTable, performanceTable, budgetTable, receiptTable, loanTable, kitTable, kitPieces,
	noteTable, askTable, pinTable, doneTable, rehearsedTable, loggedTable, handLaidTable, letDownTable, decisionTable,
	originTable, newUnread("unread", ofShow), newTyped("typed", ofHouse, func(h *show.House) *[]show.Typed { return &h.Typed }),
	personTable, personCare, personNotBy, measures{}, feetTable, newUnread("person_unread", ofPeople),
	newTyped("person_typed", ofPeople, func(h *show.House) *[]show.Typed { return &h.PeopleTyped }),
)

// known works out every table's columns once.
func known(all ...table) []table {
	for _, t := range all {
		t.spec()
	}
	return all
}
