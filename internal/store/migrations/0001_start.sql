-- One file is one house. Three lifetimes lie in tables of their own: the
-- house, each show's archive, and people. Lengths are micrometres (_um), sums
-- the smallest coin (_coins), work minutes (_min), stage time seconds (_s),
-- days ISO text; NULL is "not known" or "not set", never nothing.
-- Lists of words or points inside a row are JSON arrays.

-- The house: what stays from show to show.

CREATE TABLE garment (
	code TEXT NOT NULL CHECK (code <> ''), category TEXT NOT NULL, name TEXT NOT NULL, colour TEXT NOT NULL,
	fibre TEXT NOT NULL, chest_lo_um INTEGER CHECK (chest_lo_um >= 0),
	chest_hi_um INTEGER CHECK ((chest_hi_um IS NULL) = (chest_lo_um IS NULL) AND chest_hi_um >= chest_lo_um),
	waist_lo_um INTEGER CHECK (waist_lo_um >= 0),
	waist_hi_um INTEGER CHECK ((waist_hi_um IS NULL) = (waist_lo_um IS NULL) AND waist_hi_um >= waist_lo_um),
	hip_lo_um INTEGER CHECK (hip_lo_um >= 0),
	hip_hi_um INTEGER CHECK ((hip_hi_um IS NULL) = (hip_lo_um IS NULL) AND hip_hi_um >= hip_lo_um),
	hem_round_lo_um INTEGER CHECK (hem_round_lo_um >= 0),
	hem_round_hi_um INTEGER CHECK ((hem_round_hi_um IS NULL) = (hem_round_lo_um IS NULL) AND hem_round_hi_um >= hem_round_lo_um),
	length_lo_um INTEGER CHECK (length_lo_um >= 0),
	length_hi_um INTEGER CHECK ((length_hi_um IS NULL) = (length_lo_um IS NULL) AND length_hi_um >= length_lo_um),
	length_from TEXT NOT NULL, sleeve_lo_um INTEGER CHECK (sleeve_lo_um >= 0),
	sleeve_hi_um INTEGER CHECK ((sleeve_hi_um IS NULL) = (sleeve_lo_um IS NULL) AND sleeve_hi_um >= sleeve_lo_um),
	shoulders_lo_um INTEGER CHECK (shoulders_lo_um >= 0),
	shoulders_hi_um INTEGER CHECK ((shoulders_hi_um IS NULL) = (shoulders_lo_um IS NULL) AND shoulders_hi_um >= shoulders_lo_um),
	head_lo_um INTEGER CHECK (head_lo_um >= 0),
	head_hi_um INTEGER CHECK ((head_hi_um IS NULL) = (head_lo_um IS NULL) AND head_hi_um >= head_lo_um),
	let_out_um INTEGER CHECK (let_out_um >= 0), let_down_um INTEGER CHECK (let_down_um >= 0),
	closure TEXT NOT NULL, stretch TEXT NOT NULL, lined TEXT NOT NULL, washing TEXT NOT NULL,
	condition TEXT NOT NULL, owner TEXT NOT NULL, return_by TEXT CHECK (return_by IS date(return_by)),
	may_cut INTEGER NOT NULL CHECK (may_cut IN (0, 1)), place TEXT NOT NULL,
	rail_width_um INTEGER CHECK (rail_width_um >= 0), fate TEXT NOT NULL, promised_to TEXT NOT NULL,
	promised_on TEXT CHECK (promised_on IS date(promised_on)),
	promised_end TEXT CHECK (promised_end IS date(promised_end)), note TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (code),
	CHECK (fate IN ('', 'whole', 'altered', 'cut'))
) STRICT, WITHOUT ROWID;

CREATE TABLE cloth (
	code TEXT NOT NULL CHECK (code <> ''), name TEXT NOT NULL, fibre TEXT NOT NULL, colour TEXT NOT NULL,
	width_um INTEGER NOT NULL CHECK (width_um >= 0), length_um INTEGER NOT NULL CHECK (length_um >= 0),
	shape TEXT NOT NULL, outline_um TEXT NOT NULL CHECK (json_type(outline_um) = 'array'),
	diameter_um INTEGER CHECK (diameter_um >= 0), one_way INTEGER NOT NULL CHECK (one_way IN (0, 1)),
	right_side TEXT NOT NULL, stretch TEXT NOT NULL, weight_g_m2 INTEGER CHECK (weight_g_m2 >= 0),
	washed TEXT NOT NULL, flaws_um TEXT NOT NULL CHECK (json_type(flaws_um) = 'array'), source TEXT NOT NULL,
	cost_coins INTEGER CHECK (cost_coins >= 0), note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (code)
) STRICT, WITHOUT ROWID;

