package web

import (
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"
	"strconv"
	"strings"

	"hemwright/internal/engine/trace"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/why"
	"hemwright/internal/workshop"
)

// mostPicture is the largest picture of a cloth that is taken, in bytes.
const mostPicture = 16 << 20

// tracing is a picture in which a cloth is being measured: the last one that
// was brought, on no disc.
type tracing struct {
	cloth   show.ClothID
	picture *workshop.ClothPicture
	ask     trace.Ask
	found   trace.Found
	done    bool   // found holds what was traced
	flaws   string // boxes drawn, as their corners are written
	n       int    // counts the pictures
}

// outlineView is the page of the ways to give a cloth an outline.
type outlineView struct {
	Frame
	ID, Name, Size, Hex, Colour string
	Sold                        []string
	Typed                       map[string]string
	Faults                      map[string]string
}

func (s *server) outline(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	v, err := s.outlinePage(p, r.PathValue("id"))
	if err != nil {
		return err
	}
	return s.show(w, http.StatusOK, "outline", v)
}

func (s *server) outlinePage(p *workshop.Prepared, id string) (outlineView, error) {
	c := p.House.Cloth(show.ClothID(id))
	if c == nil {
		return outlineView{}, why.NotFound("cloth", id)
	}
	v := outlineView{ID: id, Name: c.Name, Colour: c.Colour, Hex: hexOf(&p.House, c.Colour), Sold: intake.Sold(), Typed: map[string]string{}, Faults: map[string]string{}}
	v.Size = lengthWords(p.House.Units, c.Width) + " wide, " + lengthWords(p.House.Units, c.Length) + " long"
	v.Frame = s.frame(p, "The outline of "+id, "/shelf", []string{c.Colour})
	return v, nil
}

// refuseOutline shows the ways again, what is wrong beside its field and what
// was typed still there.
func (s *server) refuseOutline(w http.ResponseWriter, r *http.Request, err error) error {
	var e *why.Error
	if !errors.As(err, &e) || e.Kind != why.Invalid {
		return err
	}
	p, perr := s.ws.Running()
	if perr != nil {
		return perr
	}
	v, perr := s.outlinePage(p, r.PathValue("id"))
	if perr != nil {
		return perr
	}
	for _, k := range []string{"sides", "across", "check", "turns", "sold"} {
		v.Typed[k] = r.FormValue(k)
	}
	v.Faults[e.Field] = e.Error()
	return s.show(w, http.StatusUnprocessableEntity, "outline", v)
}

// bringPicture takes a picture of a cloth and shows it.
func (s *server) bringPicture(w http.ResponseWriter, r *http.Request) error {
	id := show.ClothID(r.PathValue("id"))
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	if p.House.Cloth(id) == nil {
		return why.NotFound("cloth", string(id))
	}
	raw, err := pictureOf(r)
	if err != nil {
		return s.refuseOutline(w, r, err)
	}
	picture, err := workshop.ReadClothPicture(raw)
	if err != nil {
		return s.refuseOutline(w, r, err)
	}
	size := picture.Picture.Rect
	ask := trace.Ask{Picture: picture.Picture, Sheet: sheetNamed(r.FormValue("sheet")), Corners: picture.Corners}
	ask.Cloth = []trace.Spot{{X: float64(size.Dx()) / 2, Y: float64(size.Dy()) / 2}}
	s.mu.Lock()
	s.tracing = tracing{cloth: id, picture: picture, ask: ask, n: s.tracing.n + 1}
	s.mu.Unlock()
	return back(w, r, "/shelf/"+string(id)+"/outline/trace")
}

// pictureOf is the file of a form.
func pictureOf(r *http.Request) ([]byte, error) {
	var tooLarge *http.MaxBytesError
	large := why.Bad("picture", "The picture is larger than 16 MB.", "Save it smaller; 3,000 pixels across are plenty.")
	if err := r.ParseMultipartForm(mostPicture); err != nil {
		if errors.As(err, &tooLarge) {
			return nil, large
		}
		return nil, why.Bad("picture", "The picture did not arrive whole.", "Send it again.")
	}
	f, _, err := r.FormFile("picture")
	if err != nil {
		return nil, why.Bad("picture", "No picture was chosen.", "Choose one, or take it now.")
	}
	defer f.Close()
	raw, err := io.ReadAll(io.LimitReader(f, mostPicture+1))
	if err != nil {
		return nil, why.Bad("picture", "The picture did not arrive whole.", "Send it again.")
	}
	if len(raw) > mostPicture {
		return nil, large
	}
	return raw, nil
}

