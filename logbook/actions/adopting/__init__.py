"""Moving in: a person's own table of prints, read, understood column by column, and added in one go."""
