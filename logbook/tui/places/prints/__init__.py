"""Prints: the whole history, and a print's page."""
