package intake_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/intake"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

var february = func() units.Date {
	d, err := units.Day(2027, 2, 22)
	if err != nil {
		panic(err)
	}
	return d
}()

var sparseTexts = []string{"cast_mail.txt", "scenes.txt", "who_is_on.csv", "rail_notes.txt", "shelf_and_people.txt", "typed_note.txt"}

// sparseHouse takes everything of somebody who begins with next to nothing.
func sparseHouse(t *testing.T) (show.House, map[string][]intake.Said) {
	h, said := show.House{}, map[string][]intake.Said{}
	for _, name := range sparseTexts {
		h, said[name] = intake.Text(h, name, demotest.Sparse(t, name), february)
	}
	return h, said
}

// The show is counted by hand in its full spreadsheets: 44 performers, 90
// roles, 18 scenes, 338 appearances; the grid says "some" twice, where 3 of 6
// and 4 of 4 are on. from: the demo's README and its lists.
func TestSparseShow(t *testing.T) {
	h, _ := sparseHouse(t)
	full := demotest.House(t)
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"performers", len(h.Performers), len(full.Performers)}, {"roles", len(h.Roles), len(full.Roles)},
		{"scenes", len(h.Scenes), len(full.Scenes)}, {"helpers", len(h.Helpers), 3}, {"finds", len(h.Finds), 1},
		{"opening", int(h.Opening()), int(full.Opening())}, {"money", int(h.Budget[0].Planned + h.Budget[1].Planned), 115000}, {"held back", int(h.Budget[1].Planned), 15000},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.what, c.got, c.want)
		}
	}
	names := map[string]bool{}
	for _, p := range full.Performers {
		names[p.Name] = true
	}
	for _, p := range h.Performers {
		if len(strings.Fields(p.Name)) > 1 && !names[p.Name] {
			t.Errorf("%q is nobody's name", p.Name)
		}
	}
	on, fullOn := presence(&h), presence(&full)
	var wrong int
	for k := range fullOn {
		if !on[k] {
			wrong++
			t.Errorf("%s is not on", k)
		}
	}
	if more := len(on) - len(fullOn); more > 4 {
		t.Errorf("%d are on who are not", more)
	}
}

// presence are the performers on in each scene, by scene and first name.
func presence(h *show.House) map[string]bool {
	out := map[string]bool{}
	for _, a := range h.Appearances {
		if p := h.Performer(h.PlayedBy(a.Role, "A")); p != nil {
			first, _, _ := strings.Cut(p.Name, " ")
			out[string(a.Scene)+" "+first] = true
		}
	}
	return out
}

// Each garment jotted at the rail is one of the demo's spreadsheet, with the
// same numbers round.
func TestRailLinesAgreeWithTheSpreadsheet(t *testing.T) {
	h, _ := sparseHouse(t)
	full := demotest.House(t)
	if len(h.Garments) < 40 {
		t.Errorf("%d garments read", len(h.Garments))
	}
	for _, g := range h.Garments {
		found := false
		for _, f := range full.Garments {
			same := strings.HasPrefix(f.Name, g.Name) && f.Colour == g.Colour && f.Category == g.Category && f.Closure == g.Closure && f.Place == g.Place
			for _, pair := range [][2]units.Span{{g.Chest, f.Chest}, {g.Hip, f.Hip}, {g.Length, f.Length}} {
				same = same && (!pair[0].Known || pair[0].Lo == pair[1].Lo)
			}
			same = same && (!g.Waist.Known || g.Waist.Lo == f.Waist.Lo) // the spreadsheet knows how far it stretches
			found = found || same
		}
		if !found {
			t.Errorf("%s %s, %s: chest %v waist %v hip %v length %v is no garment of the rail", g.ID, g.Name, g.Colour, g.Chest.Lo.Cm(), g.Waist.Lo.Cm(), g.Hip.Lo.Cm(), g.Length.Lo.Cm())
		}
	}
}

