-- Logged work says what it was thought to take, so that estimates can learn.
ALTER TABLE logged ADD COLUMN thought_min INTEGER NOT NULL DEFAULT 0 CHECK (thought_min >= 0);

-- The size sewn into a garment.
ALTER TABLE garment ADD COLUMN label TEXT NOT NULL DEFAULT '';
ALTER TABLE find ADD COLUMN label TEXT NOT NULL DEFAULT '';

-- How often a stripe, check or print comes again along a cloth.
ALTER TABLE cloth ADD COLUMN repeat_um INTEGER CHECK (repeat_um >= 0);
