package pattern

import (
	_ "embed" // the table

	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
)

//go:embed seams.txt
var seamsText string

var shipped = rows.Shipped("seams", "seams, hems, fullness and ease of what is drafted", seamsText, readSeams)

// Seams are what every draft is drawn with: seams and hems inside the outlines,
// fullness in hundredths of the waist, ease at the chest. Of gives them; the
// zero value draws without any.
type Seams struct {
	seam units.Length
	hem  struct{ skirt, petticoat, wrap, apron, circle, smock, shirt, coat, trousers units.Length }
	lap  struct{ band, wrap units.Length }
	full struct{ skirt, petticoat, wrap, apron int64 }
	ease struct{ bodice, waistcoat, coat units.Length }
}

// Of are the seams of a house with these texts of its own, by name: its
// "seams", or those that ship.
func Of(texts map[string]string) *Seams { return shipped.Of(texts) }

// Text is what the seams are read from.
var Text = shipped.Text

func readSeams(text string) (*Seams, error) {
	s := &Seams{}
	lengths := map[string]*units.Length{
		"seam": &s.seam, "hem of a skirt": &s.hem.skirt, "hem of a petticoat": &s.hem.petticoat, "hem of a wrap skirt": &s.hem.wrap,
		"hem of an apron": &s.hem.apron, "hem of a circle": &s.hem.circle, "hem of a smock": &s.hem.smock, "hem of a shirt": &s.hem.shirt,
		"hem of a coat": &s.hem.coat, "hem of trousers": &s.hem.trousers, "lap of a waistband": &s.lap.band, "lap of a wrap skirt": &s.lap.wrap,
		"ease of a bodice": &s.ease.bodice, "ease of a waistcoat": &s.ease.waistcoat, "ease of a coat": &s.ease.coat,
	}
	full := map[string]*int64{"fullness of a skirt": &s.full.skirt, "fullness of a petticoat": &s.full.petticoat,
		"fullness of a wrap skirt": &s.full.wrap, "fullness of an apron": &s.full.apron}
	numbers := map[string]*int{}
	for name := range lengths {
		numbers[name] = new(int)
	}
	for name := range full {
		numbers[name] = new(int)
	}
	if err := rows.Numbers("seams", text, 500, numbers); err != nil {
		return nil, err
	}
	for name, l := range lengths {
		*l = units.Length(*numbers[name]) * mm
	}
	for name, n := range full {
		*n = int64(*numbers[name])
	}
	return s, nil
}
