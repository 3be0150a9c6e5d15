package store

import "hemwright/internal/show/show"

// What outlives a show.

var garmentTable = &mapping[show.Garment]{
	name: "garment", life: ofHouse, keys: 1,
	list: func(h *show.House) *[]show.Garment { return &h.Garments },
	fields: append([]field[show.Garment]{
		{name: "code", at: func(g *show.Garment) any { return &g.ID }},
	}, garmentFields(func(g *show.Garment) *show.Garment { return g })...),
}

// garmentFields are the fields of a garment, wherever it hangs.
func garmentFields[T any](of func(*T) *show.Garment) []field[T] {
	f := func(name string, at func(*show.Garment) any) field[T] {
		return field[T]{name: name, at: func(t *T) any { return at(of(t)) }}
	}
	return []field[T]{
		f("category", func(g *show.Garment) any { return &g.Category }),
		f("name", func(g *show.Garment) any { return &g.Name }),
		f("colour", func(g *show.Garment) any { return &g.Colour }),
		f("fibre", func(g *show.Garment) any { return &g.Fibre }),
		f("chest", func(g *show.Garment) any { return &g.Chest }),
		f("waist", func(g *show.Garment) any { return &g.Waist }),
		f("hip", func(g *show.Garment) any { return &g.Hip }),
		f("hem_round", func(g *show.Garment) any { return &g.HemRound }),
		f("length", func(g *show.Garment) any { return &g.Length }),
		f("length_from", func(g *show.Garment) any { return &g.LengthFrom }),
		f("sleeve", func(g *show.Garment) any { return &g.Sleeve }),
		f("shoulders", func(g *show.Garment) any { return &g.Shoulders }),
		f("head", func(g *show.Garment) any { return &g.Head }),
		f("let_out", func(g *show.Garment) any { return &g.LetOut }),
		f("let_down", func(g *show.Garment) any { return &g.LetDown }),
		f("closure", func(g *show.Garment) any { return &g.Closure }),
		f("stretch", func(g *show.Garment) any { return &g.Stretch }),
		f("lined", func(g *show.Garment) any { return &g.Lined }),
		f("washing", func(g *show.Garment) any { return &g.Washing }),
		f("condition", func(g *show.Garment) any { return &g.Condition }),
		f("owner", func(g *show.Garment) any { return &g.Owner }),
		f("return_by", func(g *show.Garment) any { return &g.ReturnBy }),
		f("label", func(g *show.Garment) any { return &g.Label }),
		f("may_cut", func(g *show.Garment) any { return &g.MayCut }),
		f("place", func(g *show.Garment) any { return &g.Place }),
		f("rail_width", func(g *show.Garment) any { return &g.RailWidth }),
		f("fate", func(g *show.Garment) any { return &g.Fate }),
		f("promised_to", func(g *show.Garment) any { return &g.PromisedTo }),
		f("promised_on", func(g *show.Garment) any { return &g.PromisedOn }),
		f("promised_end", func(g *show.Garment) any { return &g.PromisedEnd }),
		f("note", func(g *show.Garment) any { return &g.Note }),
	}
}

var clothTable = &mapping[show.Cloth]{
	name: "cloth", life: ofHouse, keys: 1,
	list: func(h *show.House) *[]show.Cloth { return &h.Cloths },
	fields: []field[show.Cloth]{
		{name: "code", at: func(c *show.Cloth) any { return &c.ID }},
		{name: "name", at: func(c *show.Cloth) any { return &c.Name }},
		{name: "fibre", at: func(c *show.Cloth) any { return &c.Fibre }},
		{name: "colour", at: func(c *show.Cloth) any { return &c.Colour }},
		{name: "width", at: func(c *show.Cloth) any { return &c.Width }},
		{name: "length", at: func(c *show.Cloth) any { return &c.Length }},
		{name: "shape", at: func(c *show.Cloth) any { return &c.Shape }},
		{name: "outline", at: func(c *show.Cloth) any { return &c.Outline }},
		{name: "diameter", at: func(c *show.Cloth) any { return &c.Diameter }},
		{name: "one_way", at: func(c *show.Cloth) any { return &c.OneWay }},
		{name: "right_side", at: func(c *show.Cloth) any { return &c.RightSide }},
		{name: "stretch", at: func(c *show.Cloth) any { return &c.Stretch }},
		{name: "weight_g_m2", at: func(c *show.Cloth) any { return &c.Weight }},
		{name: "washed", at: func(c *show.Cloth) any { return &c.Washed }},
		{name: "flaws_um", at: func(c *show.Cloth) any { return &c.Flaws }},
		{name: "source", at: func(c *show.Cloth) any { return &c.Source }},
		{name: "cost", at: func(c *show.Cloth) any { return &c.Cost }},
		{name: "repeat", at: func(c *show.Cloth) any { return &c.Repeat }},
		{name: "note", at: func(c *show.Cloth) any { return &c.Note }},
	},
}

