package sheet

import (
	"fmt"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// TakesMore says what another plan takes more or less of: "35 min more work
// and nothing else".
func TakesMore(d answer.Difference) string {
	var parts []string
	more := func(n int64, size, of string) {
		if n > 0 {
			parts = append(parts, size+" more "+of)
		} else if n < 0 {
			parts = append(parts, size+" less "+of)
		}
	}
	more(int64(d.Minutes), max(d.Minutes, -d.Minutes).String(), "work")
	more(int64(d.Money), max(d.Money, -d.Money).String(), "money")
	switch {
	case d.Look > 0:
		parts = append(parts, "farther from what is drawn")
	case d.Look < 0:
		parts = append(parts, "nearer to what is drawn")
	}
	return andNothingElse(parts)
}

func andNothingElse(parts []string) string {
	switch len(parts) {
	case 0:
		return "nothing more and nothing less"
	case 1:
		return parts[0] + " and nothing else"
	}
	return strings.Join(parts[:len(parts)-1], ", ") + ", and " + parts[len(parts)-1]
}

// PinWords says what a pin pins a piece to, or what holds it.
func PinWords(h *show.House, x answer.PinCost) string {
	if x.Held != "" {
		return fmt.Sprintf("%s, %s already: %s", PieceWords(h, x.Piece), x.Held, TakenWords(x.Pinned))
	}
	return fmt.Sprintf("%s, pinned to %s", PieceWords(h, x.Piece), TakenWords(x.Pinned))
}

// PinCosts is the sentence on what a pin costs, or keeping what was acted on.
func PinCosts(x answer.PinCost) string {
	this := "This pin"
	if x.Held != "" {
		this = "Keeping it so"
	}
	d := x.Without.Back()
	if d.Cost <= 0 && len(d.Moves) == 0 {
		return this + " costs nothing: the plan would have it so without."
	}
	var costs, spares []string
	part := func(n int64, size string) {
		if n > 0 {
			costs = append(costs, size)
		} else if n < 0 {
			spares = append(spares, size)
		}
	}
	part(int64(d.Minutes), max(d.Minutes, -d.Minutes).String())
	part(int64(d.Money), max(d.Money, -d.Money).String()+" of money")
	part(int64(d.Look), "looks")
	if len(costs) == 0 {
		return this + " costs nothing; it spares " + strings.Join(spares, ", ") + "."
	}
	if len(spares) == 0 {
		return this + " costs " + andNothingElse(costs) + "."
	}
	return this + " costs " + strings.Join(costs, ", ") + ", and spares " + strings.Join(spares, ", ") + "."
}

// MoreOf names an amount more of something scarce: "50 cm more of K30 white
// cotton". who are the hands that could give hours.
func MoreOf(h *show.House, offers []answer.Offer, x answer.Scarce) string {
	name, rest, _ := strings.Cut(x.Name, " ")
	switch name {
	case "money":
		return h.Show.Currency + units.Money(x.More).String() + " more money"
	case "hours":
		s := fmt.Sprintf("%s more %s", units.Minutes(x.More), handsFor[rest])
		if who := hands(h, offers, rest); who != "" {
			s += " (" + who + ")"
		}
		return s
	}
	s := fmt.Sprintf("%s %s more of %s", h.Units.Print(units.Length(x.More)), h.Units.Unit(), rest)
	if c := h.Cloth(show.ClothID(rest)); c != nil {
		s += " " + c.Name
		if c.Colour != "" {
			s += ", " + c.Colour
		}
	}
	return s
}

var handsFor = map[string]string{
	"tailor": "of somebody who tailors", "maker": "of somebody who makes and fits",
	"trim": "for hats, masks and paint", "all": "of anybody’s hands",
}

// hands names those who have a skill that not everybody has.
func hands(h *show.House, offers []answer.Offer, skill string) string {
	var out []string
	for _, o := range offers {
		for _, s := range o.Skills {
			if string(s) != skill {
				continue
			}
			name := string(o.Helper)
			if who := h.Helper(o.Helper); who != nil {
				name = who.Name
			}
			out = append(out, name)
		}
	}
	return strings.Join(out, ", ")
}

// TakenWords says where a piece comes from: "make of K30", "go without".
func TakenWords(t answer.Taken) string {
	switch {
	case len(t.Apart) > 0:
		return fmt.Sprintf("%s from the parts of %s", t.Source, joinCodes(t.Apart))
	case t.Garment != "":
		return fmt.Sprintf("%s %s", t.Source, t.Garment)
	case t.Cloth != "":
		return fmt.Sprintf("%s of %s", t.Source, t.Cloth)
	case t.Source == answer.Make && t.ToBuy:
		return "make of cloth to buy"
	}
	return string(t.Source)
}

func joinCodes(ids []show.GarmentID) string {
	var out []string
	for _, id := range ids {
		out = append(out, string(id))
	}
	return strings.Join(out, " and ")
}

// ToWin says what would have to change for another option to win, as far as
// less work or a lower price could do it.
func ToWin(currency string, x answer.Instead) string {
	var ifs []string
	if x.Shorter > 0 {
		ifs = append(ifs, fmt.Sprintf("it were %s less work", x.Shorter))
	}
	if x.Cheaper > 0 {
		ifs = append(ifs, fmt.Sprintf("it were %s%s cheaper", currency, x.Cheaper))
	}
	switch {
	case x.Never:
		return "No plan has it: it clashes with a pin, or asks for more than there is."
	case x.Whole.Cost < 0:
		return "Better than what the plan has."
	case x.Whole.Cost == 0:
		return "As good as what the plan has."
	case len(ifs) == 0:
		return "No less work and no lower price alone would make it as good."
	}
	return "As good if " + strings.Join(ifs, ", or ") + "."
}

// PieceWords names a piece: "C047 petticoat skirt".
func PieceWords(h *show.House, id show.PieceID) string {
	if q := h.Piece(id); q != nil {
		return fmt.Sprintf("%s %s", id, q.Name)
	}
	return string(id)
}

// OtherMoves are the moves of a difference but that of one piece.
func OtherMoves(d answer.Difference, id show.PieceID) []answer.Move {
	var out []answer.Move
	for _, m := range d.Moves {
		if m.Piece != id {
			out = append(out, m)
		}
	}
	return out
}
