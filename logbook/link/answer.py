"""An IPP answer's bytes: its status and the attributes of the printer and of jobs, read within bounds (RFC 8010, section 3)."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone

from logbook.link.failures import Nonsense

JOB_GROUP, PRINTER_GROUP, END = 0x02, 0x04, 0x03
LAST_DELIMITER = 0x0F
INTEGER, BOOLEAN, ENUM, OCTETS, DATE_TIME, RESOLUTION = 0x21, 0x22, 0x23, 0x30, 0x31, 0x32
BEGIN_COLLECTION, END_COLLECTION, MEMBER_NAME = 0x34, 0x37, 0x4A
TEXT_WITH_LANGUAGE, NAME_WITH_LANGUAGE = 0x35, 0x36
TEXTS = {0x41, 0x42, 0x44, 0x45, 0x49}  # text, name, keyword, uri, MIME type
LONGEST_VALUE = 0x7FFF  # lengths are signed 16-bit numbers
DEEPEST = 8  # collections within collections; media-col has two
DOTS_PER_INCH, DOTS_PER_CM = 3, 4

Value = tuple[int, bytes]  # (tag, bytes)


@dataclass(frozen=True)
class Attributes:
    """One group's attributes: each one's values as (tag, bytes)."""

    values: dict[str, list[Value]] = field(default_factory=dict)

    def texts(self, name: str) -> list[str]:
        """The values of an attribute that are text of some kind."""
        return [_text(tag, value) for tag, value in self.values.get(name, ()) if _is_text(tag)]

    def integers(self, name: str) -> list[int]:
        """The values of an attribute that are integers; -2 (unknown) for those that are none."""
        return [
            int.from_bytes(value, "big", signed=True) if tag in (INTEGER, ENUM) and len(value) == 4 else -2
            for tag, value in self.values.get(name, ())
        ]

    def octets(self, name: str) -> list[bytes]:
        """The values of an attribute that are octet strings, or text where a printer sends text instead."""
        return [
            value if tag == OCTETS else _text(tag, value).encode()
            for tag, value in self.values.get(name, ())
            if tag == OCTETS or _is_text(tag)
        ]

    def time(self, name: str) -> datetime | None:
        """The first value that is a time (RFC 2579's DateAndTime, with its offset)."""
        times = [value for tag, value in self.values.get(name, ()) if tag == DATE_TIME and len(value) == 11]
        return _time(times[0]) if times else None

    def dots_per_inch(self, name: str) -> float | None:
        """The first value that is a resolution; the finer direction where they differ."""
        for tag, value in self.values.get(name, ()):
            if tag == RESOLUTION and len(value) == 9 and value[8] in (DOTS_PER_INCH, DOTS_PER_CM):
                finer = max(int.from_bytes(value[:4], "big"), int.from_bytes(value[4:8], "big"))
                return round(finer * (2.54 if value[8] == DOTS_PER_CM else 1))
        return None

    def told(self, name: str) -> str | int | bool | None:
        """The first value of an attribute as text, number or boolean; None where it is of another kind."""
        for tag, value in self.values.get(name, ()):
            if _is_text(tag):
                return _text(tag, value)
            if tag == BOOLEAN and len(value) == 1:
                return value != b"\0"
            if tag in (INTEGER, ENUM) and len(value) == 4:
                return int.from_bytes(value, "big", signed=True)
        return None

    def members(self, name: str) -> Attributes:
        """The members of a collection; those of a collection in it are named ``outer.inner``."""
        found: dict[str, list[Value]] = {}
        path: list[str] = []
        depth = 0
        for tag, value in self.values.get(name, ()):
            if tag == BEGIN_COLLECTION:
                depth += 1
            elif tag == END_COLLECTION:
                depth -= 1
            elif tag == MEMBER_NAME:
                path = [*path[: depth - 1], value.decode("ascii", "replace")]
            elif path:
                found.setdefault(".".join(path), []).append((tag, value))
            if not 0 <= depth <= DEEPEST:
                break  # what was read of it until here is all that can be
        return Attributes(found)


@dataclass(frozen=True)
class Answer:
    """The status of an IPP answer, the printer's attributes, and those of each job."""

    status: int
    printer: Attributes = field(default_factory=Attributes)
    jobs: list[Attributes] = field(default_factory=list)


def read_answer(raw: bytes) -> Answer:
    """Take an answer apart. Raises ``Nonsense`` where it is cut short or its lengths lead outside of it.

    Attributes of other groups than the printer's and the jobs' are passed over.

    >>> read_answer(bytes([2, 0, 0x04, 0x06, 0, 0, 0, 1, 3])).status == 0x0406
    True
    """
    if len(raw) < 9:
        raise Nonsense("the printer's answer is no IPP")
    answer = Answer(int.from_bytes(raw[2:4], "big"))
    group, offset, values = Attributes(), 8, [(0, b"")]
    while True:
        tag = _byte(raw, offset)
        offset += 1
        if tag == END:
            return answer
        if tag <= LAST_DELIMITER:
            group = answer.printer if tag == PRINTER_GROUP else Attributes()
            if tag == JOB_GROUP:
                answer.jobs.append(group)
            continue
        name, offset = _counted(raw, offset)
        value, offset = _counted(raw, offset)
        if name:  # a value without a name belongs to the attribute before it
            values = []
            group.values.setdefault(name.decode("ascii", "replace"), values)
        values.append((tag, value))


def _byte(raw: bytes, offset: int) -> int:
    if offset >= len(raw):
        raise Nonsense("the printer's answer is cut short")
    return raw[offset]


def _counted(raw: bytes, offset: int) -> tuple[bytes, int]:
    length = int.from_bytes(raw[offset : offset + 2], "big")
    end = offset + 2 + length
    if length > LONGEST_VALUE or end > len(raw):
        raise Nonsense("the printer's answer is cut short")
    return raw[offset + 2 : end], end


def _is_text(tag: int) -> bool:
    return tag in TEXTS or tag in (TEXT_WITH_LANGUAGE, NAME_WITH_LANGUAGE)


def _text(tag: int, value: bytes) -> str:
    if tag in (TEXT_WITH_LANGUAGE, NAME_WITH_LANGUAGE):  # the language, counted, then the text, counted
        skipped = 2 + int.from_bytes(value[:2], "big")
        value = value[skipped + 2 :]
    return value.decode("utf-8", "replace")


def _time(value: bytes) -> datetime | None:
    year, (month, day, hour, minute, second) = int.from_bytes(value[:2], "big"), value[2:7]
    offset = timedelta(hours=value[9], minutes=value[10])
    try:
        zone = timezone(-offset if value[8:9] == b"-" else offset)
        return datetime(year, month, day, hour, minute, min(second, 59), tzinfo=zone)  # 60 stands for a leap second
    except ValueError:
        return None
