package needs

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// item is one notion in one amount; cm where it comes by length.
type item struct {
	name, size string
	n          int
	cm         bool
}

// closureNotions says what a closure takes, by its words; for lengths that
// follow a girth see girthNotions. House estimates.
var closureNotions = []struct {
	words string
	kinds []show.Category // nil for any
	takes []item
}{
	{"lacing zip", nil, []item{{"zip", "50", 1, false}, {"cord 4 mm", "", 360, true}}},
	{"side zip", nil, []item{{"zip", "20", 1, false}, {"skirt hook", "", 1, false}}},
	{"fly", nil, []item{{"zip", "15", 1, false}, {"skirt hook", "", 1, false}}},
	{"back zip", nil, []item{{"zip", "50", 1, false}, {"hook and eye", "", 1, false}}},
	{"side hooks", nil, []item{{"skirt hook", "", 2, false}}},
	{"back lacing", nil, []item{{"cord 4 mm", "", 360, true}}},
	{"hook-and-loop", []show.Category{show.Accessory}, []item{{"hook-and-loop 20 mm", "", 5, true}}},
	{"hook-and-loop", nil, []item{{"hook-and-loop 20 mm", "", 20, true}}},
	{"snaps under buttons", nil, []item{{"snap 15 mm", "", 5, false}}},
	{"half placket", nil, []item{{"button 11 mm", "", 5, false}}},
	{"back buttons", nil, []item{{"button 12 mm", "", 6, false}}},
	{"buttons", []show.Category{show.Shirt}, []item{{"button 11 mm", "", 9, false}}},
	{"buttons", []show.Category{show.Bodice}, []item{{"button 15 mm", "", 5, false}}},
	{"wrap", nil, []item{{"snap 15 mm", "", 3, false}}},
	{"snap strap", nil, []item{{"snap 15 mm", "", 2, false}}},
	{"snap", []show.Category{show.Accessory}, []item{{"snap 7 mm", "", 1, false}}},
}

// notions adds up what the closures of the pieces first thought of as made
// take, against what lies in the boxes.
func notions(h *show.House) []answer.NotionNeed {
	sums := map[item]int{} // keyed with n = 0
	add := func(it item) {
		n := it.n
		it.n = 0
		sums[it] += n
	}
	for i := range h.Pieces {
		p := &h.Pieces[i]
		if p.FirstThought != "build" {
			continue
		}
		for _, it := range takes(p) {
			add(it)
		}
		if it, ok := girthNotion(h, p); ok {
			add(it)
		}
	}
	var out []answer.NotionNeed
	for it, n := range sums {
		need := answer.NotionNeed{Name: it.name, Size: it.size, Need: n, Unit: "piece", Have: have(h, it)}
		if it.cm {
			need.Unit = "cm"
		}
		out = append(out, need)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Name != out[j].Name {
			return out[i].Name < out[j].Name
		}
		return out[i].Size < out[j].Size
	})
	return out
}

func takes(p *show.Piece) []item {
	for _, c := range closureNotions {
		if allIn(p.Closure, c.words) && (c.kinds == nil || slices.Contains(c.kinds, p.Category)) {
			return c.takes
		}
	}
	return nil
}

// girthNotion is elastic or tape that follows a girth of the first wearer:
// neck + 16, 0.92 waist + 2, waist + 80, each rounded up to a whole
// centimetre. Nothing where the girth is not measured.
func girthNotion(h *show.House, p *show.Piece) (item, bool) {
	wearers := h.Wearers(p)
	if len(wearers) == 0 {
		return item{}, false
	}
	who := h.Performer(wearers[0])
	if who == nil {
		return item{}, false
	}
	girth := func(k body.Kind) (units.Length, bool) { return who.Body[k].Span.Mid(), who.Body.Known(k) }
	neck, okNeck := girth(body.Neck)
	waist, okWaist := girth(body.Waist)
	switch {
	case p.Closure == "elastic neck" && okNeck:
		return item{"elastic 6 mm", "", ceilCm(neck + units.Cm(16)), true}, true
	case p.Closure == "elastic waist" && okWaist:
		return item{"elastic 20 mm", "", ceilCm(waist.Times(92, 100) + units.Cm(2)), true}, true
	case p.Closure == "tie waist" && okWaist:
		return item{"twill tape 15 mm", "", ceilCm(waist + units.Cm(80)), true}, true
	}
	return item{}, false
}

func ceilCm(l units.Length) int { return int((l + units.Centimetre - 1) / units.Centimetre) }

// have counts what lies in the boxes, metres as centimetres.
func have(h *show.House, it item) int {
	sum := 0.0
	for _, n := range h.Notions {
		if n.Name != it.name || n.Size != it.size {
			continue
		}
		v, err := strconv.ParseFloat(strings.ReplaceAll(n.OnHand, ",", "."), 64)
		if err != nil {
			continue
		}
		if it.cm && n.Unit == "metre" {
			v *= 100
		}
		sum += v
	}
	return int(sum)
}

func allIn(s, words string) bool {
	for _, w := range strings.Fields(words) {
		if !strings.Contains(s, w) {
			return false
		}
	}
	return true
}
