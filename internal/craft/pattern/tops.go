package pattern

import (
	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// Armhole is the girth of the armhole where it was not measured: 0.42 of the
// chest and 2 (house estimate).
func Armhole(chest units.Length) units.Length { return chest.Times(42, 100) + 2*cm }

// TSmock are the figures of a T-cut smock: quarter width and sleeve depth,
// after a handbook rule of 1916 (a quarter of the chest and 2 in, half the
// armhole and 2 in).
func TSmock(chest units.Length, extra units.Length) (quarter, depth units.Length) {
	return chest/4 + 5*cm + extra/4, Armhole(chest)/2 + 5*cm
}

// tSmock: front and back alike; the sleeves are cut on where the cloth is
// wide enough, else apart; a gusset under each arm.
func tSmock(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	quarter, depth := TSmock(m.Chest, m.Extra)
	arm := m.Arm - (2*quarter-m.Across)/2 + 2*cm + s.seam // from the body's edge to the wrist
	half, flare := quarter+s.seam, 6*cm
	long := m.Long + s.hem.smock
	gusset := rect("gusset", 10*cm+2*s.seam, 10*cm+2*s.seam, 2)
	if span := 2 * (half + max(arm, 0)); span <= width {
		x := span / 2
		return []answer.DraftPart{{Name: "front and back", Copies: 2, Outline: geom.Outline{
			pt(0, 0), pt(2*x, 0), pt(2*x, depth+s.seam), pt(x+half, depth+s.seam), pt(x+half+flare, long), pt(x-half-flare, long), pt(x-half, depth+s.seam), pt(0, depth+s.seam)}}, gusset}
	}
	body := answer.DraftPart{Name: "front and back", Copies: 2, Outline: geom.Outline{
		pt(flare, 0), pt(flare+2*half, 0), pt(2*flare+2*half, long), pt(0, long)}}
	if 2*flare+2*half > width {
		body.Outline = geom.Rect(min(2*half, width), long)
	}
	return []answer.DraftPart{body, rect("sleeve", 2*depth+2*s.seam, max(arm, 5*cm)+s.seam, 2), gusset}
}

// squareShirt: everything is a rectangle and nothing is wasted. Body C/2 + 15
// wide and S + 3/4 K long, sleeves U + 16 wide, square gussets, a band.
func squareShirt(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	w, l, sw, sl := s.SquareShirt(m)
	return []answer.DraftPart{rect("body", w, l, 2), rect("sleeve", sw, sl, 2), rect("gusset", 10*cm, 10*cm, 2),
		{Name: "neck band", Copies: 1, AnyWay: true, Outline: geom.Rect(9*cm, m.Neck+13*mm+25*mm)}}
}

// SquareShirt are the figures of the square-cut shirt: body and sleeve, wide
// and long. Where waist to knee is not known the body is 1.7 times nape to
// waist.
func (s *Seams) SquareShirt(m Measures) (w, l, sleeveW, sleeveL units.Length) {
	w = m.Chest/2 + 15*cm
	l = m.NapeToWaist + m.WaistToKnee*3/4
	if m.Long > 0 {
		l = m.Long + s.hem.shirt
	} else if m.WaistToKnee == 0 {
		l = m.NapeToWaist.Times(17, 10)
	}
	return w, l, m.UpperArm + 16*cm, m.Arm - (w-m.Across)/2 + 2*cm
}

// elasticBlouse: front and back C/2 + 10 wide, sleeves U + 16, all gathered
// into an elastic neck.
func elasticBlouse(_ *Seams, m Measures, _ units.Length) []answer.DraftPart {
	l := m.NapeToWaist + 22*cm
	if m.Long > 0 {
		l = m.Long + 6*cm
	}
	return []answer.DraftPart{rect("front and back", m.Chest/2+10*cm, l, 2), rect("sleeve", m.UpperArm+16*cm, m.Arm+6*cm, 2)}
}

// Block are the figures of the fitted block, full widths: front C/2 + 2.5 and
// back C/2 - 2.5 before ease (a school text of 1922: 15 and 13 in for a chest
// of 28), underarm line C/6 + 6 below the nape, neck half-width and front
// depth N/4 - 2.5.
func Block(chest, neck units.Length) (front, back, underarm, neckHalf units.Length) {
	return chest/2 + 25*mm, chest/2 - 25*mm, chest/6 + 6*cm, neck/4 - 25*mm
}

// cut is how a block is made into a garment.
type cut struct {
	ease   units.Length // round the chest
	scye   units.Length // how much deeper the underarm line
	vee    units.Length // front neck depth beyond the block's
	lap    units.Length // at the centre front
	point  units.Length // front below the waist
	below  units.Length // back, and front where there is no point, below the waist
	flare  units.Length // at the hem, each seam
	nipped bool         // in at the waist
}

// half draws half a front or back, centre at x = 0, nape level at y = 0 for
// the back and the front alike.
func (s *Seams) half(name string, m Measures, full units.Length, c cut, isFront bool) answer.DraftPart {
	_, _, underarm, neckHalf := Block(m.Chest, m.Neck)
	width := full/2 + c.ease/4 + s.seam
	lap := units.Length(0)
	neckDepth, drop, long := 2*cm, 4*cm, m.NapeToWaist+c.below+s.seam
	if isFront {
		neckDepth, lap = neckHalf+c.vee, c.lap
	}
	x := lap + s.seam
	waist := width
	if c.nipped {
		waist = min(width, (m.Waist+4*cm)/4+2*cm+s.seam)
	}
	// on a short back the underarm line stays clear of the waist
	under, shoulder := min(underarm+c.scye+s.seam, m.NapeToWaist*8/10), m.Across/2+s.seam
	tip := min(shoulder, width-cm)
	o := geom.Outline{pt(0, neckDepth), pt(x+neckHalf, 0), pt(x+tip, drop), pt(x+tip-cm, drop+(under-drop)*2/3), pt(x+width, under)}
	if long > m.NapeToWaist+6*cm || c.flare > 0 {
		o = append(o, pt(x+waist, m.NapeToWaist), pt(x+width+c.flare, long), pt(0, long))
	} else if isFront && c.point > 0 {
		o = append(o, pt(x+waist, long), pt(0, long+c.point))
	} else {
		o = append(o, pt(x+waist, long), pt(0, long))
	}
	return answer.DraftPart{Name: name, Copies: 2, Mirror: true, Outline: o}
}

func (s *Seams) frontBack(m Measures, c cut) []answer.DraftPart {
	front, back, _, _ := Block(m.Chest, m.Neck)
	return []answer.DraftPart{s.half("front", m, front, c, true), s.half("back", m, back, c, false)}
}

// waistcoat: the block with a scye of C/6 + 7.6,
// front point 6, back 1 below the waist.
func waistcoat(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	return s.frontBack(m, cut{ease: s.ease.waistcoat + m.Extra, scye: 16 * mm, vee: 12 * cm, lap: 2 * cm, point: 6 * cm, below: cm})
}

// falseFront: only the fronts, to the side seam.
func falseFront(s *Seams, m Measures, w units.Length) []answer.DraftPart {
	return waistcoat(s, m, w)[:1]
}

// bodice: the block with ease at the chest, and 2 at the waist.
func bodice(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	return s.frontBack(m, cut{ease: s.ease.bodice + m.Extra, vee: 2 * cm, lap: cm, point: 5 * cm, below: cm, nipped: true})
}

// gown: bodice, plain sleeves to the elbow, gathered skirt.
func gown(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	parts := s.frontBack(m, cut{ease: s.ease.bodice + m.Extra, vee: 2 * cm, lap: cm, below: cm, nipped: true})
	if m.Arm > 0 && m.UpperArm > 0 {
		parts = append(parts, rect("sleeve", m.UpperArm+12*cm, m.Arm/2+6*cm, 2))
	}
	return append(parts, panels("skirt width", m, width, s.full.skirt, s.hem.skirt+s.seam)...)
}

// coat: unlined, to its length, sleeves whole.
func coat(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	below := max(2*cm, m.Long-m.NapeToWaist+s.hem.coat)
	parts := s.frontBack(m, cut{ease: s.ease.coat + m.Extra, scye: 2 * cm, vee: 4 * cm, lap: 4 * cm, below: below, flare: below / 6})
	top, wrist := m.UpperArm+14*cm, m.UpperArm+4*cm
	sleeve := answer.DraftPart{Name: "sleeve", Copies: 2, Mirror: true, Outline: geom.Outline{
		pt(0, 8*cm), pt(top/2, 0), pt(top, 8*cm), pt(top-(top-wrist)/2, m.Arm+10*cm), pt((top-wrist)/2, m.Arm+10*cm)}}
	return append(parts, sleeve)
}
