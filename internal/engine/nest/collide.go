package nest

import "math/bits"

// collider answers whether two outlines on the lattice collide, exactly and
// without allocating. One collider serves one search.
type collider struct {
	ax, ay, bx, by []int64 // edges of the first outline near the second
	stops          []int64
}

// collide says whether the insides of a at (ax, ay) and b at (bx, by) have a
// point in common, or where the gap is above 0, whether the outlines are
// nearer than that.
func (c *collider) collide(a *shape, ax, ay int64, b *shape, bx, by, gap int64) bool {
	dx, dy := ax-bx, ay-by // a in the frame of b
	crossed, touched := c.borders(&a.ring, dx, dy, a.box, &b.ring, b.box, gap)
	switch {
	case crossed:
		return true
	case touched:
		return c.overlapTouching(&a.ring, dx, dy, &b.ring)
	}
	return inRing(&b.ring, a.x[0]+dx, a.y[0]+dy) || inRing(&a.ring, b.x[0]-dx, b.y[0]-dy)
}

// inside says whether a at (ax, ay) lies in the cloth b, borders included, and
// gap away from its border.
func (c *collider) inside(a *shape, ax, ay int64, b *shape, gap int64) bool {
	crossed, touched := c.borders(&a.ring, ax, ay, a.box, &b.ring, b.box, gap)
	switch {
	case crossed:
		return false
	case touched:
		_, out := c.runs(&a.ring, ax, ay, &b.ring, 0, 0)
		return !out
	}
	return inRing(&b.ring, a.x[0]+ax, a.y[0]+ay)
}

// borders says whether the borders of a, moved by (dx, dy), and b pass through
// one another or are nearer than the gap, and else whether they touch.
func (c *collider) borders(a *ring, dx, dy int64, abox box, b *ring, bbox box, gap int64) (crossed, touched bool) {
	w := box{max(abox.x0+dx, bbox.x0) - gap, max(abox.y0+dy, bbox.y0) - gap, min(abox.x1+dx, bbox.x1) + gap, min(abox.y1+dy, bbox.y1) + gap}
	c.ax, c.ay, c.bx, c.by = c.ax[:0], c.ay[:0], c.bx[:0], c.by[:0]
	n := len(a.x)
	px, py := a.x[n-1]+dx, a.y[n-1]+dy
	for i := range n {
		qx, qy := a.x[i]+dx, a.y[i]+dy
		if max(px, qx) >= w.x0 && min(px, qx) <= w.x1 && max(py, qy) >= w.y0 && min(py, qy) <= w.y1 {
			c.ax, c.ay, c.bx, c.by = append(c.ax, px), append(c.ay, py), append(c.bx, qx), append(c.by, qy)
		}
		px, py = qx, qy
	}
	n = len(b.x)
	px, py = b.x[n-1], b.y[n-1]
	for i := range n {
		qx, qy := b.x[i], b.y[i]
		if max(px, qx) >= w.x0 && min(px, qx) <= w.x1 && max(py, qy) >= w.y0 && min(py, qy) <= w.y1 {
			x, t := c.edge(px, py, qx, qy, gap)
			if x {
				return true, false
			}
			touched = touched || t
		}
		px, py = qx, qy
	}
	return false, touched
}

// edge tests one edge against those gathered.
func (c *collider) edge(px, py, qx, qy, gap int64) (crossed, touched bool) {
	lx, hx, ly, hy := min(px, qx)-gap, max(px, qx)+gap, min(py, qy)-gap, max(py, qy)+gap
	ux, uy := qx-px, qy-py
	bx, by, ay := c.bx[:len(c.ax)], c.by[:len(c.ax)], c.ay[:len(c.ax)]
	for i, rx := range c.ax {
		ry, sx, sy := ay[i], bx[i], by[i]
		if max(rx, sx) < lx || min(rx, sx) > hx || max(ry, sy) < ly || min(ry, sy) > hy {
			continue
		}
		if gap > 0 && segmentNear(px, py, qx, qy, rx, ry, sx, sy, gap) {
			return true, false
		}
		d1 := ux*(ry-py) - uy*(rx-px)
		d2 := ux*(sy-py) - uy*(sx-px)
		if d1 > 0 && d2 > 0 || d1 < 0 && d2 < 0 {
			continue
		}
		vx, vy := sx-rx, sy-ry
		e1 := vx*(py-ry) - vy*(px-rx)
		e2 := vx*(qy-ry) - vy*(qx-rx)
		if e1 > 0 && e2 > 0 || e1 < 0 && e2 < 0 {
			continue
		}
		if d1 != 0 && d2 != 0 && e1 != 0 && e2 != 0 {
			return true, false
		}
		touched = true
	}
	return false, touched
}

