package web

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strings"
)

// svg builds a drawing; y points down, one unit is one pixel at full width.
type svg struct{ b strings.Builder }

// begin opens a drawing of a size; says is the sentence for those who cannot
// see it.
func begin(w, h float64, class, says string) *svg {
	s := &svg{}
	fmt.Fprintf(&s.b, `<svg class="%s" viewBox="0 0 %s %s" width="%s" height="%s" role="img" aria-label="%s">`,
		class, f(w), f(h), f(w), f(h), html.EscapeString(says))
	return s
}

func (s *svg) end() template.HTML {
	s.b.WriteString("</svg>")
	return template.HTML(s.b.String()) // built here from escaped parts only
}

func f(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.1f", v), "0"), ".")
}

func (s *svg) rect(x, y, w, h float64, fill, stroke string) {
	fmt.Fprintf(&s.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="%s" stroke-width=".75"/>`, f(x), f(y), f(w), f(h), paint(fill), paint(stroke))
}

// plain is a rectangle without an outline.
func (s *svg) plain(x, y, w, h float64, fill string) {
	fmt.Fprintf(&s.b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`, fine(x), fine(y), fine(w), fine(h), paint(fill))
}

// fine is a length to a hundredth, for stripes thinner than a pixel.
func fine(v float64) string { return fmt.Sprint(math.Round(v*100) / 100) }

func (s *svg) line(x1, y1, x2, y2 float64, stroke string, width float64, dash string) {
	fmt.Fprintf(&s.b, `<path d="M%s %sL%s %s" stroke="%s" stroke-width="%s" stroke-dasharray="%s" fill="none"/>`, f(x1), f(y1), f(x2), f(y2), paint(stroke), f(width), dash)
}

func (s *svg) path(d, fill, stroke string, width float64, dash string) {
	fmt.Fprintf(&s.b, `<path d="%s" fill="%s" stroke="%s" stroke-width="%s" stroke-dasharray="%s" stroke-linejoin="round"/>`, d, paint(fill), paint(stroke), f(width), dash)
}

func (s *svg) circle(x, y, r float64, fill, stroke string) {
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="%s" stroke-width="1.2"/>`, f(x), f(y), f(r), paint(fill), paint(stroke))
}

// text sets a word; anchor is start, middle or end.
func (s *svg) text(x, y float64, size float64, anchor, class, words string) {
	fmt.Fprintf(&s.b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" class="%s">%s</text>`, f(x), f(y), f(size), anchor, class, html.EscapeString(words))
}

func (s *svg) turned(x, y, size float64, class, words string) {
	fmt.Fprintf(&s.b, `<text x="%s" y="%s" font-size="%s" text-anchor="middle" class="%s" transform="rotate(-90 %s %s)">%s</text>`, f(x), f(y), f(size), class, f(x), f(y), html.EscapeString(words))
}

func (s *svg) open(attrs string)  { fmt.Fprintf(&s.b, `<g %s>`, attrs) }
func (s *svg) title(words string) { fmt.Fprintf(&s.b, `<title>%s</title>`, html.EscapeString(words)) }
func (s *svg) close()             { s.b.WriteString("</g>") }

// paint turns a token name into its variable and passes colours of cloth
// through.
func paint(c string) string {
	switch c {
	case "":
		return "none"
	case "none":
		return c
	}
	if strings.HasPrefix(c, "#") {
		return html.EscapeString(c)
	}
	return "var(--" + c + ")"
}

// swatchOf is a pinked piece of cloth.
func swatchOf(hex string) template.HTML {
	return template.HTML(`<svg class="swatch" viewBox="0 0 13 13" aria-hidden="true"><path d="M0 0l1.9 1 1.8-1 1.9 1 1.8-1 1.9 1 1.8-1 1.9 1v12l-1.9-1-1.8 1-1.9-1-1.8 1-1.9-1-1.8 1-1.9-1z" fill="` +
		paint(hex) + `" stroke="var(--line2)" stroke-width=".75"/></svg>`)
}
