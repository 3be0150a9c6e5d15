package intake

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// bookOf makes a workbook of one sheet; merged ranges hold their first cell.
func bookOf(t *testing.T, rows [][]any, merged ...string) File {
	t.Helper()
	b := excelize.NewFile()
	for i, r := range rows {
		if err := b.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &r); err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range merged {
		from, to, _ := strings.Cut(m, ":")
		if err := b.MergeCell("Sheet1", from, to); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	if err := b.Write(&out); err != nil {
		t.Fatal(err)
	}
	return File{"book.xlsx", out.Bytes()}
}

// Children who have no names yet are numbered, and nobody is asked about them.
func TestNumberedChildren(t *testing.T) {
	_, rep, err := Take(show.House{}, []File{file("a.csv", "performer_id,name\nP1,Lantern child 1\nP2,Lantern child 2\n")})
	if err != nil || len(rep.Left) > 0 {
		t.Errorf("%v: %v", err, rep.Left)
	}
}

// Spreadsheets as people have them; each line is one real habit. Expected
// values are read off the line by hand.
func TestUntidySpreadsheets(t *testing.T) {
	height := func(h show.House, i int) units.Length { return h.Performers[i].Body[body.Height].Span.Lo }
	cast := "performer_id,name,height_cm\nP1,Ann Lee,150\n"
	for _, c := range []struct {
		habit string
		files []File
		says  string // part of the report
		ok    func(h show.House) bool
	}{
		{"no codes", []File{file("cast.csv", "Name,Age\nAnn Lee,12\nBo Ray,9\n")}, "2 performers", func(h show.House) bool {
			return h.Performers[0].ID == "P01" && h.Performers[1].Name == "Bo Ray" && h.Performers[1].Age.V == 9
		}},
		{"the same sheet next week", []File{file("a.csv", "Name,Age\nAnn Lee,12\n"), file("b.csv", "Name,Age\nAnn Lee,13\nBo Ray,9\n")}, "1 of them new", func(h show.House) bool {
			return len(h.Performers) == 2 && h.Performers[0].Age.V == 13
		}},
		{"a title above the header", []File{file("a.csv", "Our summer play,,\n,,\nName,Age,Height (cm)\nAnn Lee,12,150\n")}, "1 performer", func(h show.House) bool { return height(h, 0) == units.Cm(150) }},
		{"first and last name apart", []File{file("a.csv", "First name,Last name,Age\nAnn,Lee,12\n")}, "", func(h show.House) bool { return h.Performers[0].Name == "Ann Lee" }},
		{"the part beside the name", []File{file("a.csv", "Child,Part,Age\nAnn Lee,Miller,12\nBo Ray,Baker / Ghost,9\n")}, "", func(h show.House) bool {
			return len(h.Roles) == 3 && h.PlayedBy(h.Roles[2].ID, "A") == "P02"
		}},
		{"Hgt for height", []File{file("a.csv", "Name,Hgt (cm)\nAnn Lee,150\n")}, "", func(h show.House) bool { return height(h, 0) == units.Cm(150) }},
		{"inches in the header", []File{file("a.csv", "Name,Height (in)\nAnn Lee,60\n")}, "", func(h show.House) bool { return height(h, 0) == 60*units.Inch }},
		{"feet and inches in the cells", []File{file("a.csv", "Name,Height\nAnn Lee,5'4\"\nBo Ray,4 ft 8\n")}, "", func(h show.House) bool {
			return height(h, 0) == 64*units.Inch && height(h, 1) == 56*units.Inch
		}},
		{"no unit anywhere, plainly centimetres", []File{file("a.csv", "Name,Height\nA,150\nB,139\nC,161\n")}, "Taken as cm", func(h show.House) bool { return height(h, 2) == units.Cm(161) }},
		{"no unit anywhere, plainly inches", []File{file("a.csv", "Name,Height,Chest\nA,59,28\nB,54,26\nC,63,31 1/2\nD,60,30\n")}, "Taken as in", func(h show.House) bool {
			return height(h, 0) == 59*units.Inch && h.Performers[3].Body[body.Chest].Span.Lo == 30*units.Inch
		}},
		{"metres", []File{file("a.csv", "Name,Height\nA,1.50\nB,1.39\nC,1.61\n")}, "Taken as m", func(h show.House) bool { return height(h, 0) == units.Cm(150) }},
		{"mixed units in a column", []File{file("a.csv", "Name,Height (cm)\nA,150\nB,5'1\"\nC,1.61 m\n")}, "", func(h show.House) bool {
			return height(h, 1) == 61*units.Inch && height(h, 2) == units.Cm(161)
		}},
		{"inches among centimetres", []File{file("a.csv", "Name,Height (cm),Chest (cm)\nA,150,28\n")}, "In inches it would be", func(h show.House) bool { return !h.Performers[0].Body[body.Chest].Span.Known }},
		{"nothing written as a dash", []File{file("a.csv", "Name,Age,Height (cm)\nA,-,n/a\nB,?,150\n")}, "", func(h show.House) bool { return !h.Performers[0].Age.Known && height(h, 1) == units.Cm(150) }},
		{"about", []File{file("a.csv", "Name,Height (cm)\nA,ca. 150\nB,~139\nC,161?\n")}, "", func(h show.House) bool {
			return height(h, 0) == units.Cm(150) && height(h, 1) == units.Cm(139) && height(h, 2) == units.Cm(161)
		}},
		{"decimal comma", []File{file("a.csv", "Name;Height (cm)\nA;150,5\n")}, "", func(h show.House) bool { return height(h, 0) == units.Cm(150.5) }},
		{"tabs", []File{file("a.txt", "Name\tAge\nAnn Lee\t12\n")}, "1 performer", nil},
		{"a line of totals", []File{file("a.csv", "Name,Age,Height (cm)\nAnn Lee,12,150\nTotal,,150\nAverage,12,150\n")}, "A line of totals", func(h show.House) bool { return len(h.Performers) == 1 }},
		{"empty lines between", []File{file("a.csv", "Name,Age\n\nAnn Lee,12\n,\nBo Ray,9\n")}, "", func(h show.House) bool { return len(h.Performers) == 2 }},
		{"the month first", []File{file("a.csv", "performer_id,name,measured_on,height_cm\nP1,A,3/4/2027,150\nP2,B,3/14/2027,139\n")}, "", func(h show.House) bool {
			return h.Performers[0].Body[body.Height].Day.String() == "2027-03-04" && h.Performers[1].Body[body.Height].Day.String() == "2027-03-14"
		}},
		{"the day first", []File{file("a.csv", "performer_id,name,measured_on,height_cm\nP1,A,3/4/2027,150\nP2,B,14/3/2027,139\n")}, "", func(h show.House) bool {
			return h.Performers[0].Body[body.Height].Day.String() == "2027-04-03"
		}},
		{"the day spelled out", []File{file("a.csv", "performer_id,name,measured_on,height_cm\nP1,A,\"Sunday, March 14th, 2027\",150\nP2,B,14 Mar 27,139\n")}, "", func(h show.House) bool {
			return h.Performers[0].Body[body.Height].Day == h.Performers[1].Body[body.Height].Day && h.Performers[0].Body[body.Height].Day.String() == "2027-03-14"
		}},
		{"one child spelled two ways", []File{file("a.csv", cast+"P2,Anne Lee,139\nP3,\"Ray, Bo\",120\nP4,Bo Ray,121\nP5,Al Ng,150\nP6,Al Ny,150\n")}, "P1 and P2: the same child spelled two ways?", func(h show.House) bool { return len(h.Performers) == 6 }},
		{"a name in the other order", []File{file("a.csv", cast+"P3,\"Ray, Bo\",120\nP4,Bo Ray,121\n")}, "P3 and P4: the same child", nil},
		{"the same code twice", []File{file("a.csv", cast+"P1,Bo Ray,139\n")}, "stands twice", func(h show.House) bool { return len(h.Performers) == 1 }},
		{"rail without codes", []File{file("a.csv", "Item,Color,Chest (in),Length (in)\ngown,red,36,54\ngown,red,36,54\n")}, "2 garments", func(h show.House) bool {
			return len(h.Garments) == 2 && h.Garments[1].ID == "G002" && h.Garments[0].Chest.Lo == 36*units.Inch
		}},
		{"flat in the header", []File{file("a.csv", "stock_id,garment,chest_flat_cm\nS1,gown,44\n")}, "", func(h show.House) bool { return h.Garments[0].Chest.Lo == units.Cm(88) }},
		{"flat in the cell", []File{file("a.csv", "stock_id,garment,chest_cm\nS1,gown,44 flat\n")}, "", func(h show.House) bool { return h.Garments[0].Chest.Lo == units.Cm(88) }},
		{"American spelling", []File{file("a.csv", "stock_id,garment,color,fiber\nS1,gown,gray,cotton\n")}, "", func(h show.House) bool { return h.Garments[0].Colour == "gray" && h.Garments[0].Fibre == "cotton" }},
		{"helpers with hours", []File{file("a.csv", "Volunteer,Hours per week\nPriya,5\n")}, "1 helper", func(h show.House) bool { return h.Helpers[0].Hours == 300 }},
		{"cloth without codes", []File{file("a.csv", "Fabric,Color,Width (in),Length (yd)\ncotton,red,44,3 1/2\n")}, "1 cloth", func(h show.House) bool {
			return h.Cloths[0].Width == 44*units.Inch && h.Cloths[0].Length == 126*units.Inch
		}},
		{"scenes without codes", []File{file("a.csv", "Scene,Minutes\nDawn,4\nNoon,4.5\n")}, "2 scenes", func(h show.House) bool { return h.Scenes[1].ID == "S02" && h.Scenes[1].Running.Seconds() == 270 }},
		{"a currency sign in the cells", []File{file("a.csv", "receipt_id,shop,sum_eur\nE1,haberdasher,\"€ 1.234,50\"\n")}, "", func(h show.House) bool { return h.Receipts[0].Sum.V == 123450 }},
		{"ticks for yes", []File{file("a.csv", "helper_id,name,dresser,chaperone\nH1,Priya,✓,\n")}, "", func(h show.House) bool { return h.Helpers[0].Dresser && !h.Helpers[0].Chaperone }},
		{"a column nobody asked for", []File{file("a.csv", "Name,Age,Favourite colour\nAnn Lee,12,blue\n")}, "has no such column", func(h show.House) bool { return len(h.Unread) == 1 && h.Unread[0].Text == "blue" }},
		{"two columns of one name", []File{file("a.csv", "Name,Age,Age\nAnn Lee,12,13\n")}, "", func(h show.House) bool { return h.Performers[0].Age.V == 12 && h.Unread[0].Text == "13" }},
		{"spaces and hard spaces", []File{file("a.csv", " Name , Age \n  Ann\u00a0Lee  , 12 \n")}, "", func(h show.House) bool { return h.Performers[0].Age.V == 12 }},
		{"a note below the table", []File{file("a.csv", "Name,Age\nAnn Lee,12\n\"* still to be confirmed\",\n")}, "", func(h show.House) bool { return h.Performers[0].Name == "Ann Lee" }},
		{"a workbook with a title and merged groups", []File{bookOf(t, [][]any{{"Rail, March"}, {"Kind", "Item", "Color", "Chest (cm)"}, {"dress", "gown", "red", 88}, {nil, "robe", "blue", 92}}, "A3:A4")}, "2 garments", func(h show.House) bool {
			return h.Garments[1].Category == "dress"
		}},
	} {
		h := show.House{}
		report := ""
		for _, f := range c.files {
			got, rep, err := Take(h, []File{f})
			if err != nil {
				t.Errorf("%s: %v", c.habit, err)
				continue
			}
			h = got
			for _, lines := range [][]Line{rep.Taken, rep.Changed, rep.Left} {
				for _, l := range lines {
					report += l.String() + "\n"
				}
			}
		}
		if !strings.Contains(report, c.says) {
			t.Errorf("%s: no %q in\n%s", c.habit, c.says, report)
		}
		if c.ok != nil && !c.ok(h) {
			t.Errorf("%s: not taken as meant: %+v\n%s", c.habit, h.Performers, report)
		}
	}
}
