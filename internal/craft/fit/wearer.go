package fit

import (
	"strconv"
	"strings"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// wearer is one performer as far as the tape, a label or a garment that goes
// tells.
type wearer struct {
	id   show.PerformerID
	at   [body.Kinds]known
	heel units.Length
}

// known is a measure with the pencil it rests on; from is empty for ink.
type known struct {
	span units.Span
	from string
}

// fromHeight is where a guess by the survey's lines comes from; surveyed are
// the measures that have such a line, the others rest on house shares.
const fromHeight = "the height"

var surveyed = [body.Kinds]bool{body.WaistToFloor: true, body.Chest: true, body.Waist: true, body.Hip: true, body.Head: true}

// noShoe is what a shoe lifts where nobody has said which.
const noShoe = 15 * mm

func wearerOf(h *show.House, p *show.Performer) wearer {
	w := wearer{id: p.ID, heel: noShoe}
	if f := h.FeetOf(p.ID); f != nil {
		w.heel = f.Heel.Or(noShoe)
	}
	if !p.Held() {
		for _, k := range body.All() {
			if m := p.Body[k]; m.Span.Known {
				w.at[k].span = m.Span
				if m.Origin == body.Assumed {
					w.at[k].from = "an estimate"
				}
			}
		}
	}
	w.fromGarment(h, p)
	w.fromHeight(p)
	return w
}

// put sets a pencil measure where nothing is known yet.
func (w *wearer) put(k body.Kind, mid, either units.Length, from string) {
	if !w.at[k].span.Known {
		w.at[k] = known{units.Between(mid-either, mid+either), from}
	}
}

// fromGarment: a garment that goes is as good as a girth: the garment less
// the usual ease, 3 cm either way (house).
func (w *wearer) fromGarment(h *show.House, p *show.Performer) {
	g := h.Garment(p.FitsGarment)
	if p.FitsGarment == "" || g == nil {
		return
	}
	usual := eases["dress easy"]
	switch g.Category {
	case show.Shirt:
		usual = eases["shirt easy"]
	case show.Jacket:
		usual = eases["coat easy"]
	case show.Skirt, show.Trousers:
		usual = eases["skirt easy"]
	}
	from := "a garment that goes"
	for i, s := range []units.Span{g.Chest, g.Waist, g.Hip} {
		if s.Known && usual[i].on {
			w.put([]body.Kind{body.Chest, body.Waist, body.Hip}[i], s.Lo-usual[i].lo, 30*mm, from)
		}
	}
}

// fromHeight guesses lengths and, wider, girths from the height, or from a
// children's label, which is a height. The lines join the survey's mean
// logarithmic regressions on stature, sexes mixed, between 130 and 170 cm;
// its girths are raised by 2 per cent for the years since. The ranges hold
// nine children in ten. Sleeve, shoulders and waist to knee are house shares
// of the height; nape to waist is what is left of 0.86 of it.
func (w *wearer) fromHeight(p *show.Performer) {
	from := fromHeight
	if !w.at[body.Height].span.Known {
		label, ok := labelHeight(p.LabelSize)
		if !ok {
			return
		}
		w.at[body.Height] = known{units.Between(label-60*mm, label+20*mm), "the label"}
		from = "the label"
	}
	s := w.at[body.Height].span
	t, wide := s.Mid(), (s.Hi-s.Lo)/2
	line := func(k body.Kind, slope, plus, either units.Length) {
		w.put(k, t.Times(int64(slope), 1000)+plus*mm, either*mm+wide.Times(int64(slope), 1000), from)
	}
	chestKnown := w.at[body.Chest].span.Known
	line(body.WaistToFloor, 670, -104, 28)
	line(body.NapeToWaist, 190, 104, 20)
	line(body.ShoulderToWrist, 365, 0, 26)
	line(body.WaistToKnee, 325, 0, 30)
	line(body.Chest, 556, -74, 80)
	line(body.Waist, 362, 106, 90)
	line(body.Hip, 637, -154, 90)
	line(body.Head, 85, 410, 26)
	if chestKnown {
		line(body.AcrossShoulders, 235, 0, 20)
	} else {
		line(body.AcrossShoulders, 235, 0, 36)
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
func growth(h *show.House, p *show.Performer, tall units.Span) units.Span {
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
