"""Every place, page and form on a logbook whose every text is hostile: nothing controls, links, reorders or hides."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from tests.hostile import CONTROL, VALID, harmful
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown

pytestmark = pytest.mark.usefixtures("off_line")
PLACES = "1234567"
PAGES = (("2", "enter"), ("4", "tab"), ("5", "enter"), ("6", "tab"), ("6", "enter"))
FORMS = ("v", "n", "a", "e", "c", "o", "r", "w", "x", "f")


def _check(pilot: Pilot[None], where: object) -> str:
    said = shown(pilot)
    assert harmful(said) == set(), where
    for strip in app_of(pilot).screen._compositor.render_strips():
        for segment in strip:
            assert segment.control is None
            assert "app.exit" not in str(segment.style.meta if segment.style else ""), where
    return said


@pytest.mark.parametrize("spoilt", [VALID], indirect=True, ids=["valid"])
async def test_markup_is_shown_as_the_text_it_is(opened: Opened, spoilt: Path) -> None:
    async with opened(spoilt, size=(150, 40)) as pilot:
        literal = 0
        for keys in (*PLACES, *PAGES):
            await press(pilot, *keys)
            literal += "[bold red]" in _check(pilot, keys)
            await press(pilot, "escape")
        for key in FORMS:
            await press(pilot, "1", key)
            _check(pilot, key)
            await press(pilot, "f9", "escape")
        await press(pilot, "u")  # what it says names what it undid
        assert "Undone" in _check(pilot, "undo")
        assert literal >= 5, "the hostile names were on the screen as they are"
        assert app_of(pilot).is_running


@pytest.mark.parametrize("spoilt", [CONTROL], indirect=True, ids=["control"])
async def test_control_characters_put_in_by_other_means_never_reach_the_screen(opened: Opened, spoilt: Path) -> None:
    async with opened(spoilt, size=(150, 40)) as pilot:
        for keys in (*PLACES, ("2", "enter")):
            await press(pilot, *keys)
            await settled(pilot)
            _check(pilot, keys)
            assert app_of(pilot).is_running, keys
            await press(pilot, "escape")
