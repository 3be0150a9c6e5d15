package workshop

import (
	"context"

	"hemwright/internal/craft/fit"
	"hemwright/internal/craft/remake"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
)

// CutUp is what a garment, or household linen from the shelf, gives when it is
// cut up, and whether it may be.
type CutUp struct {
	Code    string         `json:"code"`
	Name    string         `json:"name"`
	Colour  string         `json:"colour"`
	Fibre   string         `json:"fibre"`
	Place   string         `json:"place"`
	Known   bool           `json:"known"` // the table has a row for it
	Harvest answer.Harvest `json:"harvest"`
	May     why.Verdict    `json:"may"`
}

// CutUp says what a garment, find or household linen gives when it is cut up.
func (w *Workshop) CutUp(ctx context.Context, code string) (CutUp, error) {
	p, err := w.Prepared(ctx)
	if err != nil {
		return CutUp{}, err
	}
	return CutUpOf(p, code)
}

// CutUpOf is CutUp for what is prepared already.
func CutUpOf(p *Prepared, code string) (CutUp, error) {
	if g := p.House.Garment(show.GarmentID(code)); g != nil {
		out := CutUp{Code: code, Name: g.Name, Colour: g.Colour, Fibre: g.Fibre, Place: g.Place, May: remake.MayCut(&p.House, g, wholeUse(p, g))}
		out.Harvest, out.Known = remake.Harvest(g)
		return out, nil
	}
	c := p.House.Cloth(show.ClothID(code))
	if c == nil {
		return CutUp{}, why.NotFound("garment or cloth", code)
	}
	out := CutUp{Code: code, Name: c.Name, Colour: c.Colour, Fibre: c.Fibre, Place: "shelf", May: why.Verdict{Grade: why.Yes}}
	out.Harvest, out.Known = remake.Linen(c)
	return out, nil
}

// wholeUse holds a garment against every piece of its kind, in whatever
// colour, that does not have a garment to itself yet, and looks where the plan
// has it.
func wholeUse(p *Prepared, g *show.Garment) remake.Whole {
	out := remake.Whole{Looked: len(p.House.Pieces) > 0}
	for i := range p.House.Pieces {
		q := &p.House.Pieces[i]
		c := p.Choice(q.ID)
		switch {
		case c != nil && c.Garment == g.ID:
			if !c.Cuts {
				out.Planned = append(out.Planned, q.ID)
			}
		case c != nil && c.Garment != "" && c.Source != answer.Buy:
		case q.Category == g.Category && show.Noun(q.Name) == show.Noun(g.Name) && goes(fit.Judge(fit.Wanted(&p.House, q), *g)):
			out.Serves = append(out.Serves, q.ID)
		}
	}
	return out
}
