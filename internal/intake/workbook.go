package intake

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"hemwright/internal/value/why"
)

// readWorkbook turns the visible sheets of an XLSX workbook into tables. The
// header is the first row with two cells or more that is a list known here,
// so that titles above it do no harm; a sheet without one is no table. The
// error says why the workbook cannot be used.
func readWorkbook(f File) (tables []sheet, others []string, err error) {
	book, err := excelize.OpenReader(bytes.NewReader(f.Data), excelize.Options{UnzipSizeLimit: 200 << 20})
	if err != nil {
		return nil, nil, why.Bad(f.Name, f.Name+" is a packed file, but no workbook that can be read.", "Open it in a spreadsheet and save each table as CSV.")
	}
	defer book.Close()
	for _, name := range book.GetSheetList() {
		if seen, err := book.GetSheetVisible(name); err != nil || !seen {
			others = append(others, name+" (hidden)")
			continue
		}
		s, ok, err := readWorksheet(book, f.Name, name)
		switch {
		case err != nil:
			return nil, nil, why.Bad(f.Name, fmt.Sprintf("The sheet %q of %s cannot be read.", name, f.Name), "Save it as CSV.")
		case ok:
			tables = append(tables, s)
		default:
			others = append(others, name)
		}
	}
	if len(tables) == 0 {
		return nil, nil, why.Bad(f.Name, fmt.Sprintf("%s holds no list known here.", f.Name), "Put the column names into one row, for performers: performer_id, name, height_cm.")
	}
	return tables, others, nil
}

func readWorksheet(book *excelize.File, file, name string) (sheet, bool, error) {
	rows, err := book.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		return sheet{}, false, err
	}
	if err := spread(book, name, rows); err != nil {
		return sheet{}, false, err
	}
	s := sheet{name: file + ", " + name}
	days := dates{book: book, sheet: name, styles: map[int]bool{}}
	for i, cells := range rows {
		for k := range cells {
			if cells[k], err = days.text(cells[k], k+1, i+1); err != nil {
				return s, false, err
			}
		}
		switch {
		case filled(cells) == 0:
		case s.header != nil:
			s.rows = append(s.rows, row{line: i + 1, cells: cells})
		case filled(cells) > 1:
			if _, err := recognise(sheet{name: s.name, header: cells}); err == nil || isShow(sheet{header: cells}) {
				s.header = cells
			}
		}
	}
	return s, s.header != nil, nil
}

// spread writes the value of cells merged down a column into each of them: a
// group named once beside its rows.
func spread(book *excelize.File, name string, rows [][]string) error {
	merged, err := book.GetMergeCells(name)
	if err != nil {
		return err
	}
	for _, m := range merged {
		col, from, err := excelize.CellNameToCoordinates(m.GetStartAxis())
		if err != nil {
			return err
		}
		last, to, err := excelize.CellNameToCoordinates(m.GetEndAxis())
		if err != nil {
			return err
		}
		for i := from; last == col && i < to && i < len(rows); i++ {
			for len(rows[i]) < col {
				rows[i] = append(rows[i], "")
			}
			rows[i][col-1] = m.GetCellValue()
		}
	}
	return nil
}

func filled(cells []string) int {
	n := 0
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			n++
		}
	}
	return n
}

// dates knows which cells of a sheet show a day or a time of day.
type dates struct {
	book   *excelize.File
	sheet  string
	styles map[int]bool
}

// text is what a cell says: a formula's value where none was stored, a day as
// 2027-03-14, a time as 19:00, anything else as it stands.
func (d *dates) text(raw string, col, line int) (string, error) {
	at, err := excelize.CoordinatesToCellName(col, line)
	if err != nil {
		return "", err
	}
	if raw == "" {
		if formula, err := d.book.GetCellFormula(d.sheet, at); err != nil || formula == "" {
			return "", nil
		}
		value, err := d.book.CalcCellValue(d.sheet, at, excelize.Options{RawCellValue: true})
		if err != nil {
			return "", nil // a formula nobody can work out is an empty cell
		}
		raw = value
	}
	n, err := strconv.ParseFloat(raw, 64)
	if err != nil {
		return raw, nil
	}
	style, err := d.book.GetCellStyle(d.sheet, at)
	if err != nil || !d.isDay(style) {
		return raw, nil
	}
	t, err := excelize.ExcelDateToTime(n, false)
	switch {
	case err != nil:
		return raw, nil
	case n < 1:
		return t.Format("15:04"), nil
	}
	return t.Format("2006-01-02"), nil
}

// isDay says whether a number format shows days or times: the built-in ones
// 14 to 22 and 45 to 47 of ECMA-376 part 1, 18.8.30, or one with a year or an
// hour in it.
func (d *dates) isDay(style int) bool {
	if day, known := d.styles[style]; known {
		return day
	}
	s, err := d.book.GetStyle(style)
	day := err == nil && (s.NumFmt >= 14 && s.NumFmt <= 22 || s.NumFmt >= 45 && s.NumFmt <= 47 ||
		s.CustomNumFmt != nil && strings.ContainsAny(strings.ToLower(*s.CustomNumFmt), "yh"))
	d.styles[style] = day
	return day
}
