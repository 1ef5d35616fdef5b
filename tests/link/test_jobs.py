"""Finished jobs of a print queue: from a real print server, and from strangers that answer as none should."""

from __future__ import annotations

import struct
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from logbook.link import LinkFailed, NoAnswer, Nonsense, ask_jobs, parse_address
from logbook.link.answer import Attributes
from logbook.link.jobs import Job, State, job_of
from logbook.link.media import sheet_mm
from tests.link.queue import Queue, print_server
from tests.link.strangers import at, attribute, http, read_request, saying, tcp_server

KEYWORD, NAME, ENUM, INTEGER, RESOLUTION, TIME = 0x44, 0x42, 0x23, 0x21, 0x32, 0x31
HEAD = struct.pack(">BBHI", 2, 0, 0, 1)
NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def queue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Queue]:
    with print_server(tmp_path_factory.mktemp("queue")) as known:
        yield known


def test_a_print_server_tells_what_it_was_told(queue: Queue) -> None:
    before = datetime.now(UTC) - timedelta(seconds=2)
    queue.print(
        "Ebb at Low Stair.tif",
        "media=Custom.400x500mm",
        "printer-resolution=1000dpi",
        "print-rendering-intent=perceptual",
        "print-quality=5",
        "black-in=matte",
        copies=2,
    )
    queue.print("Held, then taken away", "job-hold-until=indefinite")
    queue.run("cancel", "wide-2")
    queue.finished(2)
    printed, cancelled = sorted(ask_jobs(queue.address), key=lambda job: job.number)
    assert (printed.name, printed.copies, printed.sheet_mm) == ("Ebb at Low Stair.tif", 2, (400, 500))
    assert printed.settings.items() >= {"intent": "perceptual", "resolution_dpi": 1000, "quality": "high"}.items()
    assert printed.options == {"black-in": "matte"}
    assert before <= printed.at <= datetime.now(UTC)
    assert printed.key.startswith("urn:uuid:")
    assert (printed.state, cancelled.state) == (State.COMPLETED, State.CANCELLED)


def test_the_jobs_of_a_wrong_queue_or_no_queue_are_refused_in_one_line(queue: Queue) -> None:
    for address in (str(queue.address).replace("wide", "narrow"), f"ipp://localhost:{queue.address.port}/"):
        with pytest.raises(LinkFailed) as refused:
            ask_jobs(parse_address(address))
        assert "\n" not in str(refused.value)
    with pytest.raises(LinkFailed):
        ask_jobs(parse_address("snmp://localhost"))


def job(number: int, *more: bytes, state: int = 9, name: str = "Ebb") -> bytes:
    """One job of an answer."""
    finished = struct.pack(">HBBBBBBcBB", 2026, 11, 27, 10, number % 60, 0, 0, b"+", 1, 0)
    return b"\x02" + b"".join(
        (
            attribute(INTEGER, "job-id", struct.pack(">i", number)),
            attribute(ENUM, "job-state", struct.pack(">i", state)),
            attribute(NAME, "job-name", name.encode()),
            attribute(TIME, "date-time-at-completed", finished),
            *more,
        )
    )


def told(*jobs: bytes) -> tuple[Job, ...]:
    """What is read of an answer that holds these jobs."""
    with tcp_server(saying(http(HEAD + b"\x01" + b"".join(jobs) + b"\x03"))) as (port, _):
        return ask_jobs(at(port), 5)


def member(name: str, tag: int, value: bytes) -> bytes:
    return attribute(0x4A, "", name.encode()) + attribute(tag, "", value)


def test_a_job_without_a_uuid_is_known_by_its_number_and_time() -> None:
    (first,) = told(job(7))
    assert first.key == "7 of 2026-11-27T09:07:00Z"
    assert told(job(7))[0].key == first.key != told(job(8))[0].key


def test_jobs_that_are_not_finished_or_have_no_number_are_passed_over() -> None:
    nameless = b"\x02" + attribute(ENUM, "job-state", struct.pack(">i", 9))
    assert told(job(1, state=3), job(2, state=5), nameless, job(3))[0].number == 3


def test_the_size_comes_from_a_collection_too() -> None:
    size = member("x-dimension", INTEGER, struct.pack(">i", 40_000)) + member("y-dimension", INTEGER, struct.pack(">i", 50_000))
    column = (
        attribute(0x34, "media-col", b"")
        + attribute(0x4A, "", b"media-size")
        + attribute(0x34, "", b"")
        + size
        + attribute(0x37, "", b"")
        + member("media-type", KEYWORD, b"photographic-matte")
        + attribute(0x37, "", b"")
    )
    (found,) = told(job(1, column))
    assert (found.sheet_mm, found.media) == ((400, 500), "photographic-matte")


