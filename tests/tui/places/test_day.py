"""A day put right: every kind of line is opened, given another time or corrected, taken out, and brought back."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from logbook.actions import cartridges, exchanging, levels, orders
from logbook.records import Cartridge, Changeover, Cleaning, Gauge, Judgement, Order, Print, Record, Stock, kind_of
from logbook.records.fields import Black
from logbook.reports.bench.day import KINDS_OF_A_DAY
from logbook.store import Store, journal, open_store, reading
from logbook.tui.forms.what_moves import KEYS_REST_S
from logbook.tui.places.day import DayPage
from logbook.tui.widgets.fields.numbers_row import NumbersRow
from tests.studio import AFTER_EXCHANGE, LEVELS, MORNING, ROLL, furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, form
from tests.tui.screens import app_of, press, shown

YESTERDAY = MORNING - timedelta(days=1)


def one_of_each(store: Store) -> None:
    """A day with one of each kind; the roll and the order bear an id that nothing refers to."""
    furnish(store)
    print_out(store, sheet("one"))
    day: list[Record] = [
        Order(id="order", title="three for the stair", prints=3, taken=MORNING.date(), paper="rag"),
        Stock(id="fresh", paper="rag", opened=MORNING, width_mm=432, length_mm=15_000),
        Cartridge(id="yellow", printer="printer", ink="yellow", installed=MORNING, nominal_ml=80),
        Changeover(id="change", printer="printer", at=MORNING, from_black="matte", to_black="photo", minutes=51),
        Gauge(id="round", printer="printer", at=MORNING, levels={"cyan": 70, "magenta": 66}),
        Cleaning(id="cleaning", printer="printer", at=MORNING, strength="light"),
        Judgement(id="seen", print="one", at=MORNING, verdict="redo", darkness=-2, flaws=("dust", "crease")),
    ]
    journal.write(store, "a day", save=day)


@pytest.fixture
def full_day(tmp_path: Path) -> Path:
    """A logbook with one of each kind on the day that the program thinks it is."""
    path = tmp_path / "day.db"
    with open_store(path) as store:
        one_of_each(store)
    return path


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A logbook with the small studio and no print."""
    path = tmp_path / "bare.db"
    with open_store(path) as store:
        furnish(store)
    return path


def there(path: Path, kind: type[Record], id: str) -> Any:
    """What the file holds of a record."""
    with open_store(path) as store:
        return reading.get(store, kind, id)


async def go_to(pilot: Any, id: str) -> None:
    """Put the cursor on a line of the day."""
    page = app_of(pilot).place
    assert isinstance(page, DayPage)
    await press(pilot, "g")
    for _ in range(20):
        if page.row is not None and page.row.id == id:
            return
        await press(pilot, "down")
    raise AssertionError(f"no line {id}")


@pytest.mark.parametrize(
    ("kind", "id", "field", "typed", "attribute", "became"),
    [
        (Order, "order", "taken", "yesterday", "taken", YESTERDAY.date()),
        (Stock, "fresh", "opened", "yesterday 9:00", "opened", YESTERDAY),
        (Cartridge, "yellow", "installed", "tue 9:00", "installed", YESTERDAY),
        (Changeover, "change", "at", "yesterday 9:00", "at", YESTERDAY),
        (Gauge, "round", "at", "24 nov 9:00", "at", YESTERDAY),
        (Cleaning, "cleaning", "at", "24.11. 9:00", "at", YESTERDAY),
        (Print, "one", "at", "2026-11-24 9:00", "at", YESTERDAY),
        (Judgement, "seen", "at", "yesterday 9:00", "at", YESTERDAY),
    ],
)
async def test_each_kind_is_opened_given_another_time_and_brought_back(
    opened: Opened, full_day: Path, kind: type[Record], id: str, field: str, typed: str, attribute: str, became: object
) -> None:
    was = there(full_day, kind, id)
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, id)
        await press(pilot, "enter")
        await fill(pilot, field, typed)
        await press(pilot, "ctrl+s")
        changed = there(full_day, kind, id)
        assert getattr(changed, attribute) == became
        assert [name for name in was.__struct_fields__ if getattr(was, name) != getattr(changed, name)] == [attribute]
        await press(pilot, "u")
        assert there(full_day, kind, id) == was


