"""Batches: the verdict, the calendar, the orders, the map, and supposing without saving."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from logbook.records import Bench, Order
from logbook.snapshot import take
from logbook.snapshot.away import times_away
from logbook.store import Store, journal, open_store, reading
from logbook.tui.places.batches.batches import Batches
from logbook.tui.running.themes import TERMINAL
from tests import studio
from tests.studio import MORNING
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


def place_of(pilot: object) -> Batches:
    place = app_of(pilot).place  # type: ignore[arg-type]
    assert isinstance(place, Batches)
    return place


def words(pilot: object) -> str:
    """The screen without its line ends."""
    return " ".join(shown(pilot).split())  # type: ignore[arg-type]


COST, PRINTS = r"A changeover and back costs ([\d.]+\d)", r"exchange (?:on|by) .{6,12} for (\d+) photo prints"


def told(pilot: object, pattern: str) -> float:
    """The figure that the screen tells."""
    found = re.search(pattern, words(pilot))
    assert found is not None
    return float(found[1])


async def test_an_empty_logbook_says_what_to_press(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "5")
        assert "No order is open. Press o to take an order." in words(pilot)
        assert "No printer is described yet." in shown(pilot)
        await press(pilot, "tab")
        assert "Press o to take one." in shown(pilot)
        await press(pilot, "d", "enter", "less_than_sign", "plus", "escape", "tab", "tab", "shift+tab")
        assert isinstance(app_of(pilot).screen, Batches)


async def test_the_verdict_comes_first_and_the_calendar_tells_blacks_by_texture_and_word(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5")
        screen = shown(pilot)
        assert re.match(r"Not yet\. Print the \d+ matte prints today; exchange (on|by) ", screen.splitlines()[2].strip())
        assert told(pilot, PRINTS) > 0
        assert "times in 100" in screen
        assert "▒ matte" in screen
        assert "⇄ ░ photo" in screen
        assert "›Wed 25" in screen
        assert "◆1" in screen


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (160, 45)])
async def test_everything_fits_the_width(opened: Opened, demo_copy: Path, size: tuple[int, int]) -> None:
    async with opened(demo_copy, size=size) as pilot:
        await press(pilot, "5")
        for _ in range(4):
            assert max(len(line) for line in shown(pilot).splitlines()) <= size[0]
            await press(pilot, "tab")


async def test_orders_show_how_their_dates_stand(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "tab")
        for word in ("late", "soon", "in time", "no date"):
            assert word in shown(pilot)


async def test_headings_stand_over_their_columns(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy, size=(120, 36)) as pilot:
        await press(pilot, "5", "tab")
        heading, *rows = (line for line in shown(pilot).splitlines() if "promised" in line or "in time" in line)
        assert heading.index("promised") == re.search(r"(Mon|Tue|Wed|Thu|Fri|Sat|Sun) ", rows[0]).start()  # type: ignore[union-attr]


async def test_the_map_tells_its_regions_apart_without_colour_and_marks_today(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        app_of(pilot).theme = TERMINAL
        await press(pilot, "5", "tab", "tab")
        screen = shown(pilot)
        assert "◉ today   · stay on matte   ░ exchange for photo" in screen
        assert screen.count("◉") == 2
        assert "·░" in screen


async def test_a_click_on_a_name_opens_the_view(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5")
        await pilot.click("#batch-views", offset=(9, 0))
        await settled(pilot)
        assert "‹orders›" in shown(pilot)


async def test_past_changeovers_stand_beside_the_verdict_of_their_morning(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "shift+tab")
        assert "changeovers in the last half year" in shown(pilot)
        assert "due by the rule" in words(pilot)


async def test_supposing_moves_the_plan_and_saves_nothing(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5")
        before, cost, prints = reading_of(demo_copy), told(pilot, COST), told(pilot, PRINTS)
        await press(pilot, "plus", "plus")
        assert told(pilot, f"Supposed, not saved: {COST.replace('A', 'a', 1)}") == pytest.approx(cost * 1.21, abs=0.02)
        await press(pilot, "s", "s")
        assert "2 photo prints more" in words(pilot)
        assert told(pilot, PRINTS) == prints + 2
        await press(pilot, "tab", "end", "less_than_sign", "less_than_sign")
        assert "promised for Mon 23 Nov" in words(pilot)
        assert place_of(pilot).supposes
        await press(pilot, "escape")
        assert "Supposed" not in shown(pilot)
        assert reading_of(demo_copy) == before


def reading_of(path: Path) -> tuple[list[Order], list[Bench]]:
    with open_store(path) as store:
        return reading.every(store, Order), reading.every(store, Bench)


async def test_a_supposed_order_cannot_be_closed(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "s", "tab", "end")
        assert place_of(pilot).row is not None and place_of(pilot).row.id == "supposed-photo"  # type: ignore[union-attr]
        await press(pilot, "d", "enter")
        assert isinstance(app_of(pilot).screen, Batches)


async def test_an_order_is_closed_and_opened_again(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "tab")
        row = place_of(pilot).row
        assert row is not None
        await press(pilot, "d")
        assert "Nothing of it is kept yet: d again logs it as done, C as called off" in shown(pilot)
        assert place_of(pilot).row == row
        await press(pilot, "d")
        assert " done with 0 of 2 kept" in shown(pilot)
        assert place_of(pilot).row is not None and place_of(pilot).row.id != row.id  # type: ignore[union-attr]
        await press(pilot, "u", "home")
        assert place_of(pilot).row is not None and place_of(pilot).row.id == row.id  # type: ignore[union-attr]


async def test_an_order_is_called_off_and_taken_up_again(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "tab")
        row = place_of(pilot).row
        assert row is not None
        await press(pilot, "C")
        assert " called off" in shown(pilot)
        assert [one.cancelled for one in reading_of(demo_copy)[0] if one.id == row.id] == [MORNING.date()]
        await press(pilot, "u", "home")
        assert place_of(pilot).row is not None and place_of(pilot).row.id == row.id  # type: ignore[union-attr]


async def test_enter_changes_the_chosen_order(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "tab", "enter")
        assert "Change the order" in shown(pilot)


async def test_days_away_are_noted_in_a_few_keys_and_taken_out_again(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "A", *"+1", "tab", *"+9", "enter")
        assert "Days away noted" in shown(pilot)
        assert " away" in shown(pilot)
        assert "exchange on Tue 8 Dec for" in words(pilot)
        await press(pilot, "A", "tab", "tab", "space", "enter")
        assert "No days away" in shown(pilot)
        assert await app_of(pilot).desk.run(lambda store: times_away(take(store))) == ()


async def test_bench_times_are_changed_here(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "5", "B")
        assert "Bench times of" in shown(pilot)


def due(store: Store) -> None:
    """A studio whose photo batch is due today."""
    studio.furnish(store)
    bench = Bench(
        id="bench", printer="printer", weekdays=(1, 2, 3, 4, 5), minutes_per_day=200, minutes_per_print=20, changeover_minutes=45
    )
    day = studio.MORNING.date()
    order = Order(id="o", title="Three for the stair", prints=3, black="photo", taken=day, promised=day)
    journal.write(store, "a bench and an order", save=[bench, order])


async def test_a_batch_that_is_due_is_said_once_on_its_day(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "due.logbook"
    with open_store(path) as store:
        due(store)
    async with opened(path) as pilot:
        await settled(pilot)
        assert "photo batch due today: 5 shows the plan" in shown(pilot)
        await press(pilot, "5")
        assert "Exchange today for 3 photo prints, because “Three for the stair”" in shown(pilot)
    async with opened(path) as pilot:
        await settled(pilot)
        assert "shows the plan" not in shown(pilot)
        assert "photo" in shown(pilot).splitlines()[-1]
