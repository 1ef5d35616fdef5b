-- So long a print on this paper dries before it is judged for good.
ALTER TABLE paper ADD COLUMN dry_hours REAL CHECK (dry_hours >= 0);
