package intake

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"time"

	"hemwright/internal/show/show"
	"hemwright/internal/value/geom"
	"hemwright/internal/value/units"
)

// key joins what says who a row is.
func key(parts ...any) string {
	s := make([]string, len(parts))
	for i, p := range parts {
		s[i] = fmt.Sprint(p)
	}
	return strings.Join(s, " ")
}

func yesNo(b bool) string { return map[bool]string{true: "yes", false: "no"}[b] }

// positive reads a running time, which is never nothing.
func positive(p any, c cell) *fault {
	var d time.Duration
	if f := set(&d, c); f != nil {
		return f
	}
	if d <= 0 {
		return bad(c, "is no running time", "Write how long the scene runs, or leave the cell empty.")
	}
	*p.(*time.Duration) = d
	return nil
}

func side(p any, c cell) *fault {
	s, ok := map[string]show.Side{"l": "L", "left": "L", "r": "R", "right": "R"}[strings.ToLower(c.text)]
	if !ok {
		return bad(c, "is not a side of the stage", "Write L or R.")
	}
	*p.(*show.Side) = s
	return nil
}

func layer(p any, c cell) *fault {
	n, f := c.whole()
	if f == nil && (n < 1 || n > 6) {
		f = bad(c, "is not a layer", "Write 1 for next to the skin to 5 for outermost, 6 for accessories.")
	}
	if f == nil {
		*p.(*int) = n
	}
	return f
}

// oneOf reads a word that means yes or one that means no.
func oneOf(yes, no string) func(any, cell) *fault {
	return func(p any, c cell) *fault {
		switch strings.ToLower(c.text) {
		case yes:
			*p.(*bool) = true
		case no:
			*p.(*bool) = false
		default:
			return bad(c, "is not known here", fmt.Sprintf("Write %s or %s.", yes, no))
		}
		return nil
	}
}

var yearMonth = regexp.MustCompile(`^(19|20|21)\d\d-(0[1-9]|1[0-2])$`)

func month(p any, c cell) *fault {
	if !yearMonth.MatchString(c.text) {
		return bad(c, "is not a month", "Write it as 2015-08.")
	}
	*p.(*string) = c.text
	return nil
}

// pace reads a share of the lead's pace into hundredths.
func pace(p any, c cell) *fault {
	r, f := c.number()
	if f != nil {
		return f
	}
	r.Mul(r, big.NewRat(100, 1)).Add(r, big.NewRat(1, 2))
	n := new(big.Int).Quo(r.Num(), r.Denom())
	if n.Sign() <= 0 || n.Cmp(big.NewInt(1000)) > 0 {
		return bad(c, "is not a pace beside the lead's", "Write 1 for as fast as the lead, 0.5 for half as fast.")
	}
	*p.(*int) = int(n.Int64())
	return nil
}

// waistFrom reads a garment's waist, closed; what it stretches to is kept.
func waistFrom(p any, c cell) *fault {
	l, f := c.length()
	if f != nil {
		return f
	}
	w := p.(*units.Span)
	if w.Known && w.Lo != w.Hi && w.Hi >= l {
		w.Lo = l
		return nil
	}
	*w = units.Exactly(l)
	return nil
}

// waistTo reads what a garment's waist stretches to or can be tied to.
func waistTo(p any, c cell) *fault {
	l, f := c.length()
	if f != nil {
		return f
	}
	w := p.(*units.Span)
	if w.Known && l < w.Lo {
		return bad(c, fmt.Sprintf("is less than the waist, %s cm", units.Metric.Print(w.Lo)), "Measure it stretched, or leave it empty.")
	}
	if !w.Known {
		w.Lo = l
	}
	w.Hi, w.Known = l, true
	return nil
}

// sizeInCm reads a size that may be a length into centimetres as text; words,
// as "short", stay words.
func sizeInCm(p any, c cell) *fault {
	if c.text[0] < '0' || c.text[0] > '9' {
		*p.(*string) = c.text
		return nil
	}
	l, f := c.length()
	if f != nil {
		return f
	}
	*p.(*string) = units.Metric.Print(l)
	return nil
}