func sheetNamed(name string) trace.Sheet {
	for _, s := range trace.Sheets {
		if s.Name == name {
			return s
		}
	}
	return trace.Sheets[0]
}

// handle is a mark on the picture that is moved by pointer or by keys.
type handle struct {
	Key, Label string
	X, Y       string
}

// flawView is a box drawn round a flaw, by two opposite corners.
type flawView struct {
	Key, X, Y, W, H string
	A, B            handle
}

// traceView is a picture with the marks on it.
type traceView struct {
	Frame
	ID, Name, Src   string
	N, W, H         int
	Across, Down    []int // figures along the edge of the picture
	Sheets          []string
	Sheet, Grain    string
	Guessed, Done   bool
	Says            string
	Why             []why.Reason
	Marks, Edge     []handle
	Paper, Line     string // corners for a polygon
	Flaws           bool   // some were written before
	Boxes           []flawView
	Drawn           string // the boxes as written
	Fault, FaultFor string
}

func (s *server) held(id string) (tracing, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.tracing.picture == nil || string(s.tracing.cloth) != id {
		return tracing{}, &why.Error{Kind: why.Missing, What: "There is no picture of " + id + " at hand.", Try: "Bring it again; pictures are not kept."}
	}
	return s.tracing, nil
}

func (s *server) tracePage(w http.ResponseWriter, r *http.Request, p *workshop.Prepared) error {
	t, err := s.held(r.PathValue("id"))
	if err != nil {
		return err
	}
	return s.showTrace(w, p, t, nil)
}

func (s *server) showTrace(w http.ResponseWriter, p *workshop.Prepared, t tracing, fault *why.Error) error {
	c := p.House.Cloth(t.cloth)
	if c == nil {
		return why.NotFound("cloth", string(t.cloth))
	}
	size := t.picture.Picture.Rect
	v := traceView{ID: string(c.ID), Name: c.Name, N: t.n, W: size.Dx(), H: size.Dy(), Guessed: t.picture.Guessed, Done: t.done, Flaws: len(c.Flaws) > 0,
		Src: fmt.Sprintf("/shelf/%s/outline/picture.jpg?n=%d", c.ID, t.n), Sheet: t.ask.Sheet.Name, Grain: strconv.Itoa(int(t.ask.Grain))}
	for x := 100; x < v.W; x += 100 {
		v.Across = append(v.Across, x)
	}
	for y := 100; y < v.H; y += 100 {
		v.Down = append(v.Down, y)
	}
	for _, x := range trace.Sheets {
		v.Sheets = append(v.Sheets, x.Name)
	}
	for i, q := range t.ask.Corners {
		v.Marks = append(v.Marks, markAt(fmt.Sprintf("c%d", i+1), fmt.Sprintf("corner %d of the sheet", i+1), q))
	}
	v.Paper = polygon(t.ask.Corners[:])
	for _, q := range t.ask.Cloth[:1] {
		v.Marks = append(v.Marks, markAt("p", "a place on the cloth", q))
	}
	status := http.StatusOK
	if t.done {
		v.Line = polygon(t.found.Seen)
		for i, q := range t.found.Seen {
			v.Edge = append(v.Edge, markAt(fmt.Sprintf("o%d", i+1), fmt.Sprintf("corner %d of the outline", i+1), q))
		}
		v.Drawn, v.Boxes = t.flaws, flawViews(t.flaws)
		box := t.found.Outline.Box()
		v.Says = fmt.Sprintf("%s wide, %s long, %.2f m².", lengthWords(p.House.Units, box.Width()), lengthWords(p.House.Units, box.Height()), float64(t.found.Outline.Area())/1e12)
		v.Why = t.found.Why
	}
	if fault != nil {
		v.Fault, v.FaultFor, status = fault.Error(), fault.Field, http.StatusUnprocessableEntity
	}
	v.Frame = s.frame(p, "Trace "+string(c.ID), "/shelf", []string{c.Colour})
	return s.show(w, status, "trace", v)
}

func markAt(key, label string, q trace.Spot) handle {
	return handle{key, label, f(q.X), f(q.Y)}
}

