"""IPP answers as bytes: what RFC 8010 allows is read, everything else is refused in bounded time."""

import struct
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.link.answer import INTEGER, NAME_WITH_LANGUAGE, OCTETS, read_answer
from logbook.link.failures import Nonsense
from logbook.link.jobs import job_of

NOW = datetime(2026, 11, 27, 12, tzinfo=UTC)
HEAD = bytes([2, 0, 0, 0, 0, 0, 0, 1])


def attribute(tag: int, name: bytes, value: bytes) -> bytes:
    return bytes([tag]) + struct.pack(">H", len(name)) + name + struct.pack(">H", len(value)) + value


def answer(*attributes: bytes) -> bytes:
    return HEAD + b"\x04" + b"".join(attributes) + b"\x03"


def test_values_without_a_name_belong_to_the_attribute_before() -> None:
    read = read_answer(
        answer(
            attribute(INTEGER, b"marker-levels", struct.pack(">i", 61)),
            attribute(INTEGER, b"", struct.pack(">i", -2)),
            attribute(0x42, b"marker-names", b"matte black"),
            attribute(0x42, b"", "d\xe9j\xe0".encode()),
        )
    ).printer
    assert read.integers("marker-levels") == [61, -2]
    assert read.texts("marker-names") == ["matte black", "déjà"]
    assert read.octets("printer-supply") == []


def test_only_the_printers_group_is_read() -> None:
    raw = HEAD + b"\x01" + attribute(0x42, b"marker-names", b"no") + b"\x04" + attribute(0x42, b"marker-names", b"yes") + b"\x03"
    assert read_answer(raw).printer.texts("marker-names") == ["yes"]


def test_a_name_with_its_language_is_read() -> None:
    value = struct.pack(">H", 2) + b"en" + struct.pack(">H", 4) + b"cyan"
    assert read_answer(answer(attribute(NAME_WITH_LANGUAGE, b"marker-names", value))).printer.texts("marker-names") == ["cyan"]


def test_values_of_another_type_are_no_levels() -> None:
    read = read_answer(answer(attribute(0x42, b"marker-levels", b"61"), attribute(INTEGER, b"", b"\x01"))).printer
    assert read.integers("marker-levels") == [-2, -2]
    assert read_answer(answer(attribute(0x41, b"printer-supply", b"level=1"))).printer.octets("printer-supply") == [b"level=1"]
    assert read_answer(answer(attribute(OCTETS, b"printer-supply", b"\xff"))).printer.octets("printer-supply") == [b"\xff"]


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\x02",
        b"<html><body>not found</body></html>",
        HEAD,
        HEAD + b"\x04",
        answer(attribute(INTEGER, b"marker-levels", b"\0\0\0\1"))[:-1],
        HEAD + b"\x04\x21\xff\xff",
        HEAD + b"\x04\x21\x80\x00" + b"x" * 40_000,
        HEAD + b"\x04\x21\x00\x01a\xff\xfb" + b"x" * 10,  # a length of -5, which would lead back for ever
    ],
)
def test_a_broken_answer_is_nonsense(raw: bytes) -> None:
    with pytest.raises(Nonsense):
        read_answer(raw)


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(raw: bytes) -> None:
    for data in (raw, HEAD + b"\x04" + raw, HEAD + b"\x04" + raw + b"\x03", HEAD + b"\x02" + raw + b"\x03"):
        try:
            read = read_answer(data)
        except Nonsense:
            continue
        for told in (read.printer, *read.jobs):
            for name in told.values:
                told.texts(name), told.integers(name), told.octets(name), told.time(name), told.told(name)
                told.dots_per_inch(name)
                told.members(name)
            job_of(told, NOW)


def test_a_megabyte_is_read() -> None:
    raw = answer(attribute(INTEGER, b"marker-levels", b"\0\0\0\1"), attribute(INTEGER, b"", b"\0\0\0\1") * 110_000)
    assert len(read_answer(raw).printer.integers("marker-levels")) == 110_001
