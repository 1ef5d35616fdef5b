"""Readings from real servers: an IPP Everywhere printer and a Printer-MIB agent, both on loopback."""

from __future__ import annotations

import datetime as dt
import io
import shutil
import socket
import subprocess
import time
from pathlib import Path

import pytest

from logbook.actions import reading_levels
from logbook.actions.exporting import export_lines
from logbook.actions.importing import import_file
from logbook.link import Address, NoAnswer, ask, ask_jobs, asking, parse_address
from logbook.link.jobs import State
from logbook.link.supplies import Supply
from logbook.records import Gauge, Ink, Printer
from logbook.reports.ink.sheets import unlogged_sheets
from logbook.snapshot import take
from logbook.store import Store, journal, open_store, reading
from tests.link.conftest import Agent
from tests.studio import EBB, MORNING, RAG, sheet

LEVEL_OF_MATTE = "1.3.6.1.2.1.43.11.1.1.9.1.1"
SHEETS_MADE = "1.3.6.1.2.1.43.10.2.1.4.1.1"


def described(store: Store) -> str:
    """A printer of three inks in the logbook."""
    inks = tuple(Ink(ink=ink, nominal_ml=350) for ink in ("matte_black", "photo_black", "cyan"))
    printer = Printer(id="bench-one", name="Bench one", max_width_mm=610, inks=inks, gauge_step_percent=1)
    journal.write(store, "Bench one described", save=[printer])
    return printer.id


def print_a_job(address: Address, folder: Path) -> None:
    """Send a job, on which the printer's command moves its levels."""
    if shutil.which("ipptool") is None:
        pytest.skip("ipptool is not installed (Debian: cups-ipp-utils)")
    job, test = folder / "job.jpg", folder / "print.test"
    job.write_bytes(b"\xff\xd8\xff\xe0 a print")
    test.write_text(
        "{ OPERATION Print-Job GROUP operation-attributes-tag ATTR charset attributes-charset utf-8"
        " ATTR language attributes-natural-language en ATTR uri printer-uri $uri"
        " ATTR mimeMediaType document-format image/jpeg FILE job.jpg STATUS successful-ok }"
    )
    subprocess.run(["ipptool", "-f", str(job), str(address), str(test)], check=True, capture_output=True, timeout=20, cwd=folder)


def test_ipp_supplies_come_from_both_lists(ipp_printer: Address) -> None:
    assert ask(ipp_printer) == (
        Supply(index=1, name="Matte black", colour="matteBlack", kind="ink", percent=61.0),  # 213.5 of 350 ml
        Supply(index=2, name="photo black", colour="#000000", kind="ink", percent=None),  # -2
        Supply(index=3, name="cyan", colour="#00FFFF", kind="ink", percent=7.0),
        Supply(index=0, name="sheets made", kind="count", sheets=812),
    )


def test_ipp_levels_that_move_are_logged_once(ipp_printer: Address, store: Store, tmp_path: Path) -> None:
    printer = described(store)
    first = reading_levels.in_inks(store, printer, ask(ipp_printer))
    assert (first.levels, first.not_reported) == ({"matte_black": 61.0, "cyan": 7.0}, ("photo_black",))
    assert reading_levels.log_reading(store, first, only_moved=True) is not None
    again = reading_levels.in_inks(store, printer, ask(ipp_printer))
    assert reading_levels.log_reading(store, again, only_moved=True) is None
    print_a_job(ipp_printer, tmp_path)
    moved = moved_levels(store, printer, ipp_printer, first.levels)
    assert moved == {"matte_black": pytest.approx(57.143), "cyan": 6.0}  # 200 of 350 ml; photo black says -3
    assert [gauge.levels for gauge in reading.every(store, Gauge)] == [first.levels, moved]


def moved_levels(store: Store, printer: str, address: Address, before: dict[str, float]) -> dict[str, float]:
    """What the printer says once its job is done, logged."""
    end = time.monotonic() + 10
    while time.monotonic() < end:
        now = reading_levels.in_inks(store, printer, ask(address))
        if len([ink for ink, level in now.levels.items() if level != before[ink]]) == 2:
            assert reading_levels.log_reading(store, now, only_moved=True) is not None
            return now.levels
        time.sleep(0.1)
    raise AssertionError("the levels did not move")


def test_a_printer_that_keeps_a_history_tells_its_jobs(ipp_printer: Address, tmp_path: Path) -> None:
    print_a_job(ipp_printer, tmp_path)
    end = time.monotonic() + 10
    while not (jobs := ask_jobs(ipp_printer)):
        assert time.monotonic() < end, "the job was not finished"
        time.sleep(0.1)
    (job,) = jobs
    assert (job.number, job.copies, job.state) == (1, 1, State.COMPLETED)
    assert job.key.startswith("urn:uuid:")


