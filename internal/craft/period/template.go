package period

import (
	_ "embed" // the tables
	"fmt"
	"strconv"
	"strings"

	"hemwright/internal/show/show"
	"hemwright/internal/value/rows"
	"hemwright/internal/value/units"
)

//go:embed looks.txt
var looksText string

//go:embed parts.txt
var partsText string

// Template is a look by world and rank, as a crowd on stage wears it.
type Template struct {
	World, Rank string
	Era         string
	Making      units.Minutes // all of it new, plain, at the lead's pace; 0 is not known
	ClothChild  units.Area    // for a child of 135 cm; 0 is not known
	ClothTeen   units.Area    // for a teenager of 165 cm
	Cheap       units.Minutes // the cheap way
	CheapWay    string
	Fast        string // how it closes for a fast change
	Pieces      []Part
}

// Name says a template in words: "1840-1900, maid".
func (t Template) Name() string { return t.World + ", " + t.Rank }

// Part is one piece of a template.
type Part struct {
	Name     string
	Category show.Category
	Layer    int
	Fit      string
	Closure  string
	LengthTo string
}

// Templates are the looks that ship with the program. They are common
// practice; hours and cloth are house estimates.
func Templates() []Template {
	all, err := ReadTemplates(looksText)
	if err != nil {
		panic(err) // a test reads the table
	}
	return all
}

// Texts are what the templates and the calendar are read from.
var Texts = []rows.Text{
	{Name: "looks", Says: "looks by world and rank", Ships: looksText, Check: func(text string) error {
		_, err := ReadTemplates(text)
		return err
	}},
	{Name: "calendar", Says: "the calendar, counted back from the opening", Ships: calendarText, Check: func(text string) error {
		_, err := ReadCalendar(text)
		return err
	}},
}

// ReadTemplates reads a table written as the one that ships. The error names
// the line.
func ReadTemplates(text string) ([]Template, error) {
	var out []Template
	for i, line := range strings.Split(text, "\n") {
		switch bare := strings.TrimSpace(line); {
		case bare == "" || strings.HasPrefix(bare, "#"):
		case !strings.HasPrefix(line, " "):
			t, err := headOf(line)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", i+1, err)
			}
			out = append(out, t)
		case len(out) == 0:
			return nil, fmt.Errorf("line %d: pieces without a look above them", i+1)
		default:
			for _, name := range strings.Split(bare, ";") {
				part, ok := partCalled(strings.TrimSpace(name))
				if !ok {
					return nil, fmt.Errorf("line %d: what is a %q?", i+1, strings.TrimSpace(name))
				}
				out[len(out)-1].Pieces = append(out[len(out)-1].Pieces, part)
			}
		}
	}
	return out, nil
}

func headOf(line string) (Template, error) {
	f := rows.Read(line)[0].Cells
	if len(f) != 8 {
		return Template{}, fmt.Errorf("%d fields where there are 8", len(f))
	}
	t := Template{World: f[0], Rank: f[1], Era: f[2], CheapWay: f[6], Fast: f[7]}
	var err error
	if t.Making, err = hoursIn(f[3]); err != nil {
		return t, err
	}
	if t.Cheap, err = hoursIn(f[5]); err != nil {
		return t, err
	}
	if m2 := strings.Fields(f[4]); len(m2) == 2 {
		if t.ClothChild, err = m2In(m2[0]); err != nil {
			return t, err
		}
		t.ClothTeen, err = m2In(m2[1])
	}
	return t, err
}

func hoursIn(s string) (units.Minutes, error) {
	if s == "" {
		return 0, nil
	}
	h, err := strconv.ParseFloat(s, 64)
	if err != nil || h < 0 {
		return 0, fmt.Errorf("%q is no number of hours", s)
	}
	return units.Minutes(h*60 + .5), nil
}

func m2In(s string) (units.Area, error) {
	a, err := strconv.ParseFloat(s, 64)
	if err != nil || a < 0 {
		return 0, fmt.Errorf("%q is no area in square metres", s)
	}
	return units.Area(a * float64(units.SquareMetre)), nil
}

// words of parts.txt, by the word that names a piece.
var partWords = func() map[string]Part {
	out := map[string]Part{}
	for _, r := range rows.Read(partsText) {
		f := r.Cells
		layer, err := strconv.Atoi(f[2])
		if err != nil {
			panic(err) // a test reads the table
		}
		for _, w := range strings.Split(f[0], ",") {
			out[strings.TrimSpace(w)] = Part{Category: show.Category(f[1]), Layer: layer, Fit: f[3], Closure: f[4], LengthTo: f[5]}
		}
	}
	return out
}()

