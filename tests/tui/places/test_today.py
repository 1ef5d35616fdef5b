"""Today: what it says, what its list holds, and how it looks."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import msgspec
import pytest
from textual.content import Content

from logbook.actions import judging
from logbook.records import Cartridge, Judgement, Order
from logbook.reports.bench import standing, today
from logbook.snapshot import take
from logbook.store import Store, journal, open_store
from logbook.tui.frame.standing_line import standing_words
from logbook.tui.widgets.ink_levels import InkLevels
from tests.studio import MORNING, RAG, ROLL, furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown

DAY = MORNING.date()


def test_the_sentences_say_what_is_loaded_what_is_left_and_what_waits(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("a"), sheet("b", hours=1))
    assert today.sentences(today.answer(take(store, DAY))) == (
        "Matte black is loaded. 2.34 m of the Tideway Rag 310 roll are left, about 7 prints at 30×40 cm.",
        "2 prints wait for their judgement.",
    )
    judging.judge(store, "a", verdict="keep")
    assert today.sentences(today.answer(take(store, DAY)))[1] == "One print waits for its judgement."
    judging.judge(store, "b", verdict="keep")
    assert len(today.sentences(today.answer(take(store, DAY)))) == 1


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ((9,), None),
        ((8, 3), "Promised next: “order 1”, 2 prints, Saturday 28 November."),
        ((0,), "Promised next: “order 0”, 2 prints, today."),
        ((-2, 3), "“order 0” is late: 2 prints, promised for 23 Nov."),
        ((-2, -5), "2 orders are late, “order 1” the longest."),
    ],
)
def test_what_was_promised_soon_or_is_late_is_said(store: Store, days: tuple[int, ...], said: str | None) -> None:
    furnish(store)
    for number, ahead in enumerate(days):
        due = DAY + timedelta(days=ahead)
        order = Order(id=str(number), title=f"order {number}", prints=2, taken=DAY - timedelta(days=9), paper="rag", promised=due)
        journal.write(store, "an order", save=[order])
    sentences = today.sentences(today.answer(take(store, DAY)))
    assert (said in sentences) if said is not None else len(sentences) == 1


def test_an_ink_that_was_nearly_empty_is_named(store: Store) -> None:
    furnish(store)
    cartridge = Cartridge(id="c", printer="printer", ink="light_cyan", installed=MORNING, nominal_ml=80, start_percent=7)
    journal.write(store, "a part-used cartridge", save=[cartridge])
    assert "Nearly empty when last read: light cyan at 7 %." in today.sentences(today.answer(take(store, DAY)))


def test_a_used_up_roll_makes_not_one_print(store: Store) -> None:
    furnish(store)
    journal.write(store, "short", save=[msgspec.structs.replace(ROLL, length_mm=400)])
    print_out(store, sheet("a"))
    words = today.sentences(today.answer(take(store, DAY)))[0]
    assert words.endswith("7 cm of the Tideway Rag 310 roll are left, not one print at 30×40 cm.")


def test_earlier_prints_that_wait_stand_below_those_of_the_day_and_strips_do_not_wait(store: Store) -> None:
    furnish(store)
    old = [sheet("old", hours=-48), sheet("judged", hours=-47), sheet("strip", hours=-46, purpose="strip")]
    print_out(store, *old, sheet("new"))
    journal.write(store, "seen", save=[Judgement(id="j", print="judged", at=MORNING, verdict="keep")])
    answer = today.answer(take(store, DAY))
    assert [line.id for line in answer.lines] == ["new", "old"]
    assert answer.waiting == 2


def test_on_a_day_without_prints_the_last_day_shows(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("a", hours=-24))
    answer = today.answer(take(store, DAY))
    assert (answer.day, [line.id for line in answer.lines]) == (DAY - timedelta(days=1), ["a"])


def test_an_empty_logbook_has_nothing_to_say_but_what_is_to_be_set_up(store: Store) -> None:
    answer = today.answer(take(store, DAY))
    assert today.sentences(answer) == ()
    assert answer.steps_left == ("printer", "paper", "light", "screen")


@pytest.fixture
def bench_path(tmp_path: Path) -> Path:
    """A morning's prints: two attempts, one judged, one from the day before that waits."""
    from logbook.actions.levels import read_levels
    from tests.studio import LEVELS, SETTINGS

    path = tmp_path / "bench.db"
    with open_store(path) as store:
        furnish(store)
        read_levels(store, "printer", LEVELS, MORNING)
        first = sheet("first")
        second = sheet("second", hours=1, attempt_of="first", settings={**SETTINGS, "shadow_lift": 9})
        print_out(store, sheet("before", hours=-20, picture="groyne"), first, second)
        judging.judge(store, "first", darkness=-2, verdict="redo", light="wall", at=MORNING + timedelta(minutes=40))
    return path


