package sourcing

import (
	"fmt"
	"sort"
	"strings"

	"hemwright/internal/craft/fit"
	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// letters begin the code of a need, by its kind.
var letters = map[show.Category]string{show.Dress: "G", show.Skirt: "S", show.Shirt: "B", show.Trousers: "T", show.Bodice: "W", show.Under: "U", show.Jacket: "J"}

// shopOrder is the order of a shop's rails.
var shopOrder = []show.Category{show.Dress, show.Skirt, show.Shirt, show.Trousers, show.Jacket, show.Bodice, show.Under}

// Pocket lists what is worth looking for in a shop, for a page that leaves
// the house: pieces the plan would make, buy or go without, as letters with
// windows of flat measures in whole steps of sys, rounded outward. It holds no
// name, no code and no body number.
func Pocket(h *show.House, plan answer.Plan, sys units.System) []answer.PocketNeed {
	step := units.Centimetre
	if sys == units.Imperial {
		step = units.Inch / 2
	}
	var all []answer.PocketNeed
	at := map[string]int{}
	for _, c := range plan.Choices {
		p := h.Piece(c.Piece)
		if p == nil || letters[p.Category] == "" || c.Pinned || !worthLooking(c) {
			continue
		}
		n := answer.PocketNeed{Kind: p.Category, What: show.Noun(p.Name), Colour: p.Colour, Limit: p.PriceLimit.Or(0), Saves: c.Minutes(), Pieces: []show.PieceID{p.ID}, Count: 1}
		if n.What == "" {
			n.What = string(p.Category)
		}
		if col := h.ColourNamed(p.Colour); col != nil {
			n.Hex = col.Hex
		}
		if n.Windows = pocketWindows(h, p, step); len(n.Windows) == 0 {
			continue
		}
		key := fmt.Sprint(n.Kind, n.What, n.Colour, n.Windows, n.Limit)
		if i, there := at[key]; there {
			all[i].Count++
			all[i].Pieces = append(all[i].Pieces, p.ID)
			continue
		}
		at[key] = len(all)
		all = append(all, n)
	}
	place := map[show.Category]int{}
	for i, k := range shopOrder {
		place[k] = i
	}
	sort.SliceStable(all, func(i, j int) bool {
		if a, b := place[all[i].Kind], place[all[j].Kind]; a != b {
			return a < b
		}
		return all[i].Saves > all[j].Saves
	})
	count := map[show.Category]int{}
	for i := range all {
		count[all[i].Kind]++
		all[i].Letter = fmt.Sprintf("%s%d", letters[all[i].Kind], count[all[i].Kind])
	}
	return all
}

// muchWork is what a garment that is there may weigh in work, money and looks
// before a better one is looked for: an hour of the lead's. A house figure.
const muchWork = 60

// worthLooking says whether a find could do better than what the plan has.
func worthLooking(c answer.Choice) bool {
	switch c.Source {
	case answer.Make, answer.Buy, answer.Remake, answer.GoWithout:
		return true
	case answer.Alter, answer.Use:
		return c.Cost >= muchWork
	}
	return false
}

// pocketWindows are the flat windows of a piece; none where a measure is
// missing that would decide.
func pocketWindows(h *show.House, p *show.Piece, step units.Length) []answer.PocketSpan {
	var out []answer.PocketSpan
	for _, w := range fit.Wanted(h, p).Finished {
		girth := w.Where == "chest" || w.Where == "waist" || w.Where == "hip"
		if !w.Sits.Known || !girth && w.Where != "length" {
			continue
		}
		s := answer.PocketSpan{Where: w.Where, Lo: w.Sits.Lo, Hi: w.Sits.Hi, Most: max(w.Most, w.Sits.Hi)}
		if girth {
			s.Lo, s.Hi, s.Most = s.Lo/2, (s.Hi+1)/2, (s.Most+1)/2
		}
		s.Lo, s.Hi, s.Most = s.Lo/step*step, (s.Hi+step-1)/step*step, (s.Most+step-1)/step*step
		if w.Open || w.Where == "length" && strings.Contains(p.LengthTo, "floor") {
			s.Most = 0 // as wide or long as you like
		}
		out = append(out, s)
	}
	return out
}
