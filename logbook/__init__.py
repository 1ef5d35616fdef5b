"""A logbook for people who print their own photographs."""

__version__ = "1.0.0"
