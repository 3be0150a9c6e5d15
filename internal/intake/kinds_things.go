package intake

import (
	"fmt"

	"hemwright/internal/show/show"
)

var garments = &table[show.Garment]{
	one: "garment", many: "garments", need: []string{"stock_id", "garment"}, single: true, letter: "G", digits: 3,
	loose:   loose{[]string{"garment"}, []string{"colour", "chest", "waist", "length", "category"}},
	natural: func(g *show.Garment) string { return tellApart(g) },
	rows:    func(h *show.House) *[]show.Garment { return &h.Garments },
	keys:    []func(*show.Garment) string{func(g *show.Garment) string { return string(g.ID) }},
	cols: append([]garmentCol{
		{name: "stock_id garment_id", at: func(g *show.Garment) any { return &g.ID }, hard: true},
	}, garmentCols(func(g *show.Garment) *show.Garment { return g })...),
	up: oneSizeUp, again: ofOne,
}

var finds = &table[show.Find]{
	one: "find", many: "finds", need: []string{"find_id", "garment"}, single: true, letter: "F", digits: 3,
	loose:   loose{[]string{"garment", "price"}, []string{"price"}},
	natural: func(f *show.Find) string { return f.Where + " " + tellApart(&f.Garment) },
	rows:    func(h *show.House) *[]show.Find { return &h.Finds },
	keys:    []func(*show.Find) string{func(f *show.Find) string { return string(f.ID) }},
	cols: append([]findCol{
		{name: "find_id", at: func(f *show.Find) any { return &f.ID }, hard: true},
		{name: "seen_on", at: func(f *show.Find) any { return &f.SeenOn }},
		{name: "where", at: func(f *show.Find) any { return &f.Where }},
		{name: "price", at: func(f *show.Find) any { return &f.Price }},
		{name: "decision", at: func(f *show.Find) any { return &f.Decision }},
	}, garmentCols(func(f *show.Find) *show.Garment { return &f.Garment })...),
	up: func(f *show.Find) { oneSizeUp(&f.Garment) },
	again: func(f *show.Find) {
		ofOne(&f.Garment)
		f.Garment.ID = show.GarmentID(f.ID)
	},
	finish: func(x *filling[show.Find]) {
		x.row.Garment.ID = show.GarmentID(x.row.ID)
		if x.isNew && !x.good("may_cut") {
			x.row.Garment.MayCut = true // what is bought is ours
		}
	},
}

// tellApart is what tells garments without codes apart: words and numbers.
func tellApart(g *show.Garment) string {
	return fmt.Sprint(fold(g.Name), fold(g.Colour), g.Chest, g.Waist, g.Hip, g.Length)
}

// garmentCols are the columns of a garment, wherever it hangs.
func garmentCols[T any](of func(*T) *show.Garment) []column[T] {
	c := func(name string, at func(*show.Garment) any) column[T] {
		return column[T]{name: name, at: func(t *T) any { return at(of(t)) }}
	}
	g := func(name string, at func(*show.Garment) any) column[T] {
		col := c(name, at)
		col.girth = true
		return col
	}
	waist, stretched := g("waist", func(g *show.Garment) any { return &g.Waist }), g("waist_max", func(g *show.Garment) any { return &g.Waist })
	waist.read, stretched.read = waistFrom, waistTo
	stretched.print = func(t *T, w written) string {
		s := of(t).Waist
		return iff(s.Known && s.Hi != s.Lo, w.exact(s.Hi))
	}
	return []column[T]{
		c("category kind type", func(g *show.Garment) any { return &g.Category }),
		c("garment garment_name item what piece_of_clothing clothing description", func(g *show.Garment) any { return &g.Name }),
		c("colour color shade", func(g *show.Garment) any { return &g.Colour }),
		c("fibre fiber", func(g *show.Garment) any { return &g.Fibre }),
		g("chest", func(g *show.Garment) any { return &g.Chest }), waist, stretched,
		g("hip", func(g *show.Garment) any { return &g.Hip }),
		g("hem_round", func(g *show.Garment) any { return &g.HemRound }),
		c("length", func(g *show.Garment) any { return &g.Length }),
		c("length_from", func(g *show.Garment) any { return &g.LengthFrom }),
		c("sleeve", func(g *show.Garment) any { return &g.Sleeve }),
		c("across_shoulders", func(g *show.Garment) any { return &g.Shoulders }),
		c("head", func(g *show.Garment) any { return &g.Head }),
		c("let_out", func(g *show.Garment) any { return &g.LetOut }),
		c("let_down", func(g *show.Garment) any { return &g.LetDown }),
		c("closure", func(g *show.Garment) any { return &g.Closure }),
		c("stretch", func(g *show.Garment) any { return &g.Stretch }),
		c("lined", func(g *show.Garment) any { return &g.Lined }),
		c("washing", func(g *show.Garment) any { return &g.Washing }),
		c("condition", func(g *show.Garment) any { return &g.Condition }),
		c("owner", func(g *show.Garment) any { return &g.Owner }),
		c("return_by", func(g *show.Garment) any { return &g.ReturnBy }),
		c("label_size label size", func(g *show.Garment) any { return &g.Label }),
		c("may_cut", func(g *show.Garment) any { return &g.MayCut }),
		c("rail place where_it_hangs location", func(g *show.Garment) any { return &g.Place }),
		c("rail_width", func(g *show.Garment) any { return &g.RailWidth }),
		c("note notes", func(g *show.Garment) any { return &g.Note }),
		c("fate", func(g *show.Garment) any { return &g.Fate }),
		c("promised_to", func(g *show.Garment) any { return &g.PromisedTo }),
		c("promised_on", func(g *show.Garment) any { return &g.PromisedOn }),
		c("promised_until", func(g *show.Garment) any { return &g.PromisedEnd }),
	}
}