// flawViews draws the boxes that can be read.
func flawViews(text string) []flawView {
	var out []flawView
	pairs, _ := flawsOf(text)
	for i, q := range pairs {
		key, label := fmt.Sprintf("f%d", i+1), fmt.Sprintf("flaw %d, corner ", i+1)
		out = append(out, flawView{key, f(min(q[0].X, q[1].X)), f(min(q[0].Y, q[1].Y)), f(math.Abs(q[0].X - q[1].X)), f(math.Abs(q[0].Y - q[1].Y)),
			markAt(key+"a", label+"1", q[0]), markAt(key+"b", label+"2", q[1])})
	}
	return out
}

// flawsOf reads boxes, a line each, by two opposite corners: "120,80 160,95".
func flawsOf(text string) ([][2]trace.Spot, error) {
	var out [][2]trace.Spot
	for _, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		corners, err := drawnOf(line)
		if err != nil || len(corners) != 2 {
			return out, why.Bad("flaws", fmt.Sprintf("%q is no box.", line), "Write two opposite corners in pixels, as 120,80 160,95, a flaw a line.")
		}
		out = append(out, [2]trace.Spot{corners[0], corners[1]})
	}
	if len(out) > 50 {
		return nil, why.Bad("flaws", fmt.Sprintf("%d flaws are more than are told apart.", len(out)), "50 are the most.")
	}
	return out, nil
}

func polygon(s []trace.Spot) string {
	var out []string
	for _, q := range s {
		out = append(out, f(q.X)+","+f(q.Y))
	}
	return strings.Join(out, " ")
}

// tracePicture shows the picture at hand.
func (s *server) tracePicture(w http.ResponseWriter, r *http.Request) error {
	t, err := s.held(r.PathValue("id"))
	if err != nil {
		return err
	}
	return jpegTo(w, t.picture.JPEG)
}

func jpegTo(w http.ResponseWriter, b []byte) error {
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "no-store")
	_, err := w.Write(b)
	return err
}

// traceNow takes the marks and traces.
func (s *server) traceNow(w http.ResponseWriter, r *http.Request) error {
	t, err := s.heldFor(r)
	if err != nil {
		return err
	}
	err = readMarks(r, &t.ask)
	t.done, t.flaws = false, r.FormValue("flaws")
	if err == nil {
		t.found, err = s.ws.TraceCloth(t.ask)
	}
	if err == nil {
		t.done = true
		t.ask.Corners = t.found.Corners
	}
	if kerr := s.hold(t); kerr != nil {
		return kerr
	}
	var e *why.Error
	if err != nil && !errors.As(err, &e) {
		return err
	}
	if e == nil {
		return back(w, r, "/shelf/"+string(t.cloth)+"/outline/trace")
	}
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	return s.showTrace(w, p, t, e)
}

// heldFor is the picture a form was filled in for.
func (s *server) heldFor(r *http.Request) (tracing, error) {
	t, err := s.held(r.PathValue("id"))
	if err == nil && r.FormValue("n") != strconv.Itoa(t.n) {
		err = &why.Error{Kind: why.Conflict, What: "Another picture was brought since this page was opened.", Try: "Open the page of the cloth again."}
	}
	return t, err
}

// hold keeps what was done with the picture at hand, if it still is.
func (s *server) hold(t tracing) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.tracing.n != t.n || s.tracing.picture == nil {
		return &why.Error{Kind: why.Conflict, What: "Another picture was brought meanwhile.", Try: "Open the page of the cloth again."}
	}
	s.tracing = t
	return nil
}

func (s *server) drop() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.tracing = tracing{n: s.tracing.n}
}

// readMarks reads the marks of a form.
func readMarks(r *http.Request, a *trace.Ask) error {
	a.Sheet = sheetNamed(r.FormValue("sheet"))
	grain, err := strconv.Atoi(r.FormValue("grain"))
	if err != nil || grain < 0 || grain > int(trace.ShortEdge) {
		return why.Bad("grain", "Which way the grain runs is not said.", "Choose one of the three.")
	}
	a.Grain = trace.Grain(grain)
	for i := range a.Corners {
		if a.Corners[i], err = spotOf(r, fmt.Sprintf("c%d", i+1), "corners"); err != nil {
			return err
		}
	}
	p, err := spotOf(r, "p", "cloth")
	if err == nil {
		a.Cloth = []trace.Spot{p}
	}
	return err
}

