// Package trace measures a cloth from a picture of it, with a sheet of paper
// of known size lying flat on it or beside it.
//
// The four corners of the sheet give the plane they lie in; the cloth is told
// from the ground by colour; its border is followed, laid into the plane and
// simplified from the inside, so that what fits the outline fits the cloth. How
// far off the outline may be is stated with it.
package trace

import (
	"fmt"
	"image"
	"math"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Grain says which way the threads run that hang downwards.
type Grain int

// Grains. The zero value is LongestSide.
const (
	LongestSide Grain = iota // along the longest straight side of the cloth: its selvedge
	LongEdge                 // along the long edge of the sheet
	ShortEdge                // along its short edge
)

// Ask is a picture and what a person showed in it.
type Ask struct {
	Picture *image.RGBA // as Smaller gives it
	Sheet   Sheet
	Corners [4]Spot // of the sheet, in any order
	Cloth   []Spot  // places on the cloth, off the sheet
	Grain   Grain
}

// Found is an outline and how sure it is.
type Found struct {
	Corners  [4]Spot       // of the sheet, to a part of a pixel, clockwise
	Followed bool          // the edges of the sheet could be followed; else the corners are as shown
	Seen     []Spot        // the corners of the outline in the picture
	Outline  geom.Outline  // from the upper left of its box, Y down along the grain
	Paper    [4]geom.Point // the corners of the sheet in the same place
	Doubt    units.Length  // the true border lies within this of the outline
	Contrast float64       // between cloth and ground, in CIELAB with lightness weighed down; 0 for an outline drawn by hand
	Why      []why.Reason
	Edge     float64 // how far off the border may be in the picture, in pixels
}

// The least a side of the sheet may measure in the picture, in pixels, and how
// much in 1000 of the distance from the sheet the lens of a phone may bend: a
// house figure.
const (
	leastSide = 24
	bend      = 3
)

var (
	fromCorners  = why.Basis{Key: "four-corners", Kind: why.Handbook, Title: "R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2004: a plane seen in a picture is known by four of its points"}
	ruleTraced   = why.Declare("trace.doubt", "The true edge lies within {doubt} of this line, if the cloth and the {sheet} lie flat on one floor: {border} for the edge in the picture and the line being simple, the rest for the corners of the sheet and the lens.", fromCorners)
	ruleAsShown  = why.Declare("trace.shown", "The edges of the sheet cannot be followed, so its corners stand where you put them, and the doubt is the larger.", fromCorners)
	ruleFaint    = why.Declare("trace.faint", "The cloth is hardly another colour than the floor: look along the line.", why.House)
	ruleFarSheet = why.Declare("trace.far", "Most of the doubt comes from the sheet being small or far from parts of the cloth: nearer the middle is better, or go closer.", fromCorners)
)

// Trace finds the cloth. Errors name the field: picture, sheet, corners,
// cloth.
func Trace(a Ask) (Found, error) {
	v, err := look(a)
	if err != nil {
		return Found{}, err
	}
	p, err := part(tints(a.Picture), quad(v.seen), a.Cloth)
	if err != nil {
		return Found{}, err
	}
	border, blur := p.follow()
	found, err := v.lay(border, corners(border, 0.9), 0.4+0.25*blur, a.Grain)
	found.Contrast = p.contrast
	if err == nil && p.contrast < 8 {
		found.Why = append(found.Why, ruleFaint.Because(why.Likely))
	}
	return found, err
}

// ByHand is the outline whose corners a person placed in the picture; each may
// be edge pixels off.
func ByHand(a Ask, corners []Spot, edge float64) (Found, error) {
	v, err := look(a)
	if err != nil {
		return Found{}, err
	}
	if len(corners) < 3 {
		return Found{}, why.Bad("outline", fmt.Sprintf("An outline of %d corners has no inside.", len(corners)), "Three are the least.")
	}
	var drawn geom.Outline
	for _, p := range corners {
		if !(p.X >= -1 && p.Y >= -1 && p.X <= float64(v.size.X)+1 && p.Y <= float64(v.size.Y)+1) {
			return Found{}, why.Bad("outline", fmt.Sprintf("A corner of the outline, %.0f across and %.0f down, lies outside the picture.", p.X, p.Y), "Draw it back.")
		}
		drawn = append(drawn, geom.Point{X: units.Length(100 * p.X), Y: units.Length(100 * p.Y)})
	}
	if what := drawn.Fault(); what != "" {
		return Found{}, why.Bad("outline", "The outline "+what+".", "Draw the corners apart.")
	}
	return v.lay(corners, corners, edge, a.Grain)
}

// Flaw is the box on the cloth, its sides with and across the grain, that holds
// what lies between two opposite corners in the picture, and as much more all
// round as the outline may be off; cut at the edge of the outline's own box.
// not ok where it lies off the cloth or has no inside.
func (f Found) Flaw(a, b Spot) (box geom.Box, ok bool) {
	var to [4]Spot
	for i, p := range f.Paper {
		to[i] = Spot{float64(p.X), float64(p.Y)}
	}
	down, ok := through(f.Corners, to)
	if !ok {
		return box, false
	}
	var o geom.Outline
	for _, p := range []Spot{a, {b.X, a.Y}, b, {a.X, b.Y}} {
		if down.depth(p)/down.depth(f.Corners[0]) < 0.05 {
			return box, false
		}
		q := down.of(p)
		o = append(o, geom.Point{X: units.Length(math.Round(q.X)), Y: units.Length(math.Round(q.Y))})
	}
	box, cloth := o.Box(), f.Outline.Box()
	box.Min = geom.Point{X: max(box.Min.X-f.Doubt, cloth.Min.X), Y: max(box.Min.Y-f.Doubt, cloth.Min.Y)}
	box.Max = geom.Point{X: min(box.Max.X+f.Doubt, cloth.Max.X), Y: min(box.Max.Y+f.Doubt, cloth.Max.Y)}
	return box, a.X != b.X && a.Y != b.Y && box.Min.X < box.Max.X && box.Min.Y < box.Max.Y
}

// sight is how the picture looks onto the floor.
type sight struct {
	size        image.Point
	sheet       string
	seen, floor [4]Spot
	down        homography // from the picture to the floor
	off         float64    // of the corners of the sheet, in pixels
	followed    bool
}

func look(a Ask) (*sight, error) {
	if a.Picture == nil || a.Picture.Rect.Dx() < 100 || a.Picture.Rect.Dy() < 100 {
		return nil, why.Bad("picture", "The picture is smaller than 100 by 100 pixels.", "Take a larger one.")
	}
	w, h := a.Picture.Rect.Dx(), a.Picture.Rect.Dy()
	for i, c := range a.Corners {
		if !(c.X >= -1 && c.Y >= -1 && c.X <= float64(w)+1 && c.Y <= float64(h)+1) {
			return nil, why.Bad("corners", fmt.Sprintf("Corner %d of the sheet, %.0f across and %.0f down, lies outside the picture.", i+1, c.X, c.Y), "The whole sheet has to be seen.")
		}
	}
	c, ok := around(a.Corners)
	if !ok {
		return nil, why.Bad("corners", "These are not the four corners of a sheet.", "Put one mark on each corner of the paper.")
	}
	side := math.Inf(1)
	for i := range c {
		side = min(side, c[i].apart(c[(i+1)%4]))
	}
	if side < leastSide {
		return nil, why.Bad("sheet", fmt.Sprintf("The sheet is only %.0f pixels wide in the picture; too small to measure by.", side), "Go nearer, use a larger picture, or lay two sheets and measure the cloth in parts.")
	}
	v := &sight{size: image.Pt(w, h), sheet: a.Sheet.Name}
	c, v.off, v.followed = refine(a.Picture, c)
	if c, ok = around(c); !ok {
		return nil, why.Bad("corners", "These are not the four corners of a sheet.", "Put one mark on each corner of the paper.")
	}
	v.seen, v.floor = lie(c, a.Sheet, w, h)
	if odd := strange(v.seen, v.floor, w, h); odd > 0.25 {
		return nil, why.Bad("corners", fmt.Sprintf("No camera sees a flat sheet of %s like that.", a.Sheet.Name), "Look at the four corners, and which paper it is; the sheet has to lie flat.")
	}
	if v.down, ok = through(v.seen, v.floor); !ok {
		return nil, why.Bad("corners", "Three of the corners lie on one line.", "Put one mark on each corner of the paper.")
	}
	return v, nil
}

// lay lays a border seen in the picture into the plane of the floor; shape is
// the border with few corners.
func (v *sight) lay(border, shape []Spot, edge float64, grain Grain) (Found, error) {
	found := Found{Corners: v.seen, Followed: v.followed, Edge: edge}
	flat := false
	near := v.down.depth(v.seen[0])
	onFloor := func(s []Spot) []Spot {
		out := make([]Spot, len(s))
		for i, p := range s {
			flat = flat || v.down.depth(p)/near < 0.05
			out[i] = v.down.of(p)
		}
		return out
	}
	raw := onFloor(border)
	if flat {
		return found, why.Bad("picture", "The cloth runs too far away in the picture.", "Take it from higher up.")
	}
	o, err := v.simple(onFloor(shape), edge)
	if err != nil {
		return found, err
	}
	axis := v.axis(o, grain)
	up, ok := through(v.floor, v.seen)
	if !ok {
		return found, why.Bad("corners", "Three of the corners lie on one line.", "Put one mark on each corner of the paper.")
	}
	at := make([]Spot, len(o))
	for i, p := range o {
		at[i] = Spot{float64(p.X), float64(p.Y)}
		found.Seen = append(found.Seen, up.of(at[i]))
	}
	found.settle(at, v.floor, axis)
	const rounding = 750 // of both coordinates to whole millimetres, together
	edges := units.Length(edge*v.grit(found.Seen[0])+strays(raw, at)) + rounding
	found.Doubt = units.Length(v.doubt(found.Seen, at, edge)+strays(raw, at)) + rounding
	if what := found.Outline.Fault(); what != "" {
		return found, why.Bad("outline", "The outline "+what+".", "Walk round the cloth corner by corner.")
	}
	if box := found.Outline.Box(); 2*found.Doubt > min(box.Width(), box.Height()) {
		return found, why.Bad("sheet", "The sheet is too small, or too far away, to say how large the cloth is.", "Lay it on the cloth or close to it, go nearer, and take it from higher up.")
	}
	found.Why = []why.Reason{ruleTraced.Because(why.Likely, why.Of("doubt", found.Doubt), why.Of("sheet", v.sheet), why.Of("border", edges))}
	if !v.followed {
		found.Why = append(found.Why, ruleAsShown.Because(why.Likely))
	}
	if found.Doubt > 3*edges {
		found.Why = append(found.Why, ruleFarSheet.Because(why.Likely))
	}
	return found, nil
}

// simple is an outline with few corners inside the one given.
func (v *sight) simple(s []Spot, edge float64) (geom.Outline, error) {
	o := make(geom.Outline, 0, len(s))
	for _, p := range s {
		if math.Abs(p.X) > 1e8 || math.Abs(p.Y) > 1e8 {
			return nil, why.Bad("picture", "The cloth would be more than 100 m long.", "Look at the corners of the sheet.")
		}
		o = append(o, geom.Point{X: units.Length(math.Round(p.X)), Y: units.Length(math.Round(p.Y))})
	}
	if o.Fault() != "" {
		var best geom.Outline
		for _, q := range geom.Fill(o) {
			if q.Twice() > best.Twice() {
				best = q
			}
		}
		if best == nil {
			return nil, why.Bad("outline", "The outline has no inside.", "Walk round the cloth corner by corner.")
		}
		o = best
	}
	round := 0.0
	for i := range s {
		round += s[i].apart(s[(i+1)%len(s)])
	}
	slack := round * 0.2 * edge * v.grit(v.seen[0])
	out := geom.Shrink(o, units.Area(slack))
	for len(out) > 60 && slack > 0 && slack < float64(o.Area())/100 {
		slack *= 1.5
		out = geom.Shrink(o, units.Area(slack))
	}
	return out, nil
}

// grit is how many micrometres of the floor a pixel holds there, at the most.
func (v *sight) grit(p Spot) float64 {
	a := v.down.of(p)
	u, w := v.down.of(p.plus(Spot{1, 0})).minus(a), v.down.of(p.plus(Spot{0, 1})).minus(a)
	// the larger singular value of the two columns
	uu, ww, uw := u.X*u.X+u.Y*u.Y, w.X*w.X+w.Y*w.Y, u.X*w.X+u.Y*w.Y
	return math.Sqrt((uu + ww + math.Hypot(uu-ww, 2*uw)) / 2)
}

// doubt is how far a corner of the outline may be off, at the most: by the
// border in the picture, by each coordinate of each corner of the sheet (moved
// by off, the effects taken together as independent), and by the lens.
func (v *sight) doubt(seen, corners []Spot, edge float64) float64 {
	var moved []homography
	for i := range v.seen {
		for _, d := range []Spot{{v.off, 0}, {0, v.off}} {
			c := v.seen
			c[i] = c[i].plus(d)
			if h, ok := through(c, v.floor); ok {
				moved = append(moved, h)
			}
		}
	}
	mid := v.floor[0].plus(v.floor[2]).by(0.5)
	most := 0.0
	for i, p := range seen {
		sum := 0.0
		for _, h := range moved {
			d := h.of(p).apart(corners[i])
			sum += d * d
		}
		most = max(most, edge*v.grit(p)+math.Sqrt(sum)+bend*corners[i].apart(mid)/1000)
	}
	return most
}

// strays is how far the border followed and the simple outline are apart.
func strays(raw, corners []Spot) float64 {
	most := 0.0
	for _, p := range raw {
		d := math.Inf(1)
		for i := range corners {
			d = min(d, toSegment(p, corners[i], corners[(i+1)%len(corners)]))
		}
		most = max(most, d)
	}
	for _, c := range corners {
		d := math.Inf(1)
		for i := range raw {
			d = min(d, toSegment(c, raw[i], raw[(i+1)%len(raw)]))
		}
		most = max(most, d)
	}
	return most
}

// axis is which way on the floor the grain runs, down the picture.
func (v *sight) axis(o geom.Outline, grain Grain) Spot {
	way := Spot{0, 1}
	switch grain {
	case ShortEdge:
		way = Spot{1, 0}
	case LongestSide:
		long := 0.0
		for i, p := range o {
			q := o[(i+1)%len(o)].Minus(p)
			if d := math.Hypot(float64(q.X), float64(q.Y)); d > long {
				long, way = d, Spot{float64(q.X) / d, float64(q.Y) / d}
			}
		}
	}
	up, _ := through(v.floor, v.seen)
	mid := v.floor[0].plus(v.floor[2]).by(0.5)
	if up.of(mid.plus(way.by(1000))).Y < up.of(mid).Y {
		way = way.by(-1)
	}
	return way
}

// settle turns the outline so that Y runs along axis, moves it into the corner
// of its box and rounds it to whole millimetres.
func (f *Found) settle(corners []Spot, paper [4]Spot, axis Spot) {
	across := Spot{axis.Y, -axis.X}
	turned := func(p Spot) Spot {
		return Spot{p.X*across.X + p.Y*across.Y, p.X*axis.X + p.Y*axis.Y}
	}
	least := Spot{math.Inf(1), math.Inf(1)}
	for _, p := range corners {
		q := turned(p)
		least = Spot{min(least.X, q.X), min(least.Y, q.Y)}
	}
	place := func(p Spot, to float64) geom.Point {
		q := turned(p).minus(least)
		return geom.Point{X: units.Length(math.Round(q.X/to) * to), Y: units.Length(math.Round(q.Y/to) * to)}
	}
	for _, p := range corners {
		f.Outline = append(f.Outline, place(p, 1000))
	}
	for i, p := range paper {
		f.Paper[i] = place(p, 1)
	}
}
