package workshop

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/store"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// Changed lists what is not as it was: since an act by its number, as sheets
// carry it, or since the beginning of a day written 2027-03-14.
func (w *Workshop) Changed(since string) (answer.Changed, error) {
	var out answer.Changed
	from, err := w.since(since)
	if err != nil {
		return out, err
	}
	out.Since = from
	if out.Now, err = w.store.LastAct(); err != nil {
		return out, err
	}
	rows, err := w.store.Changed(from)
	if err != nil {
		return out, err
	}
	h := show.House{}
	if last := w.current(out.Now); last != nil {
		h = last.House
	} else if h, err = w.store.House(); err != nil {
		return out, err
	}
	out.Lines = together(rows, &h)
	erased, err := w.store.Erasings(from)
	for _, a := range erased {
		out.Final = append(out.Final, answer.ChangedThing{What: a.Words, Act: a.ID, Deed: a.Words, When: a.When})
	}
	return out, err
}

// since finds the act a person means.
func (w *Workshop) since(word string) (int64, error) {
	last, err := w.store.LastAct()
	if err != nil {
		return 0, err
	}
	if n, err := strconv.ParseInt(word, 10, 64); err == nil {
		if n < 0 || n > last {
			return 0, why.Bad("since", fmt.Sprintf("There is no act %d; the last is %d.", n, last), "The number stands at the foot of each sheet.")
		}
		return n, nil
	}
	day, err := units.ParseDate(word)
	if err != nil || day == 0 {
		return 0, why.Bad("since", fmt.Sprintf("%q is neither a day nor the number of an act.", word), "Write 2027-03-14, or the number at the foot of a sheet.")
	}
	y, m, d := day.YMD()
	return w.store.ActBefore(time.Date(y, time.Month(m), d, 0, 0, 0, 0, w.clock().Location()))
}

// many is how many new or gone rows of one kind in one act become one line.
const many = 6

// together makes lines of rows: one for each thing, and one for many of a
// kind that came or went in one act.
func together(rows []store.Change, h *show.House) []answer.ChangedThing {
	type kind struct {
		table     string
		come, act int64
	}
	of := func(c store.Change) kind {
		k := kind{table: c.Table, act: c.Act.ID}
		if c.New {
			k.come = 1
		} else if c.Gone {
			k.come = -1
		}
		return k
	}
	rows = slices.DeleteFunc(rows, func(c store.Change) bool {
		return c.Table == "typed" || c.Table == "person_typed" || c.Table == "value_origin" // the values themselves are in the list
	})
	n := map[kind]int{}
	for _, c := range rows {
		n[of(c)]++
	}
	var out []answer.ChangedThing
	seen, said := map[kind]bool{}, map[string]bool{}
	for _, c := range rows {
		k := of(c)
		l := answer.ChangedThing{Act: c.Act.ID, Deed: c.Act.Words, When: c.Act.When}
		if n[k] >= many && k.come != 0 {
			if !seen[k] {
				l.Name = fmt.Sprintf("%d %s", n[k], cut(things[c.Table].many, plain(c.Table)+" rows"))
				l.What = map[int64]string{1: "new", -1: "no longer there"}[k.come]
				out = append(out, l)
			}
			seen[k] = true
			continue
		}
		name(&l, c, h)
		l.What = what(c, h.Units)
		if line := l.Code + "\n" + l.Name + "\n" + l.What; !said[line] {
			said[line] = true
			out = append(out, l)
		}
	}
	return out
}

