package show

import (
	"reflect"
	"sort"
	"strings"
	"time"
	"unicode"

	"hemwright/internal/value/units"
)

// House is everything one file holds about the house and one show, as plain
// rows in the order they were written. Nothing in it is computed.
type House struct {
	// Tables are texts of the person's own in the place of those that ship, by
	// name: ease, operations, seconds. They lie beside the house.
	Tables       map[string]string `json:",omitempty"`
	Show         Show
	Performers   []Performer
	Roles        []Role
	Casting      []Casting
	Scenes       []Scene
	Appearances  []Appearance
	Looks        []Look
	Pieces       []Piece
	Sets         []Set
	Garments     []Garment
	Cloths       []Cloth
	Finds        []Find
	Helpers      []Helper
	Calendar     []Entry
	Performances []Performance
	Budget       []BudgetLine
	Receipts     []Receipt
	Loans        []Loan
	Kits         []Kit
	Notes        []Note
	Asks         []Ask
	Notions      []Notion
	Feet         []Feet
	Headwear     []Headwear
	Mics         []Mic
	Backdrops    []Backdrop
	Colours      []Colour
	Pins         []Pin
	Done         []Done
	Rehearsed    []Rehearsed
	Logged       []Logged
	HandLaid     []HandLaid
	LetDowns     []LetDown
	Decisions    []Decision
	Unread       []Unread
	Origins      []Origin
	Typed        []Typed      // of the house and the show
	PeopleTyped  []Typed      // of people
	Units        units.System // what lengths are shown in
}

// At is the house as it was known on a day: finds, receipts, notes, loans,
// kits, rows and marks dated later are left out. The zero day keeps all.
func (h House) At(day units.Date) House {
	if day == 0 {
		return h
	}
	h.Finds = keep(h.Finds, func(f Find) bool { return f.SeenOn <= day })
	h.Receipts = keep(h.Receipts, func(r Receipt) bool { return r.Day <= day })
	h.Notes = keep(h.Notes, func(n Note) bool { return n.Day <= day })
	h.Loans = keep(h.Loans, func(l Loan) bool { return l.Since <= day })
	h.Kits = keep(h.Kits, func(k Kit) bool { return k.OutOn <= day })
	h.Asks = keep(h.Asks, func(a Ask) bool { return a.Day <= day })
	for i, a := range h.Asks {
		if a.SeenOn > day {
			h.Asks[i].SeenOn, h.Asks[i].Result = 0, ""
		}
	}
	feet := make([]Feet, len(h.Feet))
	copy(feet, h.Feet)
	for i, f := range feet {
		if f.LayerOneSeen > day {
			feet[i].LayerOneSeen = 0
		}
	}
	h.Feet = feet
	return h
}

func keep[T any](rows []T, ok func(T) bool) []T {
	out := make([]T, 0, len(rows))
	for _, r := range rows {
		if ok(r) {
			out = append(out, r)
		}
	}
	return out
}

func find[T any](rows []T, is func(*T) bool) *T {
	for i := range rows {
		if is(&rows[i]) {
			return &rows[i]
		}
	}
	return nil
}

// Origin finds how a value was assumed; nil where it is ink.
func (h *House) Origin(kind, code, field string) *Origin {
	return find(h.Origins, func(o *Origin) bool { return o.Code == code && o.Field == field && o.Kind == kind })
}

// Pencilled says whether when a role is on in a scene was assumed.
func (h *House) Pencilled(scene SceneID, role RoleID) bool {
	return len(h.Origins) > 0 && (h.Origin("appearance", string(scene)+" "+string(role), "enter") != nil || h.Origin("scene", string(scene), "running") != nil)
}

// Performer finds a performer by code; nil where there is none. So do the
// others below.
func (h *House) Performer(id PerformerID) *Performer {
	return find(h.Performers, func(p *Performer) bool { return p.ID == id })
}

// Role finds a role.
func (h *House) Role(id RoleID) *Role { return find(h.Roles, func(r *Role) bool { return r.ID == id }) }

// Scene finds a scene.
func (h *House) Scene(id SceneID) *Scene {
	return find(h.Scenes, func(s *Scene) bool { return s.ID == id })
}

// Look finds a look.
func (h *House) Look(id LookID) *Look { return find(h.Looks, func(l *Look) bool { return l.ID == id }) }

// Piece finds a piece.
func (h *House) Piece(id PieceID) *Piece {
	return find(h.Pieces, func(p *Piece) bool { return p.ID == id })
}

// Set finds a set.
func (h *House) Set(id SetID) *Set { return find(h.Sets, func(s *Set) bool { return s.ID == id }) }

// MayBe says whether a piece may be of a colour: its own, or one its set has
// where the colours are free.
func (h *House) MayBe(p *Piece, colour string) bool {
	if colour == p.Colour {
		return true
	}
	s := h.Set(p.Set)
	return s != nil && s.FreeHues && strings.Contains(s.Colours, colour)
}

// LoanOf finds the loan by which a garment came here.
func (h *House) LoanOf(id GarmentID) *Loan {
	return find(h.Loans, func(l *Loan) bool { return l.Garment == id && !l.Out })
}

// Garment finds a garment of the rail, or the garment of a find.
func (h *House) Garment(id GarmentID) *Garment {
	if g := find(h.Garments, func(g *Garment) bool { return g.ID == id }); g != nil {
		return g
	}
	if f := h.Find(FindID(id)); f != nil {
		return &f.Garment
	}
	return nil
}

