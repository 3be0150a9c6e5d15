package workshop

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"slices"

	"hemwright/internal/engine/trace"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// ClothPicture is a picture in which a cloth is measured. It is kept nowhere
// but here.
type ClothPicture struct {
	Picture *image.RGBA
	JPEG    []byte // the same, written anew: without place and time
	Corners [4]trace.Spot
	Guessed bool // the corners are a guess at the sheet; else they lie in the middle
}

// ReadClothPicture reads a JPEG or a PNG and guesses where the sheet lies.
func ReadClothPicture(raw []byte) (*ClothPicture, error) {
	img, err := decoded(raw)
	if err != nil {
		return nil, err
	}
	p := &ClothPicture{Picture: trace.Smaller(img)}
	if p.Picture.Rect.Dx() < 100 || p.Picture.Rect.Dy() < 100 {
		return nil, why.Bad("picture", "The picture is smaller than 100 by 100 pixels.", "Take a larger one.")
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p.Picture, &jpeg.Options{Quality: 85}); err != nil {
		return nil, err
	}
	p.JPEG = out.Bytes()
	p.Corners, p.Guessed = trace.Guess(p.Picture)
	return p, nil
}

// TraceCloth finds a cloth in a picture by what a person showed in it.
func (w *Workshop) TraceCloth(a trace.Ask) (trace.Found, error) { return trace.Trace(a) }

// DrawCloth measures a cloth whose corners a person drew in a picture, each at
// most edge pixels off.
func (w *Workshop) DrawCloth(a trace.Ask, corners []trace.Spot, edge float64) (trace.Found, error) {
	return trace.ByHand(a, corners, edge)
}

// Outline is an outline to be kept: how it came about in words, and whether
// it is in pencil.
type Outline struct {
	Corners geom.Outline // from the upper left of its box
	How     string       // "traced from a picture, within 1.8 cm"
	Pencil  bool
	Picture []byte      // JPEG, to be kept too; may be nil
	Flaws   []show.Flaw // found besides those known, measured from the upper left of the box
}

// KeepOutline gives a cloth an outline, and the width and length of its box.
func (w *Workshop) KeepOutline(ctx context.Context, id show.ClothID, o Outline) error {
	if what := o.Corners.Fault(); what != "" {
		return why.Bad("outline", "The outline "+what+".", "Walk round the cloth corner by corner.")
	}
	w.lock()
	defer w.mu.Unlock()
	return w.store.Do(ctx, w.deed(fmt.Sprintf("%s %s", id, o.How)), func(tx *store.Tx) error {
		before, err := tx.House()
		if err != nil {
			return err
		}
		h := before.Own()
		c := h.Cloth(id)
		if c == nil {
			return why.NotFound("cloth", string(id))
		}
		outlined(&h, c, o, w.Day(h.Show))
		if err := tx.Change(before, h); err != nil || o.Picture == nil {
			return err
		}
		return tx.AddPhoto(store.Photo{Of: "cloth", Code: string(id), Day: w.Day(h.Show), Type: "image/jpeg", Picture: o.Picture})
	})
}

// outlined writes an outline into a cloth; a plain rectangle needs none.
func outlined(h *show.House, c *show.Cloth, o Outline, day units.Date) {
	box := o.Corners.Box()
	c.Shape, c.Width, c.Length, c.Outline = "irregular", box.Width(), box.Height(), nil
	c.Diameter = units.Maybe[units.Length]{}
	if len(o.Corners) == 4 && o.Corners.Area() == box.Outline().Area() {
		c.Shape = "rectangle"
	} else {
		for _, p := range o.Corners {
			c.Outline = append(c.Outline, [2]units.Length{p.X - box.Min.X, p.Y - box.Min.Y})
		}
	}
	c.Flaws = append(slices.Clone(c.Flaws), o.Flaws...)
	fields := []string{"width", "length", "outline"}
	h.Origins = slices.DeleteFunc(slices.Clone(h.Origins), func(q show.Origin) bool {
		return q.Kind == "cloth" && q.Code == string(c.ID) && slices.Contains(fields, q.Field)
	})
	if o.Pencil {
		for _, f := range fields {
			h.Origins = append(h.Origins, show.Origin{Kind: "cloth", Code: string(c.ID), Field: f, How: show.Assumed, Rule: o.How, Day: day})
		}
	}
}

// AddSold puts linen of a size as sold on the shelf, in a colour.
func (w *Workshop) AddSold(ctx context.Context, sold, colour string) (show.ClothID, error) {
	var id show.ClothID
	err := w.act(ctx, "A new cloth: "+sold, func(h *show.House) error {
		id = show.ClothID(intake.NextCode(h, "K", 2))
		c := show.Cloth{ID: id, Name: sold, Colour: colour, RightSide: "either", Stretch: "none", Source: "shelf"}
		if err := intake.AsSold(h, &c, sold, w.Day(h.Show)); err != nil {
			return err
		}
		h.Cloths = append(h.Cloths, c)
		return nil
	})
	return id, err
}

// SetSold gives a cloth the size of linen as sold.
func (w *Workshop) SetSold(ctx context.Context, id show.ClothID, sold string) error {
	return w.act(ctx, fmt.Sprintf("%s is a %s", id, sold), func(h *show.House) error {
		c := h.Cloth(id)
		if c == nil {
			return why.NotFound("cloth", string(id))
		}
		return intake.AsSold(h, c, sold, w.Day(h.Show))
	})
}

// ClothPhoto is the last picture kept of a cloth, as JPEG; nil for none.
func (w *Workshop) ClothPhoto(id show.ClothID) ([]byte, error) {
	p, err := w.store.Photo("cloth", string(id))
	var e *why.Error
	if errors.As(err, &e) && e.Kind == why.Missing {
		return nil, nil
	}
	return p.Picture, err
}
