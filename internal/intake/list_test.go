package intake_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// from: the Unicode collation algorithm, as golang.org/x/text/collate has it:
// words that differ in accents, case and width alone are the same at its first
// level. The second list is how they are typed on a plain keyboard, by hand.
func TestFold(t *testing.T) {
	loose := collate.New(language.Und, collate.Loose)
	for _, w := range [][2]string{{"Łukasz", "lukasz"}, {"ŁÓDŹ", "lodz"}, {"Đorđe", "dorde"}, {"Søren", "soren"}, {"Ångström", "angstrom"}, {"Zoë", "ZOE"}, {"Groß", "gross"}, {"Žaneta", "zaneta"},
		{"crème brûlée", "creme brulee"}, {"Ελένη", "ελενη"}, {"Ñandú", "nandu"}, {"Þór", "Thor"}, {"Æsa", "aesa"}, {"İpek", "ipek"}, {"Nguyễn", "nguyen"}, {"e\u0301t\u00e9", "ete"}} {
		if intake.Fold(w[0]) != intake.Fold(w[1]) {
			t.Errorf("%q is %q, %q is %q", w[0], intake.Fold(w[0]), w[1], intake.Fold(w[1]))
		}
		if strings.ContainsAny(w[0], "Þ") {
			continue // a letter of its own there; typed as th by hand
		}
		if loose.CompareString(w[0], w[1]) != 0 {
			t.Errorf("the pair %q is not one", w)
		}
	}
	// and what is not the same stays apart
	for _, w := range [][2]string{{"Lana", "Lena"}, {"gown 1", "gown 2"}, {"ss", "s"}} {
		if intake.Fold(w[0]) == intake.Fold(w[1]) || loose.CompareString(w[0], w[1]) == 0 {
			t.Errorf("%q are the same", w)
		}
	}
}

func TestMatches(t *testing.T) {
	for _, c := range []struct {
		query string
		is    bool
	}{{"", true}, {"  ", true}, {"lodz", true}, {"GOWN", true}, {"gown łódź", true}, {"gown kraków", false}, {"own od", true}} {
		if got := intake.Matches(c.query, "a gown", "from Łódź"); got != c.is {
			t.Errorf("%q: %v", c.query, got)
		}
	}
}

func codesIn(l intake.List) []string {
	var out []string
	for _, r := range l.Rows {
		out = append(out, r.Code)
	}
	return out
}

func span(cm float64) units.Span { return units.Exactly(units.Cm(cm)) }