func cut(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// thing says how rows of a table are spoken of.
type thing struct {
	many  string
	page  string // where one is looked at, its code follows
	whole string // said instead of columns
	owner bool   // the row belongs to the thing its key begins with
}

// things are the tables a person meets. People's rows say what kind of thing
// changed and never what it is now.
var things = map[string]thing{
	"garment": {many: "garments", page: "/rail?q="}, "cloth": {many: "cloths", page: "/shelf?q="}, "notion": {many: "notions"},
	"helper": {many: "helpers"}, "colour": {many: "colours"}, "performer": {many: "performers", page: "/performers/"},
	"role": {many: "roles"}, "scene": {many: "scenes"}, "look": {many: "looks"}, "piece": {many: "pieces", page: "/pieces/"},
	"find": {many: "finds"}, "casting": {many: "castings"}, "appearance": {many: "appearances"}, "calendar": {many: "days in the calendar"},
	"pin": {many: "pins", page: "/pieces/"}, "piece_look": {many: "pieces in looks", page: "/pieces/", whole: "worn in other looks", owner: true},
	"set_piece": {many: "pieces in sets", whole: "other pieces in the set", owner: true}, "headwear_piece": {many: "pieces for heads", whole: "other pieces on the head", owner: true},
	"kit_piece": {many: "pieces in kits", whole: "other pieces in the kit", owner: true}, "done": {many: "things done", page: "/pieces/", whole: "something done", owner: true},
	"person": {many: "people’s rows", page: "/performers/", whole: "what is kept about them changed", owner: true}, "person_care": {many: "wishes", page: "/performers/", whole: "wishes changed", owner: true},
	"person_not_by":  {many: "wishes", page: "/performers/", whole: "who dresses them changed", owner: true},
	"person_measure": {many: "measures", page: "/performers/", whole: "measured again", owner: true}, "person_feet": {many: "pairs of feet", page: "/performers/", whole: "shoes and hosiery changed", owner: true},
	"person_origin": {many: "origins", page: "/performers/", whole: "where a fact is from changed", owner: true}, "person_photograph": {many: "pictures of people", page: "/performers/", whole: "pictures changed", owner: true},
	"photograph":    {many: "pictures", page: "/rail?q=", whole: "pictures changed", owner: true},
	"person_unread": {many: "cells about people not understood", whole: "cells about people not understood"}, "unread": {many: "cells not understood", whole: "cells not understood"},
}

// name says which thing a row is.
func name(l *answer.ChangedThing, c store.Change, h *show.House) {
	t := things[c.Table]
	if strings.HasSuffix(c.Table, "unread") {
		l.Name = strings.Join(c.Key[:min(1, len(c.Key))], "")
		return
	}
	if len(c.Key) == 0 {
		l.Name = "the show"
		return
	}
	if c.Table == "photograph" && len(c.Key) > 1 { // its key begins with the kind of thing
		c.Table, c.Key = c.Key[0], c.Key[1:]
		if c.Table == "cloth" {
			t.page = "/shelf?q="
		}
	}
	l.Code = c.Key[0]
	switch owner, _, _ := strings.Cut(c.Table, "_"); owner {
	case "performer", "person":
		if p := h.Performer(show.PerformerID(l.Code)); p != nil {
			l.Name = p.Name
		}
	case "piece", "pin", "done":
		if p := h.Piece(show.PieceID(l.Code)); p != nil {
			l.Name = p.Name
		}
	case "garment":
		if g := h.Garment(show.GarmentID(l.Code)); g != nil {
			l.Name = g.Name
		}
	case "cloth":
		if k := h.Cloth(show.ClothID(l.Code)); k != nil {
			l.Name = k.Name
		}
	case "show", "house":
		l.Code, l.Name = "", "the show"
	default:
		l.Name = plain(c.Table)
		if s, ok := c.Is("name").(string); ok {
			l.Name = s
		}
	}
	if t.page != "" && (!c.Gone || t.owner || c.Table == "pin") {
		l.Page = t.page + l.Code
	}
}

// what says what became of a row.
func what(c store.Change, sys units.System) string {
	t := things[c.Table]
	switch {
	case t.whole != "":
		return t.whole
	case c.Table == "pin" && c.Gone:
		return "the pin taken out"
	case c.Table == "pin":
		for _, col := range []string{"garment", "find", "cloth"} {
			if s, _ := c.Is(col).(string); s != "" {
				return fmt.Sprintf("pinned to %s %s", c.Is("source"), s)
			}
		}
		return fmt.Sprintf("pinned to %s", c.Is("source"))
	case c.New:
		return "new"
	case c.Gone:
		return "no longer there"
	}
	var parts []string
	for _, col := range c.Columns {
		parts = append(parts, plain(col)+" "+valueOf(col, c.Is(col), sys))
	}
	return strings.Join(parts, ", ")
}

// plain is a column's name without its unit.
func plain(col string) string {
	for _, unit := range []string{"_um", "_coins", "_min", "_s"} {
		col = strings.TrimSuffix(col, unit)
	}
	return strings.ReplaceAll(col, "_", " ")
}

// valueOf prints a value by the unit its column's name ends in.
func valueOf(col string, v any, sys units.System) string {
	n, isNumber := v.(json.Number)
	k, err := n.Int64()
	switch {
	case v == nil || v == "":
		return "not set"
	case strings.Contains(fmt.Sprint(v), "["):
		return "changed"
	case !isNumber || err != nil:
		return fmt.Sprint(v)
	case strings.HasSuffix(col, "_um"):
		return sys.Print(units.Length(k)) + " " + sys.Unit()
	case strings.HasSuffix(col, "_coins"):
		return units.Money(k).String()
	case strings.HasSuffix(col, "_min"):
		return fmt.Sprintf("%d min", k)
	case strings.HasSuffix(col, "_s"):
		return fmt.Sprintf("%d s", k)
	case strings.HasSuffix(col, "start_minute"):
		return fmt.Sprintf("%d:%02d", k/60, k%60)
	}
	return n.String()
}
