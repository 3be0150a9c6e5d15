package intake

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

func file(name, text string) File { return File{name, []byte(text)} }

// A file that cannot be used stops the import; nothing of the others is taken.
func TestUnusableFiles(t *testing.T) {
	good := file("roles.csv", "role_id,role\nX1,Miller\n")
	for _, c := range []struct{ name, data, says string }{
		{"rail.csv", "\x89PNG\r\n\x1a\n....", "picture"},
		{"rail.csv", "\xff\xd8\xff\xe0....", "picture"},
		{"rail.xlsx", "PK\x03\x04....", "workbook"},
		{"rail.xls", "\xd0\xcf\x11\xe0....", "workbook"},
		{"rail.csv", "", "empty"},
		{"rail.csv", "\xef\xbb\xbf \n\n", "empty"},
		{"rail.csv", "what,ever\n1,2\n", "no list known here"},
		{"rail.csv", "stock_id,garment\nS1,\"never closed\nS2,x\n", "quotation mark"},
		{"rail.csv", "stock_id\x00\x01\x02\x03garment\n", "not text"},
	} {
		h, _, err := Take(show.House{}, []File{good, file(c.name, c.data)})
		if why.KindOf(err) != why.Invalid || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), c.name) {
			t.Errorf("%q: %v", c.data, err)
		}
		if len(h.Roles) != 0 {
			t.Errorf("%q: something was taken", c.data)
		}
	}
}

const smallCast = "performer_id,name,age_years,birth_month,measured_on,consent_on_file,height_cm,chest_cm,waist_cm,hip_cm\n"