var notionTable = &mapping[show.Notion]{
	name: "notion", life: ofHouse, keys: 4, many: true,
	list: func(h *show.House) *[]show.Notion { return &h.Notions },
	fields: []field[show.Notion]{
		{name: "name", at: func(n *show.Notion) any { return &n.Name }},
		{name: "size", at: func(n *show.Notion) any { return &n.Size }},
		{name: "colour", at: func(n *show.Notion) any { return &n.Colour }},
		{name: "unit", at: func(n *show.Notion) any { return &n.Unit }},
		{name: "on_hand", at: func(n *show.Notion) any { return &n.OnHand }},
		{name: "note", at: func(n *show.Notion) any { return &n.Note }},
	},
}

var helperTable = &mapping[show.Helper]{
	name: "helper", life: ofHouse, keys: 1,
	list: func(h *show.House) *[]show.Helper { return &h.Helpers },
	fields: []field[show.Helper]{
		{name: "code", at: func(p *show.Helper) any { return &p.ID }},
		{name: "name", at: func(p *show.Helper) any { return &p.Name }},
		{name: "skills", at: func(p *show.Helper) any { return &p.Skills }},
		{name: "pace_percent", at: func(p *show.Helper) any { return &p.Pace }},
		{name: "from_day", at: func(p *show.Helper) any { return &p.From }},
		{name: "to_day", at: func(p *show.Helper) any { return &p.To }},
		{name: "week", at: func(p *show.Helper) any { return &p.Hours }},
		{name: "machine", at: func(p *show.Helper) any { return &p.Machine }},
		{name: "dresser", at: func(p *show.Helper) any { return &p.Dresser }},
		{name: "chaperone", at: func(p *show.Helper) any { return &p.Chaperone }},
		{name: "note", at: func(p *show.Helper) any { return &p.Note }},
	},
}

var colourTable = &mapping[show.Colour]{
	name: "colour", life: ofHouse, keys: 1,
	list: func(h *show.House) *[]show.Colour { return &h.Colours },
	fields: []field[show.Colour]{
		{name: "name", at: func(c *show.Colour) any { return &c.Name }},
		{name: "hex", at: func(c *show.Colour) any { return &c.Hex }},
		{name: "family", at: func(c *show.Colour) any { return &c.Family }},
	},
}

// originTable keeps what was assumed, by which rule.
var originTable = &mapping[show.Origin]{
	name: "value_origin", life: ofHouse, keys: 3,
	list: func(h *show.House) *[]show.Origin { return &h.Origins },
	fields: []field[show.Origin]{
		{name: "kind", at: func(o *show.Origin) any { return &o.Kind }},
		{name: "code", at: func(o *show.Origin) any { return &o.Code }},
		{name: "field", at: func(o *show.Origin) any { return &o.Field }},
		{name: "how", at: func(o *show.Origin) any { return &o.How }},
		{name: "rule", at: func(o *show.Origin) any { return &o.Rule }},
		{name: "day", at: func(o *show.Origin) any { return &o.Day }},
		{name: "who", at: func(o *show.Origin) any { return &o.Who }},
	},
}

var letDownTable = &mapping[show.LetDown]{
	name: "let_down", life: ofHouse, keys: 1, many: true,
	list: func(h *show.House) *[]show.LetDown { return &h.LetDowns },
	fields: []field[show.LetDown]{
		{name: "garment", at: func(l *show.LetDown) any { return &l.Garment }},
		{name: "by", at: func(l *show.LetDown) any { return &l.By }},
		{name: "left", at: func(l *show.LetDown) any { return &l.Left }},
		{name: "day", at: func(l *show.LetDown) any { return &l.Day }},
		{name: "words", at: func(l *show.LetDown) any { return &l.Words }},
	},
}
