package running

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemwright/internal/show/answer"
	"hemwright/internal/show/show"
	"hemwright/internal/value/solve"
	"hemwright/internal/value/units"
	"hemwright/internal/value/why"
)

// from: what costumers say: thinner, lower, shorter by 2 to 3 cm, room for a
// layer, open wide; no hats, no hard shapes; what is not known is asked.
func TestUnderOneByOne(t *testing.T) {
	cm := func(n int) units.Maybe[units.Length] { return units.Some(units.Length(n * 10_000)) }
	skirt := show.Piece{Name: "skirt", Category: show.Skirt, Layer: 3, Fit: "easy", LengthTo: "knee"}
	shirt := show.Piece{Name: "shirt", Category: show.Shirt, Layer: 3, Fit: "easy", LengthTo: "hip"}
	smock := show.Piece{Name: "smock", Category: show.Dress, Layer: 3, Fit: "loose", LengthTo: "ankle", Closure: "pull-over"}
	with := func(p show.Piece, change func(*show.Piece)) *show.Piece { change(&p); return &p }
	same := func(*show.Piece) {}
	for name, c := range map[string]struct {
		x, over *show.Piece
		minutes int
		want    why.Grade
		says    why.Rule
	}{
		"shorter under loose":     {with(skirt, same), with(smock, same), 5, why.Yes, ruleHemHigh},
		"a shirt: neck, sleeves":  {with(shirt, same), with(smock, same), 5, why.Unknown, ruleSleeve},
		"as long":                 {with(skirt, func(p *show.Piece) { p.LengthTo = "ankle" }), with(smock, same), 5, why.Unknown, ruleHemAsk},
		"longer":                  {with(skirt, func(p *show.Piece) { p.LengthTo = "floor" }), with(smock, same), 5, why.No, ruleHemLow},
		"two centimetres shorter": {with(skirt, func(p *show.Piece) { p.LengthTo, p.HemClear = "ankle", cm(12) }), with(smock, func(p *show.Piece) { p.HemClear = cm(10) }), 5, why.Yes, ruleHemHigh},
		"one centimetre shorter":  {with(skirt, func(p *show.Piece) { p.LengthTo, p.HemClear = "ankle", cm(11) }), with(smock, func(p *show.Piece) { p.HemClear = cm(10) }), 5, why.No, ruleHemLow},
		"length not known":        {with(skirt, func(p *show.Piece) { p.LengthTo = "" }), with(smock, same), 5, why.Unknown, ruleHemAsk},
		"under easy":              {with(skirt, same), with(smock, func(p *show.Piece) { p.Fit = "easy" }), 5, why.Unknown, ruleRoom},
		"fit not known":           {with(skirt, same), with(smock, func(p *show.Piece) { p.Fit = "" }), 5, why.Unknown, ruleRoom},
		"under fitted":            {with(shirt, same), with(smock, func(p *show.Piece) { p.Fit = "fitted" }), 5, why.No, ruleTight},
		"under trousers":          {with(skirt, same), with(smock, func(p *show.Piece) { p.Category = show.Trousers }), 5, why.No, ruleShape},
		"open in front":           {with(shirt, same), with(smock, func(p *show.Piece) { p.Category, p.Closure = show.Jacket, "open front" }), 5, why.No, ruleOpen},
		"nothing over it":         {with(shirt, same), with(skirt, same), 5, why.No, ruleNoCover},
		"a hat":                   {with(shirt, func(p *show.Piece) { p.Category = show.Accessory }), with(smock, same), 5, why.No, ruleOutside},
		"a coat":                  {with(shirt, func(p *show.Piece) { p.Category = show.Jacket }), with(smock, same), 5, why.No, ruleOutside},
		"a roll":                  {with(skirt, func(p *show.Piece) { p.Category, p.Name = show.Under, "hip roll" }), with(smock, same), 5, why.No, ruleShape},
		"warm":                    {with(skirt, same), with(smock, same), 16, why.Unknown, ruleWarm},
		"too warm":                {with(skirt, same), with(smock, same), 31, why.No, ruleHot},
	} {
		v := under(c.x, []*show.Piece{c.over}, c.minutes)
		if v.Grade != c.want || v.Reasons[0].Rule != c.says.ID && c.want != why.Yes || !said(v, c.says) {
			t.Errorf("%s: %v %+v", name, v.Grade, v.Reasons)
		}
	}
}

