package fit

import (
	"slices"

	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
	"hemwright/internal/value/units"
)

// reach says how a length is measured on a body: the kinds added up, how much
// is added or taken off, and whether shoes lift it.
type reach struct {
	kinds []body.Kind
	plus  units.Length
	shoes bool
	band  band // how much shorter or longer still goes
}

// clearance is how far a hem hangs above the floor, in show shoes, where nobody
// said: by where it ends and how it is moved.
func (f *figures) clearance(lengthTo string, dance, stairs, trousers bool) units.Length {
	switch {
	case lengthTo == "ankle" && trousers:
		return f.hems["ankle, trousers"]
	case lengthTo == "ankle":
		return f.hems["ankle"]
	case lengthTo == "mid-calf" || lengthTo == "calf":
		return f.hems["calf"]
	case stairs:
		return f.hems["floor, on stairs"]
	case dance:
		return f.hems["floor, danced in"]
	}
	return f.hems["floor"]
}

// reachOf says where a piece ends, counted from the waist.
func reachOf(h *show.House, p *show.Piece) (reach, bool) {
	dance, stairs := movement(h, p)
	clear := p.HemClear.Or(figuresOf(h).clearance(p.LengthTo, dance, stairs, p.Category == show.Trousers))
	level := false
	if s := h.Set(p.Set); s != nil && s.HemFloor.Known && (p.LengthTo == "floor" || p.LengthTo == "ankle" || p.LengthTo == "calf") && p.Category != show.Under {
		clear, level = s.HemFloor.V, true
	}
	toFloor := func(b band) (reach, bool) {
		if level {
			b = band{20 * mm, 10 * mm}
		}
		if p.Category == show.Under {
			b = band{80 * mm, 20 * mm}
		}
		return reach{[]body.Kind{body.WaistToFloor}, -clear, true, b}, true
	}
	top := p.Category == show.Shirt || p.Category == show.Jacket || p.Category == show.Bodice
	switch p.LengthTo {
	case "floor":
		return toFloor(band{20 * mm, 10 * mm})
	case "ankle":
		return toFloor(band{30 * mm, 20 * mm})
	case "mid-calf", "calf":
		return toFloor(band{40 * mm, 40 * mm})
	case "below knee":
		return reach{[]body.Kind{body.WaistToKnee}, 80 * mm, false, band{40 * mm, 60 * mm}}, true
	case "knee":
		if p.Category == show.Jacket || p.Category == show.Under {
			return reach{[]body.Kind{body.WaistToKnee}, 0, false, band{60 * mm, 100 * mm}}, true
		}
		return reach{[]body.Kind{body.WaistToKnee}, 0, false, band{40 * mm, 40 * mm}}, true
	case "thigh":
		return reach{nil, 270 * mm, false, band{100 * mm, 250 * mm}}, true
	case "hip":
		if p.Category == show.Shirt {
			return reach{nil, 200 * mm, false, band{60 * mm, 250 * mm}}, true
		}
		return reach{nil, 200 * mm, false, band{60 * mm, 80 * mm}}, true
	case "waist":
		if p.Category == show.Under {
			return reach{nil, 0, false, band{100 * mm, 20 * mm}}, true
		}
		if top && p.Fit != "fitted" {
			return reach{nil, 0, false, band{30 * mm, 200 * mm}}, true
		}
		return reach{nil, 0, false, band{40 * mm, 90 * mm}}, true
	}
	return reach{}, false
}

// movement says whether the piece is danced in or goes up stairs.
func movement(h *show.House, p *show.Piece) (dance, stairs bool) {
	for _, a := range h.Appearances {
		if !slices.Contains(p.Looks, a.Look) {
			continue
		}
		if s := h.Scene(a.Scene); s != nil {
			dance = dance || slices.Contains(s.Movement, "dance")
			stairs = stairs || slices.Contains(s.Movement, "stairs")
		}
	}
	return dance, stairs
}

// lengths makes the two length windows, counted from the nape and from the
// waist; the category says which is the piece's own.
func (w *Wearing) lengths(h *show.House, p *show.Piece, on []wearer, below under) {
	r, ok := reachOf(h, p)
	if !ok || p.Category == show.Accessory {
		return
	}
	fromWaist := lengthWindow("waist", r, below.lift, on)
	r.kinds = append([]body.Kind{body.NapeToWaist}, r.kinds...)
	fromNape := lengthWindow("nape", r, below.lift, on)
	w.windows[length], w.other = fromNape, fromWaist
	if p.Category == show.Skirt || p.Category == show.Trousers || p.Category == show.Under && w.kind != "shift" && w.kind != "stays" {
		w.windows[length], w.other = fromWaist, fromNape
	}
}

func lengthWindow(from string, r reach, lift units.Length, on []wearer) Window {
	win := newWindow(length, 0)
	win.From, win.shoes = from, r.shoes
	if !r.shoes {
		lift = 0
	}
	var lo, hi, goal units.Length
	first := true
	for _, who := range on {
		sum, ok := r.plus, true
		before := win.Doubt
		win.Doubt = 0
		var doubt units.Length
		for _, k := range r.kinds {
			m, known := win.take(who, k)
			sum, ok = sum+m, ok && known
			doubt, win.Doubt = doubt+win.Doubt, 0
		}
		win.Doubt = max(before, doubt)
		if !ok {
			continue
		}
		if r.shoes {
			sum += who.heel
		}
		if first || sum+lift-r.band.below > lo {
			lo = sum + lift - r.band.below
		}
		if first || sum+r.band.above < hi {
			hi, goal = sum+r.band.above, sum
		}
		first = false
	}
	win.settle(lo, hi, r.band.below+r.band.above)
	win.Goal = max(goal, lo)
	win.Most = win.Sits.Hi + 200*mm
	return win
}
