"""The first start: the set-up opens by itself, once, and can be skipped step by step or left."""

from __future__ import annotations

from pathlib import Path

from logbook.records import Light, Paper, Printer, Screen
from logbook.store import journal, open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.running.settings import Settings
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown

FIRST = "Step 1 of 4: the printer, its inks and its gauge"


async def test_a_new_logbook_asks_to_be_set_up(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    async with opened(path, first_start=True) as pilot:
        assert FIRST in shown(pilot)
        await press(pilot, *"Bench", "enter")
        assert "Step 2 of 4: a paper and the black it needs" in shown(pilot)
        await press(pilot, *"Rag", "tab", "m", "enter")
        assert "Step 2 of 4: another paper" in shown(pilot)
        await press(pilot, *"Gloss", "tab", "p", "enter")
        await press(pilot, "f9")
        await press(pilot, *"Wall", "enter")
        assert "Step 4 of 4: the screen you prepare pictures on" in shown(pilot)
        await press(pilot, *"Desk", "enter")
        assert not isinstance(app_of(pilot).screen, Form)
        assert "Set up. What was skipped stands on Shelf; n logs a print." in shown(pilot)
    with open_store(path) as store:
        (printer,) = reading.every(store, Printer)
        assert (printer.name, len(printer.inks), printer.shared_black_slot) == ("Bench", 8, True)
        assert [(paper.name, paper.black) for paper in reading.every(store, Paper)] == [("Rag", "matte"), ("Gloss", "photo")]
        assert [light.name for light in reading.every(store, Light)] == ["Wall"]
        assert [screen.name for screen in reading.every(store, Screen)] == ["Desk"]


async def test_every_step_can_be_skipped(opened: Opened, tmp_path: Path) -> None:
    async with opened(tmp_path / "new.db", first_start=True) as pilot:
        await press(pilot, "f9")
        assert "Skipped; it is found again on Shelf." in shown(pilot)
        await press(pilot, "f9", "f9", "f9")
        assert not isinstance(app_of(pilot).screen, Form)
        await press(pilot, "s")
        assert FIRST in shown(pilot)


async def test_escape_leaves_it_and_it_does_not_come_back_by_itself(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    async with opened(path, first_start=True) as pilot:
        await press(pilot, "B", "escape")
        assert "This logbook is empty. It wants to know:" in shown(pilot)
        assert "Set-up left, with what you typed kept; s goes on with it." in shown(pilot)
        await press(pilot, "7", "1")
        assert not isinstance(app_of(pilot).screen, Form)
    async with opened(path, first_start=True) as pilot:
        assert not isinstance(app_of(pilot).screen, Form)
        await press(pilot, "s")
        assert FIRST in shown(pilot)
        assert "Filled in as you left it; f9 forgets it." in shown(pilot)
        assert app_of(pilot).screen.query_one("#fields").query("Input").first().value == "B"  # type: ignore[attr-defined]


async def test_a_file_of_no_bytes_is_a_first_start_too(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "new.db"
    path.touch()
    async with opened(path, first_start=True) as pilot:
        assert FIRST in shown(pilot)


async def test_a_set_up_that_was_not_left_asks_again_with_what_was_typed(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "closed.db"
    async with opened(path, first_start=True) as pilot:
        await press(pilot, "B", "ctrl+q")
    async with opened(path, first_start=True) as pilot:
        assert FIRST in shown(pilot)
        assert "Filled in as you left it; f9 forgets it." in shown(pilot)


async def test_a_logbook_with_something_in_it_is_not_asked_about(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "there.db"
    with open_store(path) as store:
        journal.write(store, "a light", save=[Light(id="wall", name="Wall")])
    async with opened(path, first_start=True) as pilot:
        assert not isinstance(app_of(pilot).screen, Form)


async def test_the_set_up_names_a_persons_own_keys(opened: Opened, tmp_path: Path) -> None:
    settings = Settings(keys={"give-up-form": ("f12",)})
    async with opened(tmp_path / "new.db", first_start=True, settings=settings) as pilot:
        assert "f12 skips it" in shown(pilot)
        assert "f12 skip this step" in shown(pilot)


async def test_somebody_who_is_quicker_is_not_interrupted(opened: Opened, tmp_path: Path) -> None:
    from logbook.tui.app import LogbookApp

    app = LogbookApp(tmp_path / "new.db")
    async with app.run_test() as pilot:
        app.explain()
        while not app.opened:
            await pilot.pause()
        await pilot.pause()
        assert not any(isinstance(screen, Form) for screen in app.screen_stack)
