package workroom

import (
	"testing"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
)

// from: by hand: seams of 50 minutes out again in 20, a hem of 30 in 12, 8 to
// press: 40. What is ours is not put back.
func TestWhatIsBorrowedGoesBack(t *testing.T) {
	work := []answer.Alteration{{Op: "take in the side seams", Where: "chest", Minutes: 50}, {Op: "take in the side seams", Where: "waist"},
		{Op: "hem up by machine", Where: "length", Minutes: 30}, {Op: "label and press", Where: "all over", Minutes: 8}}
	h := &show.House{
		Garments: []show.Garment{{ID: "S1"}, {ID: "S2", Owner: "own"}, {ID: "S3", Owner: "the club", ReturnBy: 900}},
		Loans:    []show.Loan{{Whom: "the band", Garment: "S1", Due: 800}, {Whom: "a school", Garment: "S2", Out: true}},
	}
	choice := func(p show.PieceID, g show.GarmentID) answer.Choice {
		return answer.Choice{Option: answer.Option{Piece: p, Garment: g, Alterations: work}}
	}
	got := putBack(h, answer.Plan{Choices: []answer.Choice{choice("C3", "S3"), choice("C1", "S1"), choice("C2", "S2")}})
	if len(got) != 2 || got[0].Garment != "S1" || got[0].To != "the band" || got[0].Due != 800 || got[1].Garment != "S3" || got[1].To != "the club" {
		t.Fatalf("%+v", got)
	}
	if got[0].Minutes != 40 || len(got[0].Do) != 2 || got[0].Do[1] != "hem up by machine" {
		t.Errorf("%+v", got[0])
	}
}