// segmentNear says whether an end of one segment lies less than gap from the
// other segment.
func segmentNear(px, py, qx, qy, rx, ry, sx, sy, gap int64) bool {
	return pointNear(px, py, rx, ry, sx, sy, gap) || pointNear(qx, qy, rx, ry, sx, sy, gap) ||
		pointNear(rx, ry, px, py, qx, qy, gap) || pointNear(sx, sy, px, py, qx, qy, gap)
}

func pointNear(x, y, ax, ay, bx, by, gap int64) bool {
	ux, uy, vx, vy := bx-ax, by-ay, x-ax, y-ay
	along, long := ux*vx+uy*vy, ux*ux+uy*uy
	if along <= 0 {
		return vx*vx+vy*vy < gap*gap
	}
	if along >= long {
		wx, wy := x-bx, y-by
		return wx*wx+wy*wy < gap*gap
	}
	off := ux*vy - uy*vx
	if off < 0 {
		off = -off
	}
	h1, l1 := bits.Mul64(uint64(off), uint64(off))
	h2, l2 := bits.Mul64(uint64(gap*gap), uint64(long))
	return h1 < h2 || h1 == h2 && l1 < l2
}

// inRing says whether a point lies inside; the border counts as either.
func inRing(r *ring, x, y int64) bool {
	in, n := false, len(r.x)
	ax, ay := r.x[n-1], r.y[n-1]
	for i := range n {
		bx, by := r.x[i], r.y[i]
		if (ay > y) != (by > y) {
			d := (bx-ax)*(y-ay) - (by-ay)*(x-ax)
			if (d > 0) == (by > ay) {
				in = !in
			}
		}
		ax, ay = bx, by
	}
	return in
}

// overlapTouching decides for outlines whose borders touch without passing
// through one another: between the points where they touch, each part of a
// border lies on one side of the other outline.
func (c *collider) overlapTouching(a *ring, dx, dy int64, b *ring) bool {
	in, out := c.runs(a, dx, dy, b, 0, 0)
	if in || !out {
		return true
	}
	in, _ = c.runs(b, 0, 0, a, dx, dy)
	return in
}

// runs says whether part of the border of a runs inside b, and whether part
// runs outside.
func (c *collider) runs(a *ring, adx, ady int64, b *ring, bdx, bdy int64) (in, out bool) {
	n := len(a.x)
	px, py := a.x[n-1]+adx, a.y[n-1]+ady
	for i := range n {
		qx, qy := a.x[i]+adx, a.y[i]+ady
		ux, uy := qx-px, qy-py
		long := ux*ux + uy*uy
		c.stops = append(c.stops[:0], 0)
		for j := range b.x {
			rx, ry := b.x[j]+bdx-px, b.y[j]+bdy-py
			if ux*ry != uy*rx {
				continue
			}
			if along := ux*rx + uy*ry; along > 0 && along < long {
				k := len(c.stops)
				c.stops = append(c.stops, along)
				for ; c.stops[k-1] > along; k-- {
					c.stops[k], c.stops[k-1] = c.stops[k-1], c.stops[k]
				}
			}
		}
		c.stops = append(c.stops, long)
		for k := 1; k < len(c.stops); k++ {
			if c.stops[k] == c.stops[k-1] {
				continue
			}
			// Twice the middle of the part, from the start of the edge: the
			// stops are lattice points, so the division is exact.
			mx, my := part(ux, c.stops[k-1], c.stops[k], long), part(uy, c.stops[k-1], c.stops[k], long)
			switch side2(b, mx+2*(px-bdx), my+2*(py-bdy)) {
			case 1:
				in = true
			case -1:
				out = true
			}
		}
		px, py = qx, qy
	}
	return in, out
}

// part is u*(s+t)/long for whole u*s/long and u*t/long.
func part(u, s, t, long int64) int64 { return share(u, s, long) + share(u, t, long) }

func share(u, s, long int64) int64 {
	neg := u < 0
	if neg {
		u = -u
	}
	hi, lo := bits.Mul64(uint64(u), uint64(s))
	q, _ := bits.Div64(hi, lo, uint64(long))
	if neg {
		return -int64(q)
	}
	return int64(q)
}

// side2 is 1 where the point (x, y)/2 lies inside the ring, 0 on its border,
// -1 outside.
func side2(r *ring, x, y int64) int {
	in, n := false, len(r.x)
	ax, ay := 2*r.x[n-1], 2*r.y[n-1]
	for i := range n {
		bx, by := 2*r.x[i], 2*r.y[i]
		if max(ay, by) >= y && min(ay, by) <= y && max(ax, bx) >= x {
			d := (bx-ax)*(y-ay) - (by-ay)*(x-ax)
			if d == 0 && min(ax, bx) <= x {
				return 0
			}
			if (ay > y) != (by > y) && (d > 0) == (by > ay) {
				in = !in
			}
		}
		ax, ay = bx, by
	}
	if in {
		return 1
	}
	return -1
}
