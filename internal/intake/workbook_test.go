package intake

import (
	"bytes"
	"io/fs"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"hemwright/internal/demo"
	"hemwright/internal/show/show"
)

// workbook writes sheets of rows as a real XLSX file.
func workbook(t *testing.T, sheets map[string][][]any, order ...string) []byte {
	t.Helper()
	book := excelize.NewFile()
	for i, name := range order {
		if i == 0 {
			book.SetSheetName("Sheet1", name)
		} else if _, err := book.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for k, row := range sheets[name] {
			at, _ := excelize.CoordinatesToCellName(1, k+1)
			if err := book.SetSheetRow(name, at, &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The demo's tables as one workbook make the same house as the CSVs.
func TestWorkbookIsTheSameHouse(t *testing.T) {
	names, _ := fs.Glob(demo.Files(), "*.csv")
	var files []File
	sheets, order := map[string][][]any{}, []string{}
	for _, n := range names {
		b, err := fs.ReadFile(demo.Files(), n)
		if err != nil {
			t.Fatal(err)
		}
		f := File{Name: n, Data: b}
		files = append(files, f)
		s, err := readSheet(f)
		if err != nil {
			t.Fatal(err)
		}
		add := func(cells []string) {
			row := make([]any, len(cells))
			for i, c := range cells {
				row[i] = c
			}
			sheets[strings.TrimSuffix(n, ".csv")] = append(sheets[strings.TrimSuffix(n, ".csv")], row)
		}
		add(s.header)
		for _, r := range s.rows {
			add(r.cells)
		}
		order = append(order, strings.TrimSuffix(n, ".csv"))
	}
	want, _, err := Take(show.House{}, files)
	if err != nil {
		t.Fatal(err)
	}
	got, _, err := Take(show.House{}, []File{{Name: "show.xlsx", Data: workbook(t, sheets, order...)}})
	if err != nil {
		t.Fatal(err)
	}
	got.Unread, want.Unread = nil, nil
	if !reflect.DeepEqual(got, want) {
		t.Error("the workbook makes another house")
	}
}

// By hand: a title above the header, numbers as numbers, a day as a day, a
// formula, and a sheet that is no list.
func TestWorkbookAsPeopleHaveThem(t *testing.T) {
	sheets := map[string][][]any{
		"Cast": {{"Our cast, autumn"}, {}, {"performer_id", "name", "age_years", "height_cm", "measured_on"},
			{"P1", "Ann", 12, 150.5, time.Date(2027, 2, 27, 0, 0, 0, 0, time.UTC)}, {"P2", "Bo", 13, 161}},
		"Thoughts": {{"remember to ask about hats"}},
	}
	h, rep, err := Take(show.House{}, []File{{Name: "show.xlsx", Data: workbook(t, sheets, "Cast", "Thoughts")}})
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Performers) != 2 || h.Performers[0].Age.V != 12 || h.Performers[0].Body[0].Span.Lo != 1_505_000 || h.Performers[0].Body[0].Day.String() != "2027-02-27" {
		t.Errorf("%+v", h.Performers)
	}
	if len(rep.Left) != 1 || !strings.Contains(rep.Left[0].String(), "Thoughts") {
		t.Errorf("left: %v", rep.Left)
	}
}