@pytest.mark.parametrize("kind", KINDS_OF_A_DAY)
async def test_each_kind_is_taken_out_and_brought_back(opened: Opened, full_day: Path, kind: type[Record]) -> None:
    with open_store(full_day) as store:
        was = next(one for one in reading.every(store, kind) if one.id != ROLL.id and one.id != "glossy-roll")
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, was.id)
        await press(pilot, "d", "d")
        assert there(full_day, kind, was.id) is None, kind_of(kind)
        await press(pilot, "u")
        assert there(full_day, kind, was.id) == was


async def test_levels_and_verdicts_are_corrected(opened: Opened, full_day: Path) -> None:
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "round")
        await press(pilot, "enter", "tab", "shift+tab")
        await fill_levels(pilot, cyan=71)
        await press(pilot, "ctrl+s")
        assert there(full_day, Gauge, "round").levels == {"cyan": 71, "magenta": 66}
        await go_to(pilot, "seen")
        await press(pilot, "enter", "k", "ctrl+s")
        seen = there(full_day, Judgement, "seen")
        assert (seen.verdict, seen.darkness, seen.flaws) == ("keep", -2, ("dust", "crease"))


async def fill_levels(pilot: Any, **numbers: float) -> None:
    """Type levels into the open form."""
    row = form(pilot).field("levels", NumbersRow)
    row.restore({**row.draft(), **numbers})
    row.changed()


async def test_the_keys_go_through_the_days_and_back(opened: Opened, full_day: Path) -> None:
    async with opened(full_day) as pilot:
        await press(pilot, "4", "E")
        assert "Wednesday 25 November 2026" in shown(pilot)
        assert "matte to photo" in shown(pilot)
        await press(pilot, "left_square_bracket")
        assert "Tuesday 24 November 2026" in shown(pilot)
        assert "Nothing is logged for this day." in shown(pilot)
        await press(pilot, "right_square_bracket", "right_square_bracket")
        assert "Thursday 26 November 2026" in shown(pilot)
        await press(pilot, "escape")
        assert app_of(pilot).current_mode == "ink"
        assert not isinstance(app_of(pilot).place, DayPage)


async def test_a_cartridge_put_right_takes_the_one_before_along(opened: Opened, full_day: Path) -> None:
    with open_store(full_day) as store:
        cartridges.install(store, "printer", "yellow", installed=MORNING + timedelta(hours=2))
        new = reading.every(store, Cartridge)[-1]
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, new.id)
        await press(pilot, "enter")
        await fill(pilot, "installed", "10:30")
        await press(pilot, "ctrl+s")
        assert f"{there(full_day, Cartridge, 'yellow').removed:%H:%M}" == "10:30"
        await press(pilot, "d", "d")
        assert there(full_day, Cartridge, "yellow").removed is None
        await press(pilot, "u", "u")
        assert f"{there(full_day, Cartridge, 'yellow').removed:%H:%M}" == "11:00"


async def test_a_changeover_put_right_takes_its_levels_along(opened: Opened, bare: Path) -> None:
    with open_store(bare) as store:
        exchanging.exchange(store, "printer", at=MORNING, minutes=50, before=LEVELS, after=AFTER_EXCHANGE)
        change = reading.every(store, Changeover)[0]
    async with opened(bare) as pilot:
        await press(pilot, "E")
        await go_to(pilot, change.id)
        await press(pilot, "enter")
        await fill(pilot, "at", "10:00")
        await press(pilot, "ctrl+s")
        with open_store(bare) as store:
            assert [f"{one.at:%H:%M:%S}" for one in reading.every(store, Gauge)] == ["09:59:59", "10:50:00"]
        await go_to(pilot, change.id)
        await press(pilot, "d", "d")
        with open_store(bare) as store:
            assert reading.count(store, Gauge) == reading.count(store, Changeover) == 0
        await press(pilot, "u")
        assert there(bare, Changeover, change.id) is not None
        await go_to(pilot, change.before or "")
        await press(pilot, "d", "d")
        assert there(bare, Changeover, change.id).before is None


async def test_levels_that_rise_are_refused_where_they_are_put_right(opened: Opened, full_day: Path) -> None:
    with open_store(full_day) as store:
        levels.read_levels(store, "printer", {"cyan": 60}, MORNING + timedelta(hours=1))
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "round")
        await press(pilot, "enter")
        await fill_levels(pilot, cyan=50)
        await press(pilot, "ctrl+s")
        assert "cyan rose from 50 to 60 %" in shown(pilot)
    assert there(full_day, Gauge, "round").levels["cyan"] == 70


