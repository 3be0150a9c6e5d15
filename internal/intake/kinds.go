package intake

import "hemwright/internal/show/show"

// kinds are the files known, in the order in which they lean on each other.
var kinds = []kind{
	colours, garments, finds, cloths, helpers, performers, roles, scenes, casting, looks, appearances,
	pieces, sets, feet, headwear, mics, backdrops, calendar, performances, budget, receipts, loans, kits,
	notes, asks, notions, pins, deeds, rehearsals, logs, handLaid, letDowns, decisions, origins,
}

func refTo(word string, known func(h *show.House, code string) bool) *ref { return &ref{word, known} }

// What the codes in a column may name.
var (
	toPerformer = refTo("performer", func(h *show.House, c string) bool { return h.Performer(show.PerformerID(c)) != nil })
	toRole      = refTo("role", func(h *show.House, c string) bool { return h.Role(show.RoleID(c)) != nil })
	toScene     = refTo("scene", func(h *show.House, c string) bool { return h.Scene(show.SceneID(c)) != nil })
	toLook      = refTo("look", func(h *show.House, c string) bool { return h.Look(show.LookID(c)) != nil })
	toPiece     = refTo("piece", func(h *show.House, c string) bool { return h.Piece(show.PieceID(c)) != nil })
	toSet       = refTo("set", func(h *show.House, c string) bool { return h.Set(show.SetID(c)) != nil })
	toGarment   = refTo("garment", func(h *show.House, c string) bool { return h.Garment(show.GarmentID(c)) != nil })
	toHelper    = refTo("helper", func(h *show.House, c string) bool { return h.Helper(show.HelperID(c)) != nil })
)

type (
	performerCol  = column[show.Performer]
	roleCol       = column[show.Role]
	castingCol    = column[show.Casting]
	sceneCol      = column[show.Scene]
	appearanceCol = column[show.Appearance]
	lookCol       = column[show.Look]
	pieceCol      = column[show.Piece]
	setCol        = column[show.Set]
	garmentCol    = column[show.Garment]
	findCol       = column[show.Find]
	clothCol      = column[show.Cloth]
	helperCol     = column[show.Helper]
)

var roles = &table[show.Role]{
	one: "role", many: "roles", need: []string{"role_id", "role"}, single: true, letter: "R", digits: 2,
	rows: func(h *show.House) *[]show.Role { return &h.Roles },
	keys: []func(*show.Role) string{func(r *show.Role) string { return string(r.ID) }},
	cols: []roleCol{
		{name: "role_id", at: func(r *show.Role) any { return &r.ID }, hard: true},
		{name: "role role_name", at: func(r *show.Role) any { return &r.Name }},
		{name: "kind", at: func(r *show.Role) any { return &r.Kind }},
		{name: "group", at: func(r *show.Role) any { return &r.Group }},
		{name: "performer_id", at: func(r *show.Role) any { return &r.Performer }, to: toPerformer},
		{name: "world", at: func(r *show.Role) any { return &r.World }},
		{name: "note notes", at: func(r *show.Role) any { return &r.Note }},
	},
}

var casting = &table[show.Casting]{
	one: "casting", many: "castings", need: []string{"role_id", "cast", "performer_id"},
	rows: func(h *show.House) *[]show.Casting { return &h.Casting },
	keys: []func(*show.Casting) string{
		func(c *show.Casting) string { return key(c.Role, c.Cast, c.Performer, yesNo(c.Cover)) },
		func(c *show.Casting) string {
			if c.Cover { // a role may have several covers
				return ""
			}
			return key(c.Role, c.Cast)
		},
	},
	cols: []castingCol{
		{name: "role_id", at: func(c *show.Casting) any { return &c.Role }, to: toRole, hard: true},
		{name: "cast", at: func(c *show.Casting) any { return &c.Cast }, hard: true},
		{name: "performer_id", at: func(c *show.Casting) any { return &c.Performer }, to: toPerformer, hard: true},
		{name: "cover", at: func(c *show.Casting) any { return &c.Cover }, early: true},
		{name: "note notes", at: func(c *show.Casting) any { return &c.Note }},
	},
}

var scenes = &table[show.Scene]{
	one: "scene", many: "scenes", need: []string{"scene_id", "title"}, single: true, letter: "S", digits: 2,
	loose:   loose{[]string{"title", "running"}, []string{"running"}},
	natural: func(s *show.Scene) string { return fold(s.Title) },
	rows:    func(h *show.House) *[]show.Scene { return &h.Scenes },
	keys:    []func(*show.Scene) string{func(s *show.Scene) string { return string(s.ID) }},
	cols: []sceneCol{
		{name: "scene_id", at: func(s *show.Scene) any { return &s.ID }, hard: true},
		{name: "act", at: func(s *show.Scene) any { return &s.Act }},
		{name: "title scene scene_title", at: func(s *show.Scene) any { return &s.Title }},
		{name: "place", at: func(s *show.Scene) any { return &s.Place }},
		{name: "running minutes length duration", at: func(s *show.Scene) any { return &s.Running }, unit: "min", read: positive},
		{name: "gap_after", at: func(s *show.Scene) any { return &s.GapAfter }, unit: "s"},
		{name: "interval_after", at: func(s *show.Scene) any { return &s.Interval }, unit: "min"},
		{name: "world", at: func(s *show.Scene) any { return &s.World }},
		{name: "movement", at: func(s *show.Scene) any { return &s.Movement }},
		{name: "what_happens", at: func(s *show.Scene) any { return &s.What }},
	},
}

