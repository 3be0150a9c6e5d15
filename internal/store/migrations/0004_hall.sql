-- How often a wrong code was tried at the door of the hall. Not in the
-- journal: no deed of the person's, and never undone.
CREATE TABLE guard (name TEXT PRIMARY KEY, tries INTEGER NOT NULL CHECK (tries >= 0)) STRICT;
