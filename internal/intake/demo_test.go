package intake

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding/charmap"
	wide "golang.org/x/text/encoding/unicode"

	"hemwright/internal/demo"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// demoFiles are the demo's tables as files.
func demoFiles(t testing.TB) []File {
	t.Helper()
	var files []File
	err := fs.WalkDir(demo.Files(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(demo.Files(), path)
		files = append(files, File{path, data})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func mustTake(t testing.TB, h show.House, files ...File) (show.House, Report) {
	t.Helper()
	out, rep, err := Take(h, files)
	if err != nil {
		t.Fatal(err)
	}
	return out, rep
}

// Counts from the table in the demo's own README; 602 of 616 numbers from the
// rulings.
func TestDemoCounts(t *testing.T) {
	h, rep := mustTake(t, show.House{}, demoFiles(t)...)
	sum, held := units.Money(0), units.Money(0)
	for _, b := range h.Budget {
		sum += b.Planned
		if b.HeldBack {
			held += b.Planned
		}
	}
	numbers, sizes := 0, 0
	for _, p := range h.Performers {
		for _, m := range p.Body {
			if m.Span.Known {
				numbers++
			}
		}
		if p.ShoeSize != "" {
			sizes++
		}
	}
	bought := 0
	for _, f := range h.Finds {
		if f.Decision == "bought" {
			bought++
		}
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"performers", len(h.Performers), 44}, {"roles", len(h.Roles), 90}, {"scenes", len(h.Scenes), 18},
		{"appearances", len(h.Appearances), 338}, {"looks", len(h.Looks), 99}, {"pieces", len(h.Pieces), 214},
		{"garments", len(h.Garments), 129}, {"cloths", len(h.Cloths), 33}, {"finds", len(h.Finds), 28},
		{"bought", bought, 25}, {"helpers", len(h.Helpers), 10}, {"calendar", len(h.Calendar), 37},
		{"budget", len(h.Budget), 10}, {"sum", int(sum), 115000}, {"held back", int(held), 15000},
		{"colours", len(h.Colours), 82}, {"performances", len(h.Performances), 7}, {"casting", len(h.Casting), 12},
		{"feet", len(h.Feet), 44}, {"head", len(h.Headwear), 99}, {"mics", len(h.Mics), 16},
		{"palette", len(h.Backdrops), 18}, {"sets", len(h.Sets), 20}, {"asks", len(h.Asks), 14},
		{"notes", len(h.Notes), 15}, {"notions", len(h.Notions), 22}, {"receipts", len(h.Receipts), 14},
		{"loans", len(h.Loans), 4}, {"kits", len(h.Kits), 6},
		{"numbers with the shoe", numbers + sizes, 602}, {"unread", len(h.Unread), 0},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.what, c.got, c.want)
		}
	}
	if len(rep.Left) != 1 || rep.Left[0].File != "traps.csv" {
		t.Errorf("left: %v", rep.Left)
	}
}

