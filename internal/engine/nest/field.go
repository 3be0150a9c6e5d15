package nest

import (
	"math"

	"hemwright/internal/value/geom"
)

// field holds the distance to the border of a cloth, above 0 inside, on a
// grid: how far a circle reaches out is read from it. It guides and never
// decides.
type field struct {
	x0, y0, cell float64
	w, h         int
	d            []float32
}

const fieldCells = 128 // along the longer side

func newField(o geom.Outline, dx int64, edge int64) *field {
	b := boxOf(o.Box())
	f := &field{cell: float64(max(b.x1-b.x0, b.y1-b.y0)) / fieldCells}
	f.w, f.h = int(float64(b.x1-b.x0)/f.cell)+2, int(float64(b.y1-b.y0)/f.cell)+2
	for j := range f.h {
		for i := range f.w {
			d := signedDistance(o, float64(b.x0)+float64(i)*f.cell, float64(b.y0)+float64(j)*f.cell)
			f.d = append(f.d, float32(d-float64(edge)))
		}
	}
	f.x0, f.y0 = float64(b.x0+dx), float64(b.y0)
	return f
}

// at is the distance at a point of the board, between the grid points by
// linear steps; points beyond the grid are taken to its border.
func (f *field) at(x, y float64) float64 {
	u := min(max((x-f.x0)/f.cell, 0), float64(f.w)-1.001)
	v := min(max((y-f.y0)/f.cell, 0), float64(f.h)-1.001)
	i, j := int(math.Floor(u)), int(math.Floor(v))
	u, v = u-float64(i), v-float64(j)
	k := j*f.w + i
	low := float64(f.d[k])*(1-u) + float64(f.d[k+1])*u
	high := float64(f.d[k+f.w])*(1-u) + float64(f.d[k+f.w+1])*u
	return low*(1-v) + high*v
}
