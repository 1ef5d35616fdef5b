"""The month in review, from the log to its figures."""