var cloths = &table[show.Cloth]{
	one: "cloth", many: "cloths", need: []string{"cloth_id", "cloth"}, single: true, letter: "K", digits: 2,
	loose:   loose{[]string{"cloth", "width", "length"}, []string{"width"}},
	natural: func(c *show.Cloth) string { return fmt.Sprint(fold(c.Name), fold(c.Colour), c.Width, c.Length) },
	rows:    func(h *show.House) *[]show.Cloth { return &h.Cloths },
	keys:    []func(*show.Cloth) string{func(c *show.Cloth) string { return string(c.ID) }},
	cols: []clothCol{
		{name: "cloth_id", at: func(c *show.Cloth) any { return &c.ID }, hard: true},
		{name: "cloth cloth_name fabric material", at: func(c *show.Cloth) any { return &c.Name }},
		{name: "fibre fiber", at: func(c *show.Cloth) any { return &c.Fibre }},
		{name: "colour color", at: func(c *show.Cloth) any { return &c.Colour }},
		{name: "width", at: func(c *show.Cloth) any { return &c.Width }},
		{name: "length", at: func(c *show.Cloth) any { return &c.Length }},
		{name: "shape", at: func(c *show.Cloth) any { return &c.Shape }},
		{name: "outline", at: func(c *show.Cloth) any { return &c.Outline }, print: roundOrOutline},
		{name: "one_way", at: func(c *show.Cloth) any { return &c.OneWay }},
		{name: "right_side", at: func(c *show.Cloth) any { return &c.RightSide }},
		{name: "stretch", at: func(c *show.Cloth) any { return &c.Stretch }},
		{name: "weight_g_per_m2", at: func(c *show.Cloth) any { return &c.Weight }},
		{name: "washed", at: func(c *show.Cloth) any { return &c.Washed }},
		{name: "flaws", at: func(c *show.Cloth) any { return &c.Flaws }},
		{name: "source", at: func(c *show.Cloth) any { return &c.Source }},
		{name: "cost", at: func(c *show.Cloth) any { return &c.Cost }},
		{name: "repeat", at: func(c *show.Cloth) any { return &c.Repeat }},
		{name: "note notes", at: func(c *show.Cloth) any { return &c.Note }},
	},
	finish: shaped,
}

var colours = &table[show.Colour]{
	one: "colour", many: "colours", page: "colour", need: []string{"colour", "hex"}, single: true,
	rows: func(h *show.House) *[]show.Colour { return &h.Colours },
	keys: []func(*show.Colour) string{func(c *show.Colour) string { return c.Name }},
	cols: []column[show.Colour]{
		{name: "colour color", at: func(c *show.Colour) any { return &c.Name }, hard: true},
		{name: "hex", at: func(c *show.Colour) any { return &c.Hex }},
		{name: "family", at: func(c *show.Colour) any { return &c.Family }},
	},
}

var notions = &table[show.Notion]{
	one: "notion", many: "notions", page: "notion", need: []string{"notion", "on_hand"},
	rows: func(h *show.House) *[]show.Notion { return &h.Notions },
	keys: []func(*show.Notion) string{
		func(n *show.Notion) string { return key(n.Name, n.Size, n.Colour, n.Unit) },
	},
	cols: []column[show.Notion]{
		{name: "notion", at: func(n *show.Notion) any { return &n.Name }, hard: true},
		{name: "size", at: func(n *show.Notion) any { return &n.Size }, sized: true, read: sizeInCm, early: true},
		{name: "colour color", at: func(n *show.Notion) any { return &n.Colour }, early: true},
		{name: "on_hand", at: func(n *show.Notion) any { return &n.OnHand }},
		{name: "unit", at: func(n *show.Notion) any { return &n.Unit }, early: true},
		{name: "note notes", at: func(n *show.Notion) any { return &n.Note }},
	},
}

var backdrops = &table[show.Backdrop]{
	one: "backdrop", many: "backdrops", need: []string{"scene_id", "set_colour"}, single: true,
	rows: func(h *show.House) *[]show.Backdrop { return &h.Backdrops },
	keys: []func(*show.Backdrop) string{func(b *show.Backdrop) string { return string(b.Scene) }},
	cols: []column[show.Backdrop]{
		{name: "scene_id", at: func(b *show.Backdrop) any { return &b.Scene }, to: toScene, hard: true},
		{name: "set_colour set_color", at: func(b *show.Backdrop) any { return &b.SetColour }},
		{name: "set_hex", at: func(b *show.Backdrop) any { return &b.SetHex }},
		{name: "lamp", at: func(b *show.Backdrop) any { return &b.Lamp }},
		{name: "lamp_hex", at: func(b *show.Backdrop) any { return &b.LampHex }},
		{name: "note notes", at: func(b *show.Backdrop) any { return &b.Note }},
	},
}
