"""The program in a real terminal: a day begun on an empty file, a print logged and judged, the terminal closed over a form."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from logbook.records import Judgement, Print
from logbook.store import drafts, open_store, reading
from tests.studio import only, with_a_print
from tests.tui.terminal import PATIENCE_SECONDS, Terminal

pytestmark = pytest.mark.skipif(shutil.which("tmux") is None, reason="needs tmux")


def is_running(process: int) -> bool:
    """Whether a process that is nobody's child here is still there."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def wait_until(come: Callable[[], bool], else_said: str) -> None:
    """Wait for what nothing on the screen tells."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not come():
        assert time.monotonic() < end, else_said
        time.sleep(0.05)


def drafts_kept(path: Path) -> int:
    """Half-filled forms in the file, those of open windows too."""
    with open_store(path) as store:
        (count,) = store.connection.execute("SELECT count(*) FROM draft").fetchone()
    return int(count)


def start(terminal: Terminal, path: Path) -> None:
    """Open the program on a logbook."""
    terminal.start(path)
    terminal.wait_for("Matte black is loaded.")


def log_one_more_and_judge(terminal: Terminal) -> None:
    """Log one more print like the first, and open the form in which it is judged."""
    terminal.press("l")
    terminal.wait_for("One more like #0001 Ebb at Low Stair")
    terminal.press("Enter")
    terminal.wait_for("#0002 Ebb at Low Stair, 30×40 cm logged")
    terminal.press("v")
    terminal.wait_for("Judge #0002")


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    """A terminal of 80 by 24."""
    opened = Terminal(tmp_path, 80, 24)
    yield opened
    opened.close()


def test_a_print_is_logged_and_judged_in_a_real_terminal(terminal: Terminal, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "day.db", "one")
    start(terminal, path)
    log_one_more_and_judge(terminal)
    terminal.press("1", "k", "Enter")
    terminal.wait_for("#0002 judged: keep, one third darker")
    terminal.press("q")
    terminal.wait_for_end()
    with open_store(path) as store:
        assert reading.count(store, Print) == 2
        assert only(store, Judgement).verdict == "keep"


def test_a_day_begins_on_a_file_that_is_not_there(terminal: Terminal, tmp_path: Path) -> None:
    path = tmp_path / "first.db"
    terminal.start(path)
    terminal.wait_for("Step 1 of 4: the printer, its inks and its gauge")
    terminal.type("Bench one")
    terminal.press("Enter")
    terminal.wait_for("Step 2 of 4: a paper and the black it needs")
    terminal.type("Tideway Rag")
    terminal.press("Tab", "m", "Enter")
    terminal.wait_for("Step 2 of 4: another paper")
    terminal.press("Escape")
    terminal.wait_for("Set-up left")
    terminal.press("n")
    terminal.wait_for("Another print")
    terminal.type("Ebb")
    terminal.press("Tab", "Tab")
    terminal.type("40x50cm")
    terminal.press("Enter")
    terminal.wait_for("#0001 Ebb, 40×50 cm logged")
    terminal.press("q")
    terminal.wait_for_end()
    with open_store(path) as store:
        assert (only(store, Print).width_mm, only(store, Print).height_mm) == (400, 500)


def test_a_half_filled_form_survives_the_terminal_being_closed(terminal: Terminal, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "closed.db", "one")
    start(terminal, path)
    terminal.press("v")
    terminal.wait_for("Judge #0001")
    terminal.press("2")
    terminal.wait_for("two thirds darker")
    program = terminal.process()
    terminal.close()
    wait_until(lambda: not is_running(program), "the program goes on without its terminal")
    with open_store(path) as store:
        assert drafts.left_behind(store) != []
    start(terminal, path)
    terminal.press("v")
    terminal.wait_for("two thirds darker")


def test_what_was_said_to_be_logged_and_what_was_typed_survive_a_kill(terminal: Terminal, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "killed.db", "one")
    start(terminal, path)
    log_one_more_and_judge(terminal)
    terminal.press("2")
    terminal.wait_for("two thirds darker")
    wait_until(lambda: drafts_kept(path) == 1, "the half-filled form is not kept")  # nothing on the screen says that it is
    os.kill(terminal.process(), signal.SIGKILL)
    terminal.wait_for_end()
    said = subprocess.run([sys.executable, "-m", "logbook", "--file", str(path), "check"], capture_output=True, check=False)
    assert said.returncode == 0
    with open_store(path) as store:
        assert reading.count(store, Print) == 2
        assert drafts.left_behind(store) != []
