package show

import "strings"

// nouns are the trade's words for kinds of clothes, each with the word the
// program keeps for it.
var nouns = map[string]string{
	"dress": "dress", "gown": "gown", "mantua": "gown", "kaftan": "robe", "robe": "robe",
	"nightgown": "nightgown", "smock": "smock", "tunic": "smock", "pinafore": "dress", "frock": "dress",
	"skirt": "skirt", "over-skirt": "skirt", "overskirt": "skirt", "under-skirt": "petticoat",
	"petticoat": "petticoat", "slip": "petticoat", "roll": "roll", "hoops": "hoops", "hoop": "hoops",
	"stays": "stays", "corset": "stays", "shift": "shift", "chemise": "shift",
	"shirt": "shirt", "blouse": "shirt", "top": "shirt", "jumper": "jumper",
	"trousers": "trousers", "breeches": "breeches", "knickerbockers": "breeches", "shorts": "trousers",
	"overalls": "trousers", "jeans": "trousers",
	"waistcoat": "waistcoat", "vest": "waistcoat", "bodice": "bodice", "front": "waistcoat",
	"coat": "coat", "raincoat": "coat", "overcoat": "coat", "jacket": "jacket", "blazer": "jacket",
	"cloak": "cloak", "cape": "cloak", "mantle": "cloak",
	"apron": "apron", "cap": "cap", "hat": "hat", "boater": "hat", "bonnet": "hat", "tricorne": "hat",
	"crown": "crown", "wreath": "crown", "shawl": "shawl", "scarf": "kerchief", "neckerchief": "kerchief",
	"kerchief": "kerchief", "collar": "collar", "bow": "bow", "ribbon": "bow", "sash": "sash",
	"belt": "belt", "gloves": "gloves", "mask": "mask", "hood": "hood", "wig": "wig", "frill": "collar",
}

// Noun is the kind of a piece or garment by its name: the last word of trade
// before any comma or "with"; empty where none is known. "dressing gown" is a
// coat by use.
func Noun(name string) string {
	name = strings.ToLower(name)
	if strings.Contains(name, "dressing gown") {
		return "coat"
	}
	for _, cut := range []string{",", " with ", " of ", " for ", ":"} {
		name, _, _ = strings.Cut(name, cut)
	}
	found := ""
	for _, w := range strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '/' }) {
		if n, ok := nouns[w]; ok {
			found = n
		}
	}
	return found
}
