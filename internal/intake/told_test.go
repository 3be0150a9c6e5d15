package intake_test

import (
	"reflect"
	"strings"
	"testing"

	"hemwright/internal/intake"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// A list as a teacher keeps it: one column named in another language, one
// that means nothing here, and heights known by what stands in them.
const pasted = "Name\tAge\tTallness\tBrust\tLocker\n" +
	"Maya Finch\t12\t4'11\"\t72\t14\n" +
	"Tom Reed\t11\t4'8\"\t70\t15\n" +
	"Ida Holm\t13\t5'2\"\t?\t16\n" +
	"Jo Park\t12\t5'0\"\twide\t17\n"

func columnOf(t *testing.T, g intake.Guess, header string) intake.ColumnGuess {
	t.Helper()
	for _, c := range g.Columns {
		if c.Header == header {
			return c
		}
	}
	t.Fatalf("no column %q in %+v", header, g.Columns)
	return intake.ColumnGuess{}
}

func TestGuesses(t *testing.T) {
	h, _, guesses := intake.TextAs(show.House{}, "pasted", pasted, 0, nil)
	if len(guesses) != 1 {
		t.Fatalf("%d guesses", len(guesses))
	}
	g := guesses[0]
	if g.Kind != "performer" || g.Of != 4 || len(g.Rows) != 3 || g.Rows[2][3] != "?" {
		t.Errorf("taken for %q, %d rows, first %q", g.Kind, g.Of, g.Rows)
	}
	for header, want := range map[string][4]string{"Name": {"name", "named"}, "Age": {"age", "named"}, "Tallness": {"height", "content"}, "Brust": {"", ""}, "Locker": {"", ""}} {
		if c := columnOf(t, g, header); c.Key != want[0] || c.How != want[1] {
			t.Errorf("%s is taken for %q, %q", header, c.Key, c.How)
		}
	}
	if c := columnOf(t, g, "Tallness"); c.Sure() != "by what stands in it; all 4 cells can be read" {
		t.Errorf("the heights are sure: %s", c.Sure())
	}
	// 4 feet 11 is 59 inches
	if got := h.Performers[0].Body[body.Height].Span.Lo; got != 59*units.Inch {
		t.Errorf("Maya is %d", got)
	}
	if h.Performers[0].Body[body.Chest].Span.Known {
		t.Error("a chest was taken from a column nobody named so")
	}
}

func TestToldColumns(t *testing.T) {
	told := map[int]intake.Told{0: {Columns: map[int]string{3: "chest", 2: intake.LeaveOut, 4: "note"}}}
	h, said, guesses := intake.TextAs(show.House{}, "pasted", pasted, 0, told)
	p := h.Performers
	if len(p) != 4 || p[0].Body[body.Chest].Span.Lo != units.Cm(72) || p[0].Body[body.Height].Span.Known || p[1].Note != "15" {
		t.Errorf("told so, Maya is %+v", p[0])
	}
	if c := columnOf(t, guesses[0], "Brust"); c.Key != "chest" || c.How != "told" || c.Read != 3 || c.Of != 4 || c.Sure() != "as you said, but only 3 of 4 cells can be read" {
		t.Errorf("the chest: %+v, %s", c, c.Sure())
	}
	if c := columnOf(t, guesses[0], "Tallness"); c.Key != intake.LeaveOut {
		t.Errorf("left out: %+v", c)
	}
	for _, u := range h.Unread { // what cannot be read is kept, what was left out is not
		if u.Column == "Tallness" || u.Column == "Locker" {
			t.Errorf("kept: %+v", u)
		}
	}
	wide := false
	for _, s := range said {
		wide = wide || strings.Contains(s.Ask, "is not a length")
	}
	if !wide {
		t.Error("nothing is said of the chest that is a word")
	}
	again, _, _ := intake.TextAs(h, "pasted", pasted, 0, told)
	if !reflect.DeepEqual(again, h) {
		t.Error("the same text told again changes something")
	}
}

// A field of another list loses nothing: the column stays as it was known.
func TestToldNonsense(t *testing.T) {
	plain, _, _ := intake.TextAs(show.House{}, "pasted", pasted, 0, nil)
	h, _, _ := intake.TextAs(show.House{}, "pasted", pasted, 0, map[int]intake.Told{0: {Columns: map[int]string{1: "hem_round", 2: "", 3: "elephant", 99: "name", -1: "name"}}})
	if !reflect.DeepEqual(h, plain) {
		t.Error("nonsense changes what is taken")
	}
}

// Another column may be told to be what a named one was taken for.
func TestToldInsteadOfAName(t *testing.T) {
	text := "Name\tAge\tNotes\tRemarks\nMaya\t12\tleft\tright\nTom\t11\tup\tdown\n"
	h, _, g := intake.TextAs(show.House{}, "pasted", text, 0, map[int]intake.Told{0: {Columns: map[int]string{3: "note"}}})
	if len(h.Performers) != 2 || h.Performers[0].Note != "right" {
		t.Errorf("%+v", h.Performers)
	}
	if c := columnOf(t, g[0], "Notes"); c.Key != "" {
		t.Errorf("two columns are the note: %+v", c)
	}
	if len(h.Unread) != 2 || h.Unread[0].Text != "left" || h.Unread[1].Text != "up" {
		t.Errorf("what the other column says is kept as %+v", h.Unread)
	}
}

// A table no list is recognised in can be told to be one; a table of scenes
// obeys as well, and numbers count the tables of the text.
func TestToldLists(t *testing.T) {
	odd := "Wat\tKleur\tBreed\n" + "jurk\trood\t94\n" + "jas\tgrijs\t100\n"
	_, _, g := intake.TextAs(show.House{}, "odd", odd, 0, nil)
	if len(g) != 1 || g[0].Kind != "" || len(g[0].Columns) != 3 {
		t.Fatalf("%+v", g)
	}
	told := map[int]intake.Told{1: {Kind: "garment", Columns: map[int]string{0: "garment", 1: "colour", 2: "chest"}}, 0: {Columns: map[int]string{2: "minutes", 1: intake.LeaveOut}}}
	h, _, g := intake.TextAs(show.House{}, "two", "Scene\tMinutes\tReally\nDawn\t9\t4\nDusk\t9\t6\n\n"+odd, 0, told)
	if len(g) != 2 || len(h.Scenes) != 2 || h.Scenes[1].Running.Minutes() != 6 {
		t.Errorf("scenes %+v of %+v", h.Scenes, g)
	}
	if len(h.Garments) != 2 || h.Garments[0].Name != "jurk" || h.Garments[1].Chest.Lo != units.Cm(100) {
		t.Errorf("garments %+v", h.Garments)
	}
	if _, _, err := intake.TakeAs(show.House{}, []intake.File{{Name: "a.csv", Data: []byte(odd)}}, map[string]intake.Told{"a.csv": {Kind: "elephant"}}); err == nil {
		t.Error("a list of elephants")
	}
}

// A header that says its unit keeps it when told.
func TestToldUnits(t *testing.T) {
	rail := "Wat\tBreed\njurk\t47\njas\t52\n"
	for told, want := range map[string]units.Length{"chest_flat_cm": units.Cm(94), "chest_in": 47 * units.Inch, "chest_cm": units.Cm(47), "chest_flat_in": 94 * units.Inch} {
		h, _, _ := intake.TextAs(show.House{}, "rail", rail, 0, map[int]intake.Told{0: {Kind: "garment", Columns: map[int]string{0: "garment", 1: told}}})
		if len(h.Garments) != 2 || h.Garments[0].Chest.Lo != want {
			t.Errorf("%s: %+v", told, h.Garments)
		}
	}
	text := "Name;Age;Bust (in)\nMaya;12;28\nTom;11;27\nIda;10;26\n"
	h, rep, err := intake.TakeAs(show.House{}, []intake.File{{Name: "a.csv", Data: []byte(text)}}, map[string]intake.Told{"a.csv": {Columns: map[int]string{2: "chest"}}})
	if err != nil || h.Performers[0].Body[body.Chest].Span.Lo != 28*units.Inch {
		t.Errorf("%+v %v", h.Performers, err)
	}
	if got := rep.Guesses[0].Columns[2].String(); got != `"Bust (in)" is chest in in: as you said; all 3 cells can be read` {
		t.Errorf("it is said: %s", got)
	}
}