// Each line: what is imported, what the report must say, and what must hold.
func TestBadCells(t *testing.T) {
	cast := func(row string) []File { return []File{file("cast.csv", smallCast+row)} }
	scene := file("scenes.csv", "scene_id,title,running_min\nA,One,6\n")
	role := file("roles.csv", "role_id,role\nX1,Miller\n")
	look := file("looks.csv", "look_id,look,role_id\nY1,apron,X1\n")
	on := func(row string) []File {
		return []File{scene, role, look, file("on.csv", "scene_id,role_id,look_id,enter_min,exit_min\n"+row)}
	}
	whole := func(h show.House) bool {
		return len(h.Appearances) == 1 && h.Appearances[0].Enter == 0 && h.Appearances[0].Exit == 6*time.Minute
	}
	none := func(h show.House) bool { return len(h.Appearances) == 0 }
	for _, c := range []struct {
		from  string
		files []File
		says  string
		holds func(h show.House) bool
	}{
		{"23 x 2.54 = 58.42; 58.4/132.7 is nearer 0.43 than 46/132.7", cast("Z1,Jo,9,,2027-02-27,yes,132.7,64,23,68\n"),
			"Waist 23 cm does not go with the other numbers of Z1. In inches it would be 58.4 cm",
			func(h show.House) bool {
				p := h.Performers[0]
				return !p.Body.Known(body.Waist) && p.Body.Known(body.Chest)
			}},
		{"a chest taken flat: 42 of 168 is half of 84", cast("Z1,Jo,30,,2027-02-27,yes,168,42,70,90\n"),
			"If it was taken flat, round it would be 84 cm", func(h show.House) bool { return !h.Performers[0].Body.Known(body.Chest) }},
		{"two columns exchanged", cast("Z1,Jo,13,,2027-02-27,yes,161.3,69.5,83.5,92\n"),
			"Chest and waist of Z1 may be swapped", func(h show.House) bool { return h.Performers[0].Body.Known(body.Chest) }},
		{"2027 - 2007 = 19 in February", cast("Z1,Jo,9,2007-12,2027-02-27,yes,132,,,\n"),
			"Age and birth month of Z1", func(h show.House) bool { return h.Performers[0].BirthMonth == "" && h.Performers[0].Age.V == 9 }},
		{"no measuring means no number", cast("Z1,Jo,9,,2027-02-27,no measuring,132,,,\n"),
			"not to be measured", func(h show.House) bool { return h.Performers[0].Body == body.Body{} && h.Unread[0].Text == "" }},
		{"birth month", cast("Z1,Jo,9,2017-13,2027-02-27,yes,132,,,\n"), `"2017-13" is not a month`, nil},
		{"bad day", cast("Z1,Jo,9,,2027-02-30,yes,132,,,\n"), `"2027-02-30" is not a day`,
			func(h show.House) bool { return h.Performers[0].Body[body.Height].Origin == body.Said }},
		{"twice", cast("Z1,Jo,9,,,,,,,\nZ1,Flo,9,,,,,,,\n"), `"Z1" stands twice`,
			func(h show.House) bool { return len(h.Performers) == 1 && h.Performers[0].Name == "Jo" }},
		{"no code", cast(",Jo,9,,,,,,,\n"), "This line has no performer id", func(h show.House) bool { return len(h.Performers) == 0 }},
		{"unknown performer", []File{file("roles.csv", "role_id,role,performer_id\nX1,Miller,Q9\n")}, `There is no performer "Q9"`,
			func(h show.House) bool { return len(h.Roles) == 1 && h.Roles[0].Performer == "" }},
		{"unknown scene", on("B,X1,Y1,0,1\n"), `There is no scene "B"`, none},
		{"unknown role", on("A,X2,Y1,0,1\n"), `There is no role "X2"`, none},
		{"unknown look", on("A,X1,Y2,0,1\n"), `There is no look "Y2"`, none},
		{"enter after exit", on("A,X1,Y1,4,3\n"), "is not before the exit at 3.00 min", whole},
		{"after the end", on("A,X1,Y1,0,9\n"), "is after the end of A", whole},
		{"no number", on("A,X1,Y1,soon,6\n"), `"soon" is not a number`, whole},
		{"scene of no length", []File{file("s.csv", "scene_id,title,running_min\nA,One,0\nB,Two,-4\n")}, `"0" is no running time`,
			func(h show.House) bool { return len(h.Scenes) == 2 && h.Scenes[1].Running == 0 }},
		{"price", []File{file("f.csv", "find_id,garment,price_eur\nF1,coat,-5\n")}, `"-5" is less than nothing`,
			func(h show.House) bool { return !h.Finds[0].Price.Known }},
		{"length", []File{file("f.csv", "stock_id,garment,chest_cm\nF1,coat,-5\n")}, `"-5" is less than nothing`,
			func(h show.House) bool { return !h.Garments[0].Chest.Known }},
		{"millimetres in a column of metres", []File{file("k.csv", "cloth_id,cloth,width_m\nF1,coat,1400\n")}, "longer than 250 m", nil},
		{"no unit", []File{file("f.csv", "stock_id,garment,chest\nF1,coat,94\n")}, "has no unit", func(h show.House) bool { return !h.Garments[0].Chest.Known }},
		{"own unit", []File{file("f.csv", "stock_id,garment,chest,what else\nF1,coat,37 in,?\n")}, "has no such column",
			func(h show.House) bool {
				return h.Garments[0].Chest == units.Exactly(37*units.Inch) && h.Unread[0].Text == "?"
			}},
		{"crossing outline", []File{file("k.csv", "cloth_id,cloth,outline_cm\nF1,felt,\"0,0;10,10;10,0;0,8\"\n")}, "crosses itself",
			func(h show.House) bool { return h.Cloths[0].Outline == nil }},
		{"outline too wide", []File{file("k.csv", "cloth_id,cloth,width_cm,length_cm,outline_cm\nF1,felt,20,20,\"0,0;30,0;0,10\"\n")}, "beyond the width", nil},
		{"three numbers", []File{file("k.csv", "cloth_id,cloth,flaws_cm\nF1,felt,\"1,2,3\"\n")}, "which is not 4 numbers", nil},
		{"another currency", []File{file("f.csv", "find_id,garment,price_eur\nF1,coat,5\n"), file("b.csv", "line,planned_usd,note\ncloth,9,\n")}, "Sums here count in €", nil},
		{"loan", []File{file("f.csv", "stock_id,garment,may_cut\nF1,coat,yes\n"), file("l.csv", "loan_id,whom,stock_id,may_cut\nL,club,F1,no\n")},
			"may not be cut by loan L", func(h show.House) bool { return !h.Garments[0].MayCut }},
		{"weekday", []File{file("c.csv", "date,weekday,what,kind\n2027-03-14,Mon,walk,plan\n")}, "is a Sun", nil},
		{"piece", []File{role, look, file("p.csv", "piece_id,piece,look_ids,layer\nC1,cap,Y1|Y7,9\n")}, `There is no look "Y7"`,
			func(h show.House) bool { return len(h.Pieces[0].Looks) == 1 && h.Pieces[0].Layer == 0 }},
		{"a letter no table asks for", []File{file("cast.csv", "performer_id,name,sex_for_growth\nZ1,Jo,x\n")}, "is not used by any growth table",
			func(h show.House) bool { return h.Performers[0].GrowthSex == "" }},
		{"gone before coming", []File{file("h.csv", "helper_id,name,from_date,to_date\nH,Jo,2027-03-01,2027-02-01\n")}, "would leave before coming",
			func(h show.House) bool { return h.Helpers[0].From == 0 && h.Helpers[0].To == 0 }},
		{"off before on, length unknown", []File{file("s.csv", "scene_id,title\nA,One\n"), role, look, file("on.csv", "scene_id,role_id,look_id,enter_min,exit_min\nA,X1,Y1,4,3\n")},
			"is before the entrance at 4.00 min", func(h show.House) bool { return h.Appearances[0].Exit == 4*time.Minute }},
		{"beyond the last column", []File{file("r.csv", "role_id,role\nX1,Miller,and more\n")}, "beyond the last column", nil},
	} {
		h, rep, err := Take(show.House{}, c.files)
		if err != nil {
			t.Errorf("%s: %v", c.from, err)
			continue
		}
		said := ""
		for _, l := range rep.Left {
			said += l.String() + "\n"
		}
		if !strings.Contains(said, c.says) {
			t.Errorf("%s: says %q, want %q", c.from, said, c.says)
		}
		if len(h.Unread) == 0 {
			t.Errorf("%s: the cell is not kept", c.from)
		}
		if c.holds != nil && !c.holds(h) {
			t.Errorf("%s: does not hold", c.from)
		}
		if again, rep := mustTake(t, h, c.files...); len(rep.Changed) > 0 || len(again.Unread) != len(h.Unread) {
			t.Errorf("%s: again changes %v", c.from, rep.Changed)
		}
	}
}

