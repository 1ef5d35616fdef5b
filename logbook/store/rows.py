"""Records to rows and back. A column stands for the field of its name; maps and lists are JSON."""

from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, TypeVar

import msgspec

from logbook.records import Record, codec, kind_of
from logbook.records.record import dated_fields
from logbook.records.text import plain
from logbook.store.refusals import StoreRefused

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
_BOOLEAN_FIELDS = {"shared_black_slot", "clear_before", "clear_after", "black_point_compensation"}


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


_encode = msgspec.json.Encoder().encode


@cache
def _places(record: type[Record]) -> tuple[tuple[int, ...], tuple[int, ...], int | None]:
    """Where maps and lists stand in the row, where times and dates, and where the time that sorts the kind."""
    names = [field.encode_name for field in msgspec.structs.fields(record)]
    dated, time_field = dated_fields(record), TIME_FIELD.get(kind_of(record))
    return (
        tuple(place for place, name in enumerate(names) if name in _JSON_FIELDS),
        tuple(place for place, name in enumerate(names) if name in dated),
        names.index(time_field) if time_field is not None else None,
    )


def to_row(record: Record) -> list[Any]:
    """The values of ``columns(type(record))``."""
    row = list(msgspec.structs.astuple(record))
    json_places, dated_places, sorting_place = _places(type(record))
    if sorting_place is not None:
        row.append(instant(row[sorting_place]))
    for place in json_places:
        if row[place] is not None:
            row[place] = _encode(row[place]).decode()
    for place in dated_places:
        if row[place] is not None:
            row[place] = row[place].isoformat()
    return row


def from_row(record: type[R], row: tuple[Any, ...]) -> R:
    """The record of a row that holds ``columns(record)``, in that order.

    Raises ``StoreRefused`` where it breaks a limit: the file was damaged, or changed by other means.
    """
    fields = {}
    for name, cell in zip(columns(record), row, strict=True):
        if cell is None or name == "instant":
            continue
        if name in _JSON_FIELDS:
            fields[name] = msgspec.json.decode(cell)
        else:
            fields[name] = bool(cell) if name in _BOOLEAN_FIELDS else cell
    try:
        return msgspec.convert(fields, record)
    except (msgspec.ValidationError, ValueError):
        raise StoreRefused(_unreadable(record, fields)) from None


def _unreadable(record: type[Record], fields: dict[str, Any]) -> str:
    kind = kind_of(record)
    try:
        codec.from_mapping({**fields, "kind": kind})
    except codec.Refused as refused:
        return f"{kind} {plain(str(fields.get('id')))!r} can't be read: {refused.faults[0]}"
    return f"{kind} {plain(str(fields.get('id')))!r} can't be read"
