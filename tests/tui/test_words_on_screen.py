"""In every place and its help, at 80 and at 60 columns: no two words run together, help folds, months stand whole."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot

from logbook.reports.month.answer import answer as month
from logbook.reports.month.written import tables
from logbook.reports.month.written.words import short_month
from logbook.reports.shared.table import as_plain_text
from logbook.snapshot import take
from logbook.store import Store
from logbook.tui.widgets.lists.view_names import ViewNames
from tests.conftest import DEMO_TODAY
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown

#: A small letter, a digit or a full stop straight before a capital that begins a word; names such as L*a*b* have none.
TOGETHER = re.compile(r"[a-z0-9.,;:)%][A-Z][a-z]{2,}")


async def screens(pilot: Pilot[None], key: str) -> list[str]:
    """A place as each of its views shows it, and its help from top to bottom."""
    await press(pilot, key)
    found = [shown(pilot)]
    views = [len(one.names) for one in app_of(pilot).screen.query(ViewNames)]
    for _ in range(views[0] - 1 if views else 0):
        await press(pilot, "tab")
        found.append(shown(pilot))
    await press(pilot, "question_mark")
    scroll = app_of(pilot).screen.query_one(VerticalScroll)
    for _ in range(30):
        found.append(shown(pilot))
        if scroll.scroll_offset.y >= scroll.max_scroll_y:
            break
        await press(pilot, "pagedown")
    await press(pilot, "escape")
    return found


@pytest.mark.parametrize("size", [(80, 24), (60, 24)])
async def test_no_two_words_run_together(demo_copy: Path, opened: Opened, size: tuple[int, int]) -> None:
    async with opened(demo_copy, size=size) as pilot:
        for key in "1234567":
            for text in await screens(pilot, key):
                assert not TOGETHER.search(text), text


@pytest.mark.parametrize("size", [(80, 24), (60, 24)])
async def test_help_folds_and_nothing_of_it_is_cut(demo_copy: Path, opened: Opened, size: tuple[int, int]) -> None:
    async with opened(demo_copy, size=size) as pilot:
        for key in "1234567":
            await press(pilot, key, "question_mark")
            explained = app_of(pilot).screen.query_one(VerticalScroll)
            lines = [line for widget in explained.children for line in str(widget.render()).split("\n")]
            assert len(lines) > 20
            assert max(map(len, lines)) <= explained.content_size.width, max(lines, key=len)
            await press(pilot, "escape")


def test_the_name_of_a_month_stands_whole_at_80_columns(demo_store: Store) -> None:
    told = month(take(demo_store, DEMO_TODAY))
    lines = as_plain_text(tables.months(told), 80).splitlines()
    rows = lines[3 : 3 + len(told.before) + 1]
    assert [row.split("  ")[0] for row in rows] == [short_month(one.month) for one in (*told.before, told)]
    assert "is not over yet" in " ".join(lines)
