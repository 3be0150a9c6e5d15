package intake

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// SetEach writes one value into one column of several rows. Where a row does
// not take it none is changed, and the error says which and why.
func SetEach(h show.House, name string, codes []string, key, value string) (show.House, error) {
	for _, code := range codes {
		saved, row, err := SaveRow(h, name, code, map[string]string{key: value})
		if err != nil {
			return h, err
		}
		at := slices.IndexFunc(row.Fields, func(f Field) bool { return f.Key == key })
		if at < 0 {
			return h, why.NotFound("column", key)
		}
		for _, f := range row.Fields {
			if f.Fault != "" {
				return h, why.Bad("value", fmt.Sprintf("%s, %s: %s", code, f.Label, f.Fault), "Nothing was changed.")
			}
		}
		h = saved
	}
	return h, nil
}

// RemoveEach takes several rows out of a list.
func RemoveEach(h show.House, name string, codes []string) (show.House, error) {
	for _, code := range codes {
		var err error
		if h, err = RemoveRow(h, name, code); err != nil {
			return h, err
		}
	}
	return h, nil
}

// Again adds a copy of each of several rows, with codes of their own, and
// gives the codes; what was in pencil stays so. up makes each copy the next
// size up, and what that assumed is in pencil. People are not copied.
func Again(h show.House, name string, codes []string, up bool, day units.Date) (show.House, []string, error) {
	k, err := kindNamed(name)
	if err != nil {
		return h, nil, err
	}
	h = h.Own()
	var out []string
	for _, code := range codes {
		c, err := k.copied(&h, code, up, day)
		if err != nil {
			return h, nil, err
		}
		out = append(out, c)
	}
	return h, out, nil
}

func (tb *table[T]) copied(h *show.House, code string, up bool, day units.Date) (string, error) {
	row := tb.row(h, code)
	switch {
	case row == nil:
		return "", why.NotFound(tb.one, code)
	case tb.person || tb.letter == "":
		return "", why.Bad("do", fmt.Sprintf("There is no second %s %s.", tb.one, code), "Write a new one.")
	case up && tb.up == nil:
		return "", why.Bad("do", fmt.Sprintf("A %s has no sizes.", tb.one), "Copy it as it is: the same again.")
	}
	fresh, was := *row, *row
	id := next(tb.letter, tb.digits, func(c string) bool { return taken(h, c) })
	reflect.ValueOf(tb.cols[0].at(&fresh)).Elem().SetString(id)
	if tb.again != nil {
		tb.again(&fresh)
	}
	if up {
		tb.up(&fresh)
	}
	rows := tb.rows(h)
	*rows = append(*rows, fresh)
	var marks []show.Origin
	for _, o := range h.Origins {
		if o.Kind == tb.one && o.Code == code {
			o.Code = id
			marks = append(marks, o)
		}
	}
	h.Origins = append(h.Origins, marks...)
	for _, c := range tb.cols[1:] {
		if !up || c.at == nil || h.Origin(tb.one, id, c.key()) != nil {
			continue
		}
		a, known, number := rank(c.at(&was))
		if b, _, _ := rank(c.at(&fresh)); number && known && a != b {
			by := units.Length(b - a)
			h.Origins = append(h.Origins, show.Origin{Kind: tb.one, Code: id, Field: c.key(), How: show.Assumed, Day: day,
				Rule: fmt.Sprintf("one size up from %s: %s %s more, a house figure", code, h.Units.Print(by), h.Units.Unit())})
		}
	}
	return id, nil
}

// The step from one size of a rail to the next. House figures.
var upRound, upHip, upLong, upSleeve = units.Cm(4), units.Cm(5), units.Cm(1.5), units.Cm(1)

// StepUp says in words what one size up adds to a garment.
func StepUp(sys units.System) string {
	return fmt.Sprintf("%s %s more round, %s at the hip, %s longer, the sleeve %s", sys.Print(upRound), sys.Unit(), sys.Print(upHip), sys.Print(upLong), sys.Print(upSleeve))
}

// oneSizeUp makes a garment the next one up of its kind.
func oneSizeUp(g *show.Garment) {
	g.Chest, g.Waist, g.Hip = g.Chest.Add(upRound), g.Waist.Add(upRound), g.Hip.Add(upHip)
	g.Length, g.Sleeve = g.Length.Add(upLong), g.Sleeve.Add(upSleeve)
}

// ofOne takes from a copied garment what was of the first one alone.
func ofOne(g *show.Garment) {
	g.Fate, g.PromisedTo, g.PromisedOn, g.PromisedEnd = "", "", 0, 0
}