// Read off the CSV files by eye.
func TestDemoSpots(t *testing.T) {
	h, _ := mustTake(t, show.House{}, demoFiles(t)...)
	cm := func(c float64) units.Span { return units.Exactly(units.Cm(c)) }
	day := func(y, m, d int) units.Date { v, _ := units.Day(y, m, d); return v }
	p1, p20, p32 := h.Performer("P01"), h.Performer("P20"), h.Performer("P32")
	wantHeight := body.Measure{Span: cm(166.4), Origin: body.Measured, Day: day(2027, 2, 27), Who: "H2 with H7 present"}
	k22, k13, k12, s1 := h.Cloth("K22"), h.Cloth("K13"), h.Cloth("K12"), h.Garment("S001")
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"height", p1.Body[body.Height], wantHeight},
		{"upper arm", p1.Body[body.UpperArm].Span, cm(25)},
		{"room", p1.Room, "1"},
		{"P20 numbers", p20.Body, body.Body{}},
		{"P20 garment", p20.FitsGarment, show.GarmentID("S002")},
		{"P20 label", p20.LabelSize, "128"},
		{"P24 held", h.Performer("P24").Held(), true},
		{"P32 by", p32.Body[body.Head].Who, "family at home"},
		{"P35 month", h.Performer("P35").BirthMonth, ""},
		{"name", h.Performer("P07").Name, "Dorota Wiśniewska"},
		{"S01", h.Scene("S01").Running, 7 * time.Minute},
		{"S08", h.Scene("S08").Running, 150 * time.Second},
		{"S09", h.Scene("S09").Interval, 15 * time.Minute},
		{"S12", h.Scene("S12").Movement, []string{"dance", "stairs"}},
		{"first", h.Appearances[0], show.Appearance{Scene: "S01", Role: "R01", Look: "L001", Enter: 30 * time.Second, Exit: 7 * time.Minute, EnterSide: "L", ExitSide: "L"}},
		{"C001", h.Piece("C001").Looks, []show.LookID{"L003", "L004"}},
		{"C001 limit", h.Piece("C001").PriceLimit, units.Some(units.Money(1400))},
		{"C003 hem", h.Piece("C003").HemClear, units.Maybe[units.Length]{}},
		{"set", h.Piece("C009").Set, show.SetID("G1")},
		{"S001 waist", s1.Waist, cm(62)},
		{"S001 colour", s1.Colour, "navy and cream"},
		{"F01 chest", h.Garment("F01").Chest, cm(80)},
		{"F01 note", h.Find("F01").Garment.Note, "first of a pair"},
		{"K22", k22.Outline, [][2]units.Length{{0, 0}, {units.Cm(150), 0}, {units.Cm(150), units.Cm(120)}, {units.Cm(95), units.Cm(120)}, {units.Cm(95), units.Cm(190)}, {0, units.Cm(190)}}},
		{"K13", k13.Diameter, units.Some(units.Cm(228))},
		{"K13 outline", len(k13.Outline), 0},
		{"K12", k12.Flaws, []show.Flaw{{X: units.Cm(70), Y: units.Cm(140), W: units.Cm(22), H: units.Cm(18)}}},
		{"K01 price", h.Cloth("K01").Cost, units.Some(units.Money(0))},
		{"H2", h.Helper("H2").Pace, 115},
		{"H1", h.Helper("H1").Hours, units.Minutes(14 * 60)},
		{"Q01", h.Receipts[0].Sum, units.Some(units.Money(3840))},
		{"Q02", h.Receipts[1].Sum, units.Maybe[units.Money]{}},
		{"B04", h.Loans[3].Out, true},
		{"B03", h.Loans[2].Deposit, units.Some(units.Money(8000))},
		{"T1", h.Kits[0].Pieces, []show.PieceID{"C053", "C054", "C055", "C056"}},
		{"N01", h.Notes[0].Minutes, units.Some(units.Minutes(20))},
		{"G1 free", h.Set("G1").FreeHues, true},
		{"G3 free", h.Set("G3").FreeHues, false},
		{"feet", h.FeetOf("P01").Heel, units.Some(units.Millimetre * 5)},
		{"P07 seen", h.FeetOf("P07").LayerOneSeen, units.Date(0)},
		{"R05 mic", h.Mics[4].Wears, false},
		{"cover", h.Casting[7].Cover, true},
		{"opening", h.Opening(), day(2027, 5, 14)},
		{"opening at", h.Performances[0].Start, units.Clock(19 * 60)},
		{"zip", h.Notions[0], show.Notion{Name: "zip", Size: "20", Colour: "mixed", OnHand: "7", Unit: "piece", Note: "saved from skirts"}},
		{"money", h.Show.Currency, "€"},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	elastic := 0
	for _, g := range h.Garments {
		if g.Waist.Known && g.Waist.Hi > g.Waist.Lo {
			elastic++
		}
	}
	if elastic != 13 { // counted in stock.csv: rows with waist_max_cm
		t.Errorf("%d garments give at the waist", elastic)
	}
}

func TestAgainChangesNothing(t *testing.T) {
	h, first := mustTake(t, show.House{}, demoFiles(t)...)
	again, rep := mustTake(t, h, demoFiles(t)...)
	if !reflect.DeepEqual(h, again) || len(rep.Changed) != 0 || !reflect.DeepEqual(first.Left, rep.Left) {
		t.Errorf("the second import changes something: %v", rep.Changed)
	}
}

// rewrite reads every table of the demo as CSV and writes it another way.
func rewrite(t *testing.T, how func(name string, rows [][]string) []byte) []File {
	files := demoFiles(t)
	for i, f := range files {
		rows, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		files[i].Data = how(f.Name, rows)
	}
	return files
}

