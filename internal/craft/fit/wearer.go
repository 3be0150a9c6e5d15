package fit

import (
	"strconv"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// wearer is one performer as far as the tape, a label or a garment that goes
// tells.
type wearer struct {
	id   show.PerformerID
	at   [body.Kinds]known
	top  units.Span // the girth at the trouser top
	heel units.Length
}

// known is a measure with the pencil it rests on; from is empty for ink.
type known struct {
	span   units.Span
	from   string
	survey bool // guessed by the covariances of a survey
}

// noShoe is what a shoe lifts where nobody has said which.
const noShoe = 15 * mm

func wearerOf(h *show.House, p *show.Performer) wearer {
	w := wearer{id: p.ID, heel: noShoe}
	if f := h.FeetOf(p.ID); f != nil {
		w.heel = f.Heel.Or(noShoe)
	}
	var from []string
	if !p.Held() {
		for _, k := range body.All() {
			if m := p.Body[k]; m.Span.Known {
				w.at[k].span = m.Span
				if m.Origin == body.Assumed {
					w.at[k].from = "an estimate"
				}
				if len(from) < 3 && body.Surveyed(k) {
					from = append(from, k.String())
				}
			}
		}
	}
	if w.fromGarment(h, p) {
		from = append(from, "a garment that goes")
	}
	w.fromLabel(p)
	w.guess(h, p, from)
	return w
}

// guess fills what is missing from what is there.
func (w *wearer) guess(h *show.House, p *show.Performer, from []string) {
	var seen [body.Kinds]units.Span
	for k := range seen {
		seen[k] = w.at[k].span
	}
	age, aged := body.AgeOf(p.BirthMonth, p.Age, ageDay(h, p))
	likely := body.Guess(seen, age, aged, p.GrowthSex)
	w.top = likely.TrouserTop
	if w.at[body.Height].from == "the label" {
		from = append(from, "the label")
	}
	if len(from) == 0 {
		from = []string{"the age"}
	}
	for _, k := range body.All() {
		switch {
		case !w.at[k].span.Known && likely.At[k].Known:
			w.at[k] = known{likely.At[k], why.And(from), body.Surveyed(k)}
		case w.at[k].from != "":
			w.at[k].span = likely.At[k]
		}
	}
}

// ageDay is the day on which an age counts: that of the measuring, else the
// opening.
func ageDay(h *show.House, p *show.Performer) units.Date {
	for _, k := range body.All() {
		if d := p.Body[k].Day; d != 0 {
			return d
		}
	}
	return h.Opening()
}

// fromGarment: a garment that goes is as good as a girth: the garment less
// the usual ease, 3 cm either way (house). It says whether it told anything.
func (w *wearer) fromGarment(h *show.House, p *show.Performer) bool {
	g := h.Garment(p.FitsGarment)
	if p.FitsGarment == "" || g == nil {
		return false
	}
	eases := figuresOf(h).eases
	usual := eases["dress easy"]
	switch g.Category {
	case show.Shirt:
		usual = eases["shirt easy"]
	case show.Jacket:
		usual = eases["coat easy"]
	case show.Skirt, show.Trousers:
		usual = eases["skirt easy"]
	}
	told := false
	for i, s := range []units.Span{g.Chest, g.Waist, g.Hip} {
		k := []body.Kind{body.Chest, body.Waist, body.Hip}[i]
		if mid := s.Lo - usual[i].lo; s.Known && usual[i].on && !w.at[k].span.Known {
			w.at[k] = known{span: units.Between(mid-30*mm, mid+30*mm), from: "a garment that goes"}
			told = true
		}
	}
	return told
}

// fromLabel: a European children's label is a height, the body's 6 less to 2
// more (house).
func (w *wearer) fromLabel(p *show.Performer) {
	if label, ok := labelHeight(p.LabelSize); ok && !w.at[body.Height].span.Known {
		w.at[body.Height] = known{span: units.Between(label-60*mm, label+20*mm), from: "the label"}
	}
}

// labelHeight reads a European children's label, which is the height in
// centimetres; other labels say too little.
func labelHeight(label string) (units.Length, bool) {
	n, err := strconv.Atoi(strings.TrimSpace(label))
	if err != nil || n < 80 || n > 188 {
		return 0, false
	}
	return units.Length(n) * units.Centimetre, true
}

// growth is what a hem may want more between the measuring and the opening, as
// a range that holds nine in ten: the waist's share of how the height grows.
// Nothing where height, age or day is not known, or where it is less than half
// a centimetre at the most.
func growth(h *show.House, p *show.Performer, height known) units.Span {
	tall := height.span
	if height.survey {
		return units.Span{}
	}
	day, opening := p.Body[body.WaistToFloor].Day, h.Opening()
	age, ok := body.AgeOf(p.BirthMonth, p.Age, day)
	if p.Held() || !ok || !tall.Known || day == 0 || opening <= day {
		return units.Span{}
	}
	more := body.WaistGrowth(body.Growth(tall.Mid(), age, p.GrowthSex, int(opening-day)))
	if more.Hi < 5*mm {
		return units.Span{}
	}
	return more
}
