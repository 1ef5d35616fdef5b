"""The answer on batches, from the log to its words."""
