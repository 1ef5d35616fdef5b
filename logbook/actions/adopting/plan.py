"""What a table would add to a logbook: a pure value, made without touching the file."""

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from itertools import islice
from typing import Any, Literal

import msgspec

from logbook.actions.adopting import columns, days, rows, values
from logbook.actions.adopting.building import Building, Built
from logbook.actions.adopting.columns import Column, Table, texts
from logbook.actions.adopting.grid import Grid
from logbook.actions.adopting.known import Known
from logbook.actions.adopting.rows import Fault, Fields, Rows
from logbook.actions.adopting.vocabulary import DARKER_OR_LIGHTER, words
from logbook.records import KINDS, Paper, Record, kind_of
from logbook.records.darkness import thirds_in_words
from logbook.records.fields import BLACKS as BOTH
from logbook.records.text import plain
from logbook.records.units import length_text, size_text
from logbook.records.wording import setting_text

EXAMPLES = {"darker": "-1", "lighter": "+1"}
SHOWN_VALUES = 3
SAMPLE = 10
LOOKED_AT = 300  # cells of a column
UNREAD = "can't be read"
MOST_QUESTIONS = 20


class Answers(msgspec.Struct, frozen=True):
    """What the person says of a table; kept, so that it is said once.

    ``columns``: heading to what it is (``date, day first``); ``words``: a word of theirs to what it means; ``otherwise``: a
    field's value where a row has none; ``attempts``: whether the same picture printed again is another attempt.
    """

    columns: dict[str, str] = {}
    words: dict[str, str] = {}
    otherwise: dict[str, str] = {}
    attempts: bool = False


class Question(msgspec.Struct, frozen=True):
    """Something only the person can tell: of a ``column``, or of a ``word`` in it. Where ``needed``, nothing is added before.

    It is answered under ``theirs`` in the answers' ``option``, with one of ``meanings`` or the like.
    """

    column: str
    word: str
    rows: int
    asks: str
    option: Literal["column", "word", "else"]
    theirs: str
    meanings: tuple[str, ...]
    needed: bool = False


class Seen(msgspec.Struct, frozen=True):
    """A column: what it was taken for and why, its first values, and what they become."""

    column: str
    taken_for: str
    because: str
    first: tuple[str, ...]
    becomes: tuple[str, ...]


class Sample(msgspec.Struct, frozen=True):
    """A row as it will stand in the logbook."""

    row: int
    becomes: str


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """What would be added, what is there already, what is left and why; ``unread`` cells go in as notes."""

    sheet: str
    sheets: tuple[str, ...]
    rows: int
    columns: tuple[Seen, ...]
    added: dict[str, int]
    matched: dict[str, int]
    new: tuple[str, ...]
    questions: tuple[Question, ...]
    left: tuple[Fault, ...]
    unread: tuple[Fault, ...]
    sample: tuple[Sample, ...]


def plan(grid: Grid, known: Known, answers: Answers, today: date) -> tuple[Plan, list[Record]]:
    """What the table would add, and its records, sorted so that each refers only to earlier ones."""
    spoken = {words(word): meant for word, meant in answers.words.items()}
    table = _without_strangers(columns.find(grid, answers.columns, today), spoken, today)
    needed = tuple(_needed(table, answers))
    seen = tuple(_seen(column, table, spoken, today) for column in table.columns)
    said: dict[str, Any] = {
        "sheet": grid.sheet,
        "sheets": grid.sheets,
        "rows": len(table.rows) + len(table.aside),
        "columns": seen,
    }
    if needed:
        return Plan(**said, added={}, matched={}, new=(), questions=needed, left=(), unread=(), sample=()), []
    read = rows.read(table, answers.words, answers.otherwise, today)
    built = Building(known, read.prints, spoken, answers.attempts)
    counts = Counter(map(kind_of, built.records))
    matched = {kind_of(kind): len(names.matched) for kind, names in built.names.items() if names.matched}
    matched["print"] = sum(one.matched for one in built.built)
    return Plan(
        **said,
        added={kind: counts[kind] for kind in KINDS if counts[kind]},
        matched={kind: matched[kind] for kind in KINDS if matched.get(kind)},
        new=tuple(built.said),
        questions=tuple(islice((*_blacks(built), *_near(built), *_unknown(read)), MOST_QUESTIONS)),
        left=tuple(sorted([*read.left, *built.left], key=lambda fault: fault.row)),
        unread=tuple(read.unread),
        sample=_sample([one for one in built.built if not one.matched]),
    ), built.records


def _without_strangers(table: Table, spoken: Mapping[str, str], today: date) -> Table:
    """The table without the columns whose heading promises what hardly any of their cells hold."""
    kept = [_stranger(one, table, spoken, today) or one for one in table.columns]
    return msgspec.structs.replace(table, columns=tuple(kept))


