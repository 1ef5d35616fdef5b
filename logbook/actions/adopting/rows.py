"""The rows of a table read into fields of prints: what each cell becomes, and what can't be read."""

from collections import Counter
from collections.abc import Callable, Mapping
from datetime import date, datetime
from statistics import median
from typing import Any, get_args

import msgspec

from logbook.actions.adopting import days, outcomes, values
from logbook.actions.adopting.columns import FREE, Column, Table, is_number, texts, told
from logbook.actions.adopting.grid import Row
from logbook.actions.adopting.vocabulary import BLACKS, DITTO, INTENTS, TOTALS, words
from logbook.actions.titles import is_path, title_of
from logbook.records.fields import BLACKS as BOTH
from logbook.records.fields import Purpose
from logbook.records.numbering import as_integer
from logbook.records.settings import SETTINGS
from logbook.records.table_form import read_setting
from logbook.records.units import parse_border, parse_length

Fields = dict[str, Any]

MOST_COPIES = 500
ODD_YEARS = 30  # a year so far before the others is a slip of the pen
NEEDED = {"at": "date", "title": "title", "paper": "paper", "width_mm": "size", "height_mm": "size"}
_OUTCOMES = {"result", "verdict", "shadows"}
_NAMES = {"paper", "title", "light", "screen", "printer"}
_COUNTS = {"attempt", "edition_size", "edition_number"}


class Fault(msgspec.Struct, frozen=True):
    """What can't be read: its row, the column's heading ("" for a whole row), and why."""

    row: int
    column: str
    why: str


class Rows(msgspec.Struct, frozen=True):
    """The rows that are prints, as (row, fields); those that can't be; cells that stay as a note; words not understood yet."""

    prints: list[tuple[int, Fields]]
    left: list[Fault]
    unread: list[Fault]
    unknown: Counter[tuple[str, str]]


def read(table: Table, meanings: Mapping[str, str], otherwise: Mapping[str, str], today: date) -> Rows:
    """Every row. ``meanings`` say what a word of theirs means; ``otherwise`` serves a field that a row leaves empty."""
    spoken = {words(word): meant for word, meant in meanings.items()}
    readers = [(column, reader(column, spoken, today)) for column in table.columns if column.field]
    spare = [reader(told(Column(name, -1), name), spoken, today)(text) for name, text in otherwise.items()]
    year = _usual_year(readers, table.rows)
    rows = Rows([], [Fault(row, "", why) for row, why in table.aside], [], Counter())
    above: dict[int, str] = {}
    for number, row in table.rows:
        found, faults = _fields(number, row, readers, above)
        for fields in spare:
            found = {**fields, **found}
        wrong = _wrong(row, found, faults, year, today)
        if wrong is not None:
            rows.left.append(Fault(number, *wrong))
            continue
        rows.unknown.update(found.pop("unknown", ()))
        rows.unread.extend(faults)
        rows.prints.append((number, found))
    return rows


def _fields(
    number: int, row: Row, readers: list[tuple[Column, Callable[[str], Fields]]], above: dict[int, str]
) -> tuple[Fields, list[Fault]]:
    found: Fields = {}
    faults = []
    for column, read_cell in readers:
        cell = row[column.place].strip() if column.place < len(row) else ""
        if cell in DITTO or (not cell and "as above" in column.how):
            cell = above.get(column.place, "")
        above[column.place] = cell
        if not cell:
            continue
        try:
            fields = read_cell(cell)
        except ValueError as error:
            faults.append(Fault(number, column.heading, str(error)))
            fields = {} if column.field in (*NEEDED, "size") else {"note": f"{column.heading}: {cell}"}
        for name, value in fields.items():
            if name in ("note", "judged_note", "unknown") and name in found:
                found[name] += value if name == "unknown" else f"\n{value}"
            else:
                found.setdefault(name, value)
    return found, faults


def _wrong(row: Row, found: Fields, faults: list[Fault], year: float, today: date) -> tuple[str, str] | None:
    """Why a row is no print, with the heading that is to blame."""
    missing = [word for field, word in NEEDED.items() if field not in found]
    if missing:
        if len(missing) > 1 and any(TOTALS.get(words(cell).partition(" ")[0]) for cell in row if cell.strip()):
            return "", "a row of totals"
        return (faults[0].column, faults[0].why) if faults else ("", f"no {missing[0]}")
    at: datetime = found["at"]
    if at.date() > today:
        return "", f"{at.date()} lies ahead"
    if at.tzinfo is None and at.year < year - ODD_YEARS:
        return "", f"the year {at.year} stands alone; most others are about {year:.0f}"
    if "time" in found:
        found["at"] = datetime.combine(at, found.pop("time"), at.tzinfo)
    return None


