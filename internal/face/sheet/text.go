package sheet

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Text writes a sheet as plain text, 78 wide.
func Text(w io.Writer, s Sheet) error {
	var b strings.Builder
	head := strings.TrimSpace(s.Title + "  " + s.Corner)
	fmt.Fprintf(&b, "%s\n%s\n", head, strings.Repeat("=", min(78, max(4, utf8.RuneCountInString(head)))))
	if s.Under != "" {
		b.WriteString(wrap(s.Under, 78, ""))
	}
	for _, bl := range s.Blocks {
		textBlock(&b, bl)
	}
	fmt.Fprintf(&b, "\n%s\n", strings.Join(nonEmpty(s.Show, s.Name, "printed "+s.Printed, s.Print), " · "))
	_, err := io.WriteString(w, b.String())
	return err
}

func textBlock(b *strings.Builder, bl Block) {
	mark := ""
	if bl.Changed {
		mark = "| "
	}
	if bl.Heading != "" {
		fmt.Fprintf(b, "\n%s%s\n", mark, strings.TrimSpace(bl.Number+"  "+bl.Heading))
	}
	if bl.Say != "" {
		b.WriteString(wrap(bl.Say, 78, mark))
	}
	if bl.Why != "" {
		b.WriteString(wrap(bl.Why, 74, "    "))
	}
	if bl.Bar != "" {
		fmt.Fprintf(b, "%s\n%s%s\n", strings.Repeat("-", 78), wrap(bl.Bar, 78, mark), strings.Repeat("-", 78))
	}
	for _, t := range bl.Ticks {
		b.WriteString(wrap(t, 74, "[ ] "))
	}
	if bl.Table != nil {
		textTable(b, bl.Table)
	}
	if bl.Drawing != nil && bl.Drawing.Says != "" {
		b.WriteString(wrap("("+bl.Drawing.Says+")", 78, ""))
	}
}

func textTable(b *strings.Builder, t *Table) {
	widths := make([]int, len(t.Columns))
	measure := func(cells []string) {
		for i := range min(len(cells), len(widths)) {
			widths[i] = max(widths[i], utf8.RuneCountInString(cells[i]))
		}
	}
	heads := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		heads[i] = c.Head
	}
	measure(heads)
	ticks := false
	for _, r := range t.Rows {
		measure(r.Cells)
		ticks = ticks || r.Tick
	}
	measure(t.Foot)
	line := func(cells []string, tick bool) {
		if ticks {
			b.WriteString(map[bool]string{true: "[ ] ", false: "    "}[tick])
		}
		var parts []string
		for i := range min(len(cells), len(widths)) {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cells[i]))
			if t.Columns[i].Right {
				parts = append(parts, pad+cells[i])
			} else {
				parts = append(parts, cells[i]+pad)
			}
		}
		b.WriteString(strings.TrimRight(strings.Join(parts, "  "), " ") + "\n")
	}
	if strings.Join(heads, "") != "" {
		line(heads, false)
	}
	total := len(widths)*2 - 2
	for _, w := range widths {
		total += w
	}
	if ticks {
		total += 4
	}
	rule := strings.Repeat("-", max(total, 4)) + "\n"
	b.WriteString(rule)
	for _, r := range t.Rows {
		if r.Line {
			b.WriteString(rule)
		}
		line(r.Cells, r.Tick)
	}
	if len(t.Foot) > 0 {
		b.WriteString(rule)
		line(t.Foot, false)
	}
}

// wrap breaks a sentence into lines, each with a lead.
func wrap(s string, width int, lead string) string {
	var b strings.Builder
	col := 0
	b.WriteString(lead)
	for _, w := range strings.Fields(s) {
		n := utf8.RuneCountInString(w)
		if col > 0 && col+1+n > width {
			b.WriteString("\n" + strings.Repeat(" ", utf8.RuneCountInString(lead)))
			col = 0
		}
		if col > 0 {
			b.WriteByte(' ')
			col++
		}
		b.WriteString(w)
		col += n
	}
	return b.String() + "\n"
}

func nonEmpty(ss ...string) []string {
	var out []string
	for _, s := range ss {
		if strings.TrimSpace(s) != "" {
			out = append(out, s)
		}
	}
	return out
}
