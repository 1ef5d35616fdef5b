"""The demonstration: an invented studio's 18 months, made by a seeded simulation with a known truth (see README.md)."""

from demo_db.build import build, draw_pictures, records, records_jsonl

__all__ = ["build", "draw_pictures", "records", "records_jsonl"]
