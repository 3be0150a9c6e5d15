package running

import "hemwright/internal/show/show"

// zone is a part of the person that a piece covers.
type zone uint8

const (
	top zone = 1 << iota
	bottom
)

// zones says what a piece covers, by its kind; nothing for what sits on head,
// neck, hands or feet, or is tied on outside.
func zones(p *show.Piece) zone {
	switch p.Category {
	case show.Dress:
		return top | bottom
	case show.Skirt, show.Trousers:
		return bottom
	case show.Shirt, show.Bodice:
		return top
	case show.Jacket:
		if z, ok := reach[p.LengthTo]; ok && z >= reach["thigh"] {
			return top | bottom
		}
		return top
	case show.Under:
		switch show.Noun(p.Name) {
		case "stays":
			return top
		case "shift":
			return top | bottom
		}
		return bottom
	}
	return 0
}

// reach orders the places a hem comes down to.
var reach = map[string]int{"waist": 0, "hip": 1, "thigh": 2, "knee": 3, "below knee": 4, "mid-calf": 5, "calf": 5, "ankle": 7, "floor": 8}
