"""Records to rows and back. A column stands for the field of its name; maps and lists are JSON."""

from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, TypeVar

import msgspec

from logbook.records import Record, kind_of

R = TypeVar("R", bound=Record)

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)

TIME_FIELD = {
    "stock": "opened",
    "print": "at",
    "judgement": "at",
    "cartridge": "installed",
    "gauge": "at",
    "changeover": "at",
    "cleaning": "at",
    "wedge": "at",
}
_JSON_FIELDS = {"inks", "settings", "flaws", "levels", "weekdays", "changeover_cost", "prints_per_bench_day"}
_BOOLEAN_FIELDS = {"shared_black_slot", "clear_before", "clear_after"}


def instant(at: datetime) -> int:
    """Microseconds of UTC since 1970, which sort times of different offsets.

    >>> instant(datetime.fromisoformat("1970-01-01T01:00:01+01:00"))
    1000000
    """
    return (at - _EPOCH) // _MICROSECOND


@cache
def columns(record: type[Record]) -> tuple[str, ...]:
    """The names of the fields, as they stand in files and in the table; ``instant`` last where the kind has a time."""
    names = tuple(field.encode_name for field in msgspec.structs.fields(record))
    return (*names, "instant") if kind_of(record) in TIME_FIELD else names


@cache
def table(record: type[Record]) -> str:
    """The kind's table, quoted."""
    return f'"{kind_of(record)}"'


@cache
def quoted(record: type[Record]) -> str:
    """The kind's columns for a statement."""
    return ", ".join(f'"{name}"' for name in columns(record))


@cache
def _attributes(record: type[Record]) -> tuple[tuple[str, bool, bool], ...]:
    fields = msgspec.structs.fields(record)
    timed = {"at", "opened", "closed", "installed", "removed", "calibrated", "taken", "promised", "done"}
    return tuple((field.name, field.encode_name in _JSON_FIELDS, field.encode_name in timed) for field in fields)


def to_row(record: Record) -> tuple[Any, ...]:
    """The values of ``columns(type(record))``."""
    row = [_to_cell(getattr(record, name), json, time) for name, json, time in _attributes(type(record))]
    time_field = TIME_FIELD.get(kind_of(record))
    if time_field is not None:
        row.append(instant(getattr(record, time_field)))
    return tuple(row)


def _to_cell(value: Any, json: bool, time: bool) -> Any:
    if value is None:
        return None
    if json:
        return msgspec.json.encode(value).decode()
    return msgspec.to_builtins(value) if time else value


def from_row(record: type[R], row: tuple[Any, ...]) -> R:
    """The record of a row that holds ``columns(record)``, in that order."""
    fields = {}
    for name, cell in zip(columns(record), row, strict=True):
        if cell is None or name == "instant":
            continue
        if name in _JSON_FIELDS:
            fields[name] = msgspec.json.decode(cell)
        else:
            fields[name] = bool(cell) if name in _BOOLEAN_FIELDS else cell
    return msgspec.convert(fields, record)