// Lines as people write them, with what they must come to.
func TestLines(t *testing.T) {
	people := "Cast:\nAnn Lee 12 - Miller\nBo Ray (9)\nWaves: Ann, Bo\nscene 1 Dawn\nscene 2 Noon 4.5\n\n"
	for _, c := range []struct {
		text string
		says string // part of what the line comes to; "" where it is only kept
		ask  string
		ok   func(h *show.House) bool
	}{
		{"Cy Dunn 10 - Baker / Ghost", "plays Baker; Ghost", "", func(h *show.House) bool { return len(h.Roles) == 5 }},
		{"Ghost – Bo Ray (9)", "plays Ghost", "", func(h *show.House) bool { return h.PlayedBy(h.Roles[len(h.Roles)-1].ID, "A") == "P02" }},
		{"Ann size 152", "wears size 152", "", func(h *show.House) bool { return h.Performers[0].LabelSize == "152" }},
		{"Waves: Ann, Bo, Cy", "1 new to the show", "", func(h *show.House) bool { return len(h.Roles) == 4 && h.Roles[3].Name == "Wave 3" }},
		{"Bo: no measuring please, size 128", "no measuring", "", func(h *show.House) bool {
			return h.Performers[1].Consent == "no measuring" && h.Performers[1].LabelSize == "128"
		}},
		{"Bo - no answer yet from home", "not answered", "", func(h *show.House) bool { return h.Performers[1].Held() }},
		{"Ann no wool on skin", "no wool on skin", "", func(h *show.House) bool { return len(h.Performers[0].Care) == 1 }},
		{"Zed no wool on skin", "", "Who is Zed?", nil},
		{"INTERVAL 20 after 1", "20 minutes after S01", "", func(h *show.House) bool { return h.Scenes[0].Interval == 20*time.Minute }},
		{"interval after 7", "", "After which scene", nil},
		{"bridesmaid fog grey 47 38 52 138 zip lined", "chest 94, waist 76, hip 104, length 138", "", func(h *show.House) bool {
			return h.Garments[0].Colour == "fog grey" && h.Garments[0].Lined == "yes" && h.Garments[0].Category == show.Dress
		}},
		{"skirt 30 1/2 80", "waist 61, length 80", "Which colour?", nil},
		{"waistcoat red 40 38 50 12 7", "", "5 numbers for a waistcoat", nil},
		{"market: skirt red 33 80, 4.50", "seen at market for 4.50", "", func(h *show.House) bool { return h.Finds[0].Price.V == 450 }},
		{"curtain 228 x 213 weed green, fade left 14", "less a strip", "", func(h *show.House) bool {
			f := h.Cloths[0].Flaws[0]
			return f.X == 0 && f.W == units.Cm(14) && f.H == units.Cm(213) && h.Cloths[0].Colour == "weed green"
		}},
		{"sheet double 205 x 243 moon white x2, single 178 x 258 pale aqua", "sheet single, pale aqua", "", func(h *show.House) bool { return len(h.Cloths) == 3 && h.Cloths[1].Colour == "moon white" }},
		{"2 sheets double white", "2 times", "what does the tape say", func(h *show.House) bool {
			return len(h.Cloths) == 2 && h.Origin("cloth", "K01", "width") != nil
		}},
		{"Priya 5 h a week until mid May, straight seams", "until about 15 May", "", func(h *show.House) bool {
			return h.Helpers[0].Hours == 300 && h.Helpers[0].To.Words() == "15 May" && h.Helpers[0].Skills[0] == "straight seams"
		}},
		{"Jonas 6 h beginner", "6 h a week", "", func(h *show.House) bool { return h.Helpers[0].Pace == 40 && h.Origin("helper", "H1", "pace") != nil }},
		{"money 1150, keep 150 back", "1150 in all", "", nil},
		{"money 100, keep 150 back", "", "More is held back", nil},
		{"opening 14 May", "Friday 14 May 2027", "", nil},
		{"opening 14 January", "14 January 2028", "", nil},
		{"opening soon", "", "Which day", nil},
		{"haberdasher 38,40 paid by me, slip in the red folder", "38.40 spent at haberdasher, with its slip", "Who paid", nil},
		{"band lends the jacket till 30 May, NO cutting", "back by 30 May", "", func(h *show.House) bool { return !h.Loans[0].MayCut && !h.Loans[0].Out }},
		{"ask director: can the waves come back on the left", "To ask director", "", nil},
		{"elastic 6 mm 12 m", "12 m of elastic 6 mm", "", nil},
		{"zips: 7 short ones, 2 of 50, 1 ivory 55 in the tin", "7 zip short", "", func(h *show.House) bool {
			return len(h.Notions) == 3 && h.Notions[2].Colour == "ivory" && h.Notions[2].Size == "55"
		}},
		{"first fitting little ones Sat 27 March 10:00", "Saturday 27 March 2027 10:00", "How long", nil},
		{"Bo plays the Miller every second night", "in cast B", "", func(h *show.House) bool { return h.PlayedBy("R01", "B") == "P02" }},
		{"Thu: ring about the hems", "", "What is this?", nil},
		{"Otto coat?", "", "What is this?", nil},
		{"bag of lace ends", "", "What is this?", nil},
		{"fish apron from the oilcloth 100 x 90", "", "", nil},
	} {
		h, said := intake.Text(show.House{}, "t", people+c.text, february)
		last := said[len(said)-1]
		all := ""
		for _, s := range said {
			if s.Line == last.Line {
				all += s.Says + " "
			}
		}
		if !strings.Contains(all, c.says) || !strings.Contains(last.Ask, c.ask) || (c.says == "") == last.Understood() {
			t.Errorf("%q: says %q, asks %q", c.text, all, last.Ask)
		}
		if c.ok != nil && !c.ok(&h) {
			t.Errorf("%q: the house is not as it should be", c.text)
		}
	}
}

