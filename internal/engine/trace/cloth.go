package trace

import (
	"fmt"
	"math"
	"slices"

	"hemwright/internal/value/why"
)

// clusters are the few colours that stand for many.
type clusters []tint

func (c clusters) nearest(t tint) (int, float32) {
	best, least := 0, float32(math.Inf(1))
	for i, p := range c {
		a, b, d := p[0]-t[0], p[1]-t[1], p[2]-t[2]
		if v := a*a + b*b + d*d; v < least {
			best, least = i, v
		}
	}
	return best, float32(math.Sqrt(float64(least)))
}

// cluster finds up to k colours that stand for the samples (k means, the first
// ones as far apart as can be); those that stand for fewer than 2 in 100 fall
// away.
func cluster(samples []tint, k int) clusters {
	const most = 4000
	if step := len(samples)/most + 1; step > 1 {
		var few []tint
		for i := 0; i < len(samples); i += step {
			few = append(few, samples[i])
		}
		samples = few
	}
	if len(samples) == 0 {
		return nil
	}
	c := clusters{samples[len(samples)/2]}
	for len(c) < k {
		far, most := 0, float32(-1)
		for i, t := range samples {
			if _, d := c.nearest(t); d > most {
				far, most = i, d
			}
		}
		if most < 2 {
			break
		}
		c = append(c, samples[far])
	}
	count := make([]int, len(c))
	for range 10 {
		sum := make([][3]float64, len(c))
		clear(count)
		for _, t := range samples {
			i, _ := c.nearest(t)
			count[i]++
			for j := range t {
				sum[i][j] += float64(t[j])
			}
		}
		for i := range c {
			for j := range c[i] {
				if count[i] > 0 {
					c[i][j] = float32(sum[i][j] / float64(count[i]))
				}
			}
		}
	}
	var out clusters
	for i := range c {
		if count[i]*50 >= len(samples) {
			out = append(out, c[i])
		}
	}
	return out
}

// quad is a quadrilateral of the picture, its corners clockwise.
type quad [4]Spot

// holds says whether p lies in it or no further than margin outside.
func (q quad) holds(p Spot, margin float64) bool {
	for i := range q {
		a, b := q[i], q[(i+1)%4]
		if b.minus(a).cross(p.minus(a))/b.apart(a) < -margin {
			return false
		}
	}
	return true
}

// parted is a picture parted into cloth and ground.
type parted struct {
	w, h     int
	score    []float32 // above 0 where the colour is nearer to the cloth's
	in       []bool    // the one piece of cloth, its holes filled
	contrast float64   // between the two, where they are nearest
}

// part tells the cloth from the ground by colour. Cloth is what hangs together
// with the places shown; the border of the picture is ground.
func part(f *field, sheet quad, cloth []Spot) (*parted, error) {
	p := &parted{w: f.w, h: f.h}
	ground := cluster(p.border(f, sheet), 6)
	if len(ground) == 0 {
		return nil, why.Bad("picture", "The sheet fills the picture.", "Step back until the whole cloth and some floor all round is in it.")
	}
	own, err := p.samples(f, sheet, cloth, ground)
	if err != nil {
		return nil, err
	}
	ground = slices.DeleteFunc(ground, func(t tint) bool { _, d := own.nearest(t); return d < 4 })
	if len(ground) == 0 {
		return nil, faint("picture")
	}
	for pass := range 2 {
		p.judge(f, own, ground)
		if err := p.hang(sheet, cloth); err != nil {
			return nil, err
		}
		if pass == 0 {
			own, ground = p.again(f, sheet, own, ground)
		}
	}
	p.contrast = math.Inf(1)
	for _, t := range own {
		_, d := ground.nearest(t)
		p.contrast = min(p.contrast, float64(d))
	}
	if p.contrast < 4 {
		return nil, faint("picture")
	}
	return p, p.whole(sheet)
}

func faint(field string) error {
	return why.Bad(field, "The cloth and what it lies on have nearly the same colour.", "Lay it on something darker, lighter or of another hue, and take it again; or measure it with a tape.")
}

// border are the colours along the edge of the picture, the sheet left out.
func (p *parted) border(f *field, sheet quad) []tint {
	var out []tint
	band := max(2, min(p.w, p.h)/40)
	for y := 0; y < p.h; y += 2 {
		for x := 0; x < p.w; x += 2 {
			if x >= band && y >= band && x < p.w-band && y < p.h-band {
				x = p.w - band - 1
				continue
			}
			if !sheet.holds(middle(x, y), 4) {
				out = append(out, f.at(x, y))
			}
		}
	}
	return out
}

func middle(x, y int) Spot { return Spot{float64(x) + 0.5, float64(y) + 0.5} }

// samples are the cloth's colours round the places shown: what is nearer to
// the very place than to the ground.
func (p *parted) samples(f *field, sheet quad, cloth []Spot, ground clusters) (clusters, error) {
	if len(cloth) == 0 {
		return nil, why.Bad("cloth", "No place on the cloth is shown.", "Put the ring on the cloth, beside the sheet.")
	}
	var all []tint
	wide := float64(max(p.w, p.h)) / 25
	for _, s := range cloth {
		if s.X < 0 || s.Y < 0 || s.X >= float64(p.w) || s.Y >= float64(p.h) {
			return nil, why.Bad("cloth", fmt.Sprintf("The place on the cloth, %.0f across and %.0f down, lies outside the picture.", s.X, s.Y), "Put the ring on the cloth, beside the sheet.")
		}
		if sheet.holds(s, 2) {
			return nil, why.Bad("cloth", "The ring lies on the sheet of paper.", "Put it on the cloth, beside the sheet.")
		}
		core := p.disc(f, sheet, s, wide/5)
		here := cluster(core, 3)
		all = append(all, core...)
		for _, t := range p.disc(f, sheet, s, wide) {
			_, d := here.nearest(t)
			if _, g := ground.nearest(t); d < 6 || d < g && g > 8 {
				all = append(all, t)
			}
		}
	}
	return cluster(all, 5), nil
}

