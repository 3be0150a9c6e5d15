package intake

import (
	"hemwright/internal/show/body"
	"hemwright/internal/show/show"
)

var performers = &table[show.Performer]{
	one: "performer", many: "performers", need: []string{"performer_id", "name"}, single: true, letter: "P", digits: 2, person: true,
	loose:   loose{[]string{"name"}, []string{"age", "height", "chest", "role", "label_size", "birth_month", "last_name"}},
	natural: func(p *show.Performer) string { return fold(p.Name) },
	rows:    func(h *show.House) *[]show.Performer { return &h.Performers },
	keys:    []func(*show.Performer) string{func(p *show.Performer) string { return string(p.ID) }},
	cols: append([]performerCol{
		{name: "performer_id", at: func(p *show.Performer) any { return &p.ID }, hard: true},
		{name: "name performer_name child actor student performer who full_name first_name pupil", at: func(p *show.Performer) any { return &p.Name }},
		{name: "last_name surname family_name", input: true},
		{name: "role part character plays", input: true},
		{name: "age age_years yrs years_old", at: func(p *show.Performer) any { return &p.Age }},
		{name: "birth_month", at: func(p *show.Performer) any { return &p.BirthMonth }, read: month},
		{name: "sex_for_growth", at: func(p *show.Performer) any { return &p.GrowthSex }, read: growthSex},
		{name: "dressing_room room", at: func(p *show.Performer) any { return &p.Room }},
		{name: "measured_on", input: true},
		{name: "measured_by", input: true},
		{name: "consent_on_file consent", at: func(p *show.Performer) any { return &p.Consent }},
		{name: "shoe_size_eu shoe_size shoes shoe", at: func(p *show.Performer) any { return &p.ShoeSize }},
		{name: "care_notes care", at: func(p *show.Performer) any { return &p.Care }},
		{name: "not_dressed_by not_to_be_dressed_by", at: func(p *show.Performer) any { return &p.NotBy }, to: toHelper},
		{name: "note notes", at: func(p *show.Performer) any { return &p.Note }},
		{name: "label_size size dress_size clothes_size", at: func(p *show.Performer) any { return &p.LabelSize }},
		{name: "garment_that_fits", at: func(p *show.Performer) any { return &p.FitsGarment }, to: toGarment},
	}, measures()...),
	finish: measured,
}

// aliases are other names people write over a measure's column.
var aliases = map[body.Kind]string{
	body.Height: " hgt ht stature", body.Waist: " natural_waist", body.Hip: " hips", body.InsideLeg: " inseam inside_leg_length", body.Head: " head_round hat",
	body.ShoulderToWrist: " sleeve arm_length", body.NapeToWaist: " back_length", body.AcrossShoulders: " shoulders shoulder_width",
}

// measures are the columns of the tape: height_cm, chest_cm and so on.
func measures() []performerCol {
	var cols []performerCol
	for _, k := range body.All() {
		cols = append(cols, performerCol{
			name: k.Code() + aliases[k], at: func(p *show.Performer) any { return &p.Body[k] },
			girth: k == body.Chest || k == body.Waist || k == body.Hip,
		})
	}
	return cols
}

var feet = &table[show.Feet]{
	one: "pair of feet", many: "feet", page: "feet", need: []string{"performer_id", "shoe"}, single: true, person: true,
	rows: func(h *show.House) *[]show.Feet { return &h.Feet },
	keys: []func(*show.Feet) string{func(f *show.Feet) string { return string(f.Performer) }},
	cols: []column[show.Feet]{
		{name: "performer_id", at: func(f *show.Feet) any { return &f.Performer }, to: toPerformer, hard: true},
		{name: "shoe_size_eu shoe_size", at: func(f *show.Feet) any { return &f.ShoeSize }},
		{name: "shoe", at: func(f *show.Feet) any { return &f.Shoe }},
		{name: "from shoe_from", at: func(f *show.Feet) any { return &f.ShoeFrom }},
		{name: "heel", at: func(f *show.Feet) any { return &f.Heel }},
		{name: "hosiery", at: func(f *show.Feet) any { return &f.Hosiery }},
		{name: "shade", at: func(f *show.Feet) any { return &f.Shade }},
		{name: "hosiery_from", at: func(f *show.Feet) any { return &f.HosieryFrom }},
		{name: "own_vest", at: func(f *show.Feet) any { return &f.OwnVest }},
		{name: "own_shorts", at: func(f *show.Feet) any { return &f.OwnShorts }},
		{name: "hosiery_size", at: func(f *show.Feet) any { return &f.HosierySize }},
		{name: "shade_agreed", at: func(f *show.Feet) any { return &f.ShadeAgreed }},
		{name: "under_layer_one", at: func(f *show.Feet) any { return &f.LayerOne }},
		{name: "layer_one_seen_on", at: func(f *show.Feet) any { return &f.LayerOneSeen }},
		{name: "shoe_limit", at: func(f *show.Feet) any { return &f.ShoeLimit }},
		{name: "hosiery_limit", at: func(f *show.Feet) any { return &f.HosieryLimit }},
	},
}

