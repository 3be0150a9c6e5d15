package web

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"hemwright/internal/face/file"
	"hemwright/internal/plan/cutting"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// clothPiece is a piece a cloth could be asked to do for.
type clothPiece struct {
	ID, Name, Who, Thumb string
	Asked                bool
}

// clothSet is pieces of a set, or of none, that a cloth's colour suits.
type clothSet struct {
	Name   string
	Pieces []clothPiece
}

// mendView is a change after which the cloth does.
type mendView struct {
	Says, Seen, Left string
	Drawing          template.HTML
}

// seenWords are what the house sees of a change.
var seenWords = []string{"nobody sees it", "hardly seen", "seen close by", "seen as less swing", "seen from the hall", "another colour or cloth"}

// cloth is one cloth with its lay, and whether it does for what one asks.
func (s *server) cloth(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	h := &p.House
	c := h.Cloth(show.ClothID(r.PathValue("id")))
	if c == nil {
		return why.NotFound("cloth", r.PathValue("id"))
	}
	view := struct {
		Frame
		clothView
		Edit              string
		Asked             bool
		Answer            string
		Because           []string
		Lay               template.HTML
		Changes           []mendView
		Sets              []clothSet
		None, Width, Long string
		Known             string // how its outline is known, in pencil
		Photo             bool
	}{Edit: "/edit/cloth/" + string(c.ID), clothView: clothOf(p, c, p.LayOf(c.ID))}
	view.Frame = s.frame(p, string(c.ID)+" "+c.Name, "/shelf", []string{c.Colour})
	view.Width, view.Long = lengthWords(h.Units, c.Width), lengthWords(h.Units, c.Length)
	if o := h.Origin("cloth", string(c.ID), "outline"); o != nil {
		view.Known = o.Rule
	}
	photo, err := s.ws.ClothPhoto(c.ID)
	if err != nil {
		return err
	}
	view.Photo = photo != nil
	asked := askedPieces(r.URL.Query()["piece"])
	view.Sets = clothSets(p, c, asked)
	if len(asked) > 0 {
		out, err := s.ws.ClothDoes(r.Context(), c.ID, asked)
		if err != nil {
			return err
		}
		view.Asked = true
		view.Lay = drawCloth(h, c, out.Lay)
		for i, x := range out.Verdict.Reasons {
			if i == 0 {
				view.Answer = x.Sentence(h.Units)
				continue
			}
			view.Because = append(view.Because, x.Sentence(h.Units))
		}
		var none []string
		for _, id := range out.None {
			none = append(none, string(id)+" "+pieceName(h, id))
		}
		view.None = why.And(none)
		for i, x := range out.Changes {
			if i == 4 {
				break
			}
			view.Changes = append(view.Changes, mendView{strings.Join(x.Says, "; "), seenWords[min(x.Seen, len(seenWords)-1)], lengthWords(h.Units, x.Left), drawCloth(h, c, x.Lay)})
		}
		if view.Answer == "" {
			view.Answer = "Nothing of that is drafted, so no cloth can be reckoned."
		}
	}
	return s.show(w, http.StatusOK, "cloth", view)
}

// layLines are a cloth with its flaws and its lay as a drawing at true size.
func layLines(c *show.Cloth, lay answer.Lay) []file.Line {
	out := []file.Line{{Layer: "CLOTH", Outline: cutting.Outline(c)}}
	for _, f := range c.Flaws {
		out = append(out, file.Line{Layer: "FLAWS", Outline: cutting.FlawOutline(f)})
	}
	for _, l := range lay.Placed {
		out = append(out, file.Line{Layer: "PARTS", Name: string(l.Piece) + " " + l.Part, Outline: l.Outline})
	}
	return out
}