CREATE TABLE notion (
	name TEXT NOT NULL, size TEXT NOT NULL, colour TEXT NOT NULL, unit TEXT NOT NULL,
	n INTEGER NOT NULL CHECK (n >= 0), on_hand TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (name, size, colour, unit, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE helper (
	code TEXT NOT NULL CHECK (code <> ''), name TEXT NOT NULL,
	skills TEXT NOT NULL CHECK (json_type(skills) = 'array'),
	pace_percent INTEGER NOT NULL CHECK (pace_percent >= 0), from_day TEXT CHECK (from_day IS date(from_day)),
	to_day TEXT CHECK (to_day IS date(to_day)), week_min INTEGER NOT NULL CHECK (week_min >= 0),
	machine INTEGER NOT NULL CHECK (machine IN (0, 1)), dresser INTEGER NOT NULL CHECK (dresser IN (0, 1)),
	chaperone INTEGER NOT NULL CHECK (chaperone IN (0, 1)), note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (code),
	CHECK (to_day IS NULL OR from_day IS NULL OR to_day >= from_day)
) STRICT, WITHOUT ROWID;

CREATE TABLE colour (
	name TEXT NOT NULL, hex TEXT NOT NULL, family TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (name)
) STRICT, WITHOUT ROWID;

-- Of the house, for later: what became of a garment, how often its hem was
-- let down, to whom it is promised, pictures of things, where a value is from.

CREATE TABLE garment_fate (
	garment TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	fate TEXT NOT NULL CHECK (fate IN ('whole', 'altered', 'cut')), day TEXT CHECK (day IS date(day)), words TEXT NOT NULL,
	PRIMARY KEY (garment, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE let_down (
	garment TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	by_um INTEGER NOT NULL, left_um INTEGER CHECK (left_um >= 0), day TEXT CHECK (day IS date(day)), words TEXT NOT NULL,
	PRIMARY KEY (garment, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE promise (
	garment TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0), whom TEXT NOT NULL,
	from_day TEXT CHECK (from_day IS date(from_day)),
	to_day TEXT CHECK (to_day IS date(to_day)),
	note TEXT NOT NULL,
	PRIMARY KEY (garment, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE photograph (
	of_kind TEXT NOT NULL, code TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	day TEXT CHECK (day IS date(day)), words TEXT NOT NULL, type TEXT NOT NULL, picture BLOB NOT NULL,
	PRIMARY KEY (of_kind, code, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE value_origin (
	kind TEXT NOT NULL, code TEXT NOT NULL, field TEXT NOT NULL,
	how TEXT NOT NULL CHECK (how IN ('assumed', 'said', 'measured')), rule TEXT NOT NULL,
	day TEXT CHECK (day IS date(day)), who TEXT NOT NULL,
	PRIMARY KEY (kind, code, field)
) STRICT, WITHOUT ROWID;

-- A show's archive: stays when people's rows are erased, and holds no name.

CREATE TABLE show (
	id INTEGER PRIMARY KEY,
	code TEXT NOT NULL, name TEXT NOT NULL, currency TEXT NOT NULL,
	erase_on TEXT CHECK (erase_on IS date(erase_on)),
	erase_on_ink INTEGER NOT NULL CHECK (erase_on_ink IN (0, 1))
) STRICT;

-- The show the workroom is busy with.
CREATE TABLE current_show (one INTEGER PRIMARY KEY CHECK (one = 1), show_id INTEGER NOT NULL REFERENCES show (id)) STRICT;
INSERT INTO show (id, code, name, currency, erase_on, erase_on_ink) VALUES (1, '', '', '', NULL, 0);
INSERT INTO current_show (one, show_id) VALUES (1, 1);

CREATE TABLE performer (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE role (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''), name TEXT NOT NULL,
	kind TEXT NOT NULL, in_group TEXT NOT NULL, performer TEXT CHECK (performer <> ''), world TEXT NOT NULL,
	note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE casting (
	show_id INTEGER NOT NULL REFERENCES show (id), role TEXT NOT NULL, in_cast TEXT NOT NULL,
	performer TEXT NOT NULL, cover INTEGER NOT NULL CHECK (cover IN (0, 1)),
	n INTEGER NOT NULL CHECK (n >= 0), note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, role, in_cast, performer, cover, n),
	FOREIGN KEY (show_id, role) REFERENCES role (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE scene (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''), act TEXT NOT NULL,
	title TEXT NOT NULL, place TEXT NOT NULL, running_s INTEGER NOT NULL CHECK (running_s >= 0),
	gap_after_s INTEGER NOT NULL CHECK (gap_after_s >= 0),
	interval_after_s INTEGER NOT NULL CHECK (interval_after_s >= 0), world TEXT NOT NULL,
	movement TEXT NOT NULL CHECK (json_type(movement) = 'array'), what TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE look (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	role TEXT CHECK (role <> ''), name TEXT NOT NULL, world TEXT NOT NULL,
	order_for_role INTEGER NOT NULL CHECK (order_for_role >= 0), idea TEXT NOT NULL, note TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (show_id, role) REFERENCES role (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE appearance (
	show_id INTEGER NOT NULL REFERENCES show (id), scene TEXT NOT NULL, role TEXT NOT NULL,
	n INTEGER NOT NULL CHECK (n >= 0), look TEXT CHECK (look <> ''),
	enter_s INTEGER NOT NULL CHECK (enter_s >= 0), exit_s INTEGER NOT NULL CHECK (exit_s >= 0),
	enter_side TEXT NOT NULL, exit_side TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, scene, role, n),
	CHECK (exit_s >= enter_s),
	CHECK (enter_side IN ('', 'L', 'R') AND exit_side IN ('', 'L', 'R')),
	FOREIGN KEY (show_id, scene) REFERENCES scene (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, role) REFERENCES role (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, look) REFERENCES look (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE piece_set (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''), name TEXT NOT NULL,
	colours TEXT NOT NULL, alike TEXT NOT NULL, free_hues INTEGER NOT NULL CHECK (free_hues IN (0, 1)),
	hem_rule TEXT NOT NULL, hem_from_floor_um INTEGER CHECK (hem_from_floor_um >= 0),
	spares INTEGER NOT NULL CHECK (spares >= 0), count INTEGER NOT NULL CHECK (count >= 0),
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE piece (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	category TEXT NOT NULL, name TEXT NOT NULL, layer INTEGER NOT NULL CHECK (layer >= 0),
	colour TEXT NOT NULL, era TEXT NOT NULL, fit TEXT NOT NULL, closure TEXT NOT NULL,
	length_to TEXT NOT NULL, hem_clear_um INTEGER CHECK (hem_clear_um >= 0), first_thought TEXT NOT NULL,
	price_limit_coins INTEGER CHECK (price_limit_coins >= 0), match_group TEXT NOT NULL,
	in_set TEXT CHECK (in_set <> ''), how_far TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	CHECK (layer <= 6),
	FOREIGN KEY (show_id, in_set) REFERENCES piece_set (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE piece_look (
	show_id INTEGER NOT NULL REFERENCES show (id), piece TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	look TEXT NOT NULL,
	PRIMARY KEY (show_id, piece, n),
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, look) REFERENCES look (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE set_piece (
	show_id INTEGER NOT NULL REFERENCES show (id), in_set TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	piece TEXT NOT NULL,
	PRIMARY KEY (show_id, in_set, n),
	FOREIGN KEY (show_id, in_set) REFERENCES piece_set (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE headwear (
	show_id INTEGER NOT NULL REFERENCES show (id), look TEXT NOT NULL, hair TEXT NOT NULL,
	held_by TEXT NOT NULL CHECK (json_type(held_by) = 'array'),
	liner INTEGER NOT NULL CHECK (liner IN (0, 1)), position INTEGER NOT NULL,
	PRIMARY KEY (show_id, look),
	FOREIGN KEY (show_id, look) REFERENCES look (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE headwear_piece (
	show_id INTEGER NOT NULL REFERENCES show (id), look TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	piece TEXT NOT NULL,
	PRIMARY KEY (show_id, look, n),
	FOREIGN KEY (show_id, look) REFERENCES headwear (show_id, look) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE mic (
	show_id INTEGER NOT NULL REFERENCES show (id), role TEXT NOT NULL,
	wears INTEGER NOT NULL CHECK (wears IN (0, 1)), place TEXT NOT NULL, pocket_on TEXT NOT NULL,
	fitted_by TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, role),
	FOREIGN KEY (show_id, role) REFERENCES role (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE backdrop (
	show_id INTEGER NOT NULL REFERENCES show (id), scene TEXT NOT NULL, set_colour TEXT NOT NULL,
	set_hex TEXT NOT NULL, lamp TEXT NOT NULL, lamp_hex TEXT NOT NULL, note TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, scene),
	FOREIGN KEY (show_id, scene) REFERENCES scene (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE find (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	seen_on TEXT CHECK (seen_on IS date(seen_on)), seen_at TEXT NOT NULL,
	price_coins INTEGER CHECK (price_coins >= 0), decision TEXT NOT NULL, garment TEXT NOT NULL,
	category TEXT NOT NULL, name TEXT NOT NULL, colour TEXT NOT NULL, fibre TEXT NOT NULL,
	chest_lo_um INTEGER CHECK (chest_lo_um >= 0),
	chest_hi_um INTEGER CHECK ((chest_hi_um IS NULL) = (chest_lo_um IS NULL) AND chest_hi_um >= chest_lo_um),
	waist_lo_um INTEGER CHECK (waist_lo_um >= 0),
	waist_hi_um INTEGER CHECK ((waist_hi_um IS NULL) = (waist_lo_um IS NULL) AND waist_hi_um >= waist_lo_um),
	hip_lo_um INTEGER CHECK (hip_lo_um >= 0),
	hip_hi_um INTEGER CHECK ((hip_hi_um IS NULL) = (hip_lo_um IS NULL) AND hip_hi_um >= hip_lo_um),
	hem_round_lo_um INTEGER CHECK (hem_round_lo_um >= 0),
	hem_round_hi_um INTEGER CHECK ((hem_round_hi_um IS NULL) = (hem_round_lo_um IS NULL) AND hem_round_hi_um >= hem_round_lo_um),
	length_lo_um INTEGER CHECK (length_lo_um >= 0),
	length_hi_um INTEGER CHECK ((length_hi_um IS NULL) = (length_lo_um IS NULL) AND length_hi_um >= length_lo_um),
	length_from TEXT NOT NULL, sleeve_lo_um INTEGER CHECK (sleeve_lo_um >= 0),
	sleeve_hi_um INTEGER CHECK ((sleeve_hi_um IS NULL) = (sleeve_lo_um IS NULL) AND sleeve_hi_um >= sleeve_lo_um),
	shoulders_lo_um INTEGER CHECK (shoulders_lo_um >= 0),
	shoulders_hi_um INTEGER CHECK ((shoulders_hi_um IS NULL) = (shoulders_lo_um IS NULL) AND shoulders_hi_um >= shoulders_lo_um),
	head_lo_um INTEGER CHECK (head_lo_um >= 0),
	head_hi_um INTEGER CHECK ((head_hi_um IS NULL) = (head_lo_um IS NULL) AND head_hi_um >= head_lo_um),
	let_out_um INTEGER CHECK (let_out_um >= 0), let_down_um INTEGER CHECK (let_down_um >= 0),
	closure TEXT NOT NULL, stretch TEXT NOT NULL, lined TEXT NOT NULL, washing TEXT NOT NULL,
	condition TEXT NOT NULL, owner TEXT NOT NULL, return_by TEXT CHECK (return_by IS date(return_by)),
	may_cut INTEGER NOT NULL CHECK (may_cut IN (0, 1)), place TEXT NOT NULL,
	rail_width_um INTEGER CHECK (rail_width_um >= 0), fate TEXT NOT NULL, promised_to TEXT NOT NULL,
	promised_on TEXT CHECK (promised_on IS date(promised_on)),
	promised_end TEXT CHECK (promised_end IS date(promised_end)), note TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE calendar (
	show_id INTEGER NOT NULL REFERENCES show (id), day TEXT NOT NULL CHECK (day = '' OR day IS date(day)),
	start_minute INTEGER NOT NULL CHECK (start_minute BETWEEN 0 AND 1439), what TEXT NOT NULL,
	n INTEGER NOT NULL CHECK (n >= 0), duration_min INTEGER NOT NULL CHECK (duration_min >= 0),
	who TEXT NOT NULL CHECK (json_type(who) = 'array'), kind TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, day, start_minute, what, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE performance (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	day TEXT CHECK (day IS date(day)), start_minute INTEGER NOT NULL CHECK (start_minute BETWEEN 0 AND 1439),
	in_cast TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE budget (
	show_id INTEGER NOT NULL REFERENCES show (id), line TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	planned_coins INTEGER NOT NULL CHECK (planned_coins >= 0),
	held_back INTEGER NOT NULL CHECK (held_back IN (0, 1)), note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, line, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE receipt (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	day TEXT CHECK (day IS date(day)), shop TEXT NOT NULL, line TEXT NOT NULL,
	sum_coins INTEGER CHECK (sum_coins >= 0), paid_by TEXT CHECK (paid_by <> ''),
	paid_back_on TEXT CHECK (paid_back_on IS date(paid_back_on)),
	slip INTEGER NOT NULL CHECK (slip IN (0, 1)), position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (paid_by) REFERENCES helper (code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE loan (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	lent_out INTEGER NOT NULL CHECK (lent_out IN (0, 1)), whom TEXT NOT NULL, what TEXT NOT NULL,
	garment TEXT NOT NULL, piece TEXT CHECK (piece <> ''), may_cut INTEGER NOT NULL CHECK (may_cut IN (0, 1)),
	may_pin INTEGER NOT NULL CHECK (may_pin IN (0, 1)), may_wash INTEGER NOT NULL CHECK (may_wash IN (0, 1)),
	deposit_coins INTEGER CHECK (deposit_coins >= 0), fee_coins INTEGER CHECK (fee_coins >= 0),
	cleaning TEXT NOT NULL, since TEXT CHECK (since IS date(since)), due TEXT CHECK (due IS date(due)),
	state TEXT NOT NULL, note TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE kit (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	helper TEXT CHECK (helper <> ''), what TEXT NOT NULL, out_on TEXT CHECK (out_on IS date(out_on)),
	due_on TEXT CHECK (due_on IS date(due_on)), back_on TEXT CHECK (back_on IS date(back_on)),
	state TEXT NOT NULL, parts INTEGER CHECK (parts >= 0), finished_when TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (helper) REFERENCES helper (code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE kit_piece (
	show_id INTEGER NOT NULL REFERENCES show (id), kit TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	piece TEXT NOT NULL,
	PRIMARY KEY (show_id, kit, n),
	FOREIGN KEY (show_id, kit) REFERENCES kit (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE note (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	day TEXT CHECK (day IS date(day)), from_whom TEXT NOT NULL, role TEXT CHECK (role <> ''),
	piece TEXT CHECK (piece <> ''), what TEXT NOT NULL, work_min INTEGER CHECK (work_min >= 0),
	before TEXT CHECK (before IS date(before)), state TEXT NOT NULL,
	blocks INTEGER NOT NULL CHECK (blocks IN (0, 1)), helper TEXT CHECK (helper <> ''),
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code),
	FOREIGN KEY (show_id, role) REFERENCES role (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (helper) REFERENCES helper (code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE ask (
	show_id INTEGER NOT NULL REFERENCES show (id), code TEXT NOT NULL CHECK (code <> ''),
	day TEXT CHECK (day IS date(day)), of_whom TEXT NOT NULL, what TEXT NOT NULL, promised TEXT NOT NULL,
	seen_on TEXT CHECK (seen_on IS date(seen_on)), result TEXT NOT NULL, saves TEXT NOT NULL,
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, code)
) STRICT, WITHOUT ROWID;

CREATE TABLE pin (
	show_id INTEGER NOT NULL REFERENCES show (id), piece TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	source TEXT NOT NULL, garment TEXT NOT NULL, find TEXT NOT NULL, cloth TEXT NOT NULL,
	day TEXT CHECK (day IS date(day)), who TEXT NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, piece, n),
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE done (
	show_id INTEGER NOT NULL REFERENCES show (id), piece TEXT NOT NULL, what TEXT NOT NULL,
	n INTEGER NOT NULL CHECK (n >= 0), detail TEXT NOT NULL, day TEXT CHECK (day IS date(day)),
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, piece, what, n),
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE rehearsed (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, from_scene TEXT NOT NULL,
	to_scene TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0), took_s INTEGER NOT NULL CHECK (took_s >= 0),
	day TEXT CHECK (day IS date(day)), position INTEGER NOT NULL,
	PRIMARY KEY (show_id, performer, from_scene, to_scene, n),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, from_scene) REFERENCES scene (show_id, code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, to_scene) REFERENCES scene (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE logged (
	show_id INTEGER NOT NULL REFERENCES show (id), what TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	helper TEXT CHECK (helper <> ''), piece TEXT CHECK (piece <> ''),
	took_min INTEGER NOT NULL CHECK (took_min >= 0), day TEXT CHECK (day IS date(day)),
	position INTEGER NOT NULL,
	PRIMARY KEY (show_id, what, n),
	FOREIGN KEY (helper) REFERENCES helper (code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE decision (
	show_id INTEGER NOT NULL REFERENCES show (id), caution TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	who TEXT NOT NULL, what TEXT NOT NULL, day TEXT CHECK (day IS date(day)), position INTEGER NOT NULL,
	PRIMARY KEY (show_id, caution, n)
) STRICT, WITHOUT ROWID;

CREATE TABLE unread (
	show_id INTEGER NOT NULL REFERENCES show (id), file TEXT NOT NULL, line INTEGER NOT NULL,
	cell TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0), text TEXT NOT NULL, why TEXT NOT NULL,
	at INTEGER NOT NULL,
	PRIMARY KEY (show_id, file, line, cell, n)
) STRICT, WITHOUT ROWID;

-- Of a show, for later: how a piece is made from garments, cloth and notions.

CREATE TABLE recipe (
	show_id INTEGER NOT NULL REFERENCES show (id), piece TEXT NOT NULL,
	source TEXT NOT NULL, work_min INTEGER CHECK (work_min >= 0), cost_coins INTEGER CHECK (cost_coins >= 0),
	pinned INTEGER NOT NULL CHECK (pinned IN (0, 1)), words TEXT NOT NULL,
	PRIMARY KEY (show_id, piece),
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE recipe_part (
	show_id INTEGER NOT NULL, piece TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	from_kind TEXT NOT NULL CHECK (from_kind IN ('garment', 'find', 'cloth', 'notion', 'work')), from_code TEXT NOT NULL,
	part TEXT NOT NULL, amount_um INTEGER CHECK (amount_um >= 0), words TEXT NOT NULL,
	PRIMARY KEY (show_id, piece, n),
	FOREIGN KEY (show_id, piece) REFERENCES recipe (show_id, piece) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

-- People: erased on the show's date. Every table's name begins with person.

CREATE TABLE person (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, name TEXT NOT NULL,
	age_years INTEGER CHECK (age_years >= 0), birth_month TEXT NOT NULL, growth_sex TEXT NOT NULL,
	room TEXT NOT NULL, consent TEXT NOT NULL, note TEXT NOT NULL, label_size TEXT NOT NULL,
	fits_garment TEXT NOT NULL, shoe_size TEXT NOT NULL,
	PRIMARY KEY (show_id, performer),
	CHECK (growth_sex IN ('', 'f', 'm')),
	CHECK (birth_month = '' OR birth_month GLOB '[12][0-9][0-9][0-9]-[01][0-9]'),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE person_care (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	rule TEXT NOT NULL,
	PRIMARY KEY (show_id, performer, n),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE person_measure (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, kind TEXT NOT NULL,
	lo_um INTEGER CHECK (lo_um >= 0),
	hi_um INTEGER CHECK ((hi_um IS NULL) = (lo_um IS NULL) AND hi_um >= lo_um),
	origin TEXT NOT NULL CHECK (origin IN ('assumed', 'said', 'measured')), rule TEXT NOT NULL,
	day TEXT CHECK (day IS date(day)), who TEXT NOT NULL,
	PRIMARY KEY (show_id, performer, kind),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE person_feet (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, shoe_size TEXT NOT NULL,
	shoe TEXT NOT NULL, shoe_from TEXT NOT NULL, heel_um INTEGER CHECK (heel_um >= 0), hosiery TEXT NOT NULL,
	hosiery_size TEXT NOT NULL, shade TEXT NOT NULL,
	shade_agreed INTEGER NOT NULL CHECK (shade_agreed IN (0, 1)), hosiery_from TEXT NOT NULL,
	own_vest INTEGER NOT NULL CHECK (own_vest IN (0, 1)),
	own_shorts INTEGER NOT NULL CHECK (own_shorts IN (0, 1)), layer_one TEXT NOT NULL,
	layer_one_seen_on TEXT CHECK (layer_one_seen_on IS date(layer_one_seen_on)),
	shoe_limit_coins INTEGER CHECK (shoe_limit_coins >= 0),
	hosiery_limit_coins INTEGER CHECK (hosiery_limit_coins >= 0), position INTEGER NOT NULL,
	PRIMARY KEY (show_id, performer),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE person_unread (
	show_id INTEGER NOT NULL REFERENCES show (id), file TEXT NOT NULL, line INTEGER NOT NULL,
	cell TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0), text TEXT NOT NULL, why TEXT NOT NULL,
	at INTEGER NOT NULL,
	PRIMARY KEY (show_id, file, line, cell, n)
) STRICT, WITHOUT ROWID;

-- Of people, for later: where a value is from, and pictures.

CREATE TABLE person_origin (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, field TEXT NOT NULL,
	how TEXT NOT NULL CHECK (how IN ('assumed', 'said', 'measured')), rule TEXT NOT NULL,
	day TEXT CHECK (day IS date(day)), who TEXT NOT NULL,
	PRIMARY KEY (show_id, performer, field),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE person_photograph (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	day TEXT CHECK (day IS date(day)), words TEXT NOT NULL, type TEXT NOT NULL, picture BLOB NOT NULL,
	PRIMARY KEY (show_id, performer, n),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

-- The journal. Triggers made from the schema write an image of every row
-- touched; without an act under way they find no act and refuse the write.
-- Images of people's rows lie apart, so that erasing finds them all.

CREATE TABLE act (
	id INTEGER PRIMARY KEY AUTOINCREMENT,
	at TEXT NOT NULL, who TEXT NOT NULL, words TEXT NOT NULL,
	kind TEXT NOT NULL CHECK (kind IN ('act', 'undo', 'redo')),
	reverses INTEGER REFERENCES act (id), -- the act this one took back
	reversed_by INTEGER REFERENCES act (id) -- the act that took this one back
) STRICT;

CREATE TABLE current_act (one INTEGER PRIMARY KEY CHECK (one = 1), act_id INTEGER NOT NULL REFERENCES act (id)) STRICT;

CREATE TABLE image (
	id INTEGER PRIMARY KEY AUTOINCREMENT, act_id INTEGER NOT NULL REFERENCES act (id),
	tbl TEXT NOT NULL, key TEXT NOT NULL, before TEXT, after TEXT
) STRICT;
CREATE INDEX image_act ON image (act_id);
CREATE INDEX image_row ON image (tbl, key);

CREATE TABLE person_image (
	id INTEGER PRIMARY KEY AUTOINCREMENT, act_id INTEGER NOT NULL REFERENCES act (id),
	tbl TEXT NOT NULL, key TEXT NOT NULL, before TEXT, after TEXT
) STRICT;
CREATE INDEX person_image_act ON person_image (act_id);
CREATE INDEX person_image_row ON person_image (tbl, key);

-- What was computed: made again at will, so not in the journal.
CREATE TABLE result (
	show_id INTEGER NOT NULL REFERENCES show (id), kind TEXT NOT NULL,
	version INTEGER NOT NULL, input_hash TEXT NOT NULL, seed INTEGER NOT NULL, steps INTEGER NOT NULL,
	about_body INTEGER NOT NULL CHECK (about_body IN (0, 1)), at TEXT NOT NULL, document BLOB NOT NULL,
	PRIMARY KEY (show_id, kind)
) STRICT, WITHOUT ROWID;
