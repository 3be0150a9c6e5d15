package workshop

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	_ "image/png" // phones send either

	"hemwright/internal/plan/needs"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/why"
)

// most is the longest side of a picture that is kept, in pixels, and most
// pixels of one that is taken at all.
const (
	longest    = 1600
	mostPixels = 50_000_000
)

// AddPhoto keeps a picture of a garment. It is written anew: smaller where it
// is large, and without the place and the time a phone puts into it.
func (w *Workshop) AddPhoto(ctx context.Context, code string, picture []byte) error {
	clean, err := cleaned(picture)
	if err != nil {
		return err
	}
	w.lock()
	defer w.mu.Unlock()
	h, err := w.house()
	if err != nil {
		return err
	}
	if h.Garment(show.GarmentID(code)) == nil {
		return why.NotFound("garment", code)
	}
	return w.store.Do(ctx, store.Act{Who: "you", Words: "A picture of " + code, When: w.clock()}, func(tx *store.Tx) error {
		return tx.AddPhoto(store.Photo{Of: "garment", Code: code, Day: w.Day(h.Show), Type: "image/jpeg", Picture: clean})
	})
}

// Photo is the last picture of a garment, as JPEG.
func (w *Workshop) Photo(code string) ([]byte, error) {
	p, err := w.store.Photo("garment", code)
	return p.Picture, err
}

func cleaned(picture []byte) ([]byte, error) {
	img, err := decoded(picture)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, smaller(img), &jpeg.Options{Quality: 80}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// decoded reads a picture once its size is known to be one that can be held.
func decoded(picture []byte) (image.Image, error) {
	size, _, err := image.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		return nil, why.Bad("picture", "That is no picture one can read here.", "Send a JPEG or a PNG.")
	}
	if size.Width*size.Height > mostPixels {
		return nil, why.Bad("picture", fmt.Sprintf("A picture of %d by %d points is too large.", size.Width, size.Height), "Take it smaller.")
	}
	img, _, err := image.Decode(bytes.NewReader(picture))
	if err != nil {
		return nil, why.Bad("picture", "The picture breaks off.", "Send it again.")
	}
	return img, nil
}

// smaller takes every second, third … point until the longer side fits.
func smaller(img image.Image) image.Image {
	b := img.Bounds()
	step := (max(b.Dx(), b.Dy()) + longest - 1) / longest
	if step <= 1 {
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()/step, b.Dy()/step))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			out.Set(x, y, img.At(b.Min.X+x*step, b.Min.Y+y*step))
		}
	}
	return out
}

// DoorTries is how often a wrong code was tried at the door of the hall.
func (w *Workshop) DoorTries() (int, error) { return w.store.Tries("door") }

// SetDoorTries writes it.
func (w *Workshop) SetDoorTries(ctx context.Context, n int) error {
	return w.store.SetTries(ctx, "door", n)
}

// ToMeasure is who may be measured and what of, as their looks want.
func (w *Workshop) ToMeasure() (show.House, map[show.PerformerID][]body.Kind, error) {
	h, err := w.house()
	if err != nil {
		return h, nil, err
	}
	return h, needs.Measures(&h), nil
}

// NoMeasuring writes that somebody is not measured, or is measured at home.
func (w *Workshop) NoMeasuring(ctx context.Context, id show.PerformerID, home bool) error {
	consent, words := "no measuring", "not measured"
	if home {
		consent, words = "home measured", "measured at home"
	}
	return w.act(ctx, fmt.Sprintf("%s %s", id, words), func(h *show.House) error {
		p := h.Performer(id)
		if p == nil {
			return why.NotFound("performer", string(id))
		}
		p.Consent = consent
		if !home {
			p.Body = body.Body{}
		}
		return nil
	})
}
