"""What every record shares."""

from datetime import datetime
from functools import cache
from uuid import uuid4

import msgspec

from logbook.records.declared import fields_of
from logbook.records.fields import FIRST_YEAR, LAST_YEAR, Id
from logbook.records.refusal import Refused


class Record(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind"):
    """One thing a logbook holds; told apart by ``kind`` in a record file.

    Raises ``Refused`` from its own checks, and ``msgspec.ValidationError`` when read.
    """

    id: Id

    def __post_init__(self) -> None:
        for name in dated_fields(type(self)):
            value = getattr(self, name)
            if value is not None and not FIRST_YEAR <= value.year <= LAST_YEAR:
                raise Refused(name, f"the year must be {FIRST_YEAR} to {LAST_YEAR}")
        self.check()

    def check(self) -> None:
        """Rules that tie fields together; ``Refused`` names the field."""


@cache
def dated_fields(record: type[Record]) -> tuple[str, ...]:
    """The kind's fields that hold a time or a date."""
    return tuple(field.attribute for field in fields_of(record).values() if field.kind in ("time", "day"))


def new_id() -> str:
    """A fresh id: a random UUID as 32 hexadecimal digits."""
    return uuid4().hex


def kind_of(record: Record | type[Record]) -> str:
    """The record's ``kind`` as it stands in a file, such as ``print``."""
    tag = record.__struct_config__.tag
    assert isinstance(tag, str)
    return tag


def not_before(field: str, later: datetime | None, earlier: datetime, name: str) -> None:
    """``Refused`` where ``later`` is given and lies before ``earlier``."""
    if later is not None and later < earlier:
        raise Refused(field, f"lies before {name}")
