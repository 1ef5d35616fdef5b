"""A path in the picture's field is the file of a picture: its title and shape fill the form, and a crop is pointed out."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.records import Picture, Print
from logbook.store import open_store, reading
from tests.studio import with_a_print
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, value
from tests.tui.screens import press, settled, shown


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
