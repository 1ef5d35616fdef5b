-- What a linked printer says it has made in its life, read together with its levels; and what was left in a cartridge that
-- came out: what a percent of the gauge really holds.
ALTER TABLE gauge ADD COLUMN sheets_counted INTEGER CHECK (sheets_counted >= 0);
ALTER TABLE cartridge ADD COLUMN end_percent REAL CHECK (end_percent BETWEEN 0 AND 100);
ALTER TABLE cartridge ADD COLUMN left_ml REAL CHECK (left_ml >= 0);
