package web

import (
	"net/http"
	"strings"

	"hemwright/internal/face/sheet"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// scarceView is what is short in the whole show, and what the pins cost.
type scarceView struct {
	Asked  bool // it was worked out; else the page offers to
	Short  []weighedView
	Enough string // what holds nothing back
	Pins   []weighedView
}

// weighedView is another plan held against the one in hand.
type weighedView struct {
	ID, Head, Says, ToWin string
	Moves                 []moveView
	Why                   []why.Reason
}

type moveView struct{ ID, Name, Now, Was string }

func (s *server) shortOf(r *http.Request, p *workshop.Prepared) (scarceView, error) {
	var v scarceView
	if r.FormValue("short") == "" || len(p.Plan.Choices) == 0 {
		return v, nil
	}
	x, err := s.ws.Short(r.Context())
	if err != nil {
		return v, err
	}
	v.Asked = true
	var enough []string
	for _, q := range x.Scarce {
		head := sheet.MoreOf(&p.House, p.Workroom.Offers, q)
		if !q.Short {
			enough = append(enough, head)
			continue
		}
		v.Short = append(v.Short, weighedView{Head: head, Says: why.Capital(sheet.TakesMore(q.Buys)) + ".", Moves: movesOf(p, q.Buys.Moves), Why: q.Why})
	}
	if len(enough) > 0 {
		v.Enough = strings.Join(enough, "; ")
	}
	for _, q := range x.Pins {
		v.Pins = append(v.Pins, weighedView{ID: string(q.Piece), Head: sheet.PinWords(&p.House, q),
			Says: sheet.PinCosts(q), Moves: movesOf(p, q.Without.Moves), Why: q.Why})
	}
	return v, nil
}

func movesOf(p *workshop.Prepared, moves []answer.Move) []moveView {
	var out []moveView
	for _, m := range moves {
		out = append(out, moveView{string(m.Piece), sheet.PieceWords(&p.House, m.Piece), sheet.TakenWords(m.Now), sheet.TakenWords(m.Was)})
	}
	return out
}

// insteadOf is what the next options of a piece would cost the whole plan;
// nothing until it is asked for.
func (s *server) insteadOf(r *http.Request, p *workshop.Prepared, id show.PieceID) ([]weighedView, error) {
	if r.FormValue("instead") == "" {
		return nil, nil
	}
	xs, err := s.ws.Instead(r.Context(), id)
	if err != nil {
		return nil, err
	}
	var out []weighedView
	if pin, pinned, err := s.ws.PinCost(r.Context(), id); err != nil {
		return nil, err
	} else if pinned {
		head := "Without the pin"
		if pin.Held != "" {
			head = "Free to move"
		}
		out = append(out, weighedView{Head: head, Says: sheet.PinCosts(pin), Moves: movesOf(p, pin.Without.Moves), Why: pin.Why})
	}
	for _, x := range xs {
		v := weighedView{Head: why.Capital(sheet.TakenWords(x.Option.Taken())), ToWin: sheet.ToWin(p.House.Show.Currency, x), Why: x.Why}
		if !x.Never {
			v.Says = why.Capital(sheet.TakesMore(x.Whole)) + "."
			v.Moves = movesOf(p, sheet.OtherMoves(x.Whole, id))
		}
		out = append(out, v)
	}
	return out, nil
}