// layFile is the lay of a cloth as a drawing of its own: SVG or DXF.
func (s *server) layFile(w http.ResponseWriter, r *http.Request) error {
	p, err := s.ws.Prepared(r.Context())
	if err != nil {
		return err
	}
	c := p.House.Cloth(show.ClothID(r.PathValue("id")))
	if c == nil {
		return why.NotFound("cloth", r.PathValue("id"))
	}
	lay := answer.Lay{}
	if l := p.LayOf(c.ID); l != nil {
		lay = *l
	}
	write, kind, name := file.SVG, "image/svg+xml", "lay.svg"
	switch r.PathValue("file") {
	case "lay.svg":
	case "lay.dxf":
		write, kind, name = file.DXF, "image/vnd.dxf", "lay.dxf"
	default:
		return why.NotFound("drawing", r.PathValue("file"))
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+string(c.ID)+"-"+name+`"`)
	return write(w, string(c.ID)+" "+c.Name, layLines(c, lay))
}

// longer lays a cloth again with more effort, and shows the two beside one
// another. It gives up after a minute, or when the page is left, with the best
// so far.
func (s *server) longer(w http.ResponseWriter, r *http.Request) error {
	ctx, stop := context.WithTimeout(r.Context(), time.Minute)
	defer stop()
	id := show.ClothID(r.PathValue("id"))
	was, now, err := s.ws.Longer(ctx, id)
	if err != nil {
		return err
	}
	p, _, err := s.ws.Glance()
	if err != nil {
		return err
	}
	h := &p.House
	c := h.Cloth(id)
	view := struct {
		Frame
		ID, Name, Says, Was, Now string
		Before, After            template.HTML
	}{ID: string(id), Name: c.Name, Was: lengthWords(h.Units, was.Used), Now: lengthWords(h.Units, now.Used), Before: drawCloth(h, c, was), After: drawCloth(h, c, now)}
	view.Frame = s.frame(p, string(id)+" laid longer", "/shelf", []string{c.Colour})
	switch {
	case len(now.Missing) < len(was.Missing):
		view.Says = fmt.Sprintf("%d parts that had no place have one now. This lay is kept.", len(was.Missing)-len(now.Missing))
	case now.Used < was.Used:
		view.Says = fmt.Sprintf("Shorter by %s. This lay is kept.", lengthWords(h.Units, was.Used-now.Used))
	default:
		view.Says = "Nothing shorter was found, which proves nothing."
	}
	return s.show(w, http.StatusOK, "longer", view)
}

// cutOff makes a cloth of its own of what is left.
func (s *server) cutOff(w http.ResponseWriter, r *http.Request) error {
	made, err := s.ws.CutOff(r.Context(), show.ClothID(r.PathValue("id")))
	if err != nil {
		return err
	}
	return back(w, r, "/shelf/"+url.PathEscape(string(made[0])))
}

// askedPieces reads the codes asked about, each once.
func askedPieces(codes []string) []show.PieceID {
	var out []show.PieceID
	for _, code := range codes {
		for _, x := range strings.FieldsFunc(code, func(r rune) bool { return r == ' ' || r == ',' }) {
			if id := show.PieceID(strings.ToUpper(x)); !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

// clothSets are the pieces that could be made of a cloth: of its colour, or of
// a set that has it, and those planned from it; by set.
func clothSets(p *workshop.Prepared, c *show.Cloth, asked []show.PieceID) []clothSet {
	h := &p.House
	thumb := map[show.PieceID]answer.ClothWant{}
	for _, e := range p.Estimates {
		for _, x := range e.Cloths {
			if x.Cloth == c.ID {
				thumb[e.Piece] = x
			}
		}
	}
	var out []clothSet
	at := map[show.SetID]int{}
	for i := range h.Pieces {
		q := &h.Pieces[i]
		x, drafted := thumb[q.ID]
		set := h.Set(q.Set)
		choice := p.Choice(q.ID)
		mine := choice != nil && choice.Cloth == c.ID
		if !mine && (!drafted || !h.MayBe(q, c.Colour)) {
			continue
		}
		row := clothPiece{ID: string(q.ID), Name: q.Name, Asked: slices.Contains(asked, q.ID), Who: wearers(h, q)}
		if x.Length > 0 {
			row.Thumb = lengthWords(h.Units, x.Length)
		}
		k, ok := at[q.Set]
		if !ok {
			k = len(out)
			at[q.Set] = k
			name := "single pieces"
			if set != nil {
				name = set.Name
			}
			out = append(out, clothSet{Name: name})
		}
		out[k].Pieces = append(out[k].Pieces, row)
	}
	return out
}