// partCalled knows a piece by the last word that names one.
func partCalled(name string) (Part, bool) {
	low := strings.ToLower(name)
	for _, cut := range []string{" with ", " of ", " in ", " on ", " over "} {
		low, _, _ = strings.Cut(low, cut)
	}
	words := strings.Fields(low)
	for i := len(words) - 1; i >= 0; i-- {
		if p, ok := partWords[words[i]]; ok {
			p.Name = name
			if strings.HasPrefix(low, "elastic-neck") {
				p.Closure = "elastic neck"
			}
			if strings.Contains(low, "wrap ") {
				p.Fit, p.Closure = "wrap", "snap"
			}
			return p, true
		}
	}
	return Part{}, false
}

// Given is what giving a template to roles did.
type Given struct {
	Looks, Pieces int
	Had           []show.RoleID // had pieces already and were left alone
}

// Give gives a template to roles: to the first look of each that has no
// pieces yet. The pieces of several roles make sets, in the colours said,
// which may be shared out anew inside a set; all of it is assumed until
// somebody changes it. next makes a code of a letter and a number of digits
// that is free.
func Give(h show.House, t Template, roles []show.RoleID, colours string, day units.Date, next func(h *show.House, letter string, digits int) string) (show.House, Given) {
	h = h.Own()
	var done Given
	members := make([][]show.PieceID, len(t.Pieces))
	for n, role := range roles {
		l := lookFor(&h, role, next)
		if len(h.LookPieces(l)) > 0 {
			done.Had = append(done.Had, role)
			continue
		}
		look := h.Look(l)
		look.World = t.World
		done.Looks++
		for i, part := range t.Pieces {
			id := show.PieceID(next(&h, "C", 3))
			h.Pieces = append(h.Pieces, show.Piece{ID: id, Category: part.Category, Name: part.Name, Looks: []show.LookID{l}, Layer: part.Layer,
				Colour: colourAt(colours, n), Era: t.Era, Fit: part.Fit, Closure: part.Closure, LengthTo: part.LengthTo})
			h.Origins = append(h.Origins, show.Origin{Kind: "piece", Code: string(id), Field: "piece", How: show.Assumed, Rule: "from the look " + t.Name(), Day: day})
			members[i] = append(members[i], id)
			done.Pieces++
		}
	}
	if len(roles) > 1 {
		for i, part := range t.Pieces {
			if len(members[i]) > 1 {
				joinSet(&h, part, members[i], groupOf(&h, roles[0]), colours, next)
			}
		}
	}
	return h, done
}

// joinSet makes one set of the pieces of a kind.
func joinSet(h *show.House, part Part, ids []show.PieceID, group, colours string, next func(*show.House, string, int) string) {
	set := show.Set{ID: show.SetID(next(h, "M", 2)), Name: group + ": " + part.Name, Pieces: ids, Colours: colours, Alike: "same", FreeHues: strings.ContainsAny(colours, ",;|"), Count: len(ids)}
	h.Sets = append(h.Sets, set)
	for _, id := range ids {
		h.Piece(id).Set = set.ID
	}
}

func groupOf(h *show.House, role show.RoleID) string {
	if r := h.Role(role); r != nil && r.Group != "" {
		return r.Group
	}
	return string(role)
}

// colourAt shares out colours said as a list, one after the other.
func colourAt(colours string, n int) string {
	var list []string
	for _, c := range strings.FieldsFunc(colours, func(r rune) bool { return r == ',' || r == ';' || r == '|' }) {
		if c = strings.TrimSpace(c); c != "" {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return list[n%len(list)]
}

// lookFor is the first look of a role; one is begun where it has none.
func lookFor(h *show.House, role show.RoleID, next func(*show.House, string, int) string) show.LookID {
	best := -1
	for i, l := range h.Looks {
		if l.Role == role && (best < 0 || l.Order < h.Looks[best].Order) {
			best = i
		}
	}
	if best >= 0 {
		return h.Looks[best].ID
	}
	id := show.LookID(next(h, "L", 3))
	h.Looks = append(h.Looks, show.Look{ID: id, Role: role, Name: string(role), Order: 1})
	return id
}
