package intake

import (
	"fmt"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// ofHeight is about how much of the height a girth is, in hundredths, and
// below how much it was certainly measured flat. House figures: they choose
// between two readings of a number, they judge nothing.
var ofHeight = map[body.Kind]struct{ about, flat int64 }{
	body.Chest: {50, 35}, body.Waist: {43, 30}, body.Hip: {53, 37},
}

// measured makes sense of a line of the cast list: the numbers get their day
// and who took them; numbers that do not go together are left open.
func measured(x *filling[show.Performer]) {
	p := x.row
	if last := x.cells["last_name"].text; last != "" && !strings.HasSuffix(p.Name, " "+last) {
		p.Name += " " + last
	}
	playsRole(x)
	day, err := units.ParseDate(x.cells["measured_on"].text)
	if err != nil {
		x.fail("measured_on", bad(x.cells["measured_on"], "is not a day", "Write it as 2027-03-14."))
	}
	ages(x, day)
	if p.Consent == "no measuring" {
		notMeasured(x)
		return
	}
	tape := body.Measure{Origin: body.Said, Day: day, Who: x.cells["measured_by"].text}
	if day != 0 {
		tape.Origin = body.Measured
	}
	for _, k := range body.All() {
		if x.good(k.Code()) {
			measure(x, k, tape)
		}
	}
	together(x)
}

// together leaves a line for every number that does not go with the others;
// all are kept as written, and a person decides.
func together(x *filling[show.Performer]) {
	p := x.row
	var seen [body.Kinds]units.Span
	told := false
	for _, k := range body.All() {
		seen[k] = p.Body[k].Span
		told = told || x.good(k.Code())
	}
	if !told {
		return
	}
	for _, k := range []body.Kind{body.Height, body.WaistToFloor, body.InsideLeg} {
		if old, now := x.old.Body[k], p.Body[k]; old.Span.Known && old.Day != 0 && now.Day > old.Day && now.Span.Hi < old.Span.Lo-units.Centimetre {
			leave(x, k.Code(), fmt.Sprintf("%s of %s was %s on %s: this may be an older sheet.", tapeWord(k), p.ID, units.Metric.Print(old.Span.Lo), old.Day.Words()), "Look at the day on the sheet, or measure again.")
			return
		}
	}
	age, aged := body.AgeOf(p.BirthMonth, p.Age, p.Body[body.Height].Day)
	for _, d := range body.Doubtful(seen, age, aged, p.GrowthSex) {
		leave(x, d.Kind.Code(), notTogether(d, seen, string(p.ID)), otherwise(d, seen))
	}
}

func leave(x *filling[show.Performer], column, what, try string) {
	if !x.t.sure[column] {
		x.t.leave(Line{File: x.s.name, Row: x.line, Column: column, What: what, Try: try, mayStay: true}, true)
	}
}

// notTogether says which number it is, and which it does not go with.
func notTogether(d body.Doubt, seen [body.Kinds]units.Span, who string) string {
	say := func(k body.Kind) string { return k.String() + " " + units.Metric.Print(seen[k].Mid()) }
	if d.Reading == body.Exchanged {
		return fmt.Sprintf("%s and %s of %s may be swapped; both are kept as written.", tapeWord(d.Kind), strings.ToLower(tapeWord(d.With)), who)
	}
	var with []string
	for _, k := range d.Beside[:min(len(d.Beside), 3)] {
		with = append(with, say(k))
	}
	return fmt.Sprintf("%s of %s does not go with %s; it is kept as written.", tapeWord(d.Kind)+" "+units.Metric.Print(seen[d.Kind].Mid()), who, why.And(with))
}

// otherwise says how the number may have been meant.
func otherwise(d body.Doubt, seen [body.Kinds]units.Span) string {
	to := units.Metric.Print(d.Value)
	switch d.Reading {
	case body.Inches:
		return "In inches it would be " + to + ": take that, measure again, or keep it."
	case body.Centimetres:
		return "In centimetres it would be " + to + ": take that, measure again, or keep it."
	case body.Flat:
		return "If it was taken flat, round it is " + to + ": take that, measure again, or keep it."
	case body.Digits:
		return "With two digits the other way round it would be " + to + ": take that, measure again, or keep it."
	case body.Exchanged:
		return "These two numbers do not go together; measure again?"
	}
	return "These numbers do not go together; measure again, or keep it."
}

// notMeasured keeps no number of somebody who is not to be measured.
func notMeasured(x *filling[show.Performer]) {
	for _, k := range body.All() {
		if x.cells[k.Code()].text != "" {
			x.failWith(k.Code(), "", &fault{fmt.Sprintf("%s is not to be measured; the number is not kept.", x.row.ID), "Ask first, then change the answer in the list."})
		}
	}
	x.row.Body = body.Body{}
}

// measure takes one number, unless it does not go with the others.
func measure(x *filling[show.Performer], k body.Kind, tape body.Measure) {
	p, old, c := x.row, x.old.Body[k], x.cells[k.Code()]
	l := p.Body[k].Span.Lo
	lo, hi := body.Limits(k)
	height := p.Body[body.Height].Span
	tall, _ := body.Limits(body.Height)
	flat := height.Exact() && height.Lo >= tall && l < height.Lo.Times(ofHeight[k].flat, 100)
	same := old.Span == p.Body[k].Span
	p.Body[k] = old
	switch {
	case l < lo || l > hi || flat:
		x.fail(k.Code(), &fault{
			fmt.Sprintf("%s %s %s does not go with the other numbers of %s.", tapeWord(k), c.text, c.unit, p.ID),
			reading(k, l, c, height)})
	case old.Day > tape.Day && tape.Day != 0 && !same:
		x.fail(k.Code(), &fault{fmt.Sprintf("%s of %s was measured again on %s; the newer number stays.", tapeWord(k), p.ID, old.Day.Words()), "Write the day of measuring beside a newer number."})
	case same && (tape.Day == 0 || old.Day > tape.Day):
	default:
		tape.Span = units.Exactly(l)
		p.Body[k] = tape
	}
}

// reading guesses how else a number may have been meant.
func reading(k body.Kind, l units.Length, c cell, height units.Span) string {
	type guess struct {
		words string
		l     units.Length
	}
	var guesses []guess
	if c.unit == "cm" {
		guesses = append(guesses, guess{"In inches it would be %s cm: measure again?", l.Times(int64(units.Inch), int64(units.Centimetre))})
	}
	if lengths[c.unit] == units.Inch {
		guesses = append(guesses, guess{"In centimetres it would be %s cm: measure again?", l.Times(int64(units.Centimetre), int64(units.Inch))})
	}
	if _, girth := ofHeight[k]; girth && !c.flat {
		guesses = append(guesses, guess{"If it was taken flat, round it would be %s cm: measure again?", 2 * l})
	}
	lo, hi := body.Limits(k)
	best, off := "", units.Length(0)
	for _, g := range guesses {
		if g.l < lo || g.l > hi {
			continue
		}
		d := (g.l - height.Lo.Times(ofHeight[k].about, 100)).Abs()
		if best == "" || height.Known && d < off {
			best, off = fmt.Sprintf(g.words, units.Metric.Print(g.l)), d
		}
	}
	if best == "" {
		return "Measure again?"
	}
	return best
}

// growthSex reads the letter growth tables ask for; nobody has to give it.
func growthSex(p any, c cell) *fault {
	letter := strings.ToLower(c.text)
	if letter != "f" && letter != "m" {
		return bad(c, "is not used by any growth table", "Leave the cell empty; a forecast then has a wider range.")
	}
	*p.(*string) = letter
	return nil
}

// there checks the days a helper comes and goes.
func there(x *filling[show.Helper]) {
	if p := x.row; p.From != 0 && p.To != 0 && p.To < p.From {
		col := "to_date"
		if !x.good(col) {
			col = "from_date"
		}
		p.From, p.To = x.old.From, x.old.To
		x.fail(col, &fault{fmt.Sprintf("%s would leave before coming; both days are left as they were.", p.ID), "Correct the two days."})
	}
}

// tapeWord names a measurement at the head of a sentence.
func tapeWord(k body.Kind) string {
	return why.Capital(strings.TrimPrefix(k.String(), "natural "))
}

// ages leaves the birth month open where it is more than a year away from
// the age on the measuring day.
func ages(x *filling[show.Performer], day units.Date) {
	p := x.row
	if !x.good("birth_month") || !p.Age.Known || day == 0 {
		return
	}
	var y, m int
	if n, err := fmt.Sscanf(p.BirthMonth, "%d-%d", &y, &m); n != 2 || err != nil {
		return
	}
	year, month, _ := day.YMD()
	age := year - y
	if month < m {
		age--
	}
	if off := age - p.Age.V; off > 1 || off < -1 {
		p.BirthMonth = x.old.BirthMonth
		x.fail("birth_month", &fault{fmt.Sprintf("Age and birth month of %s do not go together; the month is left open.", p.ID), "Ask which of the two is right."})
	}
}