// Taking the same texts again changes nothing, and every line that is not
// empty has an answer.
func TestTextTwice(t *testing.T) {
	h, said := sparseHouse(t)
	for _, name := range sparseTexts {
		text := demotest.Sparse(t, name)
		again, _ := intake.Text(h, name, text, february)
		if !reflect.DeepEqual(h, again) {
			t.Errorf("%s: taken again, the house is another", name)
		}
		answered := map[int]bool{}
		for _, s := range said[name] {
			answered[s.Line] = true
		}
		for i, l := range strings.Split(text, "\n") {
			if strings.TrimSpace(l) != "" && !answered[i+1] {
				t.Errorf("%s, line %d %q has no answer", name, i+1, l)
			}
		}
	}
}

// Lines in any mixture: no line is lost, none is taken twice.
func TestAnyMixture(t *testing.T) {
	var lines []string
	for _, name := range sparseTexts {
		lines = append(lines, strings.Split(demotest.Sparse(t, name), "\n")...)
	}
	mixed := func(t interface{ Fatalf(string, ...any) }, pick []string) {
		text := strings.Join(pick, "\n")
		h, said := intake.Text(show.House{}, "t", text, february)
		again, _ := intake.Text(h, "t", text, february)
		if !reflect.DeepEqual(h, again) {
			t.Fatalf("taken again, the house is another: %q", text)
		}
		answered := map[int]bool{}
		for _, s := range said {
			answered[s.Line] = true
		}
		for i, l := range pick {
			if strings.Trim(l, " -\t") != "" && !answered[i+1] {
				t.Fatalf("line %d %q has no answer", i+1, l)
			}
		}
	}
	// found before
	mixed(t, []string{"1 Low Water\t7", "scene\tminutes"})
	mixed(t, []string{"Yuki Tamura-Shaw 10 - The Bell-Child", "NB Elif plays the Bell-Child every second night, Yuki then goes into the class",
		"Lantern children: Birdie, Tomasz, Elif, Wren, Marisol, Henrik, Noor, Clement"})
	rapid.Check(t, func(t *rapid.T) { mixed(t, rapid.SliceOfN(rapid.SampledFrom(lines), 0, 30).Draw(t, "lines")) })
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"Amara (16): Ottilie", "2 sheets double white", "who,1,2,3\nA,x,,2-5\nB,x,x,\n", "\t\t\n\t\t", "INTERVAL 15 after 9", "opening 31 February"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h, said := intake.Text(show.House{}, "t", s, february)
		for _, x := range said {
			if x.Says == "" && x.Ask == "" {
				t.Errorf("line %d has no answer", x.Line)
			}
		}
		_ = fmt.Sprint(h)
	})
}