func spotOf(r *http.Request, key, field string) (trace.Spot, error) {
	x, errX := pixel(r.FormValue(key + "x"))
	y, errY := pixel(r.FormValue(key + "y"))
	if errX != nil || errY != nil {
		return trace.Spot{}, why.Bad(field, fmt.Sprintf("%q, %q is no place in the picture.", r.FormValue(key+"x"), r.FormValue(key+"y")), "Write how many pixels from the left and from the top; the figures stand along its edge.")
	}
	return trace.Spot{X: x, Y: y}, nil
}

func pixel(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), 64)
	if err == nil && !(v >= -1e5 && v <= 1e5) {
		err = strconv.ErrRange
	}
	return v, err
}

// keepTrace keeps the outline, as traced or as drawn since.
func (s *server) keepTrace(w http.ResponseWriter, r *http.Request) error {
	t, err := s.heldFor(r)
	if err != nil {
		return err
	}
	if !t.done {
		return why.Bad("outline", "Nothing is traced yet.", "Trace the cloth first.")
	}
	p, err := s.ws.Running()
	if err != nil {
		return err
	}
	found, how := t.found, "traced from a picture"
	drawn, err := drawnOf(r.FormValue("outline"))
	if err == nil && polygon(drawn) != polygon(t.found.Seen) {
		how = "traced from a picture and drawn by hand"
		found, err = s.ws.DrawCloth(t.ask, drawn, max(t.found.Edge, 2))
	}
	t.flaws = strings.ReplaceAll(r.FormValue("flaws"), "\r", "")
	var flaws []show.Flaw
	if err == nil {
		flaws, err = flawsIn(found, t.flaws)
	}
	var e *why.Error
	if errors.As(err, &e) {
		if drawn != nil {
			t.found.Seen = drawn // what was drawn stays
		}
		return s.showTrace(w, p, t, e)
	}
	if err != nil {
		return err
	}
	o := workshop.Outline{Corners: found.Outline, How: how + ", within " + lengthWords(p.House.Units, found.Doubt), Pencil: true, Flaws: flaws}
	if r.FormValue("picture") != "" {
		o.Picture = t.picture.JPEG
	}
	if err := s.ws.KeepOutline(r.Context(), t.cloth, o); err != nil {
		return err
	}
	s.drop()
	return back(w, r, "/shelf/"+string(t.cloth))
}

// flawsIn are the boxes drawn in the picture as they lie on the cloth.
func flawsIn(found trace.Found, text string) ([]show.Flaw, error) {
	pairs, err := flawsOf(text)
	var out []show.Flaw
	for i, q := range pairs {
		box, ok := found.Flaw(q[0], q[1])
		if !ok {
			return nil, why.Bad("flaws", fmt.Sprintf("Flaw %d lies off the cloth, or its corners on one line.", i+1), "Drag its two corners round what is flawed.")
		}
		out = append(out, show.Flaw{X: box.Min.X, Y: box.Min.Y, W: box.Width(), H: box.Height()})
	}
	return out, err
}

// drawnOf reads corners written "x,y x,y".
func drawnOf(text string) ([]trace.Spot, error) {
	var out []trace.Spot
	for _, part := range strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == ';' || c == '\n' || c == '\r' || c == '\t' }) {
		x, y, _ := strings.Cut(part, ",")
		px, errX := pixel(x)
		py, errY := pixel(y)
		if errX != nil || errY != nil {
			return nil, why.Bad("outline", fmt.Sprintf("%q is no corner.", part), "Write each as across,down in pixels, with spaces between.")
		}
		out = append(out, trace.Spot{X: px, Y: py})
	}
	if len(out) > 500 {
		return nil, why.Bad("outline", fmt.Sprintf("An outline of %d corners is too fine to be drawn by hand.", len(out)), "500 are the most.")
	}
	return out, nil
}

func (s *server) leaveTrace(w http.ResponseWriter, r *http.Request) error {
	s.drop()
	return back(w, r, "/shelf/"+r.PathValue("id")+"/outline")
}

// clothPhoto shows the picture kept of a cloth.
func (s *server) clothPhoto(w http.ResponseWriter, r *http.Request) error {
	b, err := s.ws.ClothPhoto(show.ClothID(r.PathValue("id")))
	if err == nil && b == nil {
		err = why.NotFound("picture of", r.PathValue("id"))
	}
	if err != nil {
		return err
	}
	return jpegTo(w, b)
}
