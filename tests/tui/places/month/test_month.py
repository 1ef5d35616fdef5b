"""Month: the review, its views, stepping through months, and the prints behind the figures."""

from __future__ import annotations

import shutil
import threading
from datetime import date
from pathlib import Path

import msgspec
import pytest
from textual.pilot import Pilot

from logbook.reports.month import answer as month_answer
from logbook.reports.month.model import MonthAnswer
from logbook.snapshot import take
from logbook.store import Store, columns, journal, open_store
from logbook.store.columns import Prints
from logbook.tui.places.month.month import Month
from logbook.tui.places.month.month_charts import keepers_plot
from logbook.tui.places.month.prints import MonthPrints
from logbook.tui.places.prints.page import PrintPage
from logbook.tui.places.prints.prints import Prints as PrintsPlace
from tests.reports.month import log as month_log
from tests.studio import print_out, sheet, with_a_print
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


@pytest.fixture
def demo_copy(demo_path: Path, tmp_path: Path) -> Path:
    """A demonstration of its own, for a program that may write to it."""
    copy = tmp_path / "demo-copy.db"
    shutil.copy(demo_path, copy)
    return copy


def place(pilot: Pilot[None]) -> Month:
    open_place = app_of(pilot).place
    assert isinstance(open_place, Month)
    return open_place


def novembers(path: Path) -> Prints:
    """The prints of the demonstration's last month, from its columns."""
    with open_store(path) as store:
        return columns.prints(store, since=date(2026, 11, 1))


def views_line(text: str) -> str:
    return next(line for line in text.splitlines() if "‹" in line)


async def test_the_running_month_opens_with_what_was_kept(demo_copy: Path, opened: Opened) -> None:
    prints = novembers(demo_copy)
    async with opened(demo_copy) as pilot:
        await press(pilot, "6")
        text = shown(pilot)
        judged, kept = (prints.verdict != None).sum(), (prints.verdict == "keep").sum()  # noqa: E711
        assert f"November 2026, so far. {kept} of {judged} prints with a verdict were kept: " in text
        assert "‹month›" in views_line(text)
        assert "[ month before" in text
        assert "] month after" not in text


async def test_one_key_steps_through_the_months(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "left_square_bracket")
        assert "October 2026. " in shown(pilot)
        assert "] month after" in shown(pilot)
        await press(pilot, "left")
        assert "September 2026. " in shown(pilot)
        await press(pilot, "right_square_bracket", "right")
        assert "November 2026, so far" in shown(pilot)
        await press(pilot, "right_square_bracket")
        assert "November 2026, so far" in shown(pilot)


