package intake

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
)

// spoiled is the demo's spreadsheets with one cell of one row written anew.
func spoiled(t *testing.T, file, code string, cells map[string]string) []File {
	t.Helper()
	all := demoFiles(t)
	for i := range all {
		if all[i].Name != file && !strings.HasSuffix(all[i].Name, "/"+file) {
			continue
		}
		rows, err := csv.NewReader(bytes.NewReader(all[i].Data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, r := range rows[1:] {
			for k, head := range rows[0] {
				if v, ok := cells[head]; ok && r[0] == code {
					r[k] = v
					found++
				}
			}
		}
		if found != len(cells) {
			t.Fatalf("%s has no such cell: %s %v", file, code, cells)
		}
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		_ = w.WriteAll(rows)
		all[i].Data = b.Bytes()
	}
	return all
}

// Each deliberate fault of the demo is found, and the sentence names it.
//
// from: the list of traps made with the demo: a waist typed in inches, chest
// and waist exchanged, a birth month ten years out, a second wearer forgotten,
// a borrowed jacket marked as one that may be cut, an outline turned inside
// out at one corner.
func TestTraps(t *testing.T) {
	for _, c := range []struct {
		what, file, code string
		cells            map[string]string
		says             []string
		holds            func(h *show.House) bool
	}{
		{"waist in inches", "cast.csv", "P22", map[string]string{"waist_cm": "23"}, []string{"Waist 23", "In inches it would be 58.4"},
			func(h *show.House) bool { return !h.Performer("P22").Body.Known(body.Waist) }},
		{"exchanged", "cast.csv", "P29", map[string]string{"chest_cm": "69.5", "waist_cm": "83.5"}, []string{"P29", "may be swapped"}, nil},
		{"birth month", "cast.csv", "P24", map[string]string{"birth_month": "2007-12"}, []string{"Age and birth month of P24"},
			func(h *show.House) bool { return h.Performer("P24").BirthMonth == "" }},
		{"second wearer", "pieces.csv", "C180", map[string]string{"performer_id": "P01"}, nil, // who wears a piece follows from its looks, whatever is written beside it
			func(h *show.House) bool { return len(h.Wearers(h.Piece("C180"))) == 2 }},
		{"borrowed and cut", "stock.csv", "S112", map[string]string{"may_cut": "yes"}, []string{"may not be cut by loan B01"},
			func(h *show.House) bool { return !h.Garment("S112").MayCut }},
		{"inside out", "cloth.csv", "K22", map[string]string{"outline_cm": "0,0;150,0;95,120;150,120;150,190;0,190"}, nil,
			func(h *show.House) bool { return h.Cloth("K22") != nil }},
		{"crossing", "cloth.csv", "K22", map[string]string{"outline_cm": "0,0;150,0;150,190;95,120;95,190;150,120;0,190"}, []string{"crosses itself"}, nil},
	} {
		h, rep, err := Take(show.House{}, spoiled(t, c.file, c.code, c.cells))
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		var all []string
		for _, l := range rep.Left {
			all = append(all, l.String())
		}
		for _, s := range c.says {
			if !strings.Contains(strings.Join(all, "\n"), s) {
				t.Errorf("%s: nobody says %q: %v", c.what, s, all)
			}
		}
		if c.holds != nil && !c.holds(&h) {
			t.Errorf("%s: the house is not as it should be", c.what)
		}
	}
}

// A number that does not go with the others is asked about once, with the
// likely reading, and is kept where somebody says that it is right; one that
// no tape can show is not.
func TestItIsRightAsItIs(t *testing.T) {
	h, _, err := Take(show.House{}, demoFiles(t))
	if err != nil {
		t.Fatal(err)
	}
	field := func(r Row, key string) Field {
		for _, f := range r.Fields {
			if f.Key == key {
				return f
			}
		}
		t.Fatalf("no field %s", key)
		return Field{}
	}
	odd := map[string]string{"waist": "85"} // beside 132.7 and a chest of 64: 58 with the digits exchanged
	_, row, err := SaveRow(h, "performer", "P22", odd)
	if f := field(row, "waist"); err != nil || !f.MayStay || !strings.Contains(f.Fault, "58") {
		t.Fatalf("%v %+v", err, f)
	}
	odd["keep-waist"] = "yes"
	kept, row, err := SaveRow(h, "performer", "P22", odd)
	if f := field(row, "waist"); err != nil || f.Fault != "" || kept.Performer("P22").Body[body.Waist].Span.Lo != 850_000 {
		t.Errorf("%v %+v", err, f)
	}
	_, row, _ = SaveRow(h, "performer", "P22", map[string]string{"waist": "3", "keep-waist": "yes"})
	if f := field(row, "waist"); f.Fault == "" || f.MayStay {
		t.Errorf("a waist of 3 cm: %+v", f)
	}
}
