package pattern

import (
	"hemwright/internal/show/answer"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// ElasticTrousers are the figures of trousers on elastic: a quarter of the
// hip and 15, the fork a twelfth of the hip and 1, the rise the waist to the
// fork and 4 (house draft).
func ElasticTrousers(m Measures) (quarter, fork, rise units.Length) {
	return (m.Hip + 15*cm) / 4, m.Hip/12 + cm, m.WaistToFloor - m.InsideLeg + 4*cm
}

// Breeches are the figures of breeches: a quarter of the hip and 1.1, the
// fork a twelfth of the hip (a tailor's handbook of 1907), the rise the waist
// to the fork and 2.5, the leg to the knee and 7.
func Breeches(m Measures) (quarter, fork, rise, leg units.Length) {
	return m.Hip/4 + 11*mm, m.Hip / 12, m.WaistToFloor - m.InsideLeg + 25*mm, m.WaistToKnee + 7*cm
}

// leg draws one quarter: centre seam at x = fork, side seam at the right.
func (s *Seams) leg(name string, quarter, fork, rise, long, foot units.Length) answer.DraftPart {
	w := fork + quarter + 2*s.seam
	return answer.DraftPart{Name: name, Copies: 2, Mirror: true, Outline: geom.Outline{
		pt(fork, 0), pt(w, 0), pt(w, rise), pt(w-(w-foot)/3, long), pt((w-foot)/3, long), pt(0, rise+s.seam), pt(fork-fork/4, rise-rise/5)}}
}

func elasticTrousers(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	quarter, fork, rise := ElasticTrousers(m)
	long := m.Long + 4*cm + s.hem.trousers
	foot := quarter.Times(9, 10) + 2*s.seam
	return []answer.DraftPart{s.leg("front", quarter, fork, rise, long, foot), s.leg("back", quarter, fork+2*cm, rise+2*cm, long, foot)}
}

func breeches(s *Seams, m Measures, _ units.Length) []answer.DraftPart {
	quarter, fork, rise, long := Breeches(m)
	foot := quarter.Times(8, 10) + 2*s.seam
	band := answer.DraftPart{Name: "knee band", Copies: 2, AnyWay: true, Outline: geom.Rect(8*cm, 38*cm)}
	return []answer.DraftPart{s.leg("front", quarter, fork, rise, long+s.seam, foot), s.leg("back", quarter, fork+2*cm, rise+2*cm, long+s.seam, foot), s.waistband(m.Waist), band}
}