def _stranger(column: Column, table: Table, spoken: Mapping[str, str], today: date) -> Column | None:
    if column.because == columns.SAID or column.field in (None, *rows.NEEDED, "size"):
        return None
    read = rows.reader(column, spoken, today)
    some = [_becomes(read, text.strip()) for text in islice(texts(column, table.rows), LOOKED_AT)]
    unread = some.count(UNREAD)
    return Column(column.heading, column.place, because="its cells hold something else") if unread > len(some) / 2 else None


def _needed(table: Table, answers: Answers) -> Iterator[Question]:
    """What must be known before any row can be read."""
    by_field = {column.field: column for column in table.columns}
    otherwise = answers.otherwise.keys() | ({"width_mm"} if "size" in answers.otherwise else set())
    for field, word in rows.NEEDED.items():
        if not {field, word} & by_field.keys() and field not in otherwise and field != "height_mm":
            asks = f"which column is the {word} (--column 'Their heading={word}'), or which holds for all rows"
            yield Question("", "", len(table.rows), asks, "else", {"at": "date"}.get(field, word), ("…",), True)
    for field, hows, is_open, asks in _UNTOLD:
        column = by_field.get(field)
        some = [text.strip() for text in texts(column, table.rows) if is_open(text.strip())] if column else []
        if column is not None and some and not set(column.how) & set(hows):
            meanings = tuple(f"{'date' if field == 'at' else field}, {how}" for how in hows)
            yield Question(column.heading, some[0], len(some), asks, "column", column.heading, meanings, True)


def _is_bare_count(text: str) -> bool:
    return text.lstrip("+-− ").isdecimal() and int(text.lstrip("+-− ")) > 0


_UNTOLD = (
    ("at", days.ORDERS, days.is_open, "which number is the day"),
    ("size", values.UNITS, values.is_bare, "which unit is it in"),
    ("width_mm", values.UNITS, values.is_bare, "which unit is it in"),
    ("darkness", ("thirds", "stops"), _is_bare_count, "does it count thirds or stops"),
)


def _blacks(built: Building) -> Iterator[Question]:
    """New papers of which nothing says the black."""
    for name in built.unsure:
        rows_of = built.names[Paper].rows[words(name) or name]
        yield Question("paper", name, rows_of, "which black does it need", "word", name, BOTH)


def _near(built: Building) -> Iterator[Question]:
    """New names that may be a slip of the pen."""
    for kind, names in built.names.items():
        for name, like, count in names.near():
            yield Question(kind_of(kind), name, count, f"is it the same as '{plain(like)}'", "word", name, (like,))


def _unknown(read: Rows) -> Iterator[Question]:
    """Words of results that mean nothing known yet, the most used first. What stands once is a note, and not asked about."""
    for (heading, word), count in read.unknown.most_common():
        way = next((DARKER_OR_LIGHTER[part] for part in words(word).split() if part in DARKER_OR_LIGHTER), None)
        if count > 1 or way is not None:
            asks = "what does it say of the print" if way is None else "how many thirds of a stop is that"
            yield Question(heading, word, count, asks, "word", word, (EXAMPLES[way] if way is not None else "keep",))


def _seen(column: Column, table: Table, spoken: Mapping[str, str], today: date) -> Seen:
    first = tuple(islice(dict.fromkeys(text.strip()[:40] for text in texts(column, table.rows)), SHOWN_VALUES))
    read = rows.reader(column, spoken, today)
    return Seen(
        column.heading,
        column.taken_for,
        column.because,
        first,
        tuple(_becomes(read, text) for text in first) if column.field else (),
    )


def _becomes(read: Any, text: str) -> str:
    try:
        return fields_text(read(text))
    except ValueError:
        return UNREAD


def fields_text(fields: Fields) -> str:
    """What cells became, as one reads it."""
    shown = []
    for name, value in fields.items():
        if name in ("at", "judged_at"):
            shown.append(f"{value.day} {value:%B %Y}")
        elif name == "width_mm" and "height_mm" in fields:
            shown.append(size_text(value, fields["height_mm"]))
        elif name.endswith("_mm"):
            shown.extend([length_text(value)] if name != "height_mm" else [])
        elif name == "darkness":
            shown.append(thirds_in_words(value))
        elif name == "flaws":
            shown.append(", ".join(value))
        elif name != "unknown":
            shown.append(setting_text(name, value))
    return ", ".join(shown)


def _sample(built: list[Built]) -> tuple[Sample, ...]:
    """Rows at random, the same ones whenever the same table is looked at."""
    chosen = random.Random(len(built)).sample(built, min(SAMPLE, len(built)))  # noqa: S311 - a sample to look at is no secret
    return tuple(Sample(one.row, fields_text(one.fields)) for one in sorted(chosen, key=lambda one: one.row))