@pytest.mark.parametrize(
    ("media", "size"),
    [
        ("iso_a3_297x420mm", (297, 420)),  # PWG 5101.1
        ("na_letter_8.5x11in", (215.9, 279.4)),
        ("custom_fine-art_457.2x610mm", (457.2, 610)),
        ("Custom.24x30cm", (240, 300)),
        ("A3", (297, 420)),  # ISO 216
        ("iso-a4", (210, 297)),
        ("photographic", None),
        ("custom_x_0x0mm", None),
        ("custom_x_99999999999x1mm", None),
    ],
)
def test_names_of_media(media: str, size: tuple[float, float] | None) -> None:
    assert sheet_mm(media) == size


def test_a_resolution_per_centimetre_and_one_of_two_directions() -> None:
    per_cm = attribute(RESOLUTION, "printer-resolution", struct.pack(">iib", 400, 200, 4))
    assert told(job(1, per_cm))[0].settings["resolution_dpi"] == 1016
    assert "resolution_dpi" not in told(job(1, attribute(RESOLUTION, "printer-resolution", b"\0" * 9)))[0].settings


def test_titles_and_options_of_strangers_are_data() -> None:
    options = attribute(KEYWORD, "black-in", "matte\x1b[31m\u202e".encode()) + attribute(NAME, "odd\x07name", b"x")
    (found,) = told(job(1, options, name="[bold]Ebb\x1b]0;x\x07 \u202ebackwards" + "x" * 5_000))
    assert found.name.startswith("[bold]Ebb\ufffd]0;x\ufffd \ufffdbackwards") and len(found.name) == 200
    assert found.options == {"black-in": "matte\ufffd[31m\ufffd"}


def test_copies_beyond_reason_are_bounded() -> None:
    assert told(job(1, attribute(INTEGER, "copies", struct.pack(">i", 2**31 - 1))))[0].copies == 1_000
    assert told(job(1, attribute(INTEGER, "copies", struct.pack(">i", -5))))[0].copies == 1


def test_thousands_of_jobs_are_read() -> None:
    found = told(*(job(number) for number in range(3_000)))
    assert len(found) == 3_000
    assert [one.at for one in found] == sorted(one.at for one in found)


@pytest.mark.parametrize(
    "raw",
    [
        HEAD + b"\x02",
        HEAD + job(1)[:-3],
        HEAD + job(1) + b"\x34\xff\xff",
        b"<html>not found</html>",
        HEAD + b"\x02" + attribute(0x34, "media-col", b"") * 2,
    ],
    ids=["no end", "cut short", "a length outside", "a web page", "never closed"],
)
def test_a_broken_answer_is_one_line(raw: bytes) -> None:
    with tcp_server(saying(http(raw))) as (port, _), pytest.raises(Nonsense) as refused:
        ask_jobs(at(port), 5)
    assert "\n" not in str(refused.value)


def test_collections_within_collections_without_end_are_bounded() -> None:
    deep = attribute(0x34, "media-col", b"") + (attribute(0x4A, "", b"media-size") + attribute(0x34, "", b"")) * 5_000
    assert told(job(1, deep))[0].sheet_mm is None
    assert told(job(1, attribute(0x37, "media-col", b"")))[0].sheet_mm is None


def test_a_server_that_stops_half_way_gives_nothing() -> None:
    def half(connection: object) -> None:
        read_request(connection)  # type: ignore[arg-type]
        connection.sendall(http(HEAD + job(1) + b"\x03")[:-40])  # type: ignore[attr-defined]

    with tcp_server(half) as (port, _), pytest.raises(NoAnswer):
        ask_jobs(at(port), 2)


def test_times_that_are_none_make_no_job() -> None:
    values = {"job-id": [(INTEGER, b"\0\0\0\1")], "job-state": [(ENUM, b"\0\0\0\x09")]}
    assert job_of(Attributes({**values, "date-time-at-completed": [(TIME, b"\xff" * 11)]}), NOON) is None
    assert job_of(Attributes({**values, "time-at-completed": [(INTEGER, b"\0\0\0\x09")]}), NOON) is None


def test_a_time_has_the_offset_of_the_reader() -> None:
    started = time.time()
    values = {
        "job-id": [(INTEGER, b"\0\0\0\1")],
        "job-state": [(ENUM, b"\0\0\0\x09")],
        "time-at-completed": [(INTEGER, struct.pack(">i", int(started)))],
    }
    found = job_of(Attributes(values), datetime.now().astimezone())
    assert found is not None and int(found.at.timestamp()) == int(started)
