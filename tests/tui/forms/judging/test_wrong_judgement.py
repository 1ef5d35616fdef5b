"""A judgement typed for the wrong print is taken out on that print's page."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.actions import judging
from logbook.records import Judgement
from logbook.store import open_store, reading
from logbook.tui.places.prints.page import PrintPage
from tests.studio import MORNING
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown


def verdicts(path: Path) -> list[str | None]:
    with open_store(path) as store:
        return [judgement.verdict for judgement in reading.where(store, Judgement, "print", "two")]


@pytest.fixture
def judged(studio: Path) -> Path:
    """The newest print was judged twice."""
    with open_store(studio) as store:
        judging.judge(store, "two", darkness=-1, verdict="redo", light="wall", at=MORNING.replace(hour=11))
        judging.judge(store, "two", verdict="scrap", note="of the other one", at=MORNING.replace(hour=12))
    return studio


async def test_the_newest_is_taken_out_and_comes_back_by_undo(opened: Opened, judged: Path) -> None:
    async with opened(judged) as pilot:
        await press(pilot, "2", "enter", "D")
        screen = shown(pilot)
        assert "Judgements of #0002 Winter Groyne" in screen
        assert "● 25 Nov 12:00: scrap (of the other one)" in screen
        assert "● 25 Nov 11:00: redo, one third darker" in screen
        await press(pilot, "space", "enter")
        assert "A judgement of print #0002 deleted · u undoes it" in shown(pilot)
        assert isinstance(app_of(pilot).screen, PrintPage) and "To be redone" in shown(pilot)
        assert verdicts(judged) == ["redo"]
        await press(pilot, "u")
        assert verdicts(judged) == ["redo", "scrap"]


async def test_an_earlier_one_is_taken_out_from_the_list_of_prints_too(opened: Opened, judged: Path) -> None:
    async with opened(judged) as pilot:
        await press(pilot, "2")
        await app_of(pilot).action_perform("take-out-judgement")
        await press(pilot, "down", "space", "enter")
    assert verdicts(judged) == ["scrap"]


async def test_taking_none_out_or_leaving_changes_nothing(opened: Opened, judged: Path) -> None:
    async with opened(judged) as pilot:
        await press(pilot, "2", "enter", "D", "enter")
        assert "no judgement was taken out" in shown(pilot)
        await press(pilot, "space", "escape")
        assert isinstance(app_of(pilot).screen, PrintPage)
    assert verdicts(judged) == ["redo", "scrap"]


async def test_where_nobody_has_judged_there_is_nothing_to_take_out(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "2", "enter", "D")
        assert "nobody has judged this print yet" in shown(pilot)
