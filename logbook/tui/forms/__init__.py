"""The forms: one for each thing that is logged or described."""