// onStage makes sense of an appearance's times. Where one is missing or
// cannot be, the whole of the scene is taken: then no change looks longer
// than it is.
func onStage(x *filling[show.Appearance]) {
	a := x.row
	samePlayer(x, a.Role)
	s := x.t.h.Scene(a.Scene)
	if x.failed["enter"] {
		a.Enter = 0
	}
	if x.failed["exit"] || x.isNew && !x.good("exit") {
		a.Exit = s.Running
	}
	if s.Running > 0 && a.Exit > s.Running {
		x.fail("exit", bad(x.cells["exit"], fmt.Sprintf("is after the end of %s, which runs %s min; the end is taken", s.ID, minutes(s.Running)), "Correct the minute or the scene's length."))
		a.Exit = s.Running
	}
	if a.Enter >= a.Exit && s.Running > 0 {
		x.fail("enter", bad(x.cells["enter"], fmt.Sprintf("is not before the exit at %s min; the whole scene is taken", minutes(a.Exit)), "Correct the two minutes."))
		a.Enter, a.Exit = 0, s.Running
	}
	if a.Exit < a.Enter { // in a scene of unknown length
		if x.good("exit") {
			x.fail("exit", bad(x.cells["exit"], fmt.Sprintf("is before the entrance at %s min; it is left open", minutes(a.Enter)), "Correct the two minutes, and say how long the scene runs."))
		}
		a.Exit = a.Enter
	}
}

func minutes(d time.Duration) string { return big.NewRat(int64(d/time.Second), 60).FloatString(2) }

// samePlayer checks a performer written beside a role: who plays it is said
// in the list of roles and the casting alone.
func samePlayer[T any](x *filling[T], role show.RoleID) {
	said := x.cells["performer_id"].text
	if plays := x.t.h.Role(role); said != "" && plays != nil && plays.Performer != "" && string(plays.Performer) != said {
		x.fail("performer_id", &fault{fmt.Sprintf("%s stands beside role %s, which %s plays; the list of roles is followed.", said, role, plays.Performer), "Correct the one or the other."})
	}
}

// wornBy checks the performers written beside a piece against its looks.
func wornBy(x *filling[show.Piece]) {
	wearers := map[show.PerformerID]bool{}
	for _, id := range x.t.h.Wearers(x.row) {
		wearers[id] = true
	}
	for _, said := range list(x.cells["performer_id"].text) {
		if len(wearers) > 0 && !wearers[show.PerformerID(said)] {
			x.fail("performer_id", &fault{fmt.Sprintf("%s stands beside %s, but none of its looks is worn by %s; the looks are followed.", said, x.row.ID, said), "Correct the looks or the performer."})
		}
	}
}

// shaped checks a cloth's outline and reads a round one.
func shaped(x *filling[show.Cloth]) {
	c := x.row
	if rest, round := strings.CutPrefix(strings.ToLower(x.cells["outline"].text), "circle d="); round {
		d, f := cell{text: rest, unit: x.cells["outline"].unit}.length()
		if f != nil {
			x.fail("outline", f)
			return
		}
		c.Diameter, c.Outline = units.Some(d), nil
	}
	if len(c.Outline) == 0 {
		return
	}
	o := make(geom.Outline, len(c.Outline))
	for i, p := range c.Outline {
		o[i] = geom.Point{X: p[0], Y: p[1]}
	}
	what := o.Fault()
	if box := o.Box(); what == "" && (c.Width > 0 && box.Width() > c.Width || c.Length > 0 && box.Height() > c.Length) {
		what = "reaches beyond the width and length beside it"
	}
	if what != "" {
		c.Outline = x.old.Outline
		x.fail("outline", &fault{fmt.Sprintf("The outline of %s %s; it is left open.", c.ID, what), "Walk round the cloth corner by corner and write the points in that order."})
	}
}

// dated checks the weekday written beside a day.
func dated(x *filling[show.Entry]) {
	if x.failed["date"] {
		x.drop = true
		return
	}
	said := strings.ToLower(x.cells["weekday"].text)
	if is := x.row.Day.Short()[:3]; said != "" && !strings.HasPrefix(said, strings.ToLower(is)) {
		x.fail("weekday", &fault{fmt.Sprintf("%s is a %s, not %q; the date is followed.", x.row.Day, is, said), "Correct the one or the other."})
	}
}

// heldBack knows the line that is not to be planned with by its words.
func heldBack(x *filling[show.BudgetLine]) {
	if !x.good("held_back") && strings.Contains(strings.ToLower(x.row.Line+" "+x.row.Note), "held back") {
		x.row.HeldBack = true
	}
}

// together checks what only several tables can say.
func (t *taking) together() {
	t.h.Garments = slices.Clone(t.h.Garments)
	t.h.Finds = slices.Clone(t.h.Finds)
	for _, l := range t.h.Loans {
		if l.Out || l.MayCut || l.Garment == "" {
			continue
		}
		g := t.h.Garment(l.Garment)
		if g == nil || !g.MayCut {
			continue
		}
		g.MayCut = false
		t.leave(Line{File: t.from[garments.many], Column: "may_cut", Text: "yes",
			What: fmt.Sprintf("%s may not be cut by loan %s, but its own line says it may; the loan is followed.", g.ID, l.ID), Try: "Correct the one or the other."}, false)
	}
}
