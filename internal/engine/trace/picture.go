package trace

import (
	"image"
	"math"

	"hemwright/internal/value/colour"
)

// Widest is the longest side in pixels of a picture that is worked on.
const Widest = 2000

// Smaller is the picture with whole blocks of its pixels averaged until its
// longer side is at most Widest; it begins at (0, 0). Averaging also takes
// most of a camera's noise away.
func Smaller(img image.Image) *image.RGBA {
	b := img.Bounds()
	step := max(1, (max(b.Dx(), b.Dy())+Widest-1)/Widest)
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()/step, b.Dy()/step))
	at := sampler(img)
	n := uint32(step * step)
	for y := range out.Rect.Dy() {
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			var r, g, bl uint32
			for dy := range step {
				for dx := range step {
					p, q, s := at(b.Min.X+x*step+dx, b.Min.Y+y*step+dy)
					r, g, bl = r+uint32(p), g+uint32(q), bl+uint32(s)
				}
			}
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = uint8((r+n/2)/n), uint8((g+n/2)/n), uint8((bl+n/2)/n), 255
		}
	}
	return out
}

// sampler reads single pixels, without boxing a colour for the usual kinds of
// picture.
func sampler(img image.Image) func(x, y int) (r, g, b uint8) {
	switch p := img.(type) {
	case *image.YCbCr:
		return func(x, y int) (uint8, uint8, uint8) { return ycbcr(p, x, y) }
	case *image.RGBA:
		return func(x, y int) (uint8, uint8, uint8) {
			i := p.PixOffset(x, y)
			return p.Pix[i], p.Pix[i+1], p.Pix[i+2]
		}
	}
	return func(x, y int) (uint8, uint8, uint8) {
		r, g, b, _ := img.At(x, y).RGBA()
		return uint8(r >> 8), uint8(g >> 8), uint8(b >> 8)
	}
}

// from: ITU-T T.871 (JFIF), the conversion in 16-bit fixed point.
func ycbcr(p *image.YCbCr, x, y int) (r, g, b uint8) {
	l, c := p.YOffset(x, y), p.COffset(x, y)
	yy := int32(p.Y[l])<<16 + 1<<15
	cb, cr := int32(p.Cb[c])-128, int32(p.Cr[c])-128
	to := func(v int32) uint8 { return uint8(min(max(v>>16, 0), 255)) }
	return to(yy + 91881*cr), to(yy - 22554*cb - 46802*cr), to(yy + 116130*cb)
}

// lightness is how much a step of lightness counts beside one of hue and
// chroma: a soft shadow changes little but the lightness.
const lightness = 0.45

// tint is a colour in CIELAB with its lightness weighed down.
type tint [3]float32

func (p tint) apart(q tint) float32 {
	a, b, c := p[0]-q[0], p[1]-q[1], p[2]-q[2]
	return float32(math.Sqrt(float64(a*a + b*b + c*c)))
}

// field is a picture as tints, row by row.
type field struct {
	w, h int
	v    []tint
}

func (f *field) at(x, y int) tint {
	return f.v[min(max(y, 0), f.h-1)*f.w+min(max(x, 0), f.w-1)]
}

// tints are the colours of a picture, each averaged with its neighbours
// (weights 1 2 1 both ways).
func tints(img *image.RGBA) *field {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	f := &field{w, h, make([]tint, w*h)}
	memo := map[uint32]tint{}
	for y := range h {
		row := img.Pix[y*img.Stride:]
		for x := range w {
			r, g, b := row[4*x], row[4*x+1], row[4*x+2]
			key := uint32(r)<<16 | uint32(g)<<8 | uint32(b)
			t, ok := memo[key]
			if !ok {
				c := colour.OfRGB(r, g, b)
				t = tint{float32(c.L * lightness), float32(c.A), float32(c.B)}
				memo[key] = t
			}
			f.v[y*w+x] = t
		}
	}
	return f.smooth()
}

// smooth averages along the rows and then down the columns.
func (f *field) smooth() *field {
	out := &field{f.w, f.h, make([]tint, len(f.v))}
	for y := range f.h {
		for x := range f.w {
			a, b, c := f.at(x-1, y), f.at(x, y), f.at(x+1, y)
			for k := range b {
				out.v[y*f.w+x][k] = (a[k] + 2*b[k] + c[k]) / 4
			}
		}
	}
	for x := range f.w {
		up := out.v[x]
		for y := range f.h {
			b, c := out.v[y*f.w+x], out.at(x, y+1)
			for k := range b {
				out.v[y*f.w+x][k] = (up[k] + 2*b[k] + c[k]) / 4
			}
			up = b
		}
	}
	return out
}
