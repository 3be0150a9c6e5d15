-- An act that cannot be taken back: an erasing, and nothing before it either.
ALTER TABLE act ADD COLUMN final INTEGER NOT NULL DEFAULT 0 CHECK (final IN (0, 1, 2)); -- 2: the file is still to be rebuilt

-- What left the house or lies beside it and may hold people's data: sheets
-- printed, spreadsheets brought in, copies written elsewhere. Not in the
-- journal: paper cannot be undone. Goes when people are erased.
CREATE TABLE outside (
	id INTEGER PRIMARY KEY AUTOINCREMENT, show_id INTEGER NOT NULL REFERENCES show (id),
	kind TEXT NOT NULL CHECK (kind IN ('paper', 'spreadsheet', 'copy')), name TEXT NOT NULL, day TEXT NOT NULL,
	UNIQUE (show_id, kind, name, day)
) STRICT;