var appearances = &table[show.Appearance]{
	one: "appearance", many: "appearances", need: []string{"scene_id", "role_id", "look_id"},
	rows: func(h *show.House) *[]show.Appearance { return &h.Appearances },
	keys: []func(*show.Appearance) string{
		func(a *show.Appearance) string { return key(a.Scene, a.Role, a.Look, a.Enter.String()) },
		func(a *show.Appearance) string { return key(a.Scene, a.Role, a.Look) },
		func(a *show.Appearance) string { return key(a.Scene, a.Role) },
	},
	cols: []appearanceCol{
		{name: "scene_id", at: func(a *show.Appearance) any { return &a.Scene }, to: toScene, hard: true},
		{name: "role_id", at: func(a *show.Appearance) any { return &a.Role }, to: toRole, hard: true},
		{name: "look_id", at: func(a *show.Appearance) any { return &a.Look }, to: toLook, hard: true},
		{name: "performer_id"},
		{name: "enter", at: func(a *show.Appearance) any { return &a.Enter }, unit: "min", early: true},
		{name: "exit", at: func(a *show.Appearance) any { return &a.Exit }, unit: "min"},
		{name: "enter_side", at: func(a *show.Appearance) any { return &a.EnterSide }, read: side},
		{name: "exit_side", at: func(a *show.Appearance) any { return &a.ExitSide }, read: side},
		{name: "note notes", at: func(a *show.Appearance) any { return &a.Note }},
	},
	finish: onStage,
}

var looks = &table[show.Look]{
	one: "look", many: "looks", need: []string{"look_id", "look"}, single: true, letter: "L", digits: 3,
	rows: func(h *show.House) *[]show.Look { return &h.Looks },
	keys: []func(*show.Look) string{func(l *show.Look) string { return string(l.ID) }},
	cols: []lookCol{
		{name: "look_id", at: func(l *show.Look) any { return &l.ID }, hard: true},
		{name: "role_id", at: func(l *show.Look) any { return &l.Role }, to: toRole, hard: true},
		{name: "performer_id"},
		{name: "look look_name", at: func(l *show.Look) any { return &l.Name }},
		{name: "world", at: func(l *show.Look) any { return &l.World }},
		{name: "order_for_role order", at: func(l *show.Look) any { return &l.Order }},
		{name: "idea", at: func(l *show.Look) any { return &l.Idea }},
		{name: "note notes", at: func(l *show.Look) any { return &l.Note }},
	},
	finish: func(x *filling[show.Look]) { samePlayer(x, x.row.Role) },
}

var pieces = &table[show.Piece]{
	one: "piece", many: "pieces", need: []string{"piece_id", "piece"}, single: true, letter: "C", digits: 3,
	rows: func(h *show.House) *[]show.Piece { return &h.Pieces },
	keys: []func(*show.Piece) string{func(p *show.Piece) string { return string(p.ID) }},
	cols: []pieceCol{
		{name: "piece_id", at: func(p *show.Piece) any { return &p.ID }, hard: true},
		{name: "category", at: func(p *show.Piece) any { return &p.Category }},
		{name: "piece piece_name", at: func(p *show.Piece) any { return &p.Name }},
		{name: "performer_id"},
		{name: "look_ids look_id", at: func(p *show.Piece) any { return &p.Looks }, to: toLook},
		{name: "layer", at: func(p *show.Piece) any { return &p.Layer }, read: layer},
		{name: "colour color", at: func(p *show.Piece) any { return &p.Colour }},
		{name: "era", at: func(p *show.Piece) any { return &p.Era }},
		{name: "fit", at: func(p *show.Piece) any { return &p.Fit }},
		{name: "closure", at: func(p *show.Piece) any { return &p.Closure }},
		{name: "length_to", at: func(p *show.Piece) any { return &p.LengthTo }},
		{name: "hem_clear", at: func(p *show.Piece) any { return &p.HemClear }},
		{name: "first_thought", at: func(p *show.Piece) any { return &p.FirstThought }},
		{name: "price_limit", at: func(p *show.Piece) any { return &p.PriceLimit }},
		{name: "match_group", at: func(p *show.Piece) any { return &p.MatchGroup }},
		{name: "note notes", at: func(p *show.Piece) any { return &p.Note }},
		{name: "set_id", at: func(p *show.Piece) any { return &p.Set }, to: toSet},
		{name: "how_far", at: func(p *show.Piece) any { return &p.HowFar }},
	},
	finish: wornBy,
	again:  func(p *show.Piece) { p.HowFar = show.ThoughtOf },
}

var sets = &table[show.Set]{
	one: "set", many: "sets", need: []string{"set_id", "piece_ids"}, single: true, letter: "M", digits: 2,
	rows: func(h *show.House) *[]show.Set { return &h.Sets },
	keys: []func(*show.Set) string{func(s *show.Set) string { return string(s.ID) }},
	cols: []setCol{
		{name: "set_id", at: func(s *show.Set) any { return &s.ID }, hard: true},
		{name: "name", at: func(s *show.Set) any { return &s.Name }},
		{name: "piece_ids", at: func(s *show.Set) any { return &s.Pieces }, to: toPiece},
		{name: "colours colors", at: func(s *show.Set) any { return &s.Colours }},
		{name: "alike", at: func(s *show.Set) any { return &s.Alike }},
		{name: "hem_rule", at: func(s *show.Set) any { return &s.HemRule }},
		{name: "spares", at: func(s *show.Set) any { return &s.Spares }},
		{name: "count", at: func(s *show.Set) any { return &s.Count }},
		{name: "colour_rule color_rule", at: func(s *show.Set) any { return &s.FreeHues }, read: oneOf("free", "fixed"), print: func(s *show.Set, _ written) string { return word(s.FreeHues, "free", "fixed") }},
		{name: "hem_from_floor", at: func(s *show.Set) any { return &s.HemFloor }},
	},
}
