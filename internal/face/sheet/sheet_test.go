package sheet

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hemwright/internal/value/units"
)

func sample() Sheet {
	return Sheet{Key: "k", Name: "cut sheet", Title: "Żofia’s waistcoat", Corner: "room 2", Under: "Two lines.", Show: "A show", Printed: "14 March 2027", Print: "first print", Paper: A4, Size: 12,
		Blocks: []Block{{Heading: "Parts", Number: "1"}, {Table: &Table{Columns: []Column{{Head: "part", Share: 3, Bold: true}, {Head: "across, cm", Share: 2, Right: true}},
			Rows: []Row{{Cells: []string{"front", "28.6"}, Tick: true}, {Cells: []string{"back", "23"}, Tick: true}}, Foot: []string{"in all", "51.6"}}},
			{Bar: "CHANGE, 150 seconds."}, {Ticks: []string{"pressed"}}, {Drawing: TestSquare(units.Metric)}}}
}

// By hand: what a person must find on the text of a sheet.
func TestText(t *testing.T) {
	var b bytes.Buffer
	if err := Text(&b, sample()); err != nil {
		t.Fatal(err)
	}
	want := `Żofia’s waistcoat  room 2
=========================
Two lines.

1  Parts
    part    across, cm
----------------------
[ ] front         28.6
[ ] back            23
----------------------
    in all        51.6
------------------------------------------------------------------------------
CHANGE, 150 seconds.
------------------------------------------------------------------------------
[ ] pressed
(A square of 5 cm. Measure it: if it is not 5 cm, the printer has scaled the
page.)

A show · cut sheet · printed 14 March 2027 · first print
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func writePDF(t *testing.T, sheets ...Sheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := PDF(&b, sheets...); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "s.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("HEMWRIGHT_REQUIRE_ALL") != "" {
			t.Fatalf("%s is not here to read the sheet with", name)
		}
		t.Skipf("%s is not here to read the sheet with", name)
	}
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// from: ISO 216: A4 is 210 x 297 mm, 595.28 x 841.89 points.
func TestPaperAndWords(t *testing.T) {
	for _, c := range []struct {
		p    Paper
		w, h float64
	}{{A4, 595.28, 841.89}, {A5Wide, 595.28, 419.53}, {A4Wide, 841.89, 595.28}} {
		s := sample()
		s.Paper = c.p
		file := writePDF(t, s)
		var w, h float64
		info := tool(t, "pdfinfo", file)
		fmt.Sscanf(regexp.MustCompile(`Page size:\s+(.*)`).FindStringSubmatch(info)[1], "%f x %f", &w, &h)
		if d := w - c.w; d > 0.5 || d < -0.5 || h-c.h > 0.5 || c.h-h > 0.5 {
			t.Errorf("%s is %.2f by %.2f points", c.p.Name, w, h)
		}
		words := strings.Join(strings.Fields(tool(t, "pdftotext", "-layout", file, "-")), " ")
		for _, want := range []string{"Żofia’s waistcoat", "front", "28.6", "CHANGE, 150 seconds.", "page 1 of", "printed 14 March 2027"} {
			if !strings.Contains(words, want) {
				t.Errorf("%s does not say %q", c.p.Name, want)
			}
		}
	}
}

// The test square is read back from the page: its black edges lie 50 mm
// apart, to 0.1 mm at 600 dots an inch.
func TestSquareIsTrue(t *testing.T) {
	s := Sheet{Key: "k", Name: "n", Paper: A4, Size: 12, Blocks: []Block{{Drawing: TestSquare(units.Metric)}}}
	file := writePDF(t, s)
	tool(t, "pdftoppm", "-r", "600", "-gray", "-f", "1", "-l", "1", file, strings.TrimSuffix(file, ".pdf"))
	found, err := filepath.Glob(strings.TrimSuffix(file, ".pdf") + "*.pgm")
	if err != nil || len(found) != 1 {
		t.Fatalf("%v %v", found, err)
	}
	b, err := os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	var w, h, top int
	if _, err := fmt.Sscanf(string(b[:40]), "P5\n%d %d\n%d\n", &w, &h, &top); err != nil {
		t.Fatal(err)
	}
	pix := b[len(b)-w*h:]
	const mm = 600 / 25.4
	from := 449                              // 19 mm: right of the selvedge
	black := func(y int) (left, right int) { // the outermost black dots of a line
		left, right = -1, -1
		for x := from; x < w; x++ {
			if pix[y*w+x] < 128 {
				if left < 0 {
					left = x
				}
				right = x
			}
		}
		return left, right
	}
	for y := range h * 2 / 3 { // the first long black line is the top of the square
		if left, right := black(y); left >= 0 && float64(right-left) > 45*mm {
			left, right = black(y + 236)           // 10 mm down, where only the two sides are black
			long := float64(right-left+1)/mm - 0.5 // less the width of the pen
			if long < 49.9 || long > 50.1 {
				t.Errorf("the square is %.2f mm wide", long)
			}
			return
		}
	}
	t.Error("there is no square on the page")
}

func TestSameSheetSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	if PDF(&a, sample()) != nil || PDF(&b, sample()) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two prints of one sheet differ")
	}
}

// A sheet longer than its paper goes on, heads again, pages counted.
func TestLongTables(t *testing.T) {
	s := sample()
	var rows []Row
	for i := range 120 {
		rows = append(rows, Row{Cells: []string{fmt.Sprintf("part %03d", i), "1"}})
	}
	s.Blocks = []Block{{Table: &Table{Columns: []Column{{Head: "the part", Share: 3}, {Head: "n", Share: 1, Right: true}}, Rows: rows}}}
	text := tool(t, "pdftotext", "-layout", writePDF(t, s), "-")
	pages := strings.Count(text, "\f")
	if pages < 3 || strings.Count(text, "the part") != pages || !strings.Contains(text, fmt.Sprintf("page %d of %d", pages, pages)) {
		t.Errorf("%d pages, heads %d times", pages, strings.Count(text, "the part"))
	}
	for i := range 120 {
		if strings.Count(text, fmt.Sprintf("part %03d", i)) != 1 {
			t.Errorf("row %d is not there once", i)
		}
	}
}

func TestCleanKeepsWhatTheTypefaceHas(t *testing.T) {
	if got := clean("Almásy → 🧵"); got != "Almásy > ?" {
		t.Errorf("%q", got)
	}
}
