package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// handPart is one copy of a part in the lay one makes by hand.
type handPart struct {
	N                 int
	Piece, Part       string
	Mirror            bool
	Points            string // its outline before it is turned, from the top left of its box, in mm
	X, Y              string // where the box lies, as typed
	Turn              int
	Turns             []int
	Pinned, OffCloth  bool
	Across, AlongSays string
}

// handView is the page of a lay by hand.
type handView struct {
	Frame
	ID, Name, Unit, Fault string
	View                  string // the box of the drawing, in mm
	Factor                string // mm in one of the unit
	Edge                  string
	Flaws                 []string
	Parts                 []handPart
}

// byHand shows the lay of a cloth to be moved about.
func (s *server) byHand(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	v, err := s.handPage(p, show.ClothID(r.PathValue("id")))
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "byhand", v)
}

func (s *server) handPage(p *workshop.Prepared, id show.ClothID) (*handView, error) {
	h := &p.House
	c := h.Cloth(id)
	if c == nil {
		return nil, why.NotFound("cloth", string(id))
	}
	v := &handView{ID: string(id), Name: c.Name, Unit: h.Units.Unit(), Edge: inMMs(cutting.Outline(c)), Factor: inMM(h.Units.One())}
	v.Frame = s.frame(p, string(id)+" by hand", "/shelf", []string{c.Colour})
	for _, f := range c.Flaws {
		v.Flaws = append(v.Flaws, inMMs(cutting.FlawOutline(f)))
	}
	lay := p.LayOf(id)
	if lay == nil {
		return v, nil
	}
	for _, q := range lay.Placed {
		v.Parts = append(v.Parts, handPartOf(p, c, q, len(v.Parts), false))
	}
	room := c.Width + 4*units.Centimetre
	if len(lay.Missing) > 0 {
		room += 120 * units.Centimetre
	}
	v.View = "-20 -20 " + inMM(room) + " " + inMM(c.Length+4*units.Centimetre)
	for _, q := range lay.Missing {
		v.Parts = append(v.Parts, handPartOf(p, c, q, len(v.Parts), true))
	}
	return v, nil
}

// handPartOf is a part as it lies, or beside the cloth where it has no place.
func handPartOf(p *workshop.Prepared, c *show.Cloth, q answer.Laid, n int, off bool) handPart {
	h := &p.House
	part := handPart{N: n, Piece: string(q.Piece), Part: q.Part, Mirror: q.Mirror, Turn: q.Turn, OffCloth: off}
	at := geom.Point{X: c.Width + 5*units.Centimetre}
	for _, d := range p.Cutting.Drafts {
		for _, x := range d.Parts {
			if d.Piece != q.Piece || x.Name != q.Part {
				continue
			}
			o := cutting.Facing(x, q.Mirror)
			box := o.Box()
			part.Points = inMMs(o.Move(geom.Point{}.Minus(box.Min)))
			part.Turns = cutting.Turns(c, x)
			part.Across, part.AlongSays = lengthWords(h.Units, box.Width()), lengthWords(h.Units, box.Height())
		}
	}
	if !off {
		at = q.Outline.Box().Min
	}
	part.X, part.Y = exactly(h.Units, at.X), exactly(h.Units, at.Y)
	part.Pinned = slices.ContainsFunc(h.HandLaid, func(l show.HandLaid) bool {
		return l.Cloth == c.ID && l.Piece == q.Piece && l.Part == q.Part && l.X == at.X && l.Y == at.Y
	})
	return part
}

// exactly is a length in the unit of the house with all its decimals: a part
// pinned where it lies must not move.
func exactly(sys units.System, l units.Length) string {
	return strconv.FormatFloat(float64(l)/float64(sys.One()), 'f', -1, 64)
}

func inMM(l units.Length) string { return strconv.FormatFloat(float64(l)/1000, 'f', -1, 64) }

func inMMs(o geom.Outline) string {
	var out []string
	for _, q := range o {
		out = append(out, inMM(q.X)+","+inMM(q.Y))
	}
	return strings.Join(out, " ")
}

// putByHand keeps the parts that are pinned where they lie.
func (s *server) putByHand(w http.ResponseWriter, r *http.Request) error {
	id := show.ClothID(r.PathValue("id"))
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	v, err := s.handPage(p, id)
	if err != nil {
		return err
	}
	laid, err := typedByHand(r, p.House.Units, v, id)
	if err == nil {
		err = s.ws.PutByHand(r.Context(), id, laid)
	}
	var e *why.Error
	if errors.As(err, &e) && e.Kind != why.Missing {
		v.Fault = e.Error()
		return s.show(w, e.Kind.HTTPStatus(), "byhand", v)
	}
	if err != nil {
		return err
	}
	return back(w, r, "/shelf/"+string(id)+"/by-hand")
}

// typedByHand reads the form into the page, so that what was typed stays.
func typedByHand(r *http.Request, sys units.System, v *handView, id show.ClothID) ([]show.HandLaid, error) {
	var out []show.HandLaid
	var first error
	for i := range v.Parts {
		q := &v.Parts[i]
		n := strconv.Itoa(q.N)
		q.X, q.Y, q.Pinned = r.FormValue("x"+n), r.FormValue("y"+n), r.FormValue("pin"+n) != ""
		q.Turn, _ = strconv.Atoi(r.FormValue("turn" + n))
		if !q.Pinned {
			continue
		}
		x, err := units.ParseLength(q.X, sys.One())
		y, err2 := units.ParseLength(q.Y, sys.One())
		if err != nil || err2 != nil {
			if first == nil {
				first = why.Bad("lay", fmt.Sprintf("%q and %q do not say where %s %s lies.", q.X, q.Y, q.Piece, q.Part), "Write two lengths, from the left and from the top.")
			}
			continue
		}
		out = append(out, show.HandLaid{Cloth: id, Piece: show.PieceID(q.Piece), Part: q.Part, Turn: q.Turn, Mirror: q.Mirror, X: x, Y: y})
	}
	return out, first
}
