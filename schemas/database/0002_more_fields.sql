-- A job's name in the print queue, orders called off, what a bench waits for, and what a wedge was printed through.
ALTER TABLE print ADD COLUMN job TEXT;
ALTER TABLE "order" ADD COLUMN cancelled TEXT CHECK (cancelled IS NULL OR done IS NULL);
ALTER TABLE bench ADD COLUMN days_to_dry INTEGER NOT NULL DEFAULT 1 CHECK (days_to_dry >= 0);
ALTER TABLE bench ADD COLUMN patience_days INTEGER NOT NULL DEFAULT 21 CHECK (patience_days >= 0);
ALTER TABLE wedge ADD COLUMN space TEXT;
ALTER TABLE wedge ADD COLUMN intent TEXT CHECK (intent IN ('perceptual', 'relative', 'absolute', 'saturation'));
ALTER TABLE wedge ADD COLUMN black_point_compensation INTEGER CHECK (black_point_compensation IN (0, 1));

DROP INDEX order_open;
CREATE INDEX order_open ON "order" (promised) WHERE done IS NULL AND cancelled IS NULL;
