// Package period knows what a time's silhouette wants underneath, on a stage
// child's comfortable terms: functions, not museum pieces.
package period

import (
	"strings"

	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Silhouette is what a time's full outline rests on, for skirted looks.
type Silhouette struct {
	From, To int          // years
	Support  string       // what holds the skirt out; empty where nothing does
	Hip      units.Length // what the support adds to the girth at the hip, about
}

// Memory is the basis of the table: sources were read for the order of
// dressing, the dimensions are house estimates.
var Memory = why.Basis{Key: "silhouettes", Kind: why.Estimate, Title: "what each silhouette needs underneath; dimensions are house estimates"}

var silhouettes = []Silhouette{
	{1300, 1450, "", 0},
	{1560, 1620, "a padded roll", units.Cm(20)},
	{1720, 1790, "a hip roll or pads", units.Cm(19)},
	{1800, 1820, "", units.Cm(4)},
	{1840, 1870, "a full petticoat", units.Cm(40)},
	{1870, 1889, "a pad behind", units.Cm(10)},
	{1890, 1901, "a petticoat", units.Cm(4)},
	{1905, 1914, "a slip", 0},
	{1950, 1959, "a net petticoat", units.Cm(20)},
}

// Of finds the silhouette of an era written with a year in it, such as
// "1780s" or "river 1895"; false where there is no year or none is known.
func Of(era string) (Silhouette, bool) {
	year := yearIn(era)
	for _, s := range silhouettes {
		if s.From <= year && year <= s.To {
			return s, true
		}
	}
	return Silhouette{}, false
}

func yearIn(era string) int {
	for _, f := range strings.FieldsFunc(era, func(r rune) bool { return r < '0' || r > '9' }) {
		if len(f) == 4 {
			n := 0
			for _, d := range f {
				n = n*10 + int(d-'0')
			}
			return n
		}
	}
	return 0
}