func write(rows [][]string, sep rune) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = sep
	w.UseCRLF = true
	w.WriteAll(rows)
	return b.Bytes()
}

func TestColumnsInAnyOrder(t *testing.T) {
	want, _ := mustTake(t, show.House{}, demoFiles(t)...)
	got, _ := mustTake(t, show.House{}, rewrite(t, func(_ string, rows [][]string) []byte {
		for _, r := range rows {
			slices.Reverse(r)
		}
		return write(rows, '\t')
	})...)
	if !reflect.DeepEqual(got, want) {
		t.Error("the order of the columns matters")
	}
}

var decimal = regexp.MustCompile(`^\d+\.\d+$`)

// As a German or French spreadsheet saves it: semicolons, decimal commas,
// Windows-1252; UTF-16 where the names do not go into that.
func TestForeignSpreadsheet(t *testing.T) {
	want, _ := mustTake(t, show.House{}, demoFiles(t)...)
	narrow := 0
	got, _ := mustTake(t, show.House{}, rewrite(t, func(name string, rows [][]string) []byte {
		for _, r := range rows {
			for i := range r {
				if decimal.MatchString(r[i]) {
					r[i] = strings.Replace(r[i], ".", ",", 1)
				}
			}
		}
		b := write(rows, ';')
		if enc, err := charmap.Windows1252.NewEncoder().Bytes(b); err == nil {
			narrow++
			return enc
		}
		enc, err := wide.UTF16(wide.LittleEndian, wide.UseBOM).NewEncoder().Bytes(b)
		if err != nil {
			t.Fatal(err)
		}
		return enc
	})...)
	for _, x := range append(got.Typed, got.PeopleTyped...) {
		if !strings.Contains(x.Words, ",") {
			t.Errorf("%s %s, %s: typed %q, kept though printing says the same", x.Kind, x.Code, x.Field, x.Words)
		}
	}
	if len(got.Typed) == 0 {
		t.Error("no words with a decimal comma were kept")
	}
	got.Typed, got.PeopleTyped = nil, nil // typed otherwise, meaning the same
	want.Typed, want.PeopleTyped = nil, nil
	if !reflect.DeepEqual(got, want) {
		t.Error("a foreign spreadsheet gives another house")
	}
	if narrow < 20 {
		t.Errorf("only %d files are in Windows-1252", narrow)
	}
}

// A change is listed once, the house given stays as it was, and what is not
// in the new file stays too.
func TestUpdate(t *testing.T) {
	h, _ := mustTake(t, show.House{}, demoFiles(t)...)
	copied, _ := mustTake(t, show.House{}, demoFiles(t)...)
	got, rep := mustTake(t, h, File{"rail.csv", []byte("stock_id,garment,chest_cm\nS001,\"school pinafore dress, box pleats\",69.5\nS900,plain smock,90\n")},
		File{"c.csv", []byte("performer_id,name,measured_on,height_cm\nP01,,2027-04-24,167\n")})
	if !reflect.DeepEqual(h, copied) {
		t.Fatal("the house given was touched")
	}
	if len(got.Garments) != 130 || got.Garment("S001").Chest != units.Exactly(units.Cm(69.5)) || got.Garment("S001").Hip != units.Exactly(units.Cm(74)) {
		t.Errorf("S001 is %+v", got.Garment("S001"))
	}
	if got.Performer("P01").Name == "" {
		t.Error("an empty cell cleared a name")
	}
	var said []string
	for _, l := range rep.Changed {
		said = append(said, l.String())
	}
	want := []string{"rail.csv, line 2, chest: S001: 68 cm before, 69.5 cm now.", "c.csv, line 2, height: P01: another number than before. It stands on the performer’s own page."}
	if !slices.Equal(said, want) {
		t.Errorf("changed: %q", said)
	}
	// The old list comes again: the number of 24 April is newer and stays.
	old, rep := mustTake(t, got, demoFiles(t)...)
	if old.Performer("P01").Body[body.Height].Span != units.Exactly(units.Cm(167)) {
		t.Error("an older number took the place of a newer one")
	}
	if len(rep.Left) != 2 || !strings.Contains(rep.Left[1].What, "measured again on 24 April") {
		t.Errorf("left: %v", rep.Left)
	}
}
