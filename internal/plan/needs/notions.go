package needs

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// notions adds up what the closures of the pieces first thought of as made
// take, against what lies in the boxes.
func notions(h *show.House) []answer.NotionNeed {
	l := shipped.Of(h.Tables)
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
		for _, it := range l.takes(p) {
			add(it)
		}
		if it, ok := l.girth(h, p); ok {
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

// girth is elastic or tape that follows a girth of the first wearer, rounded up
// to a whole centimetre. Nothing where the girth is not measured.
func (l *list) girth(h *show.House, p *show.Piece) (item, bool) {
	k := slices.IndexFunc(l.girths, func(g byGirth) bool { return g.closure == p.Closure })
	wearers := h.Wearers(p)
	if k < 0 || len(wearers) == 0 {
		return item{}, false
	}
	g, who := l.girths[k], h.Performer(wearers[0])
	if who == nil || !who.Body.Known(g.of) {
		return item{}, false
	}
	return item{g.name, "", ceilCm(who.Body[g.of].Span.Mid().Times(int64(g.share), 100) + units.Cm(float64(g.more))), true}, true
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