// OnOffer lists every garment that exists: the rail, then the finds.
func (h *House) OnOffer() []Garment {
	out := append([]Garment{}, h.Garments...)
	for _, f := range h.Finds {
		out = append(out, f.Garment)
	}
	return out
}

// Find finds a find.
func (h *House) Find(id FindID) *Find { return find(h.Finds, func(f *Find) bool { return f.ID == id }) }

// Cloth finds a cloth.
func (h *House) Cloth(id ClothID) *Cloth {
	return find(h.Cloths, func(c *Cloth) bool { return c.ID == id })
}

// Helper finds a helper.
func (h *House) Helper(id HelperID) *Helper {
	return find(h.Helpers, func(p *Helper) bool { return p.ID == id })
}

// FeetOf finds a performer's feet line.
func (h *House) FeetOf(id PerformerID) *Feet {
	return find(h.Feet, func(f *Feet) bool { return f.Performer == id })
}

// ColourNamed finds one of our colours.
func (h *House) ColourNamed(name string) *Colour {
	return find(h.Colours, func(c *Colour) bool { return c.Name == name })
}

// PinOf finds the pin on a piece.
func (h *House) PinOf(id PieceID) *Pin {
	return find(h.Pins, func(p *Pin) bool { return p.Piece == id })
}

// Casts lists the casts there are, A first.
func (h *House) Casts() []Cast {
	have := map[Cast]bool{"A": true}
	for _, c := range h.Casting {
		have[c.Cast] = true
	}
	for _, p := range h.Performances {
		if p.Cast != "" {
			have[p.Cast] = true
		}
	}
	var out []Cast
	for c := range have {
		out = append(out, c)
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

// PlayedBy says who plays a role in a cast; covers do not count.
func (h *House) PlayedBy(role RoleID, cast Cast) PerformerID {
	for _, c := range h.Casting {
		if c.Role == role && c.Cast == cast && !c.Cover {
			return c.Performer
		}
	}
	if r := h.Role(role); r != nil {
		return r.Performer
	}
	return ""
}

// Wearers lists who wears a piece, over all casts, by code.
func (h *House) Wearers(p *Piece) []PerformerID {
	have := map[PerformerID]bool{}
	for _, l := range p.Looks {
		look := h.Look(l)
		if look == nil {
			continue
		}
		for _, c := range h.Casts() {
			if who := h.PlayedBy(look.Role, c); who != "" {
				have[who] = true
			}
		}
	}
	out := make([]PerformerID, 0, len(have))
	for id := range have {
		out = append(out, id)
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

// LookPieces lists the pieces of a look, from the skin outwards.
func (h *House) LookPieces(id LookID) []*Piece {
	var out []*Piece
	for i := range h.Pieces {
		for _, l := range h.Pieces[i].Looks {
			if l == id {
				out = append(out, &h.Pieces[i])
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Layer < out[j].Layer })
	return out
}

// Starts says when each scene begins, counted from curtain up, and when the
// show ends. Playing is the running time without gaps and interval.
func (h *House) Starts() (starts map[SceneID]time.Duration, end, playing time.Duration) {
	starts = map[SceneID]time.Duration{}
	for i, s := range h.Scenes {
		starts[s.ID] = end
		end += s.Running
		playing += s.Running
		if i < len(h.Scenes)-1 {
			end += s.GapAfter + s.Interval
		}
	}
	return starts, end, playing
}

// Opening is the day of the first performance, or not set.
func (h *House) Opening() units.Date {
	var first units.Date
	for _, p := range h.Performances {
		if first == 0 || p.Day < first {
			first = p.Day
		}
	}
	return first
}

// Parade is the day by which everything is finished: the calendar's entry
// with the word parade, else six days before the opening.
func (h *House) Parade() units.Date {
	for _, e := range h.Calendar {
		if e.Kind == "rehearse" && containsWord(e.What, "parade") {
			return e.Day
		}
	}
	if o := h.Opening(); o != 0 {
		return o - 6
	}
	return 0
}

func containsWord(s, word string) bool {
	start := -1
	for i, r := range s + " " {
		switch {
		case unicode.IsLetter(r) && start < 0:
			start = i
		case !unicode.IsLetter(r) && start >= 0:
			if s[start:i] == word {
				return true
			}
			start = -1
		}
	}
	return false
}

// Own is the house with lists of its own: changing a row of it changes none
// of the house it was made from. What hangs inside a row is still shared.
func (h House) Own() House {
	v := reflect.ValueOf(&h).Elem()
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.Slice && !f.IsNil() {
			f.Set(reflect.AppendSlice(reflect.MakeSlice(f.Type(), 0, f.Len()), f))
		}
	}
	return h
}

// WithoutPeople is the show's archive: performers keep their codes, and
// nothing else of theirs is left.
func (h House) WithoutPeople() House {
	h = h.Own()
	for i, p := range h.Performers {
		h.Performers[i] = Performer{ID: p.ID}
	}
	h.Feet, h.PeopleTyped = nil, nil
	h.Unread = keep(h.Unread, func(u Unread) bool { return !u.AboutPerson })
	for i := range h.Notes {
		h.Notes[i].What, h.Notes[i].From = "", ""
	}
	for i := range h.Asks {
		h.Asks[i].OfWhom, h.Asks[i].What, h.Asks[i].Promised, h.Asks[i].Result = "", "", "", ""
	}
	return h
}