// Groups are the groups of more than one role, in their order.
func Groups(h *show.House) []string {
	count := map[string]int{}
	var out []string
	for _, r := range h.Roles {
		if r.Group == "" {
			continue
		}
		if count[r.Group]++; count[r.Group] == 2 {
			out = append(out, r.Group)
		}
	}
	return out
}

// ToGroup copies looks with their pieces, or pieces, to every other role of a
// group, and gives the codes of the new pieces. A role that has the look
// already, or the piece in it, is left as it is. The copies are in pencil.
func ToGroup(h show.House, name string, codes []string, group string, day units.Date) (show.House, []string, error) {
	if name != "look" && name != "piece" {
		return h, nil, why.Bad("do", fmt.Sprintf("A %s is not copied to a group.", name), "Looks and pieces are.")
	}
	if !slices.Contains(Groups(&h), group) {
		return h, nil, why.Bad("group", fmt.Sprintf("There is no group %q of several roles.", group), "Choose one of the list.")
	}
	h = h.Own()
	g := &grouping{h: &h, day: day, group: group}
	for _, code := range codes {
		if err := g.copy(name, code); err != nil {
			return h, nil, err
		}
	}
	if len(g.made) == 0 {
		return h, nil, &why.Error{Kind: why.Conflict, Field: "group", What: fmt.Sprintf("Everybody else in %s has them already; nothing was copied.", group), Try: "Change theirs one by one, or take them out first."}
	}
	return h, g.made, nil
}

// grouping is a copying to a group under way.
type grouping struct {
	h     *show.House
	day   units.Date
	group string
	made  []string
}

func (g *grouping) copy(name, code string) error {
	looks := []show.LookID{show.LookID(code)}
	var only []show.PieceID
	if name == "piece" {
		p := g.h.Piece(show.PieceID(code))
		if p == nil {
			return why.NotFound(name, code)
		}
		looks, only = p.Looks, []show.PieceID{p.ID}
	}
	for _, id := range looks {
		l := g.h.Look(id)
		if l == nil {
			return why.NotFound("look", string(id))
		}
		from := *l
		for _, r := range slices.Clone(g.h.Roles) {
			if r.Group == g.group && r.ID != from.Role {
				g.give(from, g.lookLike(from, r.ID), only)
			}
		}
	}
	return nil
}

// lookLike is a role's look that stands for another role's: of the same name,
// else of the same place in their order and still without pieces, else a new
// one.
func (g *grouping) lookLike(like show.Look, role show.RoleID) show.LookID {
	for _, l := range g.h.Looks {
		if l.Role == role && l.Name == like.Name {
			return l.ID
		}
	}
	for i := range g.h.Looks {
		if l := &g.h.Looks[i]; l.Role == role && l.Order == like.Order && len(g.h.LookPieces(l.ID)) == 0 {
			l.Name, l.World, l.Idea = like.Name, like.World, like.Idea
			return l.ID
		}
	}
	id := show.LookID(NextCode(g.h, "L", 3))
	g.h.Looks = append(g.h.Looks, show.Look{ID: id, Role: role, Name: like.Name, World: like.World, Order: like.Order, Idea: like.Idea, Note: like.Note})
	return id
}

// give copies the pieces of a look into another, but those it has already;
// only, if not empty, says which.
func (g *grouping) give(from show.Look, to show.LookID, only []show.PieceID) {
	var have []string
	for _, p := range g.h.LookPieces(to) {
		have = append(have, fmt.Sprint(p.Category, p.Layer, Fold(p.Name)))
	}
	for _, p := range g.h.LookPieces(from.ID) {
		if len(only) > 0 && !slices.Contains(only, p.ID) || slices.Contains(have, fmt.Sprint(p.Category, p.Layer, Fold(p.Name))) {
			continue
		}
		id := show.PieceID(NextCode(g.h, "C", 3))
		fresh := *p
		fresh.ID, fresh.Looks, fresh.HowFar = id, []show.LookID{to}, show.ThoughtOf
		g.h.Pieces = append(g.h.Pieces, fresh)
		if s := g.h.Set(fresh.Set); s != nil {
			s.Pieces = append(slices.Clone(s.Pieces), id)
			s.Count = max(s.Count, len(s.Pieces))
		}
		g.h.Origins = append(g.h.Origins, show.Origin{Kind: "piece", Code: string(id), Field: "piece", How: show.Assumed, Rule: fmt.Sprintf("copied from %s to the group %s", p.ID, strings.TrimSpace(g.group)), Day: g.day})
		g.made = append(g.made, string(id))
	}
}
