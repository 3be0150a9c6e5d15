-- What lengths are shown in, and the words values were typed in where printing
-- the value would give other words. They hold while the value is the same.

CREATE TABLE house_choice (
	one INTEGER PRIMARY KEY CHECK (one = 1), lengths_in TEXT NOT NULL CHECK (lengths_in IN ('cm', 'in'))
) STRICT;

CREATE TABLE typed (
	kind TEXT NOT NULL, code TEXT NOT NULL, field TEXT NOT NULL,
	words TEXT NOT NULL, value INTEGER NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (kind, code, field)
) STRICT, WITHOUT ROWID;

CREATE TABLE person_typed (
	show_id INTEGER NOT NULL REFERENCES show (id), kind TEXT NOT NULL, code TEXT NOT NULL, field TEXT NOT NULL,
	words TEXT NOT NULL, value INTEGER NOT NULL, position INTEGER NOT NULL,
	PRIMARY KEY (show_id, kind, code, field)
) STRICT, WITHOUT ROWID;

-- Values that a rule assumed, in the order they were.
ALTER TABLE value_origin ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
