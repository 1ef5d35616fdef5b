"""Judging by keys."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from logbook.picture.strip import number_to_log
from logbook.records import Judgement, Light, Print
from logbook.store import journal, open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown

KEEP_ONE_THIRD_DARK = ("v", "1", "k", "enter")


def judgements(path: Path) -> list[Judgement]:
    with open_store(path) as store:
        return reading.every(store, Judgement)


async def test_four_keys_judge_the_newest_print_as_keep_one_third_dark(opened: Opened, studio: Path) -> None:
    assert len(KEEP_ONE_THIRD_DARK) == 4
    async with opened(studio) as pilot:
        await press(pilot, *KEEP_ONE_THIRD_DARK)
        assert "#0002 judged: keep, one third dark · u undoes it" in shown(pilot)
        (seen,) = judgements(studio)
        assert (seen.print, seen.verdict, seen.darkness) == ("two", "keep", -1)
        assert (seen.light, seen.hours_dry, seen.flaws) == ("wall", 4.5, None)
        await press(pilot, "u")
        assert judgements(studio) == []


async def test_minus_and_arrows_move_along_the_thirds_and_letters_choose(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "down", "v", "minus", "minus", "right", *"rbdl")
        screen = shown(pilot)
        assert "one third dark" in screen
        assert "● redo" in screen
        assert "● blocked" in screen
        await press(pilot, "plus", "plus", "enter")
        assert "#0001 judged: redo, one third light, shadows blocked, dust, blotch" in shown(pilot)
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
        assert "25 Nov 14:30 under window wall, 4.5 h dry: keep, one third dark" in screen
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
        assert "one stop dark" in shown(pilot)
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
