-- Logged work says what it was thought to take, so that estimates can learn.
ALTER TABLE logged ADD COLUMN thought_min INTEGER NOT NULL DEFAULT 0 CHECK (thought_min >= 0);

-- The size sewn into a garment.
ALTER TABLE garment ADD COLUMN label TEXT NOT NULL DEFAULT '';
ALTER TABLE find ADD COLUMN label TEXT NOT NULL DEFAULT '';

-- How often a stripe, check or print comes again along a cloth.
ALTER TABLE cloth ADD COLUMN repeat_um INTEGER CHECK (repeat_um >= 0);

-- Parts put on a cloth by hand; the rest is laid round them.
CREATE TABLE hand_laid (
	show_id INTEGER NOT NULL REFERENCES show (id), cloth TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	piece TEXT NOT NULL, part TEXT NOT NULL, turn INTEGER NOT NULL, mirror INTEGER NOT NULL CHECK (mirror IN (0, 1)),
	x_um INTEGER NOT NULL, y_um INTEGER NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, cloth, n),
	FOREIGN KEY (cloth) REFERENCES cloth (code) DEFERRABLE INITIALLY DEFERRED,
	FOREIGN KEY (show_id, piece) REFERENCES piece (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

-- What was let out stands in an order of its own, as other lists do.
ALTER TABLE let_down ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
