package file

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

func anyLines(t *rapid.T) []Line {
	var out []Line
	for range rapid.IntRange(1, 4).Draw(t, "lines") {
		l := Line{Layer: rapid.SampledFrom([]string{"CLOTH", "PARTS", "FLAWS"}).Draw(t, "layer"), Name: rapid.SampledFrom([]string{"", "C017 front", "Wiśniewska <&> \"x\""}).Draw(t, "name")}
		for range rapid.IntRange(3, 6).Draw(t, "corners") {
			l.Outline = append(l.Outline, geom.Point{X: units.Length(rapid.Int64Range(-2_000_000, 5_000_000).Draw(t, "x")), Y: units.Length(rapid.Int64Range(-2_000_000, 5_000_000).Draw(t, "y"))})
		}
		out = append(out, l)
	}
	return out
}

// A drawing read back by a reader of the test's own, pair by pair after the
// published reference of release 12, has every corner where it was, on its
// layer, closed.
func TestDXFComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := anyLines(t)
		var b bytes.Buffer
		if err := DXF(&b, "K1 lay", lines); err != nil {
			t.Fatal(err)
		}
		type pair struct {
			code int
			text string
		}
		var pairs []pair
		s := bufio.NewScanner(&b)
		for s.Scan() {
			code, err := strconv.Atoi(strings.TrimSpace(s.Text()))
			if err != nil || !s.Scan() {
				t.Fatalf("%q is no group code", s.Text())
			}
			pairs = append(pairs, pair{code, s.Text()})
			for _, r := range s.Text() {
				if r > 126 {
					t.Fatalf("%q is not plain", s.Text())
				}
			}
		}
		n, k, closed := -1, 0, false
		var x float64
		in := ""
		for _, p := range pairs {
			switch {
			case p.code == 0:
				if in == "POLYLINE" && p.text == "VERTEX" && !closed {
					t.Fatal("not closed")
				}
				in = p.text
				if in == "POLYLINE" {
					n, k, closed = n+1, 0, false
				}
			case in == "POLYLINE" && p.code == 70:
				closed = p.text == "1"
			case in == "POLYLINE" && p.code == 8 && p.text != lines[n].Layer:
				t.Fatalf("on layer %s", p.text)
			case in == "VERTEX" && p.code == 10:
				x, _ = strconv.ParseFloat(p.text, 64)
			case in == "VERTEX" && p.code == 20:
				y, _ := strconv.ParseFloat(p.text, 64)
				want := lines[n].Outline[k]
				if math.Abs(x*1000-float64(want.X)) > .5 || math.Abs(-y*1000-float64(want.Y)) > .5 {
					t.Fatalf("%v %v, was %v", x, y, want)
				}
				k++
			}
		}
		if last := pairs[len(pairs)-1]; n != len(lines)-1 || last != (pair{0, "EOF"}) {
			t.Fatalf("%d lines, %v at the end", n+1, last)
		}
	})
}

// The same as SVG: well-formed, true size, every corner in millimetres.
func TestSVGIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := anyLines(t)
		var b bytes.Buffer
		if err := SVG(&b, "a <lay>", lines); err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(&b)
		n := 0
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			switch e.Name.Local {
			case "svg":
				view := strings.Fields(at["viewBox"])
				if at["width"] != view[2]+"mm" || at["height"] != view[3]+"mm" {
					t.Fatalf("%v is not true to size", at)
				}
			case "path":
				f := strings.FieldsFunc(at["d"], func(r rune) bool { return strings.ContainsRune("MLZ ", r) })
				for k, p := range lines[n].Outline {
					x, _ := strconv.ParseFloat(f[2*k], 64)
					y, _ := strconv.ParseFloat(f[2*k+1], 64)
					if math.Abs(x*1000-float64(p.X)) > .5 || math.Abs(y*1000-float64(p.Y)) > .5 {
						t.Fatalf("%v %v, was %v", x, y, p)
					}
				}
				n++
			}
		}
		if n != len(lines) {
			t.Fatalf("%d of %d lines", n, len(lines))
		}
	})
}