// A mistyped number keeps the good one that was there.
func TestBadCellKeepsWhatWasThere(t *testing.T) {
	h, _ := mustTake(t, show.House{}, file("cast.csv", smallCast+"Z1,Jo,9,,2027-02-27,yes,132.7,64,58.5,68\n"))
	h, _ = mustTake(t, h, file("cast.csv", smallCast+"Z1,Jo,9,,2027-04-27,yes,133,64,23,68\n"))
	b := h.Performers[0].Body
	if b[body.Waist].Span != units.Exactly(units.Cm(58.5)) || b[body.Height].Span != units.Exactly(units.Cm(133)) {
		t.Errorf("body %v", b)
	}
}

// Another show, with names of its own, inches, dollars and words for columns
// as people write them. 33 1/8 in = 33.125 x 25400 = 841375 um; 5'4" = 64 in;
// 2 1/4 yd = 2.0574 m; 19 1/2 in flat is 39 in round.
func TestAnotherShowInInches(t *testing.T) {
	h, rep := mustTake(t, show.House{},
		file("people.csv", "Performer ID;Name;Measured on;Height (ft);Chest (in)\nann;Ann;3 May 2031;5'4\";33 1/8\n"),
		file("parts.csv", "role_id\trole\tperformer_id\nfox\tThe Fox\tann\n"),
		file("order.csv", "scene_id,title,running_min,gap_after_s,interval_after_min\nopening,Wood,3.5,,20\nend,Hill,2,,\n"),
		file("clothes.csv", "look_id,look,role_id\nred,red coat,fox\n"),
		file("when.csv", "scene_id,role_id,look_id,enter_min,exit_min,enter_side\nopening,fox,red,,,left\n"),
		file("hanging.csv", "garment_id,garment,chest_flat_in,waist_in,waist_max_in\nrail 1,coat,19 1/2,30,34\n"),
		file("shelf.csv", "cloth_id,cloth,width_in,length_yd,cost_usd\nfelt,felt,36,2 1/4,\"1,150.50\"\n"),
		file("boxes.csv", "notion,size_in,on_hand\nzip,8,3\n"),
	)
	a := h.Appearances[0]
	for what, ok := range map[string]bool{
		"chest":    h.Performers[0].Body[body.Chest].Span == units.Exactly(841375),
		"height":   h.Performers[0].Body[body.Height].Span == units.Exactly(64*25400),
		"day":      h.Performers[0].Body[body.Chest].Day.String() == "2031-05-03",
		"round":    h.Garments[0].Chest == units.Exactly(39*25400),
		"waist":    h.Garments[0].Waist == units.Between(30*25400, 34*25400),
		"cloth":    h.Cloths[0].Length == 2057400 && h.Cloths[0].Width == 914400,
		"cost":     h.Cloths[0].Cost == units.Some(units.Money(115050)),
		"sign":     h.Show.Currency == "$",
		"zip":      h.Notions[0].Size == "20.3", // 8 in = 20.32 cm
		"stage":    a.Enter == 0 && a.Exit == 210*time.Second && a.EnterSide == "L",
		"interval": h.Scenes[0].Interval == 20*time.Minute,
		"nothing":  len(rep.Left) == 0,
	} {
		if !ok {
			t.Errorf("%s is wrong: %v", what, rep.Left)
		}
	}
}

