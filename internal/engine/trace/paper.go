package trace

import (
	"image"
	"math"
	"slices"

	"hemwright/internal/value/colour"
)

// probes is how many places along a side of the sheet its edge is looked for.
const probes = 48

// refine moves the corners of the sheet to where the lines through its edges
// meet, to a part of a pixel. The result is how far off each corner may be, in
// pixels, and false where an edge cannot be followed: then the corners stay.
func refine(img *image.RGBA, c [4]Spot) (out [4]Spot, off float64, ok bool) {
	out = c
	for range 2 {
		side := math.Inf(1)
		for i := range out {
			side = min(side, out[i].apart(out[(i+1)%4]))
		}
		reach := min(max(0.18*side, 6), 25)
		var lines [4]line
		off = 0
		for i := range out {
			found := edgeSpots(img, out[i], out[(i+1)%4], reach)
			l, spread, n := fit(found)
			if n < probes/2 {
				return c, 1.5, false
			}
			lines[i] = l
			off = max(off, 0.08+3*spread/math.Sqrt(float64(n))+1.5*float64(probes-n)/probes)
		}
		for i := range out {
			p, meets := lines[(i+3)%4].meet(lines[i])
			if !meets || p.apart(c[i]) > 3*reach {
				return c, 1.5, false
			}
			out[i] = p
		}
	}
	return out, off, true
}

// edgeSpots are places where the paper ends, along lines across the side from a
// to b, each from the inside outwards.
func edgeSpots(img *image.RGBA, a, b Spot, reach float64) []Spot {
	way := b.minus(a).by(1 / b.apart(a))
	outward := Spot{way.Y, -way.X} // the corners run clockwise as one sees them
	const step = 0.5
	row := make([]tint, int(2*reach/step)+1)
	var out []Spot
	for k := range probes {
		p := a.plus(b.minus(a).by(0.08 + 0.84*float64(k)/(probes-1))).minus(outward.by(reach))
		for i := range row {
			row[i] = keen(img, p.plus(outward.by(float64(i)*step)))
		}
		if i, ok := leaves(row); ok {
			out = append(out, p.plus(outward.by(i*step)))
		}
	}
	return out
}

// leaves is where a row of colours leaves the first of them, to a part of a
// step: half way to what lies a few steps behind.
func leaves(row []tint) (float64, bool) {
	const far, few = 4, 6
	paper := mean(row[:len(row)/5])
	noise, most := float32(0), float32(0)
	for i, t := range row {
		d := t.apart(paper)
		most = max(most, d)
		if i < len(row)/5 {
			noise = max(noise, d)
		}
	}
	least := max(far, min(0.35*most, 3*noise))
	for i, t := range row {
		if t.apart(paper) < least {
			continue
		}
		if i < 2 || i+2*few > len(row) {
			return 0, false
		}
		behind := mean(row[i+few/2 : i+2*few])
		var way tint
		size := float32(0)
		for k := range way {
			way[k] = behind[k] - paper[k]
			size += way[k] * way[k]
		}
		if size < far*far {
			return 0, false
		}
		share := func(k int) float64 {
			v := float32(0)
			for j := range way {
				v += (row[k][j] - paper[j]) * way[j]
			}
			return float64(v / size)
		}
		k := i
		for k > 0 && share(k) > 0.5 {
			k--
		}
		for k+2 < len(row) && share(k+1) < 0.5 {
			k++
		}
		return float64(k) + (0.5-share(k))/(share(k+1)-share(k)), true
	}
	return 0, false
}

func mean(s []tint) tint {
	var out tint
	for _, t := range s {
		for k := range out {
			out[k] += t[k] / float32(len(s))
		}
	}
	return out
}

// keen is the colour between the pixels, with hue and chroma weighed down: a
// picture sent as JPEG keeps edges of lightness sharper than those of colour.
func keen(img *image.RGBA, s Spot) tint {
	x, y := s.X-0.5, s.Y-0.5
	i, j := int(math.Floor(x)), int(math.Floor(y))
	u, v := float32(x-float64(i)), float32(y-float64(j))
	at := func(x, y int) tint {
		k := img.PixOffset(min(max(x, 0), img.Rect.Dx()-1), min(max(y, 0), img.Rect.Dy()-1))
		c := colour.OfRGB(img.Pix[k], img.Pix[k+1], img.Pix[k+2])
		return tint{float32(c.L), float32(c.A) / 4, float32(c.B) / 4}
	}
	a, b, c, d := at(i, j), at(i+1, j), at(i, j+1), at(i+1, j+1)
	var out tint
	for k := range out {
		out[k] = (a[k]*(1-u)+b[k]*u)*(1-v) + (c[k]*(1-u)+d[k]*u)*v
	}
	return out
}

