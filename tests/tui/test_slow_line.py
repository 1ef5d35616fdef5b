"""Over a slow line: the bytes that a key press sends, and that they draw what is meant."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.bench.first_screen import OURS
from tests.bench.many import fill
from tests.bench.terminal import Terminal
from tests.tui.emulated import Emulated

COLUMNS, ROWS = 100, 30
LITTLE = 1_000
PATIENCE = 30.0  # seconds, for a busy machine


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    fill(tmp_path / "slow.db", 120)
    with Terminal(OURS, (str(tmp_path / "slow.db"),), size=(COLUMNS, ROWS)) as program:
        program.wait_for("black is loaded")
        yield program


def test_moving_and_typing_send_little_and_nothing_is_sent_without_a_key(terminal: Terminal) -> None:
    assert any(terminal.wait_until_quiet(0.7) == 0 for _ in range(40))
    assert terminal.press("2", quiet=1.5, patience=PATIENCE) > LITTLE
    assert 0 < terminal.press("j", patience=PATIENCE) < LITTLE
    assert 0 < terminal.press("k", patience=PATIENCE) < LITTLE
    terminal.press("n", quiet=1.5, patience=PATIENCE)
    for key in ("\t", "a", "\x7f", "\t"):
        assert 0 < terminal.press(key, patience=PATIENCE) < LITTLE


def test_what_stands_there_after_many_keys_is_what_drawing_it_all_anew_gives(terminal: Terminal) -> None:
    screen = Emulated(COLUMNS, ROWS)
    terminal.wait_until_quiet(0.6, into=screen.feed)
    for key in ("2", "j", "\x1b[6~", "7", "j", "2", "/", "w", "\r", "n", "\t", "a", "\x1b"):
        terminal.press(key, into=screen.feed, quiet=0.15)
    terminal.wait_until_quiet(0.8, into=screen.feed)
    before = screen.text
    assert terminal.press("R", into=screen.feed) > 5 * LITTLE
    assert screen.text == before
    assert "prints" in before
