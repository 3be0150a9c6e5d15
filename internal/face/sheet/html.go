package sheet

import (
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"hemwright/internal/value/units"
)

// HTML writes a sheet as a page of its own that prints as the paper does. It
// wants the pages' style at /style.css and holds no script and no style of
// its own.
func HTML(w io.Writer, s Sheet) error {
	class := "sheet"
	switch {
	case s.Paper.W > s.Paper.H && s.Paper.H < 20*units.Centimetre:
		class += " a5wide"
	case s.Paper.W > s.Paper.H:
		class += " a4wide"
	case s.Paper.H < 25*units.Centimetre:
		class += " a5"
	}
	switch {
	case s.Size >= 17:
		class += " large"
	case s.Size >= 14:
		class += " middle"
	}
	return page.Execute(w, struct {
		Sheet
		Class, Foot string
	}{s, class, strings.Join(nonEmpty(s.Show, s.Name, "printed "+s.Printed, s.Print), " · ")})
}

var page = template.Must(template.New("sheet").Funcs(template.FuncMap{"drawn": drawn, "heads": heads, "named": named}).Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}, {{.Name}} · Hemwright</title>
<link rel="stylesheet" href="/style.css">
<link rel="icon" href="/icon.svg">
</head>
<body class="{{.Class}}">
<nav class="away" aria-label="Back"><a href="/sheets">All sheets</a> · <a href="/sheets/{{.Key}}.pdf">as PDF</a> · <a href="/sheets/{{.Key}}.txt">as text</a></nav>
<main id="answer">
<header><h1>{{.Title}}</h1>{{if .Corner}}<p class="corner">{{.Corner}}</p>{{end}}</header>
{{if .Under}}<p class="why">{{.Under}}</p>{{end}}
{{range $n, $b := .Blocks}}<div{{if .Changed}} class="changed"{{end}}>
{{- if .Heading}}<h2>{{if .Number}}<span class="n">{{.Number}}</span> {{end}}{{.Heading}}</h2>{{end}}
{{- if .Say}}<p>{{.Say}}</p>{{end}}
{{- if .Why}}<p class="why">{{.Why}}</p>{{end}}
{{- if .Bar}}<p class="bar">{{.Bar}}</p>{{end}}
{{- if .Ticks}}<ul class="ticks">{{range .Ticks}}<li><span class="box"></span>{{.}}</li>{{end}}</ul>{{end}}
{{- with .Table}}<div class="wide" tabindex="0" role="region" aria-label="{{named $.Blocks $n}}"><table>
{{- if heads .}}<thead><tr>{{range .Columns}}<th scope="col"{{if .Right}} class="r"{{end}}>{{.Head}}</th>{{end}}</tr></thead>{{end}}<tbody>
{{- $t := .}}{{range .Rows}}{{$r := .}}<tr{{if .Line}} class="line"{{end}}>{{range $i, $c := $t.Columns}}<td{{if $c.Right}} class="r"{{else if $c.Bold}} class="b"{{end}}>{{if and $r.Tick (eq $i 0)}}<span class="box"></span>{{end}}{{if lt $i (len $r.Cells)}}{{index $r.Cells $i}}{{end}}</td>{{end}}</tr>{{end}}</tbody>
{{- if .Foot}}<tfoot><tr>{{range $i, $c := $t.Columns}}<td{{if $c.Right}} class="r"{{end}}>{{if lt $i (len $t.Foot)}}{{index $t.Foot $i}}{{end}}</td>{{end}}</tr></tfoot>{{end}}</table></div>{{end}}
{{- with .Drawing}}{{drawn .}}{{end}}
</div>
{{end}}<footer>{{.Foot}}</footer>
</main>
</body>
</html>
`))

// named is what the table of a block is called: what stands above it, and
// which of the sheet's tables it is.
func named(blocks []Block, n int) string {
	name, count := "table", 0
	for _, b := range blocks[:n+1] {
		if b.Heading != "" {
			name = b.Heading
		}
		if b.Table != nil {
			count++
		}
	}
	return fmt.Sprintf("%s, table %d", name, count)
}

func heads(t *Table) bool {
	for _, c := range t.Columns {
		if c.Head != "" {
			return true
		}
	}
	return false
}

// drawn draws in millimetres of paper; at true scale it is never shrunk.
func drawn(d *Drawing) template.HTML {
	if d.Beside != nil {
		alone := *d
		alone.Beside = nil
		return `<div class="abreast">` + drawn(&alone) + drawn(d.Beside) + `</div>`
	}
	mm := func(l units.Length) float64 {
		return float64(l) / float64(units.Millimetre) / float64(max(d.Scale, 1))
	}
	left, top, right, end := 0.0, 0.0, mm(d.W), mm(d.H)
	for _, s := range d.Strokes {
		for _, q := range s.Points {
			left, top, right, end = min(left, mm(q.X)), min(top, mm(q.Y)), max(right, mm(q.X)), max(end, mm(q.Y))
		}
	}
	left, top, right, end = left-1, top-1, right+1, end+1
	class := "drawing"
	if d.Scale <= 1 {
		class += " true"
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="%s" viewBox="%s %s %s %s" width="%smm" height="%smm" role="img" aria-label="%s">`, class,
		short(left), short(top), short(right-left), short(end-top), short(right-left), short(end-top), template.HTMLEscapeString(d.Says))
	for _, s := range d.Strokes {
		b.WriteString(`<path d="`)
		for i, q := range s.Points {
			fmt.Fprintf(&b, "%c%s %s", "ML"[min(i, 1)], short(mm(q.X)), short(mm(q.Y)))
		}
		if s.Closed {
			b.WriteByte('Z')
		}
		width, dash := s.Pen.stroke()
		fmt.Fprintf(&b, `" fill="%s" stroke="var(--ink)" stroke-width="%s" stroke-dasharray="%s"/>`, filled(s), width, dash)
	}
	for _, l := range d.Labels {
		x, y := short(mm(l.At.X)), short(mm(l.At.Y))
		size := "2.8"
		if l.Large {
			size = "3.9"
		}
		fmt.Fprintf(&b, `<text x="%s" y="%s" dy=".35em" font-size="%s" text-anchor="middle" class="n" transform="rotate(%d %s %s)">%s</text>`, x, y, size, -l.Turn, x, y, template.HTMLEscapeString(l.Text))
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()) // built here from numbers and escaped words
}

func filled(s Stroke) string {
	if _, _, _, ok := rgb(s.Fill); !ok || !s.Closed {
		return "none"
	}
	if s.Fill == "sheet" {
		return "var(--sheet)"
	}
	return s.Fill
}

// stroke is a pen's width in millimetres and its dashes.
func (p Pen) stroke() (width, dash string) {
	switch p {
	case Heavy:
		return ".5", ""
	case Offer:
		return ".3", "2.2 1.3"
	case Dots:
		return ".3", ".5 .8"
	case Chain:
		return ".3", "2.8 .9 .6 .9"
	case Fine, Hatch:
		return ".12", ""
	}
	return ".3", ""
}

// short is a number of millimetres to a hundredth.
func short(v float64) string { return fmt.Sprint(math.Round(v*100) / 100) }
