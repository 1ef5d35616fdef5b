"""What a person asks the logbook: one model for each answer, its text and its JSON."""