// A small rail, sorted and searched by hand.
func TestList(t *testing.T) {
	h := show.House{Garments: []show.Garment{
		{ID: "G1", Name: "gown", Colour: "écru", Chest: span(100), Length: span(9)},
		{ID: "G2", Name: "coat", Colour: "Blue", Chest: span(92.5)},
		{ID: "G3", Name: "smock", Colour: "", Length: span(130)},
		{ID: "G4", Name: "Gown", Colour: "azure", Chest: span(8)},
	}, Origins: []show.Origin{{Kind: "garment", Code: "G2", Field: "chest", How: show.Assumed, Rule: "a guess"}}}
	list := func() intake.List {
		l, err := intake.ListOf(&h, "garment")
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	for _, c := range []struct {
		key  string
		down bool
		want string
	}{
		{"", false, "G1 G2 G3 G4"}, {"", true, "G4 G3 G2 G1"},
		{"chest", false, "G4 G2 G1 G3"}, {"chest", true, "G1 G2 G4 G3"}, // 8, 92.5, 100 as numbers; not known last
		{"colour", false, "G4 G2 G1 G3"}, {"colour", true, "G1 G2 G4 G3"}, // azure, Blue, écru
		{"garment", false, "G2 G1 G4 G3"}, // what is the same stays in its order
		{"length", false, "G1 G3 G2 G4"},
	} {
		l := list()
		if err := l.Sort(c.key, c.down); err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(codesIn(l), " "); got != c.want {
			t.Errorf("by %q, down %v: %s, want %s", c.key, c.down, got, c.want)
		}
	}
	for query, want := range map[string]string{"ecru": "G1", "GOWN": "G1 G4", "gown azure": "G4", "g3": "G3", "zzz": ""} {
		l := list()
		l.Find(query)
		if got := strings.Join(codesIn(l), " "); got != want {
			t.Errorf("%q finds %s, want %s", query, got, want)
		}
	}
	l := list()
	if err := l.Sort("elephant", false); err == nil {
		t.Error("sorted by no column")
	}
	at := slices.IndexFunc(l.Heads, func(h intake.Head) bool { return h.Key == "chest" })
	if c := l.Rows[1].Cells[at]; c.Value != "92.5" || c.Assumed != "a guess" || l.Rows[0].Cells[at].Assumed != "" || l.Heads[at].Filled != 3 || l.Heads[at].Unit != "cm" {
		t.Errorf("the chest of G2 is %+v under %+v", c, l.Heads[at])
	}
}

// No list shows a number about a body.
func TestListsWithoutBodies(t *testing.T) {
	h := demotest.House(t)
	l, err := intake.ListOf(&h, "performer")
	if err != nil || len(l.Rows) == 0 {
		t.Fatal(err)
	}
	for _, head := range l.Heads {
		for _, no := range []string{"height", "chest", "waist", "hip", "neck", "inside_leg", "upper_arm", "head", "across_shoulders"} {
			if head.Key == no {
				t.Errorf("the list of performers has a column %s", no)
			}
		}
	}
}

func TestSeveral(t *testing.T) {
	h := demotest.House(t)
	before := h.Own()
	set, err := intake.SetEach(h, "garment", []string{"S001", "S003"}, "colour", "fog")
	if err != nil {
		t.Fatal(err)
	}
	if set.Garment("S001").Colour != "fog" || set.Garment("S003").Colour != "fog" || set.Garment("S002").Colour != h.Garment("S002").Colour {
		t.Error("not those two are fog")
	}
	if _, err := intake.SetEach(h, "garment", []string{"S001", "S002"}, "chest", "blue"); err == nil || !strings.Contains(err.Error(), "S001") {
		t.Errorf("a chest of blue: %v", err)
	}
	if _, err := intake.SetEach(h, "garment", []string{"S001"}, "elephant", "3"); err == nil {
		t.Error("a column that is not there was set")
	}
	gone, err := intake.RemoveEach(h, "garment", []string{"S002", "S001"})
	if err != nil || len(gone.Garments) != len(h.Garments)-2 || gone.Garment("S001") != nil && gone.Garment("S001").ID == "S001" {
		t.Errorf("taken out: %v", err)
	}
	if !reflect.DeepEqual(h, before) {
		t.Error("the house given was touched")
	}
}

// from: one step of a rail is 2, 2 and 2.5 flat at chest, waist and hip and
// 1.5 in length, house figures; round the garment that is 4, 4 and 5.
func TestOneSizeUp(t *testing.T) {
	day, _ := units.Day(2027, 3, 14)
	h := show.House{Garments: []show.Garment{{ID: "G001", Name: "gown", Colour: "red", Chest: span(90), Waist: units.Between(units.Cm(70), units.Cm(74)), Hip: span(96), Length: span(120), Place: "A3", Fate: "cut", PromisedTo: "the guild", MayCut: true}},
		Origins: []show.Origin{{Kind: "garment", Code: "G001", Field: "may_cut", How: show.Assumed, Rule: "ours"}}}
	got, made, err := intake.Again(h, "garment", []string{"G001"}, true, day)
	if err != nil || len(made) != 1 || made[0] != "G002" {
		t.Fatalf("%v %v", made, err)
	}
	g := got.Garment("G002")
	want := show.Garment{ID: "G002", Name: "gown", Colour: "red", Chest: span(94), Waist: units.Between(units.Cm(74), units.Cm(78)), Hip: span(101), Length: span(121.5), Place: "A3", MayCut: true}
	if !reflect.DeepEqual(*g, want) {
		t.Errorf("one size up is\n%+v, want\n%+v", *g, want)
	}
	for _, f := range []string{"chest", "waist", "hip", "length", "may_cut"} {
		if got.Origin("garment", "G002", f) == nil {
			t.Errorf("%s is not in pencil", f)
		}
	}
	if o := got.Origin("garment", "G002", "hip"); o == nil || o.Rule != "one size up from G001: 5 cm more, a house figure" || o.Day != day {
		t.Errorf("the hip is in pencil by %+v", o)
	}
	for _, f := range []string{"colour", "sleeve", "place"} { // as they were, or not known
		if got.Origin("garment", "G002", f) != nil {
			t.Errorf("%s is in pencil", f)
		}
	}
	same, made, err := intake.Again(h, "garment", []string{"G001"}, false, day)
	if err != nil || made[0] != "G002" || same.Garment("G002").Chest != span(90) || same.Origin("garment", "G002", "chest") != nil {
		t.Errorf("the same again: %+v, %v", same.Garments, err)
	}
	if _, _, err := intake.Again(show.House{Performers: []show.Performer{{ID: "P01", Name: "Maya"}}}, "performer", []string{"P01"}, false, day); err == nil {
		t.Error("a person was copied")
	}
	if _, _, err := intake.Again(show.House{Cloths: []show.Cloth{{ID: "K01"}}}, "cloth", []string{"K01"}, true, day); err == nil {
		t.Error("a cloth has sizes")
	}
}

// Three of a group: the first has a look with two pieces, the second an empty
// look, the third has the hat already.
func TestToGroup(t *testing.T) {
	h := show.House{
		Roles: []show.Role{{ID: "R01", Name: "wave 1", Group: "waves"}, {ID: "R02", Name: "wave 2", Group: "waves"}, {ID: "R03", Name: "wave 3", Group: "waves"}, {ID: "R04", Name: "miller"}},
		Looks: []show.Look{{ID: "L001", Role: "R01", Name: "spray", Order: 1}, {ID: "L002", Role: "R02", Name: "wave 2", Order: 1}, {ID: "L003", Role: "R03", Name: "spray", Order: 1}},
		Pieces: []show.Piece{{ID: "C001", Category: "dress", Name: "tunic", Layer: 3, Looks: []show.LookID{"L001"}, Set: "M01", HowFar: show.Hung, Colour: "teal"},
			{ID: "C002", Category: "hat", Name: "cap", Layer: 6, Looks: []show.LookID{"L001"}}, {ID: "C003", Category: "hat", Name: "Cap", Layer: 6, Looks: []show.LookID{"L003"}}},
		Sets: []show.Set{{ID: "M01", Pieces: []show.PieceID{"C001"}, Count: 1}},
	}
	got, made, err := intake.ToGroup(h, "look", []string{"L001"}, "waves", 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(made) != 3 || len(got.Looks) != 3 || got.Look("L002").Name != "spray" {
		t.Errorf("made %v, looks %+v", made, got.Looks)
	}
	var worn []string
	for _, l := range []show.LookID{"L001", "L002", "L003"} {
		for _, p := range got.LookPieces(l) {
			worn = append(worn, string(l)+" "+p.Name)
		}
	}
	if s := strings.Join(worn, ", "); s != "L001 tunic, L001 cap, L002 tunic, L002 cap, L003 tunic, L003 Cap" {
		t.Errorf("worn: %s", s)
	}
	p := got.Piece(show.PieceID(made[0]))
	if p.Colour != "teal" || p.HowFar != show.ThoughtOf || p.Set != "M01" || len(got.Set("M01").Pieces) != 3 || got.Origin("piece", made[0], "piece") == nil {
		t.Errorf("the copy is %+v in %+v", p, got.Set("M01"))
	}
	if len(h.Set("M01").Pieces) != 1 || len(h.Pieces) != 3 || h.Look("L002").Name != "wave 2" {
		t.Error("the house given was touched")
	}
	if _, _, err := intake.ToGroup(got, "look", []string{"L001"}, "waves", 0); err == nil {
		t.Error("copied twice")
	}
	one, made, err := intake.ToGroup(h, "piece", []string{"C002"}, "waves", 0)
	if err != nil || len(made) != 1 || len(one.LookPieces("L002")) != 1 {
		t.Errorf("a cap for the second: %v %v", made, err)
	}
	if _, _, err := intake.ToGroup(h, "look", []string{"L001"}, "crows", 0); err == nil {
		t.Error("copied to a group that is not there")
	}
}

// A day of the calendar has no code: it is known by its words, moves with
// them, and stays alone.
func TestRowsWithoutCodes(t *testing.T) {
	day, _ := units.Day(2027, 5, 14)
	h := show.House{Calendar: []show.Entry{{Day: day, What: "opening", Kind: "show"}}}
	l, err := intake.ListOf(&h, "date")
	if err != nil || len(l.Rows) != 1 {
		t.Fatal(err)
	}
	code := l.Rows[0].Code
	h.Origins = []show.Origin{{Kind: "entry of the calendar", Code: code, Field: "date", How: show.Assumed, Rule: "a guess"}, {Kind: "entry of the calendar", Code: code, Field: "kind", How: show.Assumed, Rule: "a guess"}}
	moved, row, err := intake.SaveRow(h, "date", code, map[string]string{"date": "2027-05-15"})
	if err != nil || moved.Calendar[0].Day != day+1 || row.Code == code {
		t.Fatalf("%+v %+v %v", moved.Calendar, row, err)
	}
	if moved.Origin("entry of the calendar", row.Code, "kind") == nil || len(moved.Origins) != 1 {
		t.Errorf("what was assumed is now %+v", moved.Origins)
	}
	more, row, err := intake.SaveRow(moved, "date", "", map[string]string{"date": "2027-05-16", "what": "strike", "kind": "strike"})
	if err != nil || len(more.Calendar) != 2 {
		t.Fatalf("%+v %v", row, err)
	}
	if _, row, _ := intake.SaveRow(more, "date", "", map[string]string{"date": "2027-05-16", "what": "strike"}); row.Fields[0].Fault == "" {
		t.Error("the same day twice")
	}
	if _, row, _ := intake.SaveRow(more, "date", "", map[string]string{"what": "nothing"}); fieldOf(t, row, "date").Fault == "" {
		t.Error("a day without a date")
	}
	if _, row, err := intake.SaveRow(more, "date", row.Code, map[string]string{"date": ""}); err != nil || fieldOf(t, row, "date").Fault == "" {
		t.Errorf("a date taken away: %v", err)
	}
	gone, err := intake.RemoveRow(more, "date", row.Code)
	if err != nil || len(gone.Calendar) != 1 {
		t.Errorf("%+v %v", gone.Calendar, err)
	}
}

// By hand: one date is there in pencil and moves, one in ink and stays, one
// is new.
func TestPutDates(t *testing.T) {
	d := units.Date(46000)
	h, put, moved := intake.PutDates(show.House{}, []show.Entry{{Day: d, What: "Parade", Kind: "rehearse"}, {Day: d - 9, What: "trial"}}, []string{"a week", "two"}, d-90)
	if put != 2 || moved != 0 || len(h.Origins) != 2 || h.Calendar[0].What != "trial" {
		t.Fatalf("%d %d %+v", put, moved, h)
	}
	ink, row, err := intake.SaveRow(h, "date", d.String()+" 00:00 Parade", map[string]string{"date": (d + 1).String()})
	if err != nil || len(ink.Origins) != 1 {
		t.Fatalf("%+v %v", row, err)
	}
	got, put, moved := intake.PutDates(ink, []show.Entry{{Day: d + 7, What: "parade"}, {Day: d - 2, What: "trial"}, {Day: d + 20, What: "strike"}}, []string{"x", "y", "z"}, d)
	if put != 1 || moved != 1 {
		t.Errorf("%d put, %d moved", put, moved)
	}
	var days []int
	for _, e := range got.Calendar {
		days = append(days, int(e.Day-d))
	}
	if !slices.Equal(days, []int{-2, 1, 20}) {
		t.Errorf("the days are %v", days)
	}
	if _, there, pencil := intake.DateStands(&got, "TRIAL"); !there || !pencil {
		t.Error("the trial is not in pencil any more")
	}
	if _, there, pencil := intake.DateStands(&got, "parade"); !there || pencil {
		t.Error("the parade is in pencil again")
	}
	if len(ink.Calendar) != 2 || ink.Calendar[0].Day != d-9 {
		t.Error("the house given was touched")
	}
}
