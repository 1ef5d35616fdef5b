"""Judging by keys."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from logbook.actions import judging
from logbook.picture.strip import number_to_log
from logbook.records import Judgement, Light, Print
from logbook.store import journal, open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line
from tests.studio import MORNING, print_out, sheet, with_a_print
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill
from tests.tui.screens import app_of, press, settled, shown

KEEP_ONE_THIRD_DARK = ("v", "1", "k", "enter")


def judgements(path: Path) -> list[Judgement]:
    with open_store(path) as store:
        return reading.every(store, Judgement)


async def test_four_keys_judge_the_newest_print_as_keep_one_third_dark(opened: Opened, studio: Path) -> None:
    assert len(KEEP_ONE_THIRD_DARK) == 4
    async with opened(studio) as pilot:
        await press(pilot, *KEEP_ONE_THIRD_DARK)
        assert "#0002 judged: keep, one third darker · u undoes it" in shown(pilot)
        (seen,) = judgements(studio)
        assert (seen.print, seen.verdict, seen.darkness) == ("two", "keep", -1)
        assert (seen.light, seen.hours_dry, seen.flaws) == ("wall", 4.5, None)
        await press(pilot, "u")
        assert judgements(studio) == []


async def test_minus_and_arrows_move_along_the_thirds_and_letters_choose(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "down", "v", "minus", "minus", "right", *"rbdl")
        screen = shown(pilot)
        assert "one third darker" in screen
        assert "● redo" in screen
        assert "● blocked" in screen
        await press(pilot, "plus", "plus", "enter")
        assert "#0001 judged: redo, one third lighter, shadows blocked, dust, blotch" in shown(pilot)
    (seen,) = judgements(studio)
    assert (seen.print, seen.darkness, seen.flaws) == ("one", 1, ("dust", "blotch"))


async def test_no_flaws_other_flaws_a_cast_and_a_new_light(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "v", "0", "n", "s")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        for name, text in (("cast", "slightly green"), ("light", "north lamp"), ("note", "hung beside #0001")):
            form.field(name, Field).query_one(Line).value = text
        await settled(pilot)
        await press(pilot, "enter")
        (seen,) = judgements(studio)
        assert (seen.flaws, seen.cast, seen.note) == ((), "slightly green", "hung beside #0001")
        with open_store(studio) as store:
            assert seen.light in {light.id for light in reading.every(store, Light) if light.name == "north lamp"}
        await press(pilot, "u")
        with open_store(studio) as store:
            assert [light.name for light in reading.every(store, Light)] == ["window wall"]


async def test_a_print_is_judged_again_and_its_earlier_judgements_stand_below(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, *KEEP_ONE_THIRD_DARK)
        await press(pilot, "enter", "v")
        screen = shown(pilot)
        assert "Judge #0002 Winter Groyne, again" in screen
        assert "25 Nov 14:30 under window wall, 4.5 h dry: keep, one third darker" in screen
        await press(pilot, "2", "enter")
    assert [(seen.darkness, seen.verdict) for seen in judgements(studio)] == [(-1, "keep"), (-2, None)]


async def test_nothing_seen_is_refused_and_a_half_judged_print_is_kept(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "v", "enter")
        assert "nothing was judged yet" in shown(pilot)
        await press(pilot, "3", "escape")
        assert judgements(studio) == []
    async with opened(studio) as pilot:
        await press(pilot, "v")
        assert "one stop darker" in shown(pilot)
        await press(pilot, "k", "enter")
    assert judgements(studio)[0].darkness == -3


async def test_without_a_print_there_is_nothing_to_judge(opened: Opened, bare: Path) -> None:
    async with opened(bare) as pilot:
        await press(pilot, "v")
        assert "there is no print yet" in shown(pilot)


@pytest.mark.parametrize(("typed", "darkness"), [("1", -1), ("minus 2", -2), ("plus 3", 3), ("0", 0)])
async def test_the_number_at_the_matching_detail_of_a_strip_is_the_darkness(
    opened: Opened, studio: Path, typed: str, darkness: int
) -> None:
    assert number_to_log(-darkness) == (f"{darkness:+d}" if darkness else "0")
    with open_store(studio) as store:
        newest = reading.get(store, Print, "two")
        assert newest is not None
        journal.write(store, "Corrected", save=[msgspec.structs.replace(newest, purpose="strip")])
    async with opened(studio) as pilot:
        await press(pilot, "v")
        assert "the number at the match" in shown(pilot)
        await press(pilot, *typed.split(), "enter")
        (seen,) = judgements(studio)
        assert (seen.print, seen.darkness) == ("two", darkness)


async def test_the_capital_of_a_verdict_saves_at_once(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "v", "1", "K")
        assert "#0002 judged: keep, one third dark" in shown(pilot)
        await press(pilot, "down", "v", "r", "R")
    assert [(seen.print, seen.verdict) for seen in judgements(studio)] == [("two", "keep"), ("one", "redo")]


@pytest.fixture
def copies(tmp_path: Path) -> Path:
    """Three copies of one job of the print queue, and a print logged by hand that was made like them."""
    path = with_a_print(tmp_path / "copies.db", "by hand")
    with open_store(path) as store:
        for copy in (1, 2, 3):
            print_out(store, sheet(f"copy {copy}", hours=copy, job=f"wide 7, {copy} of 3, urn:uuid:7"))
    return path


async def test_every_copy_of_a_job_is_judged_at_once_each_for_itself(opened: Opened, copies: Path) -> None:
    async with opened(copies) as pilot:
        await press(pilot, "v", "1", "K")
        assert "#0002 and 2 more judged: keep, one third dark" in shown(pilot)
        seen = judgements(copies)
        assert {(one.print, one.verdict, one.darkness) for one in seen} == {(f"copy {n}", "keep", -1) for n in (1, 2, 3)}
        assert [one.hours_dry for one in seen] == [4.5, 3.5, 2.5]  # each as dry as it is
        await press(pilot, "u")
    assert judgements(copies) == []


async def test_the_copies_left_out_are_judged_next(opened: Opened, copies: Path) -> None:
    async with opened(copies) as pilot:
        await press(pilot, "v")
        await fill(pilot, "copies", "2-3")
        await press(pilot, "tab", "K")
        assert [one.print for one in judgements(copies)] == ["copy 1", "copy 2"]
        await press(pilot, "2", "R")
        assert not isinstance(app_of(pilot).screen, Form)
    assert [(one.print, one.verdict) for one in judgements(copies)][2:] == [("copy 3", "redo")]


async def test_a_print_made_like_it_is_judged_with_it_only_where_that_is_said(opened: Opened, copies: Path) -> None:
    async with opened(copies) as pilot:
        await press(pilot, "G", "v")
        await fill(pilot, "copies", "1, 4")
        await press(pilot, "tab", "K")
    assert [one.print for one in judgements(copies)] == ["by hand", "copy 3"]


async def test_a_number_that_is_no_copy_of_it_is_said(opened: Opened, copies: Path) -> None:
    async with opened(copies) as pilot:
        await press(pilot, "v")
        await fill(pilot, "copies", "2, 9")
        await press(pilot, "enter")
        assert "no copy of this one: 9" in shown(pilot)
    assert judgements(copies) == []


async def test_beside_what_is_seen_wet_stands_what_the_dry_ones_say(opened: Opened, studio: Path) -> None:
    with open_store(studio) as store:
        print_out(store, *(sheet(f"twice {place}", hours=-24 * (place + 3)) for place in range(3)))
        for place in range(3):
            for hours, darkness in ((1, 0), (24, -1)):
                at = MORNING + timedelta(hours=-24 * (place + 3) + hours)
                judging.judge(store, f"twice {place}", at=at, light="wall", hours_dry=hours, verdict="keep", darkness=darkness)
        print_out(store, sheet("fresh", hours=3))
    async with opened(studio) as pilot:
        await press(pilot, "v")
        await pilot.app.workers.wait_for_complete()
        await settled(pilot)
        assert "Dry-down: 3 prints judged after 1.0 and again after 24 hours" in " ".join(shown(pilot).split())
