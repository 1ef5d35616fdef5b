"""An IPP answer's bytes: the status and the printer's attributes, read within bounds (RFC 8010, section 3)."""

from __future__ import annotations

from dataclasses import dataclass, field

from logbook.link.failures import Nonsense

PRINTER_GROUP, END = 0x04, 0x03
LAST_DELIMITER = 0x0F
INTEGER, ENUM, OCTETS = 0x21, 0x23, 0x30
TEXT_WITH_LANGUAGE, NAME_WITH_LANGUAGE = 0x35, 0x36
TEXTS = {0x41, 0x42, 0x44, 0x45, 0x49}  # text, name, keyword, uri, MIME type
LONGEST_VALUE = 0x7FFF  # lengths are signed 16-bit numbers


@dataclass(frozen=True)
class Answer:
    """The status of an IPP answer, and each printer attribute's values as (tag, bytes)."""

    status: int
    attributes: dict[str, list[tuple[int, bytes]]] = field(default_factory=dict)

    def texts(self, name: str) -> list[str]:
        """The values of an attribute that are text of some kind."""
        return [_text(tag, value) for tag, value in self.attributes.get(name, ()) if _is_text(tag)]

    def integers(self, name: str) -> list[int]:
        """The values of an attribute that are integers; -2 (unknown) for those that are none."""
        return [
            int.from_bytes(value, "big", signed=True) if tag in (INTEGER, ENUM) and len(value) == 4 else -2
            for tag, value in self.attributes.get(name, ())
        ]

    def octets(self, name: str) -> list[bytes]:
        """The values of an attribute that are octet strings, or text where a printer sends text instead."""
        return [
            value if tag == OCTETS else _text(tag, value).encode()
            for tag, value in self.attributes.get(name, ())
            if tag == OCTETS or _is_text(tag)
        ]


def read_answer(raw: bytes) -> Answer:
    """Take an answer apart. Raises ``Nonsense`` where it is cut short or its lengths lead outside of it.

    >>> read_answer(bytes([2, 0, 0x04, 0x06, 0, 0, 0, 1, 3])).status == 0x0406
    True
    """
    if len(raw) < 9:
        raise Nonsense("the printer's answer is no IPP")
    answer = Answer(int.from_bytes(raw[2:4], "big"))
    group, offset, values = 0, 8, [(0, b"")]
    while True:
        tag = _byte(raw, offset)
        offset += 1
        if tag == END:
            return answer
        if tag <= LAST_DELIMITER:
            group = tag
            continue
        name, offset = _counted(raw, offset)
        value, offset = _counted(raw, offset)
        if name:  # a value without a name belongs to the attribute before it
            values = []
            if group == PRINTER_GROUP:
                answer.attributes.setdefault(name.decode("ascii", "replace"), values)
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
