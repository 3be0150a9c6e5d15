package geom

import "hemwright/internal/value/units"

// grid sorts segments or points into cells of an upright box, so that only
// neighbours need be compared. Cells are about as large as a middling segment
// is along X and along Y, so a comb costs no more than a circle.
type grid struct {
	box    Box
	w, h   units.Length // of a cell
	nx, ny int
	start  []int32 // where the things of each cell begin
	items  []int32
}

// newGrid is an empty grid for the segments, of about as many cells as there
// are segments at most.
func newGrid(segs []segment) *grid {
	b := Box{segs[0].a, segs[0].a}
	var dx, dy units.Length
	for _, s := range segs {
		b.Min = Point{min(b.Min.X, s.a.X, s.b.X), min(b.Min.Y, s.a.Y, s.b.Y)}
		b.Max = Point{max(b.Max.X, s.a.X, s.b.X), max(b.Max.Y, s.a.Y, s.b.Y)}
		dx, dy = dx+(s.b.X-s.a.X).Abs(), dy+(s.b.Y-s.a.Y).Abs()
	}
	n := units.Length(len(segs))
	g := &grid{box: b, w: max(dx/n, b.Width()/n, 4), h: max(dy/n, b.Height()/n, 4)}
	for (b.Width()/g.w+1)*(b.Height()/g.h+1) > 2*n && (g.w <= b.Width() || g.h <= b.Height()) {
		g.w, g.h = g.w+g.w/2, g.h+g.h/2
	}
	g.nx, g.ny = int(b.Width()/g.w)+1, int(b.Height()/g.h)+1
	return g
}

func (g *grid) cells() int { return g.nx * g.ny }

// in is what lies in the cell.
func (g *grid) in(cell int) []int32 { return g.items[g.start[cell]:g.start[cell+1]] }

func (g *grid) col(x units.Length) int { return min(max(int((x-g.box.Min.X)/g.w), 0), g.nx-1) }
func (g *grid) row(y units.Length) int { return min(max(int((y-g.box.Min.Y)/g.h), 0), g.ny-1) }

// walk visits every cell that holds a point of the segment or the middle of a
// pixel it passes, and perhaps some others, each once.
func (g *grid) walk(a, b Point, visit func(cell int)) {
	if a.Y > b.Y {
		a, b = b, a
	}
	for j, last := g.row(a.Y), g.row(b.Y); j <= last; j++ {
		x0, x1 := a.X, b.X
		if b.Y > a.Y {
			y := g.box.Min.Y + units.Length(j)*g.h
			at := func(y units.Length) units.Length { // rounded towards a
				return a.X + (min(max(y, a.Y), b.Y)-a.Y)*(b.X-a.X)/(b.Y-a.Y)
			}
			x0, x1 = at(y-1), at(y+g.h+1)
		}
		for i, end := g.col(min(x0, x1)-2), g.col(max(x0, x1)+2); i <= end; i++ {
			visit(j*g.nx + i)
		}
	}
}

// fill sorts n things into the cells each says it lies in.
func (g *grid) fill(n int, cellsOf func(k int, visit func(cell int))) *grid {
	out := *g
	out.start = make([]int32, g.cells()+1)
	for k := range n {
		cellsOf(k, func(c int) { out.start[c+1]++ })
	}
	for c := range g.cells() {
		out.start[c+1] += out.start[c]
	}
	out.items = make([]int32, out.start[g.cells()])
	next := append([]int32(nil), out.start[:g.cells()]...)
	for k := range n {
		cellsOf(k, func(c int) { out.items[next[c]] = int32(k); next[c]++ })
	}
	return &out
}

// ofSegments and ofPoints are the grid with these things in it.
func (g *grid) ofSegments(segs []segment) *grid {
	return g.fill(len(segs), func(k int, visit func(int)) { g.walk(segs[k].a, segs[k].b, visit) })
}

func (g *grid) ofPoints(ps []Point) *grid {
	return g.fill(len(ps), func(k int, visit func(int)) { visit(g.row(ps[k].Y)*g.nx + g.col(ps[k].X)) })
}