var helpers = &table[show.Helper]{
	one: "helper", many: "helpers", need: []string{"helper_id", "name"}, single: true, letter: "H", digits: 1,
	loose:   loose{[]string{"name", "hours_per_week"}, []string{"hours_per_week"}},
	natural: func(p *show.Helper) string { return fold(p.Name) },
	rows:    func(h *show.House) *[]show.Helper { return &h.Helpers },
	keys:    []func(*show.Helper) string{func(p *show.Helper) string { return string(p.ID) }},
	cols: []helperCol{
		{name: "helper_id", at: func(p *show.Helper) any { return &p.ID }, hard: true},
		{name: "name helper volunteer who", at: func(p *show.Helper) any { return &p.Name }},
		{name: "skills", at: func(p *show.Helper) any { return &p.Skills }},
		{name: "pace_ratio_to_lead pace", at: func(p *show.Helper) any { return &p.Pace }, read: pace,
			print: func(p *show.Helper, _ written) string { return iff(p.Pace > 0, hundredths(p.Pace)) }},
		{name: "from_date", at: func(p *show.Helper) any { return &p.From }},
		{name: "to_date", at: func(p *show.Helper) any { return &p.To }},
		{name: "hours_per_week hours hours_a_week weekly_hours", at: func(p *show.Helper) any { return &p.Hours }, unit: "h"},
		{name: "own_machine", at: func(p *show.Helper) any { return &p.Machine }},
		{name: "dresser_in_show dresser", at: func(p *show.Helper) any { return &p.Dresser }},
		{name: "chaperone", at: func(p *show.Helper) any { return &p.Chaperone }},
		{name: "note notes", at: func(p *show.Helper) any { return &p.Note }},
	},
	finish: there,
}

var headwear = &table[show.Headwear]{
	one: "head", many: "heads", page: "head", need: []string{"look_id", "hair"}, single: true,
	rows: func(h *show.House) *[]show.Headwear { return &h.Headwear },
	keys: []func(*show.Headwear) string{func(d *show.Headwear) string { return string(d.Look) }},
	cols: []column[show.Headwear]{
		{name: "look_id", at: func(d *show.Headwear) any { return &d.Look }, to: toLook, hard: true},
		{name: "hair", at: func(d *show.Headwear) any { return &d.Hair }},
		{name: "head_piece_ids", at: func(d *show.Headwear) any { return &d.Pieces }, to: toPiece},
		{name: "held_by", at: func(d *show.Headwear) any { return &d.HeldBy }},
		{name: "liner", at: func(d *show.Headwear) any { return &d.Liner }},
	},
}

var mics = &table[show.Mic]{
	one: "microphone", many: "microphones", page: "microphone", need: []string{"role_id", "pack_place"}, single: true,
	rows: func(h *show.House) *[]show.Mic { return &h.Mics },
	keys: []func(*show.Mic) string{func(m *show.Mic) string { return string(m.Role) }},
	cols: []column[show.Mic]{
		{name: "role_id", at: func(m *show.Mic) any { return &m.Role }, to: toRole, hard: true},
		{name: "pack_place", at: func(m *show.Mic) any { return &m.Place }},
		{name: "pocket_on", at: func(m *show.Mic) any { return &m.PocketOn }},
		{name: "fitted_by", at: func(m *show.Mic) any { return &m.FittedBy }},
		{name: "note notes", at: func(m *show.Mic) any { return &m.Note }},
		{name: "wears_one", at: func(m *show.Mic) any { return &m.Wears }},
	},
}
