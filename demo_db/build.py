"""The demonstration logbook: its records, its record file, and a file to open."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from demo_db import story, studio
from logbook.records import Picture, Record, codec

if TYPE_CHECKING:
    from logbook.store import Store


def records(today: date) -> list[Record]:
    """Every record of the demonstration that ends on ``today``; the same list for the same day, wherever it is made.

    Kinds follow one another so that each record comes after those it refers to. Pictures have no file here.
    """
    return story.told(today)


def records_jsonl(today: date, stream: TextIO) -> None:
    """Write the demonstration as a record file: one JSON record a line."""
    for record in records(today):
        stream.write(codec.encode(record) + "\n")


def draw_pictures(folder: Path) -> list[Picture]:
    """Draw the studio's pictures into ``folder`` (made where it is missing); their records, each with its file."""
    from demo_db import pictures  # Pillow only where something is drawn

    return [pictures.drawn_into(folder, scene) for scene in studio.SCENES]


def build(target: Path | Store, today: date, pictures: Path | None = None) -> None:
    """Fill ``target``, an open empty store or the path of a new logbook file, with the demonstration up to ``today``.

    The pictures are drawn into the folder ``pictures``; for a path, by default into one of that name beside it.
    """
    from logbook.store import bulk, open_store

    if isinstance(target, Path):
        with open_store(target) as store:
            build(store, today, pictures or target.parent / "pictures")
        return
    drawn = draw_pictures(pictures) if pictures else None
    bulk.add(target, "Demonstration loaded", story.told(today, drawn))
