"""The dated backup that the first start of a day makes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from logbook.records.refusal import Refusal


def make(path: Path, today: date) -> str | None:
    """Back the logbook up by a connection of its own. What comes back is a sentence where that was refused."""
    from logbook.store import backup, open_store

    try:
        with open_store(path, create=False) as store:
            backup.back_up_today(store, today)
    except Refusal as refused:
        return f"No backup today: {refused}"
    return None
