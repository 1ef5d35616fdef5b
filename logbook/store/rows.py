"""Records to rows and back. A column stands for the field of its name; maps and lists are JSON."""

from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any, TypeVar

import msgspec

from logbook.records import Print, Record, codec, kind_of
from logbook.records.declared import Kind, fields_of
from logbook.records.numbering import as_integer, as_written
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store.refusals import StoreRefused

R = TypeVar("R", bound=Record)

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


@cache
def time_field(record: type[Record]) -> str | None:
    """The field whose time sorts the kind: the first that every record of it has."""
    return next((name for name, field in fields_of(record).items() if field.kind == "time" and field.required), None)


@cache
def _named(record: type[Record], kind: Kind) -> frozenset[str]:
    return frozenset(name for name, field in fields_of(record).items() if field.kind == kind)


def instant(at: datetime) -> int:
    """Microseconds of UTC since 1970, which sort times of different offsets.

    >>> instant(datetime.fromisoformat("1970-01-01T01:00:01+01:00"))
    1000000
    """
    return (at - _EPOCH) // _MICROSECOND


@cache
def columns(record: type[Record]) -> tuple[str, ...]:
    """The names of the fields, as they stand in files and in the table; ``instant`` last where the kind has a time."""
    return (*fields_of(record), "instant") if time_field(record) else tuple(fields_of(record))


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
    fields, sorting = list(fields_of(record).values()), time_field(record)
    return (
        tuple(place for place, field in enumerate(fields) if field.kind == "data"),
        tuple(place for place, field in enumerate(fields) if field.kind in ("time", "day")),
        list(fields_of(record)).index(sorting) if sorting is not None else None,
    )


NUMBER_PLACE = columns(Print).index("number")


def to_row(record: Record) -> list[Any]:
    """The values of ``columns(type(record))``."""
    row = list(msgspec.structs.astuple(record))
    if isinstance(record, Print) and record.number is not None:
        row[NUMBER_PLACE] = as_integer(record.number)
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
    fields, maps, truths = {}, _named(record, "data"), _named(record, "truth")
    for name, cell in zip(columns(record), row, strict=True):
        if cell is None or name == "instant":
            continue
        if name in maps:
            fields[name] = _from_json(cell)
        elif name == "number":
            fields[name] = as_written(cell)
        else:
            fields[name] = bool(cell) if name in truths else cell
    try:
        return msgspec.convert(fields, record)
    except (msgspec.ValidationError, Refused):
        raise StoreRefused(_unreadable(record, fields)) from None


def _from_json(cell: str) -> Any:
    """What a cell says; a damaged one as it stands, which fits no field."""
    try:
        return msgspec.json.decode(cell)
    except msgspec.DecodeError:
        return cell


def _unreadable(record: type[Record], fields: dict[str, Any]) -> str:
    kind = kind_of(record)
    try:
        codec.from_mapping({**fields, "kind": kind})
    except Refused as refused:
        return f"{kind} {plain(str(fields.get('id')))!r} can't be read: {refused.faults[0]}"
    return f"{kind} {plain(str(fields.get('id')))!r} can't be read"
