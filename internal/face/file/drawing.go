package file

import (
	"fmt"
	"html"
	"io"
	"strings"

	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// Line is one closed line of a drawing on a layer, with its name written in
// its middle; a name of nothing is not written.
type Line struct {
	Layer   string // CLOTH, FLAWS, PARTS
	Name    string
	Outline geom.Outline // y down, as on the cloth
}

// mm is a length in millimetres, to the micrometre.
func mm(l units.Length) string {
	s := fmt.Sprintf("%d.%03d", l.Abs()/1000, l.Abs()%1000)
	if l < 0 {
		s = "-" + s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

func around(lines []Line) geom.Box {
	var all geom.Outline
	for _, l := range lines {
		all = append(all, l.Outline...)
	}
	return all.Box()
}

// SVG writes a drawing at its true size: one unit is a millimetre.
func SVG(w io.Writer, title string, lines []Line) error {
	box := around(lines)
	var b strings.Builder
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"%s %s %s %s\"><title>%s</title>\n",
		mm(box.Width()), mm(box.Height()), mm(box.Min.X), mm(box.Min.Y), mm(box.Width()), mm(box.Height()), html.EscapeString(title))
	for _, l := range lines {
		fmt.Fprintf(&b, "<g class=\"%s\"><path fill=\"none\" stroke=\"#000\" stroke-width=\"0.5\" d=\"", strings.ToLower(l.Layer))
		for i, p := range l.Outline {
			fmt.Fprintf(&b, "%c%s %s", "ML"[min(i, 1)], mm(p.X), mm(p.Y))
		}
		b.WriteString("Z\"/>")
		if l.Name != "" {
			at := l.Outline.Box()
			fmt.Fprintf(&b, "<text x=\"%s\" y=\"%s\" font-size=\"20\" font-family=\"sans-serif\" text-anchor=\"middle\">%s</text>", mm((at.Min.X+at.Max.X)/2), mm((at.Min.Y+at.Max.Y)/2), html.EscapeString(l.Name))
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// DXF writes a drawing as DXF of release 12, which every cutter and drawing
// program reads: closed polylines on layers, in millimetres, y up.
func DXF(w io.Writer, title string, lines []Line) error {
	var b strings.Builder
	put := func(pairs ...string) {
		for i := 0; i+1 < len(pairs); i += 2 {
			fmt.Fprintf(&b, "%3s\r\n%s\r\n", pairs[i], pairs[i+1])
		}
	}
	box := around(lines)
	put("999", plainLine(title)+", millimetres", "0", "SECTION", "2", "HEADER", "9", "$ACADVER", "1", "AC1009",
		"9", "$EXTMIN", "10", mm(box.Min.X), "20", mm(-box.Max.Y), "9", "$EXTMAX", "10", mm(box.Max.X), "20", mm(-box.Min.Y), "0", "ENDSEC")
	put("0", "SECTION", "2", "TABLES", "0", "TABLE", "2", "LAYER", "70", fmt.Sprint(len(layersOf(lines))))
	for i, name := range layersOf(lines) {
		put("0", "LAYER", "2", name, "70", "0", "62", fmt.Sprint(7-i%7), "6", "CONTINUOUS")
	}
	put("0", "ENDTAB", "0", "ENDSEC", "0", "SECTION", "2", "ENTITIES")
	for _, l := range lines {
		put("0", "POLYLINE", "8", l.Layer, "66", "1", "70", "1", "10", "0", "20", "0", "30", "0")
		for _, p := range l.Outline {
			put("0", "VERTEX", "8", l.Layer, "10", mm(p.X), "20", mm(-p.Y), "30", "0")
		}
		put("0", "SEQEND", "8", l.Layer)
		if l.Name != "" {
			at := l.Outline.Box()
			put("0", "TEXT", "8", l.Layer, "10", mm((at.Min.X+at.Max.X)/2), "20", mm(-(at.Min.Y+at.Max.Y)/2), "30", "0", "40", "15", "1", plainLine(l.Name))
		}
	}
	put("0", "ENDSEC", "0", "EOF")
	_, err := io.WriteString(w, b.String())
	return err
}

func layersOf(lines []Line) []string {
	var out []string
	for _, l := range lines {
		if !strings.Contains(" "+strings.Join(out, " ")+" ", " "+l.Layer+" ") {
			out = append(out, l.Layer)
		}
	}
	return out
}

// plainLine is a text a release 12 file can hold: one line of ASCII.
func plainLine(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r':
			return ' '
		case r > 126 || r < 32:
			return '?'
		}
		return r
	}, s)
}
