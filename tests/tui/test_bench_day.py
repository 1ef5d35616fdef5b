"""Twelve prints of four pictures, from a real print server, confirmed and judged in a real terminal with few keys."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook.actions import queue, setup
from logbook.records import Judgement, Picture, Print
from logbook.store import open_store, reading
from tests.link.queue import Queue, print_server
from tests.studio import with_a_print
from tests.tui.terminal import Terminal

pytestmark = pytest.mark.skipif(shutil.which("tmux") is None, reason="needs tmux")
PRINTS = 12
MOST_KEYS_A_PRINT = 2
PICTURES = ("Ebb at Low Stair", "Winter Groyne", "Signal Mast", "Nine Poplars")
EDITIONS = [(title, 3, "1", "K") for title in PICTURES]
ATTEMPTS = [job for title in PICTURES for job in ((title, 1, "2", "R"), (title, 2, "0", "K"))]


@pytest.fixture
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Queue]:
    with print_server(tmp_path_factory.mktemp("server")) as known:
        yield known


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    opened = Terminal(tmp_path, 80, 24)
    yield opened
    opened.close()


@pytest.mark.parametrize("day", [EDITIONS, ATTEMPTS], ids=["four editions", "four first attempts and what followed"])
def test_a_bench_day_takes_two_keys_a_print(
    server: Queue, terminal: Terminal, tmp_path: Path, day: list[tuple[str, int, str, str]]
) -> None:
    path = with_a_print(tmp_path / "day.db")
    with open_store(path) as store:
        setup.leave(store)
        queue.keep_address(store, server.address)
    for number, (title, copies, _, _) in enumerate(day, 1):
        server.print(f"{title} 30x40cm.tif", copies=copies)
        server.finished(number)
    terminal.start(path)
    terminal.wait_for("Matte black is loaded.")
    terminal.press("Q")
    terminal.wait_for(f"{PRINTS} prints came from the queue")
    terminal.press("v")
    for title, copies, thirds, verdict in day:
        terminal.wait_for(f"Judge {title}{f', {copies} copies' if copies > 1 else ''}\n")
        terminal.press(thirds, verdict)
    terminal.wait_for("judged: keep")
    terminal.wait_for(f" {PRINTS + 1:04d} ")
    with open_store(path) as store:
        logged = [one for one in reading.every(store, Print) if one.job is not None]
        verdicts = {one.print: (one.darkness, one.verdict) for one in reading.every(store, Judgement)}
        titles = {one.id: one.title for one in reading.every(store, Picture)}
    expected = [(title, -int(thirds), {"K": "keep", "R": "redo"}[verdict]) for title, n, thirds, verdict in day for _ in range(n)]
    assert [(titles[one.picture], *verdicts[one.id]) for one in logged] == expected
    print(f"{terminal.pressed} keys for {PRINTS} prints")
    assert terminal.pressed <= MOST_KEYS_A_PRINT * PRINTS
