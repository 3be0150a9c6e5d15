package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	wide "golang.org/x/text/encoding/unicode"
	"golang.org/x/text/unicode/norm"

	"hemwright/internal/value/why"
)

// sheet is a table as read: header and rows of trimmed cells.
type sheet struct {
	name   string
	header []string // as written
	rows   []row
	told   *Told // what somebody says of it, or nil
}

type row struct {
	line  int // in the file, the header being line 1 where nothing precedes it
	cells []string
}

// notTables are files people send by mistake, by their first bytes.
var notTables = []struct{ magic, what, try string }{
	{"\xd0\xcf\x11\xe0", "an old workbook", "Open it in a spreadsheet and save each table as CSV."},
	{"%PDF", "a PDF", "Send the table it was printed from, saved as CSV."},
	{"\x89PNG", "a picture", "Send the table itself, saved as CSV."},
	{"\xff\xd8\xff", "a picture", "Send the table itself, saved as CSV."},
	{"GIF8", "a picture", "Send the table itself, saved as CSV."},
	{"RIFF", "a picture or sound", "Send the table itself, saved as CSV."},
}

// readSheet turns the bytes of a file into a sheet. The error says why the
// file cannot be used.
func readSheet(f File) (sheet, error) {
	for _, n := range notTables {
		if bytes.HasPrefix(f.Data, []byte(n.magic)) {
			return sheet{}, why.Bad(f.Name, fmt.Sprintf("%s is %s, not a table.", f.Name, n.what), n.try)
		}
	}
	text, err := decode(f.Data)
	if err != nil {
		return sheet{}, why.Bad(f.Name, f.Name+" is not text.", "Send a table saved as CSV.")
	}
	if strings.TrimSpace(text) == "" {
		return sheet{}, why.Bad(f.Name, f.Name+" is empty.", "Save the table again, with its first row of column names.")
	}
	records, err := split(text)
	if err != nil {
		return sheet{}, why.Bad(f.Name, fmt.Sprintf("%s cannot be read as a table: %s.", f.Name, inWords(err)), "Save it again as CSV from a spreadsheet.")
	}
	if len(records) == 0 {
		return sheet{}, why.Bad(f.Name, f.Name+" is empty.", "Save the table again, with its first row of column names.")
	}
	head := headerAt(f.Name, records)
	return sheet{name: f.Name, header: records[head].cells, rows: records[head+1:]}, nil
}

// headerAt finds the row of column names: the first of a list known here, so
// that titles above it do no harm; else the first row.
func headerAt(name string, records []row) int {
	for i, r := range records[:min(len(records), 15)] {
		if s := (sheet{name: name, header: r.cells}); len(r.cells) > 1 && (isShow(s) || isChangeList(s)) {
			return i
		} else if _, err := recognise(s); err == nil {
			return i
		}
	}
	return 0
}

func inWords(err error) string {
	var p *csv.ParseError
	if errors.As(err, &p) {
		return fmt.Sprintf("in line %d a quotation mark is not closed", p.StartLine)
	}
	return err.Error()
}

// decode gives the text of UTF-8, UTF-16 (by its mark, or by its zero bytes)
// or Windows-1252 bytes, in composed form.
func decode(b []byte) (string, error) {
	var enc encoding.Encoding
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		b = b[3:]
	case bytes.HasPrefix(b, []byte("\xff\xfe")) || zeros(b, 1):
		enc = wide.UTF16(wide.LittleEndian, wide.UseBOM)
	case bytes.HasPrefix(b, []byte("\xfe\xff")) || zeros(b, 0):
		enc = wide.UTF16(wide.BigEndian, wide.UseBOM)
	case !utf8.Valid(b):
		enc = charmap.Windows1252
	}
	if enc != nil {
		var err error
		if b, err = enc.NewDecoder().Bytes(b); err != nil {
			return "", err
		}
	}
	s := string(b)
	if !utf8.ValidString(s) || strings.ContainsFunc(s, notText) {
		return "", errors.New("not text")
	}
	return norm.NFC.String(s), nil
}

// zeros says whether most bytes at even (0) or odd (1) places are zero, as in
// two-byte text without a mark.
func zeros(b []byte, from int) bool {
	n, all := 0, 0
	for i := from; i < len(b) && i < 400; i += 2 {
		all++
		if b[i] == 0 {
			n++
		}
	}
	return all > 1 && n*2 > all
}

func notText(r rune) bool {
	return unicode.IsControl(r) && !strings.ContainsRune("\t\r\n\f", r) && (r < 0x80 || r > 0x9f)
}

// split cuts text into rows of trimmed cells, by the separator that gives the
// first row the most cells. Empty rows are left out.
func split(text string) ([]row, error) {
	first, rest, _ := strings.Cut(text, "\n")
	skipped := 0
	if hint := strings.ToLower(strings.TrimSpace(first)); strings.HasPrefix(hint, "sep=") {
		text, skipped = rest, 1
	}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	sep, most := ',', 0
	for _, c := range ",;\t" {
		r := csv.NewReader(strings.NewReader(text))
		r.Comma, r.LazyQuotes = c, true
		if cells, err := r.Read(); err == nil && len(cells) > most {
			sep, most = c, len(cells)
		}
	}
	rows, err := cut(text, sep, false)
	if errors.Is(err, csv.ErrBareQuote) { // 5'4" typed by hand
		rows, err = cut(text, sep, true)
	}
	for i := range rows {
		rows[i].line += skipped
	}
	return rows, err
}

func cut(text string, sep rune, lazy bool) ([]row, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = sep, lazy, -1
	var rows []row
	for {
		cells, err := r.Read()
		if len(cells) == 0 && err != nil {
			if errors.Is(err, io.EOF) {
				return rows, nil
			}
			return nil, err
		}
		if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		empty := true
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
			empty = empty && cells[i] == ""
		}
		if !empty {
			rows = append(rows, row{line, cells})
		}
	}
}
