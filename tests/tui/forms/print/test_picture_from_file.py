"""A path in the picture's field is the file of a picture: its title and shape fill the form, and a crop is pointed out."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from textual.pilot import Pilot
from textual.widgets import Static

from logbook.records import Picture, Print
from logbook.store import journal, open_store, reading
from tests.studio import with_a_print
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, value
from tests.tui.screens import app_of, press, settled, shown


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "to print" / "signal_mast 40x50.tif"
    path.parent.mkdir()
    Image.fromarray(np.full((40, 60, 3), 90, np.uint8)).save(path)
    return path


async def test_a_dropped_file_is_the_picture_and_lays_the_size(opened: Opened, tmp_path: Path, file: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    async with opened(path) as pilot:
        await press(pilot, "n")
        await fill(pilot, "picture", f"'{file}'")
        await press(pilot, "tab")
        await settled(pilot)
        assert value(pilot, "size") == (400, 267)  # the long side of the last print, three to two
        await press(pilot, "enter")
    with open_store(path) as store:
        picture = next(one for one in reading.every(store, Picture) if one.title == "signal mast")
        assert (picture.file, picture.width_px) == (str(file), 60)
        assert reading.every(store, Print)[-1].picture == picture.id


async def test_a_size_of_another_shape_is_said_to_cut(opened: Opened, tmp_path: Path, file: Path) -> None:
    async with opened(with_a_print(tmp_path / "a.db"), size=(120, 36)) as pilot:
        await press(pilot, "n")
        await fill(pilot, "picture", str(file))
        await press(pilot, "tab")
        await fill(pilot, "size", "50x40cm")
        await settled(pilot)
        assert "50×40 cm cuts 17 % off the picture, which is 3:2" in shown(pilot)


async def test_a_path_to_nothing_is_refused_and_never_a_title(opened: Opened, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    async with opened(path) as pilot:
        await press(pilot, "n")
        await fill(pilot, "picture", "/nowhere/ebb.tif")
        await press(pilot, "tab", "enter")
        assert "/nowhere/ebb.tif" in shown(pilot)
    with open_store(path) as store:
        assert len(reading.every(store, Print)) == 1
        assert not any("ebb.tif" in picture.title for picture in reading.every(store, Picture))


def written(path: Path) -> int:
    """How many entries the journal has."""
    with open_store(path) as store:
        return len(journal.entries(store))


async def looked_at(pilot: Pilot[None], file: Path) -> None:
    """A print's form, its picture the file, and the file looked at."""
    await press(pilot, "n")
    await fill(pilot, "picture", str(file))
    await press(pilot, "tab", "f8")
    await app_of(pilot).workers.wait_for_complete()
    await settled(pilot)


async def test_a_new_file_is_looked_at_before_anything_is_saved(opened: Opened, tmp_path: Path, file: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    before = written(path)
    async with opened(path, size=(120, 36)) as pilot:
        await press(pilot, "n")
        await fill(pilot, "size", "50x40cm")
        await fill(pilot, "picture", str(file))
        await press(pilot, "tab", "f8")
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        screen = " ".join(shown(pilot).split())
        for words in ("60×40 pixels", "deepest black", "mean L*", "Not in the log yet"):
            assert words in screen
        facts = str(app_of(pilot).screen.query_one("#check-words", Static).render())
        assert "filled, it cuts 17 % off the picture, which is 3:2" in facts
        assert written(path) == before
        await press(pilot, "escape", "f9")
    assert written(path) == before
    with open_store(path) as store:
        assert [one.title for one in reading.every(store, Picture)] == ["Ebb at Low Stair", "Winter Groyne"]


async def test_what_was_found_is_saved_with_the_print_in_one_entry(opened: Opened, tmp_path: Path, file: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    before = written(path)
    async with opened(path) as pilot:
        await looked_at(pilot, file)
        await press(pilot, "escape", "enter")
    assert written(path) == before + 1
    with open_store(path) as store:
        picture = reading.get(store, Picture, reading.every(store, Print)[-1].picture)
        assert picture is not None and picture.sha256 is not None
        assert (picture.title, picture.shadow_share) == ("signal mast", 0)
        assert picture.mean_l == pytest.approx(38.2, abs=0.1)  # sRGB grey 90: Y = 0.102 (IEC 61966-2-1, CIE 15)


async def test_a_form_that_was_left_still_knows_the_file(opened: Opened, tmp_path: Path, file: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    before = written(path)
    async with opened(path) as pilot:
        await looked_at(pilot, file)
        await press(pilot, "escape", "escape")
    assert written(path) == before
    async with opened(path) as pilot:
        await press(pilot, "n")
        await settled(pilot)
        await press(pilot, "enter")
    with open_store(path) as store:
        picture = reading.get(store, Picture, reading.every(store, Print)[-1].picture)
        assert picture is not None and (picture.title, picture.file) == ("signal mast", str(file))


async def test_a_file_named_as_a_picture_without_one_is_that_pictures(opened: Opened, tmp_path: Path, file: Path) -> None:
    path = with_a_print(tmp_path / "a.db")
    async with opened(path) as pilot:
        await press(pilot, "n")
        await fill(pilot, "picture", str(file.rename(file.with_name("Winter Groyne 30x40.tif"))))
        await press(pilot, "tab", "enter")
    with open_store(path) as store:
        groyne = reading.get(store, Picture, "groyne")
        assert groyne is not None and groyne.width_px == 60
        assert reading.every(store, Print)[-1].picture == "groyne"
