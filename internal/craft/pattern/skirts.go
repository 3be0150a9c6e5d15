package pattern

import (
	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// Widths is how many whole widths of cloth go round a gathered skirt: enough
// for fullness hundredths of the waist after 2 cm of each width go into
// seams.
func Widths(waist, width units.Length, fullness int64) int {
	n := 1
	for units.Length(n)*(width-2*cm) < waist.Times(fullness, 100) {
		n++
	}
	return n
}

// panels are the widths of a skirt: whole widths where it takes two or more,
// else no more than three and a half waists.
func panels(name string, m Measures, width units.Length, fullness int64, extra units.Length) []answer.DraftPart {
	n := Widths(m.Waist, width, fullness)
	w := width
	if n == 1 {
		w = min(width, m.Waist.Times(350, 100))
	}
	return []answer.DraftPart{rect(name, w, m.Long+extra, n)}
}

// Waistband: the waist, what laps and two seams; 11.5 wide, doubled.
func (s *Seams) waistband(waist units.Length) answer.DraftPart {
	p := rect("waistband", 115*mm, waist+s.lap.band+2*s.seam, 1)
	p.AnyWay = true
	return p
}

// gatheredSkirt: widths cut to the length with a hem and a seam at the band.
func gatheredSkirt(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	return append(panels("width", m, width, s.full.skirt, s.hem.skirt+s.seam), s.waistband(m.Waist))
}

// wrapSkirt: at least two whole widths on a band that laps, tied or snapped.
func wrapSkirt(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	n := max(2, Widths(m.Waist, width, s.full.wrap))
	return []answer.DraftPart{rect("width", sideBySide(width), m.Long+s.hem.wrap+s.seam, n), s.waistband(m.Waist + s.lap.wrap)}
}

// sideBySide is the width of a skirt's width on a cloth: 112, or somewhat less
// where one more then lies beside the others with room for the shears, but not
// under 99.
func sideBySide(width units.Length) units.Length {
	const whole, least, shears = 112 * cm, 99 * cm, 3 * mm
	if width <= whole {
		return width
	}
	if n := width/whole + 1; (width-(n-1)*shears)/n >= least {
		return (width - (n-1)*shears) / n
	}
	return whole
}

func petticoat(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	return append(panels("width", m, width, s.full.petticoat, s.hem.petticoat+s.seam), s.waistband(m.Waist))
}

// hipRoll: a crescent three quarters of the waist long, cut twice; thickest 5
// at the back (about 14 flat), tapering to 4 at the ends.
func hipRoll(_ *Seams, m Measures, _ units.Length) []answer.DraftPart {
	l := m.Waist.Times(75, 100)
	return []answer.DraftPart{{Name: "roll", Copies: 2, Hidden: true, AnyWay: true, Outline: geom.Outline{
		pt(0, l/6), pt(4*cm, 0), pt(12*cm, l/4), pt(14*cm, l/2), pt(12*cm, l-l/4), pt(4*cm, l), pt(0, l-l/6), pt(5*cm, l/2)}}}
}

func rollPetticoat(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	return append(petticoat(s, m, width), hipRoll(s, m, width)...)
}

// halfApron: one width at most, on a band as a skirt's.
func halfApron(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	return []answer.DraftPart{rect("apron", min(width, m.Waist.Times(s.full.apron, 100)), m.Long+s.hem.apron+s.seam, 1), s.waistband(m.Waist)}
}

// bibApron: the half apron with a bib of three tenths of the chest square and
// two straps.
func bibApron(s *Seams, m Measures, width units.Length) []answer.DraftPart {
	side := m.Chest.Times(30, 100)
	strap := rect("strap", 7*cm, m.Chest.Times(80, 100), 2)
	strap.AnyWay = true
	return append(halfApron(s, m, width), rect("bib", side+2*s.seam, side+2*s.seam, 1), strap)
}

// NeckRadius is the neck of a half-circle cloak: half a circle has to reach
// round the neck, and half a centimetre more.
func NeckRadius(neck units.Length) units.Length {
	return neck.Times(100_000, 314_159) + cm/2
}

// halfCircleCloak: half a ring, the straight edge along the cloth.
func halfCircleCloak(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	r := NeckRadius(m.Neck)
	big := r + m.Long + s.hem.circle + s.seam
	outer := geom.Arc(pt(0, big), big, -90, 90, units.Millimetre)
	inner := geom.Arc(pt(0, big), r, -90, 90, units.Millimetre)
	ring := append(geom.Outline{}, outer...)
	for i := len(inner) - 1; i >= 0; i-- {
		ring = append(ring, inner[i])
	}
	return []answer.DraftPart{{Name: "cloak", Copies: 1, Outline: ring}}
}
