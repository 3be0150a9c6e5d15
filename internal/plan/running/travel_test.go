package running

import (
	"testing"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
)

// By hand: a coat comes off left at 1:40, goes on again right when its wearer
// leaves at 5:00: 200 s to carry it. The same side, an unknown side, and a
// piece that never comes off say nothing.
func TestTravels(t *testing.T) {
	at := func(s int) time.Duration { return time.Duration(s) * time.Second }
	changes := []answer.Change{
		{Performer: "P1", FromSide: "L", Leaves: at(60), Enters: at(100), ToScene: "S2", Off: []show.PieceID{"coat", "hat", "belt"}},
		{Performer: "P1", FromSide: "R", Leaves: at(300), Enters: at(400), ToScene: "S4", On: []show.PieceID{"coat", "shawl"}},
		{Performer: "P1", FromSide: "L", Leaves: at(500), Enters: at(600), ToScene: "S5", On: []show.PieceID{"hat"}},
		{Performer: "P1", FromSide: "", Leaves: at(700), Enters: at(800), ToScene: "S6", On: []show.PieceID{"belt"}},
	}
	got := travels(changes)
	if len(got) != 1 || got[0].Piece != "coat" || got[0].Off != 0 || got[0].On != 1 || got[0].Wanted-got[0].Dropped != at(200) {
		t.Errorf("%+v", got)
	}
}