// Rows without a code of their own are known again by what they say.
func TestCalendarMoves(t *testing.T) {
	head := "date,start_time,what,kind\n"
	h, _ := mustTake(t, show.House{}, file("c.csv", head+"2031-04-24,10:00,second fittings,fit\n2031-04-24,14:00,cutting,make\n"))
	h, rep := mustTake(t, h, file("c.csv", head+"2031-04-20,10:00,second fittings,fit\n2031-04-24,14:00,cutting and pinning,make\n"))
	if len(h.Calendar) != 2 || len(rep.Changed) != 2 || h.Calendar[0].Day.String() != "2031-04-20" {
		t.Errorf("calendar %v, changed %v", h.Calendar, rep.Changed)
	}
}

// Nobody is told anything about a body.
func TestWords(t *testing.T) {
	_, rep := mustTake(t, show.House{}, file("cast.csv", smallCast+"Z1,Jo,9,2001-01,2027-02-27,yes,132.7,34,93,6\n"))
	if len(rep.Left) < 3 {
		t.Fatalf("left %v", rep.Left)
	}
	for _, l := range rep.Left {
		for _, never := range []string{"implausible", "range", "too big", "too small", "normal", " her ", " his ", "!"} {
			if strings.Contains(l.String(), never) {
				t.Errorf("%q holds %q", l, never)
			}
		}
	}
}

func FuzzTake(f *testing.F) {
	f.Add([]byte("role_id,role\nX1,Miller\n"))
	f.Add([]byte("sep=;\r\nstock_id;garment;chest_cm;waist_max_in\r\nS1;\"coat\";94,5;1/0\r\n"))
	f.Add([]byte("\xff\xfer\x00o\x00"))
	f.Add([]byte(smallCast + "Z1,Jo,9,2001-01,2027-02-27,yes,132.7,34,93,6\n"))
	f.Add([]byte("cloth_id,cloth,outline_cm,flaws_cm\nK,felt,\"0,0;1,0;1 1\",circle d=\n"))
	f.Add([]byte("scene_id,title,running_min\nA,B,1e9\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, _, err := Take(show.House{}, []File{{"x.csv", data}})
		if err != nil {
			if why.KindOf(err) != why.Invalid {
				t.Fatalf("not a sentence: %v", err)
			}
			return
		}
		holds(t, h)
		again, rep2, err := Take(h, []File{{"x.csv", data}})
		if err != nil || len(rep2.Changed) != 0 || len(again.Unread) != len(h.Unread) {
			t.Fatalf("the second time: %v %v", err, rep2.Changed)
		}
	})
}

// A cast whose columns stand in any order, each measure in inches or in
// centimetres, is the same cast.
func TestOrderAndUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type column struct{ name, inches, cm string }
		inch := func(name string, low, high int) column {
			n := rapid.IntRange(low, high).Draw(t, name)
			return column{name, fmt.Sprint(n), fmt.Sprintf("%d.%02d", n*254/100, n*254%100)}
		}
		columns := []column{inch("height", 48, 66), inch("chest", 28, 34), inch("waist", 23, 27), inch("hip", 29, 36)}
		read := func(inches bool, order []int) show.House {
			head, row := []string{"performer_id", "name", "age_years"}, []string{"Z1", "Jo", "11"}
			for _, i := range order {
				if c := columns[i]; inches {
					head, row = append(head, c.name+"_in"), append(row, c.inches)
				} else {
					head, row = append(head, c.name+"_cm"), append(row, c.cm)
				}
			}
			h, _, err := Take(show.House{}, []File{file("cast.csv", strings.Join(head, ",")+"\n"+strings.Join(row, ",")+"\n")})
			if err != nil {
				t.Fatal(err)
			}
			return h
		}
		metric := read(false, []int{0, 1, 2, 3})
		inches := read(true, rapid.Permutation([]int{0, 1, 2, 3}).Draw(t, "order"))
		if !metric.Performers[0].Body.Known(body.Height) || !reflect.DeepEqual(metric.Performers, inches.Performers) {
			t.Fatalf("in cm %+v, in inches %+v", metric.Performers, inches.Performers)
		}
	})
}
