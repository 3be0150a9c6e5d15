package intake_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/demo/demotest"
	"hemwright/internal/intake"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

func fieldOf(t *testing.T, r intake.Row, key string) intake.Field {
	t.Helper()
	for _, f := range r.Fields {
		if f.Key == key {
			return f
		}
	}
	t.Fatalf("%s %s has no field %s", r.Kind, r.Code, key)
	return intake.Field{}
}

// Saving what is shown changes nothing, for every row of every list.
func TestSavingWhatIsShown(t *testing.T) {
	h := demotest.House(t)
	n := 0
	for _, kind := range intake.Kinds() {
		l, err := intake.ListOf(&h, kind)
		if err != nil {
			t.Fatal(err)
		}
		codes := codesOf(h, kind)
		for _, r := range l.Rows {
			if !slices.Contains(codes, r.Code) && !l.Coded {
				codes = append(codes, r.Code)
			}
		}
		for _, code := range codes {
			row, err := intake.EditRow(&h, kind, code, "")
			if err != nil {
				t.Fatal(err)
			}
			values := map[string]string{}
			for _, f := range row.Fields {
				values[f.Key] = f.Value
			}
			got, back, err := intake.SaveRow(h, kind, code, values)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range back.Fields {
				if f.Fault != "" {
					t.Errorf("%s %s, %s: %q: %s", kind, code, f.Key, f.Value, f.Fault)
				}
			}
			if !reflect.DeepEqual(got, h) {
				differ(t, kind+" "+code, got, h)
			}
			n++
		}
	}
	if n < 600 {
		t.Errorf("only %d rows were edited", n)
	}
}

// codesOf lists the codes of a list, as an export writes them.
func codesOf(h show.House, kind string) []string {
	var out []string
	files, err := intake.CSV(h)
	if err != nil {
		panic(err)
	}
	for _, f := range files {
		if strings.TrimSuffix(f.Name, ".csv") != kind+"s" {
			continue
		}
		for i, l := range strings.Split(strings.TrimSpace(string(f.Data)), "\n") {
			code, _, _ := strings.Cut(l, ",")
			if _, err := intake.EditRow(&h, kind, code, ""); i > 0 && code != "" && err == nil {
				out = append(out, code)
			}
		}
	}
	return out
}

func TestEditing(t *testing.T) {
	h := demotest.House(t)
	h.Origins = []show.Origin{{Kind: "scene", Code: "S01", Field: "running", How: show.Assumed, Rule: "5 minutes"}}
	for _, c := range []struct {
		kind, code string
		values     map[string]string
		fault, at  string // words of the fault, and its field
		ok         func(h show.House) bool
	}{
		{"garment", "S001", map[string]string{"chest": "35 flat", "colour": "fog"}, "", "", func(h show.House) bool {
			g := h.Garment("S001")
			return g.Chest == units.Exactly(units.Cm(70)) && g.Colour == "fog" && g.Waist == units.Exactly(units.Cm(62))
		}},
		{"garment", "S001", map[string]string{"chest": "big"}, `"big" is not a length`, "chest", nil},
		{"garment", "S001", map[string]string{"chest": "-3"}, "less than nothing", "chest", nil},
		{"garment", "S001", map[string]string{"hip": ""}, "", "", func(h show.House) bool { return !h.Garment("S001").Hip.Known }},
		{"garment", "", map[string]string{"garment": "gown", "category": "dress", "length": "1,36 m"}, "", "", func(h show.House) bool {
			g := h.Garment("G001")
			return g != nil && g.Length.Lo == units.Cm(136) && show.TypedAs(h.Typed, "garment", "G001", "length", 1360000) == "1,36 m"
		}},
		{"performer", "P01", map[string]string{"chest": "33 in", "measured_on": "2027-03-01"}, "", "", func(h show.House) bool {
			m := h.Performer("P01").Body[body.Chest]
			return m.Span.Lo == 838200 && m.Origin == body.Measured
		}},
		{"performer", "P01", map[string]string{"chest": "33", "measured_on": "2027-03-01"}, "does not go with the other numbers", "chest", nil},
		{"scene", "S01", map[string]string{"running": "6.5"}, "", "", func(h show.House) bool { return h.Scenes[0].Running.Minutes() == 6.5 && len(h.Origins) == 0 }},
		{"scene", "S01", map[string]string{"running": "0"}, "no running time", "running", nil},
		{"role", "R01", map[string]string{"performer_id": "P99"}, `no performer "P99"`, "performer_id", nil},
		{"receipt", "", map[string]string{"shop": "haberdasher", "sum": "-3"}, "less than nothing", "sum", nil},
		{"helper", "H2", map[string]string{"from_date": "2027-06-01", "to_date": "2027-05-01"}, "leave before coming", "to_date", nil},
	} {
		got, row, err := intake.SaveRow(h, c.kind, c.code, c.values)
		if err != nil {
			t.Errorf("%v: %v", c.values, err)
			continue
		}
		if c.fault != "" {
			f := fieldOf(t, row, c.at)
			if !strings.Contains(f.Fault, c.fault) || f.Value != c.values[c.at] {
				t.Errorf("%v: says %q beside %q", c.values, f.Fault, f.Value)
			}
			if !reflect.DeepEqual(got, h) {
				t.Errorf("%v: something was taken all the same", c.values)
			}
			continue
		}
		if !c.ok(got) {
			t.Errorf("%v: %s %s is not as typed", c.values, c.kind, c.code)
		}
	}
	if _, _, err := intake.SaveRow(h, "garment", "S999", nil); err == nil {
		t.Error("a garment that is not there was saved")
	}
	if _, err := intake.EditRow(&h, "elephant", "", ""); err == nil {
		t.Error("there is no list of elephants")
	}
	gone, err := intake.RemoveRow(h, "garment", "S001")
	if err != nil || gone.Garment("S001") != nil || h.Garment("S001") == nil {
		t.Errorf("taking out: %v", err)
	}
}

// Any two lengths typed in any way: either taken exactly, or refused with the
// words still there.
func TestTypedLengths(t *testing.T) {
	h := demotest.House(t)
	rapid.Check(t, func(t *rapid.T) {
		typed := rapid.StringMatching(`[0-9]{1,3}([.,][0-9]{1,2}| [1-7]/8)?( ?(cm|in|mm|flat))?`).Draw(t, "typed")
		got, row, err := intake.SaveRow(h, "garment", "S001", map[string]string{"chest": typed})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range row.Fields {
			if f.Key == "chest" && f.Fault != "" {
				if f.Value != typed {
					t.Fatalf("%q became %q", typed, f.Value)
				}
				return
			}
		}
		again, err := intake.EditRow(&got, "garment", "S001", "")
		if err != nil {
			t.Fatal(err)
		}
		shown := again.Fields[4]
		if shown.Key != "chest" {
			t.Fatalf("the fifth field is %s", shown.Key)
		}
		blank, _, err := intake.SaveRow(got, "garment", "S001", map[string]string{"chest": ""})
		if err != nil {
			t.Fatal(err)
		}
		twice, _, err := intake.SaveRow(blank, "garment", "S001", map[string]string{"chest": shown.Value})
		if err != nil || twice.Garment("S001").Chest != got.Garment("S001").Chest {
			t.Fatalf("%q shown as %q is another length", typed, shown.Value)
		}
	})
}