// line runs through p along way, which has length 1.
type line struct{ p, way Spot }

func (l line) apart(q Spot) float64 { return math.Abs(l.way.cross(q.minus(l.p))) }

func (l line) meet(m line) (Spot, bool) {
	d := l.way.cross(m.way)
	if math.Abs(d) < 0.05 {
		return Spot{}, false
	}
	return l.p.plus(l.way.by(m.p.minus(l.p).cross(m.way) / d)), true
}

// fit is the line near which most of the places lie, through those within a
// pixel of it by least squares, how much these stray, and how many they are.
// All pairs are tried: there are few.
func fit(s []Spot) (best line, spread float64, n int) {
	for i := range s {
		for j := range i {
			if s[i].apart(s[j]) < 4 {
				continue
			}
			l := line{s[j], s[i].minus(s[j]).by(1 / s[i].apart(s[j]))}
			near := 0
			for _, q := range s {
				if l.apart(q) < 1 {
					near++
				}
			}
			if near > n {
				best, n = l, near
			}
		}
	}
	if n < 2 {
		return best, 0, n
	}
	for range 2 {
		best, spread, n = leastSquares(best, s)
	}
	return best, spread, n
}

// leastSquares is the line that passes the places within a pixel of l most
// closely.
func leastSquares(l line, s []Spot) (line, float64, int) {
	var mid Spot
	n := 0
	for _, q := range s {
		if l.apart(q) < 1 {
			mid = mid.plus(q)
			n++
		}
	}
	if n < 2 {
		return l, 0, n
	}
	mid = mid.by(1 / float64(n))
	var xx, xy, yy float64
	for _, q := range s {
		if l.apart(q) < 1 {
			d := q.minus(mid)
			xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
		}
	}
	angle := math.Atan2(2*xy, xx-yy) / 2
	fitted := line{mid, Spot{math.Cos(angle), math.Sin(angle)}}
	least := (xx + yy - math.Hypot(xx-yy, 2*xy)) / 2
	return fitted, math.Sqrt(max(0, least) / float64(n)), n
}

// Guess looks for a bright, colourless quadrilateral of the shape of a sheet;
// it is a first guess for a person to move. found is false where there is
// none; the corners then lie in the middle of the picture.
func Guess(img *image.RGBA) (corners [4]Spot, found bool) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	f := tints(coarse(img, 4))
	best := 0.5
	for level := float32(95); level >= 45; level -= 5 {
		mask := make([]bool, len(f.v))
		for i, t := range f.v {
			mask[i] = t[0] >= level*lightness && t[1]*t[1]+t[2]*t[2] < 18*18
		}
		for _, part := range parts(mask, f.w) {
			q, ok := asSheet(part, f.w, f.h)
			if !ok {
				continue
			}
			for i := range q {
				q[i] = q[i].by(4)
			}
			seen, floor := lie(q, Sheets[0], w, h)
			odd := strange(seen, floor, w, h)
			if score := part.fill - 2*odd; score > best {
				best, corners, found = score, q, true
			}
		}
	}
	if !found {
		a, b := float64(w), float64(h)
		return [4]Spot{{a * .4, b * .4}, {a * .6, b * .4}, {a * .6, b * .6}, {a * .4, b * .6}}, false
	}
	return corners, true
}

// coarse takes blocks of so many pixels together.
func coarse(img *image.RGBA, step int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, max(1, img.Rect.Dx()/step), max(1, img.Rect.Dy()/step)))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			var sum [3]int
			for dy := range step {
				for dx := range step {
					i := img.PixOffset(min(x*step+dx, img.Rect.Dx()-1), min(y*step+dy, img.Rect.Dy()-1))
					for k := range sum {
						sum[k] += int(img.Pix[i+k])
					}
				}
			}
			i := out.PixOffset(x, y)
			for k := range sum {
				out.Pix[i+k] = uint8(sum[k] / (step * step))
			}
			out.Pix[i+3] = 255
		}
	}
	return out
}

