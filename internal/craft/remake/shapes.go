package remake

import (
	"math"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// drawn is the outline of a shape, from the origin, X along the grain.
func (p *panel) drawn(v []units.Length) geom.Outline {
	switch p.shape {
	case "rect":
		return geom.Rect(v[1], v[0])
	case "trapeze":
		return trapeze(v[0], v[1], v[2])
	}
	return geom.Circle(geom.Point{X: v[0] / 2, Y: v[0] / 2}, v[0]/2, units.Millimetre)
}

// trapeze is top wide at X 0, bottom wide at X long, about one middle line;
// the widths are made even, so that the middle lies on the lattice.
func trapeze(top, bottom, long units.Length) geom.Outline {
	top, bottom = top/2*2, bottom/2*2
	wide := max(top, bottom)
	a, b := (wide-top)/2, (wide-bottom)/2
	return geom.Outline{{X: 0, Y: a}, {X: long, Y: b}, {X: long, Y: b + bottom}, {X: 0, Y: a + top}}
}

// halfRings are half of a circle skirt, opened along the grain, at its least
// and at its most. Hem less waist is the angle times the length, so a hem that
// is not known is taken as a whole circle, and one that is says how much of a
// circle there is. Least lies in whatever the skirt is, most holds it.
func halfRings(waist, long, hem units.Span) (least, most geom.Outline, ok bool) {
	lo, hi := 2*math.Pi, 2*math.Pi
	if hem.Known {
		lo = math.Min(lo, float64(hem.Lo-waist.Hi)/float64(long.Hi))
		hi = math.Min(hi, float64(hem.Hi-waist.Lo)/float64(long.Lo))
	}
	if lo <= 0 {
		return nil, nil, false
	}
	radius := func(waist units.Length, angle float64) units.Length { return units.Length(float64(waist) / angle) }
	least = halfRing(radius(waist.Hi, lo), radius(waist.Lo, hi)+long.Lo, lo)
	most = halfRing(radius(waist.Lo, hi), radius(waist.Hi, lo)+long.Hi, hi)
	return least, most, len(least) > 0
}

// halfRing is half the angle of a ring, the middle of it along Y, the inner
// edge at the lesser Y; chords keep inside the cloth. Nothing where the inner
// radius is not the lesser.
func halfRing(inner, outer units.Length, angle float64) geom.Outline {
	const err = units.Millimetre
	if inner+2*err >= outer {
		return nil
	}
	half := angle / 4 * 180 / math.Pi // degrees to each side of the middle
	o := geom.Arc(geom.Point{}, outer, 90-half, 90+half, err)
	o = append(o, geom.Arc(geom.Point{}, inner+err, 90+half, 90-half, err)...)
	box := o.Box().Min
	return o.Move(geom.Point{X: -box.X, Y: -box.Y})
}

// largest is the largest upright rectangle on a shape, by closed form: in a
// trapeze half the wide end wide, or all of the narrow end where that is more;
// in a circle a square; in a half ring above the waist, with its corners on
// the hem. Where it does not lie there for roundings, or the ring is less than
// half, it is the next smaller that does, by half hundredths.
func largest(shape string, o geom.Outline) (along, across units.Length) {
	b := o.Box()
	along, across = b.Width(), b.Height()
	switch shape {
	case "trapeze":
		narrow := min((o[3].Y - o[0].Y).Abs(), (o[2].Y - o[1].Y).Abs())
		if wide := across; narrow < wide/2 {
			along, across = along.Times(int64(wide/2/units.Millimetre), int64((wide-narrow)/units.Millimetre)), wide/2
		} else {
			across = narrow
		}
	case "disc":
		along = units.Length(float64(along) / math.Sqrt2)
		across = along
	case "half-ring":
		r := inner(o)
		outer := b.Max.Y // of a whole half ring the middle lies at Y 0
		y := (float64(r) + math.Sqrt(float64(r)*float64(r)+8*float64(outer)*float64(outer))) / 4
		along, across = units.Length(2*math.Sqrt(float64(outer)*float64(outer)-y*y)), units.Length(y)-r
	}
	along, across = along/2*2, across/2*2
	for i := int64(200); i > 100; i-- {
		l, a := along.Times(i, 400)*2, across.Times(i, 400)*2
		if lies(geom.Rect(l, a), o) {
			return l, a
		}
	}
	return 0, 0
}

// inner is how high the waist of a half ring rises: the top of its inner edge.
func inner(o geom.Outline) units.Length {
	b := o.Box()
	mid, top := b.Min.X+b.Width()/2, b.Min.Y
	for _, p := range o {
		if (p.X-mid).Abs() < b.Width()/4 && p.Y < b.Max.Y/2 {
			top = max(top, p.Y)
		}
	}
	return top
}
