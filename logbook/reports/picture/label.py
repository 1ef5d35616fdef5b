"""The label of a print, for its back or its sleeve."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.records import Paper, Picture, Print
from logbook.records.numbering import as_integer, as_written, padded
from logbook.records.refusal import Refusal
from logbook.records.text import plain
from logbook.records.units import size_text
from logbook.records.wording import date_in_full
from logbook.snapshot import Snapshot
from logbook.store import reading

__all__ = ["Label", "answer", "as_lines", "as_text"]

_PURPOSES = {"strip": "test strip", "work": "work print"}


class Label(msgspec.Struct, frozen=True, kw_only=True):
    """What a label says; the size is that of the image, in mm."""

    number: int | str
    title: str
    edition_number: int | None
    edition_size: int | None
    purpose: str
    paper: str
    date: dt.date
    width_mm: float
    height_mm: float


def answer(log: Snapshot, number: int, print_id: str | None = None) -> Label:
    """The label of the print that bears the number; a Refusal where there is none, or two and ``print_id`` names neither."""
    bearers = [one for id in log.ask(reading.ids_with_number, number) if (one := log.get(Print, id)) is not None]
    if not bearers:
        raise Refusal(f"there is no print with the number {as_written(number)}")
    known = next((one for one in bearers if one.id == print_id), bearers[0])
    if len(bearers) > 1 and known.id != print_id:
        ids = ", ".join(plain(one.id) for one in bearers)
        raise Refusal(f"logbooks begun apart both gave the number {as_written(number)}; say which print with --id: {ids}")
    picture, paper = log.get(Picture, known.picture), log.get(Paper, known.paper)
    return _label(known, number, picture, paper)


def as_lines(label: Label) -> list[str]:
    """The label's lines, the title first; each is plain text.

    >>> as_lines(Label(number=412, title="Ebb at Low Stair", edition_number=3, edition_size=25, purpose="final",
    ...     paper="Tideway Rag 310", date=dt.date(2026, 11, 25), width_mm=400, height_mm=500))
    ['Ebb at Low Stair', 'No. 0412, edition 3 of 25', 'Tideway Rag 310', '40×50 cm, printed 25 November 2026']
    """
    number = f"No. {padded(as_integer(label.number))}"
    said = ", ".join(part for part in (number, _edition(label), _PURPOSES.get(label.purpose, "")) if part)
    printed = f"{size_text(label.width_mm, label.height_mm)}, printed {date_in_full(label.date)}"
    return [plain(label.title), said, plain(label.paper), printed]


def as_text(label: Label) -> str:
    """The label as text, one line a fact."""
    return "\n".join(as_lines(label))


def _edition(label: Label) -> str:
    if label.edition_number is None:
        return f"edition of {label.edition_size}, not numbered" if label.edition_size is not None else ""
    size = f" of {label.edition_size}" if label.edition_size is not None else ""
    return f"edition {label.edition_number}{size}"


def _label(known: Print, number: int, picture: Picture | None, paper: Paper | None) -> Label:
    return Label(
        number=as_written(number),
        title=picture.title if picture is not None else known.picture,
        edition_number=known.edition_number,
        edition_size=known.edition_size,
        purpose=known.purpose,
        paper=paper.name if paper is not None else known.paper,
        date=known.at.date(),
        width_mm=known.width_mm,
        height_mm=known.height_mm,
    )
