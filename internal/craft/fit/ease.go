package fit

import (
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// place is where a garment is measured.
type place int

const (
	chest place = iota
	waist
	hip
	shoulders
	sleeve
	length
	head
	places
)

var placeNames = [places]string{"chest", "waist", "hip", "shoulders", "sleeve", "length", "head"}

const mm = units.Millimetre

// ease is what a garment measures more than what is underneath it: from lo as
// it hangs to hi before it looks too wide; hi 0 is as wide as you like.
type ease struct {
	lo, hi units.Length
	on     bool
}

type girths [3]ease // chest, waist, hip

// handbook says whether the lowest ease of a piece is the handbook's; what
// is loose, and jackets and under-pieces, rest on house figures.
func handbook(p *show.Piece) bool {
	switch p.Category {
	case show.Dress, show.Skirt, show.Shirt, show.Trousers:
		return p.Fit == "fitted" || p.Fit == "easy"
	case show.Bodice:
		return p.Fit == "fitted"
	}
	return false
}

// bulk is what a piece underneath adds to the girth: house figures, but the
// roll, whose 19 cm over a thickness of 4 are plain geometry.
func bulk(p *show.Piece) (adds [3]units.Length, support, lift units.Length) {
	switch p.Category {
	case show.Under:
		switch k := kindOf(p.Category, p.Name); {
		case strings.HasPrefix(k, "roll"):
			return adds, 190 * mm, 8 * mm
		case k == "hoops":
			return adds, 300 * mm, 24 * mm
		case k == "stays":
			return [3]units.Length{10 * mm, 0, 0}, 0, 0
		case k == "shift":
			return [3]units.Length{5 * mm, 5 * mm, 5 * mm}, 0, 0
		}
		return [3]units.Length{0, 0, 30 * mm}, 0, 0
	case show.Shirt:
		return [3]units.Length{15 * mm, 10 * mm, 10 * mm}, 0, 0
	case show.Dress:
		return [3]units.Length{20 * mm, 15 * mm, 40 * mm}, 0, 0
	case show.Skirt:
		return [3]units.Length{0, 10 * mm, 30 * mm}, 0, 0
	case show.Trousers:
		return [3]units.Length{0, 5 * mm, 15 * mm}, 0, 0
	case show.Bodice:
		return [3]units.Length{10 * mm, 20 * mm, 0}, 0, 0
	case show.Jacket:
		return [3]units.Length{40 * mm, 40 * mm, 30 * mm}, 0, 0
	}
	return adds, 0, 0
}

// styles are the trade's words for dresses. A smock out of a ball gown can be
// done, and will be seen.
var styles = map[string]string{"gown": "gown", "mantua": "gown", "pinafore": "pinafore", "smock": "smock", "nightgown": "smock",
	"robe": "smock", "tunic": "smock", "kaftan": "smock"}

// styleOf is the style of a dress by its name, "day dress" where it says none.
func styleOf(name string) string {
	for _, word := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == ',' || r == '-' }) {
		if s, ok := styles[word]; ok {
			return s
		}
	}
	return "day dress"
}

// kinds are the trade's words inside a category: a hat is no cap, a waistcoat
// no bodice. The first word found in a name decides.
var kinds = map[show.Category][][2]string{
	show.Under: {{"hoop", "hoops"}, {"stays", "stays"}, {"corset", "stays"}, {"stiff", "stiff petticoat"}, {"net", "stiff petticoat"},
		{"corded", "stiff petticoat"}, {"petticoat", "petticoat"}, {"under-skirt", "petticoat"}, {"slip", "petticoat"}, {"roll", "roll"},
		{"pad", "roll"}, {"shift", "shift"}, {"chemise", "shift"}, {"nightgown", "shift"}, {"jacket", "coat"}},
	show.Bodice: {{"waistcoat", "waistcoat"}, {"vest", "waistcoat"}, {"bodice", "bodice"}, {"stays", "bodice"}, {"corset", "bodice"}},
	show.Jacket: {{"cloak", "cloak"}, {"cape", "cloak"}, {"shawl", "cloak"}, {"", "coat"}},
	show.Accessory: {{"apron", "apron"}, {"cap", "cap"}, {"bonnet", "bonnet"}, {"hat", "hat"}, {"boater", "hat"}, {"collar", "collar"},
		{"bow", "bow"}, {"shawl", "shawl"}, {"neckerchief", "scarf"}, {"scarf", "scarf"}, {"crown", "crown"}, {"sash", "sash"},
		{"belt", "belt"}, {"mask", "mask"}, {"glove", "gloves"}},
}

// kindOf is the kind of a thing inside its category, by its name; empty where
// the category has one kind only or the name says nothing.
func kindOf(c show.Category, name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" ,;:'’()", r) })
	has := func(w string) bool {
		for _, x := range words {
			if x == w || strings.HasPrefix(x, w) && len(w) > 3 || strings.HasSuffix(x, "-"+w) {
				return true
			}
		}
		return w == ""
	}
	if c == show.Under && has("petticoat") && (has("roll") || has("hip-roll")) {
		return "roll petticoat"
	}
	for _, k := range kinds[c] {
		if has(k[0]) {
			return k[1]
		}
	}
	if c == show.Accessory && len(words) > 0 {
		return words[len(words)-1]
	}
	return ""
}

// easeOf finds the ease of a piece by its kind and fit.
func (f *figures) easeOf(p *show.Piece, kind string) girths {
	eases := f.eases
	class := p.Fit
	if class != "fitted" && class != "loose" {
		class = "easy"
	}
	if p.Fit == "tied" || p.Fit == "wrap" {
		class = "loose"
	}
	switch p.Category {
	case show.Dress:
		return eases["dress "+class]
	case show.Skirt:
		return eases["skirt "+class]
	case show.Shirt:
		return eases["shirt "+class]
	case show.Trousers:
		return eases["trousers "+class]
	case show.Bodice:
		return eases["bodice "+class]
	case show.Jacket:
		if kind == "cloak" {
			return girths{}
		}
		return eases["coat "+class]
	case show.Under:
		switch kind {
		case "stays", "shift":
			return eases[kind]
		case "roll", "hoops":
			return eases["tied"]
		case "coat":
			return eases["coat easy"]
		}
		return eases["petticoat"]
	}
	return girths{}
}

// Where the figures come from.
var (
	easeBasis   = why.Basis{Key: "cwu-ease", Kind: why.Handbook, Title: "Ease in Clothing, costume text chapter 16, Central Washington University"}
	limitsBasis = why.Basis{Key: "alteration-limits", Kind: why.Practice, Title: "what alteration seamstresses and a costume maker say can be let out and taken in; house figures beside"}
	hemBasis    = why.Basis{Key: "hems", Kind: why.Practice, Title: "hems that clear the floor: dancers' advice, and house figures for the rest"}
	bodyBasis   = why.Basis{Key: "snyder-1977", Kind: why.Paper, Title: "Snyder and others, Anthropometry of Infants, Children and Youths to Age 18, 1977"}
	growthBasis = why.Basis{Key: "growth", Kind: why.Handbook, Title: "growth charts of the US Centers for Disease Control and Prevention, 2000, and how the children of the Berkeley growth study (Tuddenham and Snyder, 1954) grew beside them"}
)