def test_ipp_over_an_encrypted_line(ipp_printer: Address) -> None:
    encrypted = parse_address(str(ipp_printer).replace("ipp://", "ipps://"))
    assert ask(encrypted) == ask(ipp_printer)


@pytest.mark.parametrize("version", ["", "&version=1"])
def test_snmp_supplies_come_from_the_table(snmp_printer: Agent, version: str) -> None:
    assert ask(parse_address(snmp_printer.address.whole + version)) == (
        Supply(index=1, name="Matte black", kind="ink", percent=60.857),  # 213 of 350
        Supply(index=2, name="Photo black", kind="ink", percent=None),  # -3 of -2
        Supply(index=3, name="Waste ink", kind="waste", percent=75.0),  # room for 25 %
        Supply(index=0, name="sheets made", kind="count", sheets=4312),  # the other marker counts hours
    )


def test_snmp_levels_that_move_are_logged(snmp_printer: Agent, store: Store) -> None:
    printer = described(store)
    first = reading_levels.in_inks(store, printer, ask(snmp_printer.address))
    reading_levels.log_reading(store, first)
    assert [one.shown for one in first.waste] == ["Waste ink: 75 % full"]
    snmp_printer.say(LEVEL_OF_MATTE, "175")
    second = reading_levels.in_inks(store, printer, ask(snmp_printer.address))
    reading_levels.log_reading(store, second, only_moved=True)
    assert [gauge.levels for gauge in reading.every(store, Gauge)] == [{"matte_black": 60.857}, {"matte_black": 50.0}]


def test_what_the_printer_counted_stands_with_its_levels_and_tells_the_sheets_nobody_logged(
    snmp_printer: Agent, store: Store, tmp_path: Path
) -> None:
    """From one reading to the next the printer made 40 sheets, of which 30 are logged; another logbook is told the same."""
    printer = described(store)
    first = reading_levels.in_inks(store, printer, ask(snmp_printer.address), MORNING)
    reading_levels.log_reading(store, first)
    prints = [sheet(f"one-{n}", hours=24 * n + 1, printer=printer, stock=None, screen=None) for n in range(30)]
    journal.write(store, "Thirty prints", save=[RAG, EBB, *prints])
    snmp_printer.say(LEVEL_OF_MATTE, "175")
    snmp_printer.say(SHEETS_MADE, "4352")
    second = reading_levels.in_inks(store, printer, ask(snmp_printer.address), MORNING + dt.timedelta(days=31))
    reading_levels.log_reading(store, second, only_moved=True)
    with open_store(tmp_path / "other.db") as other:
        import_file(other, io.BytesIO("\n".join(export_lines(store)).encode()), "all.jsonl")
        for log in (store, other):
            assert [gauge.sheets_counted for gauge in reading.every(log, Gauge)] == [4312, 4352]
            found = unlogged_sheets(take(log, MORNING.date() + dt.timedelta(days=40)), printer)
            assert found is not None
            assert (found.source, found.made, found.missing) == ("counter", 40.0, 10.0)


def test_ipp_counts_stand_with_their_levels_too(ipp_printer: Address, store: Store) -> None:
    printer = described(store)
    reading_levels.log_reading(store, reading_levels.in_inks(store, printer, ask(ipp_printer)))
    assert [gauge.sheets_counted for gauge in reading.every(store, Gauge)] == [812]


def test_a_name_that_has_an_ipv6_address_too_is_asked_where_the_agent_listens(
    snmp_printer: Agent, monkeypatch: pytest.MonkeyPatch
) -> None:
    port, kind = snmp_printer.address.port, socket.SOCK_DGRAM
    both = [
        (socket.AF_INET6, kind, socket.IPPROTO_UDP, "", ("::1", port, 0, 0)),
        (socket.AF_INET, kind, socket.IPPROTO_UDP, "", ("127.0.0.1", port)),
    ]
    monkeypatch.setattr(asking, "_looked_up", lambda *_: both)
    assert [one.name for one in ask(snmp_printer.address)][:3] == ["Matte black", "Photo black", "Waste ink"]


def test_a_wrong_community_is_no_answer_and_names_no_community(snmp_printer: Agent) -> None:
    wrong = parse_address(snmp_printer.address.whole.replace("bench", "hushhush"))
    with pytest.raises(NoAnswer) as failed:
        ask(wrong, 0.4)
    assert "hush" not in str(failed.value)
