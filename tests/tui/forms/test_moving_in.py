"""Moving in: a table of one's own looked at and added, and the prints of an old notebook."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from logbook.actions.adopting.plan import Answers
from logbook.records import Judgement, Print
from logbook.store import journal, open_store, reading
from logbook.tui.app import LogbookApp
from logbook.tui.forms.shelf.table_file import open_table
from tests.tui.conftest import NOW, Opened
from tests.tui.forms.filling import fill, form, prints
from tests.tui.screens import app_of, press, settled, shown

TABLE = """\
Date,Picture,Paper,Size,Result,Frame
03/04/2025,Ebb at Low Stair,Tideway Rag,40x50cm,OK,oak
05/06/2025,Winter Groyne,Tideway Rag,40x50cm,too dark,
,Winter Groyne,Tideway Rag,40x50cm,keep,
"""


def table(folder: Path) -> Path:
    path = folder / "prints.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def judged(path: Path) -> list[tuple[str | None, int | None]]:
    with open_store(path) as store:
        return [(one.verdict, one.darkness) for one in reading.every(store, Judgement)]


async def test_a_table_is_looked_at_asked_about_and_added(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "test.logbook"
    async with opened(path, size=(120, 40)) as pilot:
        await press(pilot, "I")
        await fill(pilot, "file", str(table(tmp_path)))
        await press(pilot, "enter")
        assert "which number is the day?" in shown(pilot)
        await press(pilot, "s")
        assert "which number is the day?" in shown(pilot) and not prints(path)
        await press(pilot, "enter")
        await press(pilot, "2", "enter")
        screen = shown(pilot)
        assert "2 prints and 2 judgements" in " ".join(screen.split())
        assert "4 March 2025" in screen and "row 4: no date" in screen
        await press(pilot, "enter")
        await fill(pilot, "meaning", "redo -2")
        await press(pilot, "enter")
        while "Frame" not in shown(pilot).split("›")[1].splitlines()[0]:
            await press(pilot, "down")
        await press(pilot, "enter")
        await fill(pilot, "field", "frame")
        await press(pilot, "enter", "enter")
        assert "setting frame" in shown(pilot)
        await press(pilot, "s")
    assert [one.settings for one in prints(path)] == [{"frame": "oak"}, {}]
    assert judged(path) == [("keep", None), ("redo", -2)]
    with open_store(path) as store:
        journal.undo(store)
        assert reading.count(store, Print) == 0


async def test_an_answer_that_makes_no_sense_is_said_and_forgotten(opened: Opened, tmp_path: Path) -> None:
    async with opened(size=(120, 40)) as pilot:
        await press(pilot, "I")
        await fill(pilot, "file", str(table(tmp_path)))
        await press(pilot, "enter", "enter", "1", "enter", "enter")
        await fill(pilot, "meaning", "awful")
        await press(pilot, "enter")
        assert "'awful' is none of keep, redo, scrap" in shown(pilot)
        assert "how many thirds" in shown(pilot)
        await press(pilot, "escape")
        assert app_of(pilot).place.strip_name() == "Today"


async def test_a_file_that_is_no_table_is_said(opened: Opened, tmp_path: Path) -> None:
    async with opened() as pilot:
        await press(pilot, "I")
        await fill(pilot, "file", str(tmp_path / "none.csv"))
        await press(pilot, "enter")
        assert "No such file" in shown(pilot)
        assert form(pilot).heading.startswith("A table of your own")


async def test_old_prints_are_noted_one_after_the_other(opened: Opened, bare: Path) -> None:
    async with opened(bare) as pilot:
        await press(pilot, "N")
        await fill(pilot, "at", "14.3.2025")
        await fill(pilot, "picture", "Ebb at Low Stair")
        await fill(pilot, "paper", "Tideway Rag 310")
        await fill(pilot, "size", "40x50cm")
        await fill(pilot, "result", "keep -1")
        await press(pilot, "enter")
        assert "2025-03-14" in shown(pilot)
        await press(pilot, *"Low Tide", "tab", "tab", "tab", *"bin", "enter")
        await press(pilot, "escape")
    first, second = prints(bare)
    assert (first.picture, f"{first.at:%Y-%m-%d %H:%M}") == ("ebb", "2025-03-14 12:00")
    assert (second.width_mm, second.paper, f"{second.at:%H:%M}") == (400, "rag", "12:01")
    assert judged(bare) == [("keep", -1), ("scrap", None)]


async def test_the_set_up_gives_way_to_a_table(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "test.logbook"
    async with opened(path, first_start=True) as pilot:
        await press(pilot, "f7")
        await fill(pilot, "file", str(table(tmp_path)))
        await press(pilot, "enter")
        await press(pilot, "enter", "1", "enter", "s")
    assert len(prints(path)) == 2


async def test_a_table_named_on_the_command_line_is_shown_at_once(tmp_path: Path) -> None:
    said = Answers(words={"too dark": "-1"})
    first = partial(open_table, path=table(tmp_path), sheet=None, said=said)
    app = LogbookApp(tmp_path / "test.logbook", clock=lambda: NOW, first=first)
    async with app.run_test(size=(100, 30)) as pilot:
        await settled(pilot)
        assert "which number is the day?" in shown(pilot)
        await press(pilot, "enter", "1", "enter")
        assert "how many thirds" not in shown(pilot)
