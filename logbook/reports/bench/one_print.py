"""Everything the log knows about one print: what it is, what differs between its attempts, what was seen of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec

from logbook.records import Judgement, Light, Order, Paper, Picture, Print, Printer, Screen, Stock
from logbook.records.darkness import thirds_in_words
from logbook.records.refusal import Refused
from logbook.records.settings import Setting
from logbook.records.text import plain
from logbook.records.units import length_text, size_text
from logbook.records.wording import setting_text, short_setting_label
from logbook.snapshot import Snapshot
from logbook.store import history, reading

NOT_NOTED = ""


class Attempt(msgspec.Struct, frozen=True):
    """One attempt at the picture: the print, its number, and where it stands in the row (1 = first)."""

    print: Print
    number: int
    attempt: int
    verdict: str | None
    darkness: int | None
    judged: bool


class Row(msgspec.Struct, frozen=True):
    """One thing about every attempt, in words; ``differs`` where they are not all the same."""

    label: str
    values: tuple[str, ...]
    differs: bool


class Seen(msgspec.Struct, frozen=True):
    """A judgement and the light it was made in."""

    judgement: Judgement
    light: Light | None


class OnePrint(msgspec.Struct, frozen=True, kw_only=True):
    """A print with all it refers to. ``attempts`` has at least the print itself, at ``place``.

    ``bearing_it_too`` are the titles of prints with the same number, from a logbook that was begun apart.
    """

    print: Print
    number: int
    bearing_it_too: tuple[str, ...]
    picture: Picture
    paper: Paper
    printer: str
    stock: Stock | None
    screen: str | None
    order: str | None
    attempts: tuple[Attempt, ...]
    place: int
    rows: tuple[Row, ...]
    seen: tuple[Seen, ...]


def answer(log: Snapshot, print_id: str) -> OnePrint:
    """The print of that id; ``Refused`` where it is not there (any more)."""
    known = log.get(Print, print_id)
    picture = log.get(Picture, known.picture) if known is not None else None
    paper = log.get(Paper, known.paper) if known is not None else None
    if known is None or picture is None or paper is None:
        raise Refused("", "this print is not there any more")
    attempts = _attempts(log, print_id)
    number = log.ask(reading.number_of, print_id) or 0
    others = [log.get(Print, id) for id in log.ask(reading.ids_with_number, number) if id != print_id]
    return OnePrint(
        print=known,
        number=number,
        bearing_it_too=tuple(_name(log, Picture, one.picture) or "" for one in others if one is not None),
        picture=picture,
        paper=paper,
        printer=_name(log, Printer, known.printer) or "",
        stock=log.get(Stock, known.stock),
        screen=_name(log, Screen, known.screen),
        order=_name(log, Order, known.order),
        attempts=attempts,
        place=next(place for place, attempt in enumerate(attempts) if attempt.print.id == print_id),
        rows=tuple(rows([attempt.print for attempt in attempts], _namer(log))),
        seen=tuple(
            Seen(judgement, log.get(Light, judgement.light)) for judgement in log.ask(reading.where, Judgement, "print", print_id)
        ),
    )


def _attempts(log: Snapshot, print_id: str) -> tuple[Attempt, ...]:
    found = []
    for line in log.ask(history.attempts, print_id):
        tried = log.get(Print, line.id)
        if tried is not None:
            found.append(Attempt(tried, line.number, line.attempt, line.verdict, line.darkness, line.judged))
    return tuple(found)


def _name(log: Snapshot, kind: type[Printer | Screen | Order | Picture], id: str | None) -> str | None:
    record = log.get(kind, id)
    if record is None:
        return None
    return plain(record.title if isinstance(record, Order | Picture) else record.name)


def _namer(log: Snapshot) -> Callable[[str, str | None], str]:
    """Names of papers, printers and screens, each looked up once."""
    kinds: dict[str, type[Printer] | type[Paper] | type[Screen] | type[Picture]]
    kinds = {"paper": Paper, "printer": Printer, "screen": Screen, "picture": Picture}
    known: dict[tuple[str, str | None], str] = {}

    def name(field: str, id: str | None) -> str:
        if (field, id) not in known:
            record = log.get(kinds[field], id)
            called = getattr(record, "name", None) or getattr(record, "title", None)
            known[field, id] = plain(called) if called else NOT_NOTED
        return known[field, id]

    return name


def rows(prints: Sequence[Print], name_of: Callable[[str, str | None], str]) -> list[Row]:
    """The prints side by side, what differs first: paper, size and so on where they differ, and every setting of any."""
    return sorted([*_of_sheet(prints, name_of), *_of_settings(prints)], key=lambda row: not row.differs)


def _of_sheet(prints: Sequence[Print], name_of: Callable[[str, str | None], str]) -> list[Row]:
    """Rows that the page shows elsewhere when all attempts agree: here only those that differ."""
    found = [
        _row(field, [name_of(field, getattr(tried, field)) for tried in prints])
        for field in ("picture", "paper", "printer", "screen")
    ]
    found.append(_row("size", [size_text(tried.width_mm, tried.height_mm) for tried in prints]))
    found.append(_row("border", [length_text(tried.border_mm) if tried.border_mm else "none" for tried in prints]))
    return [row for row in found if row.differs]


def _of_settings(prints: Sequence[Print]) -> list[Row]:
    names = list(dict.fromkeys(name for tried in prints for name in tried.settings))
    return [_row(short_setting_label(name), [_setting(name, tried.settings.get(name)) for tried in prints]) for name in names]


def _setting(name: str, value: Setting | None) -> str:
    return NOT_NOTED if value is None else setting_text(name, value)


def _row(label: str, values: Sequence[str]) -> Row:
    """A row; two different values that read the same (``true`` and ``"on"``) do not differ to a reader.

    >>> _row("shadow lift", ["0", "6"]).differs, _row("intent", ["relative", "relative"]).differs
    (True, False)
    """
    return Row(label, tuple(values), len(set(values)) > 1)


def in_a_sentence(one: OnePrint) -> str:
    """What became of the print, first; then on what it was made."""
    verdicts = {"keep": "Kept", "redo": "To be redone", "scrap": "Scrapped"}
    tried = one.attempts[one.place]
    if not tried.judged:
        return "Waits for its judgement."
    verdict = verdicts.get(tried.verdict or "", "Judged without a verdict")
    darkness = "" if tried.darkness is None else f", {thirds_in_words(tried.darkness)}"
    times = "" if len(one.seen) < 2 else f"; judged {len(one.seen)} times"
    return f"{verdict}{darkness}{times}."
