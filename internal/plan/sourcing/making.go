package sourcing

import (
	_ "embed" // the table
	"slices"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

//go:embed making.txt
var makingText string

var shipped = rows.Shipped("making", "how long making takes", makingText, readHours)

// Text is what the hours of making are read from.
var Text = shipped.Text

// making is what it takes to make one kind, at the lead's pace.
type making struct {
	noun    string
	fits    string // only this fit, or any
	minutes units.Minutes
	skill   answer.Skill
	simple  int  // hundredths of the time, made simply; 0 where that saves nothing
	noCloth bool // from ends and notions
}

// hours is the table of making, plain finish; next is the time of a second and
// later copy made in one go, in hundredths of the first.
type hours struct {
	kinds []making
	next  int
}

func readHours(text string) (*hours, error) {
	h := &hours{next: -1}
	for _, r := range rows.Read(text) {
		n, ok := r.Whole(1, 100)
		switch {
		case r.Cells[0] == "next copy" && ok && len(r.Cells) == 3:
			h.next = n
		case r.Cells[0] == "next copy" || !h.kind(r):
			return nil, r.Bad("making", "Write: kind | fit or any | minutes | beginner, straight, maker, tailor or trim | made simply, in 100 | cloth or no cloth | from; or: next copy | in 100 | from.")
		}
	}
	if h.next < 0 || len(h.kinds) == 0 {
		return nil, why.Bad("making", "The line of the next copy is missing, or those of the kinds.", "Take them over from the table that ships.")
	}
	return h, nil
}

func (h *hours) kind(r rows.Row) bool {
	c := r.Cells
	minutes, ok := r.Whole(2, 6000)
	simple, ok2 := r.Whole(4, 100)
	skills := []answer.Skill{answer.Beginner, answer.Straight, answer.Maker, answer.Tailor, answer.Trim}
	if !ok || !ok2 || minutes == 0 || len(c) != 7 || c[0] == "" || !slices.Contains(skills, answer.Skill(c[3])) || c[5] != "cloth" && c[5] != "no cloth" {
		return false
	}
	m := making{c[0], c[1], units.Minutes(minutes), answer.Skill(c[3]), simple, c[5] == "no cloth"}
	if m.fits == "any" {
		m.fits = ""
	}
	h.kinds = append(h.kinds, m)
	return true
}

// of finds the row of the table for a piece.
func (h *hours) of(p *show.Piece) (making, bool) {
	noun := show.Noun(p.Name)
	for _, m := range h.kinds {
		if m.noun == noun && (m.fits == "" || m.fits == p.Fit) {
			return m, true
		}
	}
	return making{}, false
}