async def test_the_cursor_chooses_the_print_that_the_keys_mean(opened: Opened, bench_path: Path) -> None:
    async with opened(bench_path) as pilot:
        assert app_of(pilot).chosen_print() == "second"
        await press(pilot, "j")
        assert app_of(pilot).chosen_print() == "first"
        await press(pilot, "v")
        assert "Judge #0002 Ebb at Low Stair, again" in shown(pilot)
        await press(pilot, "escape", "G", "enter")
        assert "#0001 Winter Groyne" in shown(pilot)
        await press(pilot, "escape")
        assert app_of(pilot).chosen_print() == "before"


async def test_what_another_program_writes_comes_in(opened: Opened, bench_path: Path) -> None:
    async with opened(bench_path) as pilot:
        with open_store(bench_path) as store:
            print_out(store, sheet("elsewhere", hours=2, picture="groyne"))
        await press(pilot, "R")
        assert "0004" in shown(pilot)
        assert app_of(pilot).chosen_print() == "elsewhere"


async def test_markup_in_a_title_is_shown_as_the_text_it_is(opened: Opened, bench_path: Path) -> None:
    from tests.studio import EBB

    with open_store(bench_path) as store:
        journal.write(store, "title", save=[msgspec.structs.replace(EBB, title="[red]Ebb[/] \u202e")])
    async with opened(bench_path, size=(120, 36)) as pilot:
        assert "[red]Ebb[/] \ufffd" in shown(pilot)


async def test_a_print_judged_wet_comes_back_when_its_paper_is_dry(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "wet.db"
    made = {"wet": -6, "redone": -6.5, "dry": -7, "other paper": -5, "long ago": -24 * 8}
    with open_store(path) as store:
        furnish(store)
        journal.write(store, "dries fast", save=[msgspec.structs.replace(RAG, dry_hours=4)])
        slow = {"other paper": {"paper": "baryta", "stock": "glossy-roll"}}
        print_out(store, *(sheet(id, hours=hours, **slow.get(id, {})) for id, hours in made.items()))
        for id, hours in made.items():
            at = MORNING + timedelta(hours=hours + 1)
            judging.judge(store, id, at=at, verdict="redo" if id == "redone" else "keep", darkness=-1, hours_dry=1)
        judging.judge(store, "dry", at=MORNING, verdict="keep", hours_dry=7)
        log = take(store, DAY)
        assert [line.id for line in today.answer(log, MORNING).lines if line.again] == ["wet"]
        assert "One that was judged wet may be seen again, dry." in today.sentences(today.answer(log, MORNING))
        later = today.answer(log, MORNING + timedelta(hours=20))
        assert {line.id for line in later.lines if line.again} == {"wet", "other paper"}
        print_out(store, sheet("new"))
    async with opened(path, size=(120, 36)) as pilot:
        assert "keep?" in shown(pilot)
        await press(pilot, "v")
        assert "Judge #0006" in shown(pilot)
        await press(pilot, "k", "enter", "v")
        assert "Judge #0001" in shown(pilot)
        await press(pilot, "0", "k", "enter")
        assert "may be seen again" not in shown(pilot)


async def test_v_goes_on_to_the_next_print_that_waits(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "waiting.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("a"), sheet("b", hours=1), sheet("strip", hours=1.5, purpose="strip"), sheet("c", hours=2))
    async with opened(path) as pilot:
        for number in (4, 2, 1):
            await press(pilot, "v")
            assert f"#{number:04d}" in shown(pilot)
            await press(pilot, "k", "enter")
        await press(pilot, "v")
        assert "#0004" in shown(pilot)


@pytest.mark.parametrize(("percent", "accent"), [(7, ["low: light cyan 7 %"]), (40, [])])
def test_low_ink_carries_the_accent_and_a_word(store: Store, percent: float, accent: list[str]) -> None:
    furnish(store)
    levels = {"light_cyan": percent, "cyan": 60, "photo_black": 3}
    cartridges = [
        Cartridge(id=ink, printer="printer", ink=ink, installed=MORNING, nominal_ml=80, start_percent=level)
        for ink, level in levels.items()
    ]
    journal.write(store, "part-used cartridges", save=cartridges)
    log = take(store, DAY)
    assert accented(standing_words(standing.answer(log), 120)) == accent
    bars = InkLevels()
    bars.show(tuple(level for level in today.answer(log).levels if level.percent is not None))
    assert accented(bars.across(120)) == (["low ", "   7"] if accent else [])


def accented(words: Content) -> list[str]:
    """The pieces in the accent's colour."""
    return [words.plain[span.start : span.end] for span in words.spans if "$asks" in str(span.style)]