async def test_stepping_ends_at_the_first_month_of_the_log(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6")
        for _ in range(20):
            await press(pilot, "left_square_bracket")
        assert "May 2025. " in shown(pilot)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_tab_goes_through_the_views_and_shows_each(demo_copy: Path, opened: Opened, size: tuple[int, int]) -> None:
    async with opened(demo_copy, size=size) as pilot:
        await press(pilot, "6", "left_square_bracket")
        expected = {
            "papers": "all papers",
            "drift": "usual range from",
            "money": "ink of the prints",
            "sales": "Sold",
            "to do": "weeks ago",
            "month": "No clear difference from the rate in September 2026",
        }
        for view, words in expected.items():
            await press(pilot, "tab")
            text = shown(pilot)
            assert f"‹{view}›" in views_line(text)
            assert words in text
        await press(pilot, "shift+tab")
        assert "‹to do›" in views_line(shown(pilot))


async def test_a_click_on_a_views_name_opens_it(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6")
        line = shown(pilot).splitlines().index(views_line(shown(pilot)))
        await pilot.click(offset=(views_line(shown(pilot)).index("sales") + 1, line))
        await settled(pilot)
        assert "‹sales›" in views_line(shown(pilot))
        await pilot.click(offset=(views_line(shown(pilot)).index("papers") + 1, line))
        await settled(pilot)
        assert "‹papers›" in views_line(shown(pilot))


async def test_reading_on_scrolls_a_long_view(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6")
        assert "cost per keeper" not in shown(pilot)
        await press(pilot, "pagedown", "pagedown", "j")
        assert "cost per keeper" in shown(pilot)


async def test_a_paper_opens_its_prints_and_a_print_its_page(demo_copy: Path, opened: Opened) -> None:
    on_rag = (novembers(demo_copy).paper == "tideway-rag").sum()
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "tab", "down", "enter")
        prints = app_of(pilot).place
        assert isinstance(prints, MonthPrints)
        assert f"November 2026: {on_rag} prints on Tideway Rag 310" in shown(pilot)
        await press(pilot, "enter")
        assert isinstance(app_of(pilot).place, PrintPage)
        await press(pilot, "escape")
        assert isinstance(app_of(pilot).place, MonthPrints)
        await press(pilot, "escape")
        assert "‹papers›" in views_line(shown(pilot))


async def test_the_whole_months_prints_open_from_the_other_views(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "enter")
        assert f"November 2026: {len(novembers(demo_copy))} prints, in the sequence they were made." in shown(pilot)


async def test_the_places_keep_their_keys_after_a_visit(demo_copy: Path, opened: Opened) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "5", "4", "6", "tab")
        assert "‹papers›" in views_line(shown(pilot))
        await press(pilot, "2")
        assert isinstance(app_of(pilot).place, PrintsPlace)


async def test_an_empty_logbook_says_so_in_every_view(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "6")
        assert "Nothing has been printed yet in November 2026." in shown(pilot)
        for _ in range(6):
            await press(pilot, "tab")
        assert place(pilot).is_current


async def test_text_that_looks_like_markup_is_shown_as_it_is(tmp_path: Path, opened: Opened) -> None:
    path = tmp_path / "hostile.db"
    with open_store(path) as store:
        records = [*month_log.furniture(name="[red]rag[/] \\[x]", title="[b]Ebb[/b]"), *month_log.october()]
        journal.write(store, "hostile", save=records)
    async with opened(path) as pilot:
        await press(pilot, "6", "left_square_bracket", "tab")
        assert "[red]rag[/]" in shown(pilot)
        await press(pilot, "tab", "tab")
        await press(pilot, "pagedown")
        assert "[b]Ebb[/b]" in shown(pilot)


async def test_the_page_of_the_month_is_written_into_the_folder_one_started_from(
    demo_copy: Path, opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "left_square_bracket", "W")
        await pilot.app.workers.wait_for_complete()
    assert "October 2026" in (tmp_path / "month-2026-10.html").read_text(encoding="utf-8")
    (tmp_path / "month-2026-10.html").write_text("mine")
    async with opened(demo_copy) as pilot:
        await press(pilot, "6", "left_square_bracket", "W")
        await pilot.app.workers.wait_for_complete()
        await settled(pilot)
        assert "was not made by this program" in shown(pilot)
    assert (tmp_path / "month-2026-10.html").read_text() == "mine"


async def test_nothing_is_said_of_the_papers_before_they_are_known(opened: Opened, monkeypatch: pytest.MonkeyPatch) -> None:
    let_go, read = threading.Event(), Month.read

    def slowly(self: Month, store: Store) -> MonthAnswer:
        assert let_go.wait(60)
        return read(self, store)

    monkeypatch.setattr(Month, "read", slowly)
    async with opened() as pilot:
        await pilot.press("6", "tab")
        await pilot.pause()
        assert "No paper was printed on" not in shown(pilot)
        let_go.set()
        await settled(pilot)
        assert "No paper was printed on in this month." in shown(pilot)


async def test_an_empty_month_says_what_is_there_and_what_is_missing(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "6")
        assert "this is where they stand month by month" in said(pilot)
        assert "█ kept" not in shown(pilot)
        await press(pilot, "tab", "tab")
        assert "wants 8 judged prints of one paper from the months before" in said(pilot)
        assert "there are 0 judged prints" in said(pilot)
        assert "Nothing left its usual range" not in shown(pilot)
        await press(pilot, "tab")
        assert "Nothing was spent in this month that the log knows of." in said(pilot)


async def test_the_first_month_is_told_in_figures_and_drawn_from_the_second_on(opened: Opened, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "one.db")
    async with opened(path) as pilot:
        await press(pilot, "6")
        assert "█ kept" not in shown(pilot)
        await press(pilot, *["pagedown"] * 3)
        assert "From the second month with prints on" in said(pilot)
    with open_store(path) as store:
        print_out(store, sheet("before", hours=-24 * 40))
    async with opened(path) as pilot:
        await press(pilot, "6")
        assert "█ kept" in shown(pilot)


def test_the_numbers_over_the_months_never_run_together(demo_path: Path) -> None:
    with open_store(demo_path) as store:
        told = month_answer.answer(take(store, date(2026, 11, 25)))
    rows = [msgspec.structs.replace(row, prints=1240) for row in (*told.before, told)]
    lines = [line.plain for width in (46, 76, 116) for line in keepers_plot(rows, width)]
    assert [line.split()[0] for line in lines if "12" in line] == ["1240"] * 3


def said(pilot: Pilot[None]) -> str:
    """What is shown, on one line."""
    return " ".join(shown(pilot).split())