async def test_an_order_follows_the_verdict_that_is_put_right(opened: Opened, bare: Path) -> None:
    with open_store(bare) as store:
        orders.take(store, "one for the stair", 1, paper="rag", taken=MORNING.date())
        order = reading.every(store, Order)[0]
        print_out(store, sheet("one", order=order.id))
        journal.write(store, "seen", save=[Judgement(id="seen", print="one", at=MORNING, verdict="redo")])
    async with opened(bare) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "seen")
        await press(pilot, "enter", "k", "ctrl+s")
        assert there(bare, Order, order.id).done == MORNING.date()
        await press(pilot, "u")
        assert there(bare, Order, order.id).done is None


async def test_e_opens_the_line_too_be_it_no_print(opened: Opened, full_day: Path) -> None:
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "cleaning")
        await press(pilot, "e", "d", "ctrl+s")
        assert there(full_day, Cleaning, "cleaning").strength == "deep"
        assert isinstance(app_of(pilot).place, DayPage)


async def test_what_a_correction_changes_is_said_before_it_is_saved(opened: Opened, full_day: Path) -> None:
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "order")
        await press(pilot, "enter")
        await fill(pilot, "prints", "5")
        await told(pilot)
        assert "Saved like this: left to print 3 matte, 0 photo → 5 matte, 0 photo" in shown(pilot)
        assert there(full_day, Order, "order").prints == 3
        await fill(pilot, "prints", "no number")
        await told(pilot)
        assert "Saved like this" not in shown(pilot)
        await press(pilot, "escape")


async def test_what_a_line_taken_out_changes_is_said_first_and_it_may_stay_in(opened: Opened, full_day: Path) -> None:
    async with opened(full_day) as pilot:
        await press(pilot, "E")
        await go_to(pilot, "change")
        await press(pilot, "d")
        await told(pilot)
        assert "Without it: loaded photo black → matte black" in " ".join(shown(pilot).split())
        await press(pilot, "escape")
        assert "Without it" not in shown(pilot)
        await press(pilot, "d", "down", "d")
        assert there(full_day, Changeover, "change") is not None
        await press(pilot, "escape", "escape")
        assert not isinstance(app_of(pilot).place, DayPage)


async def test_the_changeover_between_two_is_not_taken_out_in_silence(opened: Opened, bare: Path) -> None:
    days = [MORNING - timedelta(days=days) for days in (2, 1, 0)]
    ways: tuple[tuple[Black, Black], ...] = (("matte", "photo"), ("photo", "matte"), ("matte", "photo"))
    changes = [
        Changeover(id=f"change-{place}", printer="printer", at=at, from_black=old, to_black=new)
        for place, (at, (old, new)) in enumerate(zip(days, ways, strict=True))
    ]
    with open_store(bare) as store:
        journal.write(store, "changeovers", save=changes)
    async with opened(bare) as pilot:
        await press(pilot, "E", "left_square_bracket")
        await go_to(pilot, "change-1")
        await press(pilot, "d")
        await told(pilot)
        assert "matte to photo twice in a row (23 Nov and 25 Nov) is new" in " ".join(shown(pilot).split())
        await press(pilot, "d")
        assert there(bare, Changeover, "change-1") is None
        assert "now two in a row go matte to photo" in shown(pilot)
        await press(pilot, "right_square_bracket")
        assert "as on 23 Nov" in shown(pilot)
        await press(pilot, "u", "left_square_bracket")
        assert there(bare, Changeover, "change-1") == changes[1]
        await press(pilot, "right_square_bracket")
        assert "as on 23 Nov" not in shown(pilot)


async def told(pilot: Any) -> None:
    """Until what a change would come to is worked out."""
    await pilot.pause(KEYS_REST_S + 0.1)
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


def test_a_changeover_at_an_earlier_time_is_held_against_the_later_one(bare: Path) -> None:
    with open_store(bare) as store:
        exchanging.exchange(store, "printer", at=MORNING)
        said = exchanging.exchange(store, "printer", at=MORNING - timedelta(days=1)).said
    assert "now two in a row go matte to photo" in said
