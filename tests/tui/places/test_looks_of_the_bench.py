"""How Today and Shelf look at 80×24 and at 120×36, on the small studio."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from logbook.actions import judging
from logbook.actions.levels import read_levels
from logbook.store import open_store
from logbook.tui.app import LogbookApp
from logbook.tui.running.settings import Settings
from tests.studio import LEVELS, MORNING, SETTINGS, furnish, print_out, sheet
from tests.tui.conftest import NOW, LooksAsBefore

SIZES = ((80, 24), (120, 36))


@pytest.fixture
def app(tmp_path: Path) -> LogbookApp:
    """The program on a morning's prints."""
    path = tmp_path / "bench.db"
    with open_store(path) as store:
        furnish(store)
        read_levels(store, "printer", LEVELS, MORNING)
        tried = {**SETTINGS, "shadow_lift": 9}
        print_out(
            store,
            sheet("before", hours=-20, picture="groyne", width_mm=240.0, height_mm=300.0),
            sheet("first"),
            sheet("second", hours=1, attempt_of="first", settings=tried),
            sheet("third", hours=2, attempt_of="second", settings={**tried, "intent": "perceptual"}),
        )
        for print_id, darkness in (("first", -2), ("second", -1)):
            at = MORNING + timedelta(minutes=130)
            judging.judge(store, print_id, darkness=darkness, verdict="redo", light="wall", at=at)
    return LogbookApp(path, name="studio", settings=Settings(), clock=lambda: NOW)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("key", ["1", "7"], ids=["today", "shelf"])
async def test_place(looks_as_before: LooksAsBefore, app: LogbookApp, size: tuple[int, int], key: str) -> None:
    assert await looks_as_before(app, size, [key])
