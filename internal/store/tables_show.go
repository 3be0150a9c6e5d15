package store

import "hemwright/internal/show/show"

// A show's archive: what stays when the people's rows are erased.

var performerTable = &mapping[show.Performer]{
	name: "performer", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Performer { return &h.Performers },
	fields: []field[show.Performer]{
		{name: "code", at: func(p *show.Performer) any { return &p.ID }},
	},
}

var roleTable = &mapping[show.Role]{
	name: "role", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Role { return &h.Roles },
	fields: []field[show.Role]{
		{name: "code", at: func(r *show.Role) any { return &r.ID }},
		{name: "name", at: func(r *show.Role) any { return &r.Name }},
		{name: "kind", at: func(r *show.Role) any { return &r.Kind }},
		{name: "in_group", at: func(r *show.Role) any { return &r.Group }},
		{name: "performer", at: func(r *show.Role) any { return &r.Performer }, ref: true},
		{name: "world", at: func(r *show.Role) any { return &r.World }},
		{name: "note", at: func(r *show.Role) any { return &r.Note }},
	},
}

var castingTable = &mapping[show.Casting]{
	name: "casting", life: ofShow, keys: 4, many: true,
	list: func(h *show.House) *[]show.Casting { return &h.Casting },
	fields: []field[show.Casting]{
		{name: "role", at: func(c *show.Casting) any { return &c.Role }},
		{name: "in_cast", at: func(c *show.Casting) any { return &c.Cast }},
		{name: "performer", at: func(c *show.Casting) any { return &c.Performer }},
		{name: "cover", at: func(c *show.Casting) any { return &c.Cover }},
		{name: "note", at: func(c *show.Casting) any { return &c.Note }},
	},
}

var sceneTable = &mapping[show.Scene]{
	name: "scene", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Scene { return &h.Scenes },
	fields: []field[show.Scene]{
		{name: "code", at: func(s *show.Scene) any { return &s.ID }},
		{name: "act", at: func(s *show.Scene) any { return &s.Act }},
		{name: "title", at: func(s *show.Scene) any { return &s.Title }},
		{name: "place", at: func(s *show.Scene) any { return &s.Place }},
		{name: "running", at: func(s *show.Scene) any { return &s.Running }},
		{name: "gap_after", at: func(s *show.Scene) any { return &s.GapAfter }},
		{name: "interval_after", at: func(s *show.Scene) any { return &s.Interval }},
		{name: "world", at: func(s *show.Scene) any { return &s.World }},
		{name: "movement", at: func(s *show.Scene) any { return &s.Movement }},
		{name: "what", at: func(s *show.Scene) any { return &s.What }},
	},
}

var appearanceTable = &mapping[show.Appearance]{
	name: "appearance", life: ofShow, keys: 2, many: true,
	list: func(h *show.House) *[]show.Appearance { return &h.Appearances },
	fields: []field[show.Appearance]{
		{name: "scene", at: func(a *show.Appearance) any { return &a.Scene }},
		{name: "role", at: func(a *show.Appearance) any { return &a.Role }},
		{name: "look", at: func(a *show.Appearance) any { return &a.Look }, ref: true},
		{name: "enter", at: func(a *show.Appearance) any { return &a.Enter }},
		{name: "exit", at: func(a *show.Appearance) any { return &a.Exit }},
		{name: "enter_side", at: func(a *show.Appearance) any { return &a.EnterSide }},
		{name: "exit_side", at: func(a *show.Appearance) any { return &a.ExitSide }},
		{name: "note", at: func(a *show.Appearance) any { return &a.Note }},
	},
}

var lookTable = &mapping[show.Look]{
	name: "look", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Look { return &h.Looks },
	fields: []field[show.Look]{
		{name: "code", at: func(l *show.Look) any { return &l.ID }},
		{name: "role", at: func(l *show.Look) any { return &l.Role }, ref: true},
		{name: "name", at: func(l *show.Look) any { return &l.Name }},
		{name: "world", at: func(l *show.Look) any { return &l.World }},
		{name: "order_for_role", at: func(l *show.Look) any { return &l.Order }},
		{name: "idea", at: func(l *show.Look) any { return &l.Idea }},
		{name: "note", at: func(l *show.Look) any { return &l.Note }},
	},
}