def _usual_year(readers: list[tuple[Column, Callable[[str], Fields]]], rows: list[tuple[int, Row]]) -> float:
    years = []
    for column, read_cell in readers:
        for text in texts(column, rows) if column.field == "at" else ():
            try:
                years.append(read_cell(text.strip())["at"].year)
            except (ValueError, KeyError):
                continue
    return median(years) if years else 0.0


def reader(column: Column, spoken: Mapping[str, str], today: date) -> Callable[[str], Fields]:
    """What reads the cells of a column: text to fields; ``ValueError`` says what was expected. Cells recur: each is read once."""
    read_text = _reader(column, spoken, today)
    known: dict[str, Fields | ValueError] = {}

    def read_cell(text: str) -> Fields:
        if text not in known:
            try:
                known[text] = read_text(text)
            except ValueError as error:
                known[text] = error
        found = known[text]
        if isinstance(found, ValueError):
            raise found
        return found

    return read_cell


def _reader(column: Column, spoken: Mapping[str, str], today: date) -> Callable[[str], Fields]:
    field = column.field or ""
    order = next((how for how in days.ORDERS if how in column.how), None)
    unit = next((how for how in values.UNITS if how in column.how), None)
    if field in ("at", "judged_at"):
        return lambda text: {field: days.day(text, order, today)}
    if field == "size":
        return lambda text: dict(zip(("width_mm", "height_mm"), values.size(text, unit), strict=True))
    if field in ("width_mm", "height_mm", "border_mm"):
        length = parse_border if field == "border_mm" else parse_length
        return lambda text: {field: length(text, unit=unit or "mm")}
    if field == "flaws":
        return lambda text: {"flaws": outcomes.flaws(_text(text))}
    if field in _OUTCOMES:
        return lambda text: _outcome(column, text, spoken)
    if field == "darkness":
        return lambda text: _darkness(column, text, spoken)
    if field == "edition":
        return _edition
    if is_number(field):
        return lambda text: {field: values.number(text, "decimal comma" in column.how)}
    single = _single(field)
    if field in _NAMES:
        return lambda text: {field: _named(field, text, spoken)}
    return lambda text: {field: single(text)}


def _single(field: str) -> Callable[[str], Any]:
    """What reads a cell that is one value of its field."""
    if field == "time":
        return days.clock
    if field in ("number", "attempt_of"):
        return as_integer
    if field in _COUNTS:
        return lambda text: int(values.number(text))
    if field == "copies":
        return _copies
    if field == "black":
        return lambda text: _one_of(text, BLACKS, "matte or photo")
    if field == "purpose":
        return lambda text: _one_of(text, {one: one for one in get_args(Purpose)}, "strip, work or final")
    if field == "intent":
        return lambda text: _one_of(text, INTENTS, ", ".join(SETTINGS["intent"].choices))
    if field in SETTINGS:
        read: dict[str, Callable[[str], Any]] = {"truth": values.yes, "whole": lambda text: int(values.number(text))}
        return read.get(SETTINGS[field].kind, _text)
    free = field.removeprefix(FREE)
    return _text if free == field else lambda text: read_setting(free, text)


def _named(field: str, text: str, spoken: Mapping[str, str]) -> str:
    """A name as it was said to be meant; of the path of a file the title that it stands for."""
    named = title_of(text) if field == "title" and is_path(text) else _text(text)
    return named if spoken.get(words(text)) in BOTH else spoken.get(words(text), named)


def _text(cell: str) -> str:
    return str(read_setting("profile", cell))  # a setting of text: quotation marks and the sign of a harmless formula go


def _copies(text: str) -> int:
    found = int(values.number(text))
    if not 1 <= found <= MOST_COPIES:
        raise ValueError(f"{text[:40]!r} is no number of copies from 1 to {MOST_COPIES}")
    return found


def _one_of(text: str, known: Mapping[str, str], expected: str) -> str:
    """What a word, or its beginning, or the first word that is known, means."""
    said = words(text).split()
    found = next((known[word[:long]] for word in said for long in range(len(word), 1, -1) if word[:long] in known), None)
    if found is None:
        raise ValueError(f"{text[:40]!r} is none of {expected}")
    return found


def _edition(text: str) -> Fields:
    number, _, size = text.replace("of", "/").partition("/")
    return {"edition_number": int(values.number(number))} | ({"edition_size": int(values.number(size))} if size.strip() else {})


def _outcome(column: Column, text: str, spoken: Mapping[str, str]) -> Fields:
    found, unknown = outcomes.outcome(text, spoken)
    return found | ({"judged_note": ", ".join(unknown), "unknown": [(column.heading, one) for one in unknown]} if unknown else {})


def _darkness(column: Column, text: str, spoken: Mapping[str, str]) -> Fields:
    if words(text) in spoken:
        return outcomes.meaning(spoken[words(text)])
    found = outcomes.thirds(text, "stops" if "stops" in column.how else "thirds")
    if found is None:
        return {"judged_note": text, "unknown": [(column.heading, text)]}
    return {"darkness": -found if "plus is darker" in column.how else found}
