"""How Prints and a print's page look, on the small studio."""

from __future__ import annotations

import io
from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image

from logbook.actions import judging
from logbook.store import Store, open_store, thumbnails
from logbook.tui.app import LogbookApp
from logbook.tui.running.settings import Settings
from tests.studio import MORNING, SETTINGS, furnish, print_out, sheet
from tests.tui.conftest import NOW, LooksAsBefore

SMALL, LARGE = (80, 24), (120, 36)


def fill(store: Store) -> None:
    """A year of prints of two pictures, one of them tried three times this morning."""
    furnish(store)
    old = [
        sheet(
            f"old-{number}",
            hours=-600 * number,
            picture=("ebb", "groyne")[number % 2],
            purpose=("final", "work")[number % 3 == 0],
        )
        for number in range(14, 0, -1)
    ]
    lifted = {**SETTINGS, "shadow_lift": 9}
    print_out(
        store,
        *old,
        sheet("first"),
        sheet("second", hours=1, attempt_of="first", settings=lifted),
        sheet("third", hours=2, attempt_of="second", settings={**lifted, "intent": "perceptual"}, note="second sheet"),
    )
    for number, one in enumerate(old):
        verdict = ("keep", "redo", "scrap")[number % 3]
        judging.judge(store, one.id, darkness=number % 5 - 3, verdict=verdict, at=one.at + timedelta(hours=2))  # type: ignore[arg-type]
    for print_id, darkness in (("first", -2), ("second", -1)):
        at = MORNING + timedelta(minutes=130)
        judging.judge(store, print_id, darkness=darkness, verdict="redo", light="wall", flaws=("dust",), at=at)
    thumbnails.write(store, "ebb", _gradient())


def _gradient() -> bytes:
    kept = io.BytesIO()
    Image.linear_gradient("L").resize((60, 80)).save(kept, "PNG")
    return kept.getvalue()


def program(tmp_path: Path, theme: str) -> LogbookApp:
    """The program on those prints."""
    path = tmp_path / "prints.db"
    with open_store(path) as store:
        fill(store)
    return LogbookApp(path, name="studio", settings=Settings(theme=theme), clock=lambda: NOW)


VIEWS = {
    "list-80x24": ("room", SMALL, ["2"]),
    "list-120x36-cotton": ("cotton", LARGE, ["2"]),
    "page-80x24": ("room", SMALL, ["2", "enter"]),
    "page-120x36": ("room", LARGE, ["2", "j", "enter"]),
}


@pytest.mark.parametrize("view", VIEWS)
async def test_prints(looks_as_before: LooksAsBefore, tmp_path: Path, view: str) -> None:
    theme, size, keys = VIEWS[view]
    assert await looks_as_before(program(tmp_path, theme), size, keys)