// evening draws one performer in two or three looks over a few scenes.
func evening(t *rapid.T) show.House {
	h := show.House{Performers: []show.Performer{{ID: "P1"}}}
	if rapid.Bool().Draw(t, "young") {
		h.Performers[0].Age = units.Some(9)
	}
	looks := rapid.IntRange(2, 3).Draw(t, "looks")
	for l := range looks {
		h.Roles = append(h.Roles, show.Role{ID: show.RoleID(fmt.Sprint("R", l)), Performer: "P1"})
		h.Looks = append(h.Looks, show.Look{ID: show.LookID(fmt.Sprint("L", l)), Role: show.RoleID(fmt.Sprint("R", l))})
	}
	for i := range rapid.IntRange(2, 5).Draw(t, "scenes") {
		l := rapid.IntRange(0, looks-1).Draw(t, "look")
		s := show.Scene{ID: show.SceneID(fmt.Sprint("S", i)), Running: time.Duration(rapid.IntRange(1, 12).Draw(t, "min")) * time.Minute,
			GapAfter: time.Duration(rapid.SampledFrom([]int{20, 60, 150, 300, 700}).Draw(t, "gap")) * time.Second}
		h.Scenes = append(h.Scenes, s)
		h.Appearances = append(h.Appearances, show.Appearance{Scene: s.ID, Role: h.Roles[l].ID, Look: h.Looks[l].ID, Exit: s.Running})
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "pieces") {
		p := show.Piece{ID: show.PieceID(fmt.Sprint("C", i)), Layer: rapid.IntRange(2, 4).Draw(t, "layer"),
			Category: rapid.SampledFrom([]show.Category{show.Dress, show.Skirt, show.Shirt, show.Trousers, show.Bodice}).Draw(t, "kind"),
			Fit:      rapid.SampledFrom([]string{"loose", "loose", "easy", "fitted"}).Draw(t, "fit"),
			Closure:  rapid.SampledFrom([]string{"zip", "back buttons", "lacing", "pull-over"}).Draw(t, "closure"),
			LengthTo: rapid.SampledFrom([]string{"hip", "knee", "ankle", "floor"}).Draw(t, "length")}
		for l := range looks {
			if rapid.Bool().Draw(t, "worn") {
				p.Looks = append(p.Looks, h.Looks[l].ID)
			}
		}
		h.Pieces = append(h.Pieces, p)
	}
	return h
}

