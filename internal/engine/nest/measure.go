package nest

import "math"

// How bad a collision is, after arXiv 2509.13329, section 5: the sum over all
// pairs of inscribed circles of how deep they are in one another, with a tail
// that falls off smoothly where they are apart. Floats guide the search here;
// whether there is a collision at all is decided on the lattice.

const tailPart = 0.01 // of the greater diameter: where the tail begins

// lossOf is the measure for two shapes known to collide. As soon as it is
// known to exceed the limit it returns what it has, which does too.
func lossOf(a *shape, ax, ay int64, b *shape, bx, by int64, gap, limit float64) float64 {
	eps := tailPart * max(a.diam, b.diam)
	scale := a.root * b.root
	most := (limit*limit/(scale*scale) - eps*eps) / math.Pi
	dx, dy := float64(ax-bx), float64(ay-by)
	eps1, eps2, two, sum := float32(eps), float32(eps*eps), float32(2*eps), float32(0)
	mx, my, mgap, stop := float32(dx), float32(dy), float32(gap), float32(min(most, 1e38))
	x0, y0, x1, y1 := float32(b.box.x0), float32(b.box.y0), float32(b.box.x1), float32(b.box.y1)
	far := 4 * eps1
	for i := range a.light {
		p := &a.light[i]
		x, y, r := p.x+mx, p.y+my, p.r
		reach := r + mgap
		if off := max(max(x0-x, x-x1), max(y0-y, y-y1)) - reach; off > far {
			sum += eps2 / (two + off) * min(r*float32(len(b.light)), b.radii) / 2
			continue
		}
		for j := range b.light {
			q := &b.light[j]
			u, v := x-q.x, y-q.y
			d := reach + q.r - float32(math.Sqrt(float64(float32(u*u)+float32(v*v))))
			low := min(d, eps1) // no branch: the tail where d is low, d itself above
			sum += float32((d - low + eps2/(two-low)) * min(r, q.r))
		}
		if sum > stop {
			break
		}
	}
	return math.Sqrt(math.Pi*float64(sum)+eps*eps) * scale
}

// outsideLoss is the measure for a shape known to reach over the edge of an
// odd cloth: its circles against the distance field of the cloth.
func outsideLoss(a *shape, ax, ay int64, f *field) float64 {
	eps := tailPart * a.diam
	sum := 0.0
	for i := range a.poles {
		p := &a.poles[i]
		d := p.r - f.at(p.x+float64(ax), p.y+float64(ay))
		if d < eps {
			d = eps * eps / (2*eps - d)
		}
		sum += d * p.r
	}
	return math.Sqrt(math.Pi*sum+eps*eps) * a.root * a.root
}

// leastLoss is a measure that lossOf cannot go below, from the greatest
// circles alone: above 0 where they overlap, which settles that the shapes do.
func leastLoss(a *shape, ax, ay int64, b *shape, bx, by int64) float64 {
	if len(a.poles) == 0 || len(b.poles) == 0 {
		return 0
	}
	p, q := &a.poles[0], &b.poles[0]
	u, v, r := p.x-q.x+float64(ax-bx), p.y-q.y+float64(ay-by), p.r+q.r-4
	d := u*u + v*v
	if r <= 0 || d >= r*r {
		return 0
	}
	eps := tailPart * max(a.diam, b.diam)
	return math.Sqrt(math.Pi*float64((r-math.Sqrt(d))*min(p.r, q.r))+eps*eps) * a.root * b.root
}
