"""The darkness answer, from the log to its words."""
