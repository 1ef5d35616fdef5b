"""SNMP agents that answer as they should, fall silent, or make no sense."""

from __future__ import annotations

import logging
from typing import Any

import pytest
from pysnmp.proto.rfc1902 import Integer32, OctetString

from logbook.link.address import parse_address
from logbook.link.asking import ask
from logbook.link.failures import LinkFailed, NoAnswer, Nonsense
from logbook.link.snmp import SUPPLIES
from tests.link.strangers import (
    SHORT_S,
    asked_for,
    at,
    snmp_agent,
    snmp_answer,
)


def table(rows: int) -> list[tuple[tuple[int, ...], Any]]:
    """A table of inks, each at 50 %, in the order in which it is walked."""
    columns = {4: 3, 5: 6, 6: "Ink", 7: 19, 8: 100, 9: 50}
    made = {column: OctetString(told) if isinstance(told, str) else Integer32(told) for column, told in columns.items()}
    return [((*SUPPLIES, column, 1, row), value) for column, value in made.items() for row in range(1, rows + 1)]


def walked(values: list[tuple[tuple[int, ...], Any]]) -> Any:
    """A reply that hands out ``values`` twenty at a time."""

    def reply(module: Any, request: Any) -> bytes:
        last = asked_for(module, request)
        told = [(name, value) for name, value in values if name > last][:20]
        return snmp_answer(module, request, told or [(last, module.EndOfMibView())])

    return reply


def test_a_good_table_is_read() -> None:
    with snmp_agent(walked(table(9))) as (port, received):
        read = ask(at(port, "snmp"), 2.0)
    assert [one.percent for one in read] == [50.0] * 9
    assert len(received) < 12  # many values at once


def circles(module: Any, request: Any) -> bytes:
    return snmp_answer(module, request, table(1)[:1])


def wrong_number(module: Any, request: Any) -> bytes:
    return snmp_answer(module, request, table(1), number=1)


@pytest.mark.parametrize(
    ("reply", "kind", "said"),
    [
        (lambda *_: None, NoAnswer, "did not answer"),
        (lambda *_: b"", NoAnswer, "did not answer"),
        (lambda *_: b"\x30\x82\xff\xff\x02\x01\x01", NoAnswer, "did not answer"),
        (lambda *_: bytes(range(256)) * 200, NoAnswer, "did not answer"),
        (wrong_number, NoAnswer, "did not answer"),
        (circles, Nonsense, "circles"),
        (walked([]), Nonsense, "no supplies"),
        (walked(table(400)), Nonsense, "more than 256 supplies"),
        (lambda module, request: snmp_answer(module, request, []), Nonsense, "no supplies"),
    ],
    ids=["silent", "empty", "cut", "51 kB", "wrong number", "circles", "no table", "400 rows", "no values"],
)
def test_an_agent_that_makes_no_sense_is_survived(
    reply: Any, kind: type[LinkFailed], said: str, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    with snmp_agent(reply) as (port, _):
        patience = SHORT_S if kind is NoAnswer else 20.0
        with caplog.at_level(logging.DEBUG), pytest.raises(kind, match=said):
            ask(parse_address(f"snmp://127.0.0.1:{port}?community=hush"), patience)
    assert "hush" not in caplog.text
    assert capfd.readouterr().err == ""
