"""An app on an empty logbook in a temporary folder, and the waiting that tests of a screen need."""

from __future__ import annotations

import sqlite3
from collections.abc import AsyncIterator, Awaitable, Callable, Sequence
from contextlib import AbstractAsyncContextManager, asynccontextmanager, closing
from datetime import datetime
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from textual.pilot import Pilot

from logbook.actions import setup
from logbook.store import open_store
from logbook.tui.app import LogbookApp
from logbook.tui.running.settings import Settings
from tests.tui.drawing import Drawing, drawn
from tests.tui.screens import press, settled

NOW = datetime.fromisoformat("2026-11-25T14:30:00+01:00")
Opened = Callable[..., AbstractAsyncContextManager[Pilot[None]]]
LooksAsBefore = Callable[..., Awaitable[bool]]


@pytest.fixture(autouse=True)
def _own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or writes the settings of whoever runs it."""
    monkeypatch.setenv("LOGBOOK_SETTINGS", str(tmp_path / "settings.toml"))
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("LC_ALL", "C.UTF-8")


@pytest.fixture
def opened(tmp_path: Path) -> Opened:
    """``async with opened(path, size=…) as pilot``: the program on a logbook, its first place read.

    The set-up was left before, and does not lie over the place, unless it is a ``first_start``.
    """

    @asynccontextmanager
    async def run(
        path: Path | None = None,
        *,
        size: tuple[int, int] = (80, 24),
        settings: Settings | None = None,
        first_start: bool = False,
    ) -> AsyncIterator[Pilot[None]]:
        path = path or tmp_path / "test.logbook"
        if not first_start:
            with open_store(path) as store:
                setup.leave(store)
        app = LogbookApp(path, settings=settings, clock=lambda: NOW)
        async with app.run_test(size=size) as pilot:
            await settled(pilot)
            yield pilot

    return run


@pytest.fixture
def looks_as_before(snapshot: SnapshotAssertion) -> LooksAsBefore:
    """Whether the program, at a size and after ``keys``, looks as it did when ``--snapshot-update`` was last given."""

    async def compare(app: LogbookApp, size: tuple[int, int], keys: Sequence[str] = ()) -> bool:
        async with app.run_test(size=size) as pilot:
            await settled(pilot)
            await press(pilot, *keys)
            return bool(snapshot(extension_class=Drawing) == drawn(app))

    return compare


@pytest.fixture
def demo_copy(demo_path: Path, tmp_path: Path) -> Path:
    """The demonstration in a file of the test's own."""
    with closing(sqlite3.connect(demo_path)) as source, closing(sqlite3.connect(tmp_path / "demo.db")) as target:
        source.backup(target)
    return tmp_path / "demo.db"
