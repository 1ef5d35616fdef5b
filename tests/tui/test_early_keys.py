"""Keys that are pressed while the program is still starting."""

from __future__ import annotations

import time
from pathlib import Path

from logbook.actions import setup
from logbook.records import Judgement
from logbook.store import open_store, reading
from tests.bench.first_screen import OURS
from tests.bench.terminal import LIMIT_SECONDS, Terminal
from tests.studio import with_a_print


def test_a_burst_before_the_program_has_begun_is_all_taken(tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "early.db")
    with open_store(path) as store:
        setup.leave(store)
    judged: list[Judgement] = []
    with Terminal(OURS, (str(path),), size=(100, 30)) as terminal:
        terminal.send(b"v1k\r")
        until = time.monotonic() + LIMIT_SECONDS
        while not judged and time.monotonic() < until:
            terminal.read_for(0.3)
            with open_store(path) as store:
                judged = reading.every(store, Judgement)
    assert [(one.darkness, one.verdict) for one in judged] == [(-1, "keep")]