// disc are the colours round a place, the sheet left out.
func (p *parted) disc(f *field, sheet quad, s Spot, r float64) []tint {
	var out []tint
	for y := max(0, int(s.Y-r)); y <= min(p.h-1, int(s.Y+r)); y++ {
		for x := max(0, int(s.X-r)); x <= min(p.w-1, int(s.X+r)); x++ {
			if m := middle(x, y); m.apart(s) <= max(r, 1) && !sheet.holds(m, 4) {
				out = append(out, f.at(x, y))
			}
		}
	}
	return out
}

// judge scores every pixel.
func (p *parted) judge(f *field, own, ground clusters) {
	p.score = make([]float32, len(f.v))
	for i, t := range f.v {
		_, c := own.nearest(t)
		_, g := ground.nearest(t)
		p.score[i] = g - c
	}
}

// hang keeps what hangs together with the places shown, and fills its holes:
// the sheet where it lies on the cloth, stains, prints.
func (p *parted) hang(sheet quad, cloth []Spot) error {
	mask := make([]bool, len(p.score))
	for i, s := range p.score {
		mask[i] = s > 0
	}
	p.under(sheet, 2, func(i int) { mask[i] = false })
	var first []int
	for _, s := range cloth {
		at := int(s.Y)*p.w + int(s.X)
		if !mask[at] {
			at = p.close(mask, s)
		}
		if at >= 0 {
			first = append(first, at)
		}
	}
	p.in = make([]bool, len(mask))
	n := 0
	flood(mask, p.w, first, func(i int) { p.in[i] = true; n++ })
	if n < len(mask)/1000 {
		return faint("cloth")
	}
	p.fill()
	return nil
}

// close is a pixel of the mask near a place, -1 if there is none.
func (p *parted) close(mask []bool, s Spot) int {
	for y := int(s.Y) - 5; y <= int(s.Y)+5; y++ {
		for x := int(s.X) - 5; x <= int(s.X)+5; x++ {
			if x >= 0 && y >= 0 && x < p.w && y < p.h && mask[y*p.w+x] {
				return y*p.w + x
			}
		}
	}
	return -1
}

// under calls every pixel of the sheet and margin round it.
func (p *parted) under(sheet quad, margin float64, each func(i int)) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range sheet {
		x0, y0, x1, y1 = min(x0, c.X), min(y0, c.Y), max(x1, c.X), max(y1, c.Y)
	}
	for y := max(0, int(y0-margin)); y <= min(p.h-1, int(y1+margin)); y++ {
		for x := max(0, int(x0-margin)); x <= min(p.w-1, int(x1+margin)); x++ {
			if sheet.holds(middle(x, y), margin) {
				each(y*p.w + x)
			}
		}
	}
}

// fill takes what the edge of the picture cannot reach as cloth.
func (p *parted) fill() {
	out := make([]bool, len(p.in))
	var edge []int
	for i, in := range p.in {
		out[i] = !in
		if x, y := i%p.w, i/p.w; x == 0 || y == 0 || x == p.w-1 || y == p.h-1 {
			edge = append(edge, i)
		}
	}
	for i := range p.in {
		p.in[i] = true
	}
	flood(out, p.w, edge, func(i int) { p.in[i] = false })
}

// again takes the colours of both from all of the picture, as it was parted
// the first time, away from the border between the two.
func (p *parted) again(f *field, sheet quad, own, ground clusters) (clusters, clusters) {
	var c, g []tint
	step := 1 + len(f.v)/200_000
	for i := 0; i < len(f.v); i += step {
		if sheet.holds(middle(i%p.w, i/p.w), 4) {
			continue
		}
		switch s := p.score[i]; {
		case p.in[i] && s > 2:
			c = append(c, f.v[i])
		case !p.in[i] && s < -2:
			g = append(g, f.v[i])
		}
	}
	if now := cluster(c, 6); len(now) > 0 {
		own = now
	}
	if now := cluster(g, 8); len(now) > 0 {
		ground = now
	}
	return own, ground
}

// whole refuses a cloth that leaves the picture and a sheet across its edge.
func (p *parted) whole(sheet quad) error {
	edge, n := 0, 0
	for i, in := range p.in {
		if x, y := i%p.w, i/p.w; x == 0 || y == 0 || x == p.w-1 || y == p.h-1 {
			n++
			if in {
				edge++
			}
		}
	}
	if edge > n/400 {
		return why.Bad("picture", "The cloth leaves the picture.", "Step back until some floor can be seen all round it, and take it again.")
	}
	on, all := 0, 0
	for i := range sheet {
		a, b := sheet[i], sheet[(i+1)%4]
		way := b.minus(a).by(1 / b.apart(a))
		for t := 0.0; t <= b.apart(a); t++ {
			q := a.plus(way.by(t)).plus(Spot{way.Y, -way.X}.by(6))
			if x, y := int(q.X), int(q.Y); x >= 0 && y >= 0 && x < p.w && y < p.h {
				all++
				if p.in[y*p.w+x] {
					on++
				}
			}
		}
	}
	if all > 0 && on > all/12 && on < all-all/12 {
		return why.Bad("sheet", "The sheet of paper lies across the edge of the cloth.", "Lay it wholly on the cloth, or beside it with a hand’s breadth between, and take it again.")
	}
	return nil
}
