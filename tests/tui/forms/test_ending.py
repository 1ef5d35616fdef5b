"""Whatever comes while something is under way, the program goes on, or ends and gives the terminal back as it was."""

from __future__ import annotations

import asyncio
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from logbook.records import Judgement
from logbook.store import Store, open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.running.store_thread import StoreThread
from tests.studio import with_a_print
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown

LIMIT_SECONDS = 60.0


class Started:
    """The program in a terminal of its own, with what it has drawn."""

    def __init__(self, path: Path) -> None:
        self.ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.before = termios.tcgetattr(self.ours)
        environment = {**os.environ, "TERM": "xterm-256color", "LOGBOOK_SETTINGS": os.devnull, "LC_ALL": "C.UTF-8"}
        command = [sys.executable, "-m", "logbook", "--file", str(path)]
        self.program = subprocess.Popen(
            command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, start_new_session=True
        )  # fmt: skip
        self._theirs = theirs  # held open, so that the terminal can be looked at after the program
        self.drawn = b""

    def wait_for(self, words: bytes) -> None:
        """Read until the words were drawn."""
        while words not in self.drawn:
            ready, _, _ = select.select([self.ours], [], [], LIMIT_SECONDS)
            assert ready, self.drawn[-2000:]
            self.drawn += os.read(self.ours, 65536)

    def press(self, keys: bytes) -> None:
        """Send what a terminal sends."""
        os.write(self.ours, keys)

    def wait_for_end(self) -> int:
        """Read on until the program has ended."""
        while self.program.poll() is None:
            if select.select([self.ours], [], [], 0.05)[0]:
                self.drawn += os.read(self.ours, 65536)
        return self.program.returncode

    def close(self) -> None:
        """End it in any case."""
        if self.program.poll() is None:
            self.program.kill()
            self.program.wait()
        os.close(self.ours)
        os.close(self._theirs)


@pytest.fixture
def started(tmp_path: Path) -> Iterator[Started]:
    program = Started(with_a_print(tmp_path / "logbook.db"))
    program.wait_for(b"Matte")
    yield program
    program.close()


@pytest.mark.parametrize("key", [b"l", b"v", b"n", b"c"])
def test_told_to_end_while_a_form_opens_it_gives_the_terminal_back(started: Started, key: bytes) -> None:
    started.press(key)
    started.program.send_signal(signal.SIGTERM)
    assert started.wait_for_end() == 0
    assert termios.tcgetattr(started.ours)[:4] == started.before[:4]
    assert b"\x1b[?1049l" in started.drawn.rpartition(b"\x1b[?1049h")[2]  # back from the alternate screen
    assert b"Traceback" not in started.drawn


def test_a_byte_that_is_no_text_ends_nothing(started: Started) -> None:
    started.press(b"\xff\xfe\x80")
    started.press(b"2")
    started.wait_for(b"newest first")
    started.press(b"q")
    assert started.wait_for_end() == 0
    assert b"Traceback" not in started.drawn


@contextmanager
def held_up(thread: StoreThread) -> Iterator[threading.Event]:
    """The store's thread is busy until the event is set."""
    free, busy = threading.Event(), threading.Event()

    def wait(store: Store) -> None:
        busy.set()
        free.wait(LIMIT_SECONDS)

    thread.submit(wait)
    busy.wait(LIMIT_SECONDS)
    yield free
    free.set()


@pytest.mark.parametrize("after", [["escape"], ["escape", "escape"], ["f9"], ["enter", "escape"], ["question_mark"]])
async def test_whatever_is_pressed_while_a_form_is_saved_it_is_saved_once(
    opened: Opened, studio: Path, after: list[str]
) -> None:  # fmt: skip
    async with opened(studio) as pilot:
        app = app_of(pilot)
        await press(pilot, "v", "k")
        form = app.screen
        assert isinstance(form, Form)
        with held_up(app.desk) as free:
            saving = [asyncio.create_task(form.save())]
            await asyncio.sleep(0)
            saving += [asyncio.create_task(app.action_perform(name)) for name in _named(after)]
            await asyncio.sleep(0)
            free.set()
            await asyncio.gather(*saving)
        await settled(pilot)
        if after == ["question_mark"]:
            await press(pilot, "escape")
        assert not isinstance(app.screen, Form), shown(pilot)
        with open_store(studio) as store:
            assert len(reading.every(store, Judgement)) == 1


def _named(keys: list[str]) -> list[str]:
    known = {"escape": "leave-form", "f9": "give-up-form", "enter": "save-form", "question_mark": "explain"}
    return [known[key] for key in keys]


@pytest.mark.parametrize("how", ["leave", "give_up"])
async def test_what_comes_for_a_form_that_has_gone_is_dropped(opened: Opened, studio: Path, how: str) -> None:
    async with opened(studio) as pilot:
        app = app_of(pilot)
        await press(pilot, "l")
        form = app.screen
        assert isinstance(form, Form)
        with held_up(app.desk) as free:
            form.on_change(form.field("paper"))  # looks something up on the desk
            await pilot.pause()
            ending = asyncio.create_task(getattr(form, how)())
            await asyncio.sleep(0)
            free.set()
            await ending
        await settled(pilot)
        assert app.is_running and app.return_code is None
        assert not app.is_open(form)


def test_a_terminal_taken_away_without_a_signal_ends_it_too(tmp_path: Path) -> None:
    started = Started(with_a_print(tmp_path / "studio.db"))
    try:
        started.wait_for(b"Shelf")
        for end in (started.ours, started._theirs):
            os.dup2(os.open(os.devnull, os.O_RDWR), end)
        assert started.program.wait(LIMIT_SECONDS) == 0
    finally:
        started.close()
