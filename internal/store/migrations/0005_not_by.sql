-- Who is not to dress somebody. The family's word, kept with the person's rows
-- and erased with them; no reasons are kept.
CREATE TABLE person_not_by (
	show_id INTEGER NOT NULL REFERENCES show (id), performer TEXT NOT NULL, n INTEGER NOT NULL CHECK (n >= 0),
	helper TEXT NOT NULL,
	PRIMARY KEY (show_id, performer, n),
	FOREIGN KEY (show_id, performer) REFERENCES performer (show_id, code) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;