var pieceTable = &mapping[show.Piece]{
	name: "piece", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Piece { return &h.Pieces },
	fields: []field[show.Piece]{
		{name: "code", at: func(p *show.Piece) any { return &p.ID }},
		{name: "category", at: func(p *show.Piece) any { return &p.Category }},
		{name: "name", at: func(p *show.Piece) any { return &p.Name }},
		{name: "layer", at: func(p *show.Piece) any { return &p.Layer }},
		{name: "colour", at: func(p *show.Piece) any { return &p.Colour }},
		{name: "era", at: func(p *show.Piece) any { return &p.Era }},
		{name: "fit", at: func(p *show.Piece) any { return &p.Fit }},
		{name: "closure", at: func(p *show.Piece) any { return &p.Closure }},
		{name: "length_to", at: func(p *show.Piece) any { return &p.LengthTo }},
		{name: "hem_clear", at: func(p *show.Piece) any { return &p.HemClear }},
		{name: "first_thought", at: func(p *show.Piece) any { return &p.FirstThought }},
		{name: "price_limit", at: func(p *show.Piece) any { return &p.PriceLimit }},
		{name: "match_group", at: func(p *show.Piece) any { return &p.MatchGroup }},
		{name: "in_set", at: func(p *show.Piece) any { return &p.Set }, ref: true},
		{name: "how_far", at: func(p *show.Piece) any { return &p.HowFar }},
		{name: "note", at: func(p *show.Piece) any { return &p.Note }},
	},
}

var pieceLooks = &listing[show.Piece, show.LookID]{
	name: "piece_look", life: ofShow, parent: "piece", value: "look",
	list: pieceTable.list,
	code: func(p *show.Piece) string { return string(p.ID) },
	in:   func(p *show.Piece) *[]show.LookID { return &p.Looks },
}

var setTable = &mapping[show.Set]{
	name: "piece_set", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Set { return &h.Sets },
	fields: []field[show.Set]{
		{name: "code", at: func(s *show.Set) any { return &s.ID }},
		{name: "name", at: func(s *show.Set) any { return &s.Name }},
		{name: "colours", at: func(s *show.Set) any { return &s.Colours }},
		{name: "alike", at: func(s *show.Set) any { return &s.Alike }},
		{name: "free_hues", at: func(s *show.Set) any { return &s.FreeHues }},
		{name: "hem_rule", at: func(s *show.Set) any { return &s.HemRule }},
		{name: "hem_from_floor", at: func(s *show.Set) any { return &s.HemFloor }},
		{name: "spares", at: func(s *show.Set) any { return &s.Spares }},
		{name: "count", at: func(s *show.Set) any { return &s.Count }},
	},
}

var setPieces = &listing[show.Set, show.PieceID]{
	name: "set_piece", life: ofShow, parent: "in_set", value: "piece",
	list: setTable.list,
	code: func(s *show.Set) string { return string(s.ID) },
	in:   func(s *show.Set) *[]show.PieceID { return &s.Pieces },
}

var headwearTable = &mapping[show.Headwear]{
	name: "headwear", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Headwear { return &h.Headwear },
	fields: []field[show.Headwear]{
		{name: "look", at: func(d *show.Headwear) any { return &d.Look }},
		{name: "hair", at: func(d *show.Headwear) any { return &d.Hair }},
		{name: "held_by", at: func(d *show.Headwear) any { return &d.HeldBy }},
		{name: "liner", at: func(d *show.Headwear) any { return &d.Liner }},
	},
}

var headwearPieces = &listing[show.Headwear, show.PieceID]{
	name: "headwear_piece", life: ofShow, parent: "look", value: "piece",
	list: headwearTable.list,
	code: func(d *show.Headwear) string { return string(d.Look) },
	in:   func(d *show.Headwear) *[]show.PieceID { return &d.Pieces },
}

var micTable = &mapping[show.Mic]{
	name: "mic", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Mic { return &h.Mics },
	fields: []field[show.Mic]{
		{name: "role", at: func(m *show.Mic) any { return &m.Role }},
		{name: "wears", at: func(m *show.Mic) any { return &m.Wears }},
		{name: "place", at: func(m *show.Mic) any { return &m.Place }},
		{name: "pocket_on", at: func(m *show.Mic) any { return &m.PocketOn }},
		{name: "fitted_by", at: func(m *show.Mic) any { return &m.FittedBy }},
		{name: "note", at: func(m *show.Mic) any { return &m.Note }},
	},
}

var backdropTable = &mapping[show.Backdrop]{
	name: "backdrop", life: ofShow, keys: 1,
	list: func(h *show.House) *[]show.Backdrop { return &h.Backdrops },
	fields: []field[show.Backdrop]{
		{name: "scene", at: func(b *show.Backdrop) any { return &b.Scene }},
		{name: "set_colour", at: func(b *show.Backdrop) any { return &b.SetColour }},
		{name: "set_hex", at: func(b *show.Backdrop) any { return &b.SetHex }},
		{name: "lamp", at: func(b *show.Backdrop) any { return &b.Lamp }},
		{name: "lamp_hex", at: func(b *show.Backdrop) any { return &b.LampHex }},
		{name: "note", at: func(b *show.Backdrop) any { return &b.Note }},
	},
}