// patch is one connected part of a mask.
type patch struct {
	area   int
	border []Spot // its outermost pixel corners, row by row
	edge   bool   // it touches the edge of the picture
	fill   float64
}

// parts are the connected parts of a mask.
func parts(mask []bool, w int) []*patch {
	seen := make([]bool, len(mask))
	var out []*patch
	for i := range mask {
		if !mask[i] || seen[i] {
			continue
		}
		p := &patch{}
		ends := map[int][2]int{}
		flood(mask, w, []int{i}, func(k int) {
			seen[k] = true
			p.area++
			x, y := k%w, k/w
			e, ok := ends[y]
			if !ok {
				e = [2]int{x, x}
			}
			ends[y] = [2]int{min(e[0], x), max(e[1], x)}
			if x == 0 || y == 0 || x == w-1 || k+w >= len(mask) {
				p.edge = true
			}
		})
		for y, e := range ends {
			for _, dy := range []float64{0, 1} {
				p.border = append(p.border, Spot{float64(e[0]), float64(y) + dy}, Spot{float64(e[1] + 1), float64(y) + dy})
			}
		}
		out = append(out, p)
	}
	return out
}

// flood calls each pixel of a mask that hangs together with the first ones by
// its sides.
func flood(mask []bool, w int, first []int, each func(i int)) {
	done := make([]bool, len(mask))
	var todo []int
	push := func(i int) {
		if mask[i] && !done[i] {
			done[i] = true
			todo = append(todo, i)
		}
	}
	for _, i := range first {
		push(i)
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		each(i)
		if i%w > 0 {
			push(i - 1)
		}
		if i%w < w-1 {
			push(i + 1)
		}
		if i >= w {
			push(i - w)
		}
		if i+w < len(mask) {
			push(i + w)
		}
	}
}

// asSheet is the quadrilateral round a part, if it is nearly all of it.
func asSheet(p *patch, w, h int) ([4]Spot, bool) {
	all := float64(w * h)
	if p.edge || float64(p.area) < 0.0008*all || float64(p.area) > 0.4*all {
		return [4]Spot{}, false
	}
	q, ok := quadrilateral(hull(p.border))
	if !ok {
		return q, false
	}
	area := 0.0
	for i := range q {
		area += q[i].cross(q[(i+1)%4]) / 2
	}
	p.fill = float64(p.area) / area
	return q, p.fill > 0.88
}

// hull is the convex hull, clockwise as one sees it (Andrew 1979).
func hull(s []Spot) []Spot {
	slices.SortFunc(s, func(a, b Spot) int {
		if a.X != b.X {
			return int(math.Copysign(1, a.X-b.X))
		}
		return int(math.Copysign(1, a.Y-b.Y))
	})
	s = slices.Compact(s)
	var out []Spot
	for range 2 {
		base := len(out)
		for _, p := range s {
			for len(out) >= base+2 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		slices.Reverse(s)
	}
	return out
}

// quadrilateral takes sides out of a convex outline, each time the one whose
// neighbours meet beyond it with the least area gained, until four are left.
func quadrilateral(s []Spot) (q [4]Spot, ok bool) {
	for len(s) > 4 {
		n, best, least := len(s), -1, math.Inf(1)
		var at Spot
		for i := range s {
			a, b, c, d := s[(i+n-1)%n], s[i], s[(i+1)%n], s[(i+2)%n]
			u, v := b.minus(a), d.minus(c)
			k := u.cross(v)
			if k <= 1e-9 {
				continue
			}
			p := a.plus(u.by(c.minus(a).cross(v) / k))
			if gain := math.Abs(p.minus(b).cross(c.minus(b))); gain < least {
				best, least, at = i, gain, p
			}
		}
		if best < 0 {
			return q, false
		}
		s[best] = at
		s = slices.Delete(s, (best+1)%n, (best+1)%n+1)
	}
	if len(s) < 4 {
		return q, false
	}
	return around([4]Spot(s))
}