// bruteUnder tries every choice of pieces under every wear and returns the
// least cost, with an arithmetic of its own.
func bruteUnder(h *show.House, tl answer.Timeline) int {
	type worn struct {
		look    show.LookID
		minutes int
		from    time.Duration
		to      time.Duration
	}
	var wears []worn
	for _, s := range tl.Stretches {
		m := int((s.To - s.From) / time.Minute)
		if n := len(wears); n > 0 && wears[n-1].look == s.Look && s.From-wears[n-1].to < 10*time.Minute {
			wears[n-1].to, wears[n-1].minutes = s.To, wears[n-1].minutes+m
			continue
		}
		wears = append(wears, worn{s.Look, m, s.From, s.To})
	}
	has := func(i int, p *show.Piece) bool {
		for _, l := range p.Looks {
			if l == wears[i].look {
				return true
			}
		}
		return false
	}
	young := h.Performers[0].Age.Known
	// the cost of hiding a set in one wear, or -1
	hide := func(i, set int) int {
		cost, most := 0, 3
		if young {
			most = 2
		}
		var look []*show.Piece
		for k := range h.Pieces {
			if has(i, &h.Pieces[k]) {
				look = append(look, &h.Pieces[k])
			}
		}
		for _, z := range []zone{top, bottom} {
			layers, all, extra := 0, true, 0
			for k := range h.Pieces {
				p := &h.Pieces[k]
				switch {
				case zones(p)&z == 0:
				case has(i, p) && p.Layer >= 3:
					layers++
					all = all && p.Fit == "loose"
				case set&(1<<k) != 0:
					extra++
				}
			}
			if extra > 0 && (layers+extra > most || extra > 2 || extra > 1 && !all) {
				return -1
			}
		}
		for k := range h.Pieces {
			if set&(1<<k) == 0 {
				continue
			}
			v := under(&h.Pieces[k], look, wears[i].minutes)
			switch {
			case has(i, &h.Pieces[k]) || v.Grade == why.No:
				return -1
			case v.Grade == why.Yes:
				cost += 500
			default:
				cost += 1000
			}
		}
		return cost
	}
	change := func(i, a, b int) int {
		var c *answer.Change
		for k := range tl.Changes {
			if tl.Changes[k].Leaves == wears[i].to {
				c = &tl.Changes[k]
			}
		}
		if c == nil {
			return 0
		}
		sum, plain := 0, 0
		for k := range h.Pieces {
			p, f := &h.Pieces[k], shipped.Of(nil).of(&h.Pieces[k])
			v, w := has(i, p), has(i+1, p)
			x, y := v || a&(1<<k) != 0, w || b&(1<<k) != 0
			if v && !w {
				plain += f.off
			} else if w && !v {
				plain += f.on
			}
			if x && !y {
				sum += f.off
			} else if y && !x {
				sum += f.on
			}
			if !v || !w {
				continue
			}
			for o := range h.Pieces { // what stays, over something hidden that moves
				hid, moves := a&(1<<o) != 0 && !(has(i+1, &h.Pieces[o]) || b&(1<<o) != 0), b&(1<<o) != 0 && !(has(i, &h.Pieces[o]) || a&(1<<o) != 0)
				if (hid || moves) && zones(&h.Pieces[o])&zones(p) != 0 {
					sum += f.off + f.on
					break
				}
			}
		}
		work := sum
		if plain > 0 {
			work = c.Hands * sum / plain
		}
		cost := 1_000_000 * max(0, work+4+10-c.Seconds)
		if c.Seconds < 180 || c.Seconds < c.Wanted.Hi {
			cost += 100 * work
		}
		return cost
	}
	best := -1
	var try func(i, last, cost int)
	try = func(i, last, cost int) {
		if i == len(wears) {
			if best < 0 || cost < best {
				best = cost
			}
			return
		}
		for set := range 1 << len(h.Pieces) {
			if own := hide(i, set); own >= 0 {
				more := 0
				if i > 0 {
					more = change(i-1, last, set)
				}
				try(i+1, set, cost+own+more)
			}
		}
	}
	try(0, 0, 0)
	return best
}

func TestUnderAgainstBruteForce(t *testing.T) {
	hidden := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 40 {
			h := evening(t)
			tl := Timeline(&h, "A")
			for _, bad := range Check(&h, tl) {
				t.Fatal(bad.Sentence(0))
			}
			wants := false
			for i := range tl.Changes {
				wants = wants || wantsHelp(&tl.Changes[i])
			}
			if !wants {
				continue
			}
			hidden += len(tl.Under.Hidden)
			if got, want := int(tl.Under.Outcome.Value), bruteUnder(&h, tl); got != want || tl.Under.Outcome.Proof != solve.Best {
				t.Fatalf("cost %d, by trying everything %d: %+v", got, want, tl.Under)
			}
		}
	})
	if hidden == 0 {
		t.Error("nothing was ever worn underneath: the test tries nothing")
	}
}
