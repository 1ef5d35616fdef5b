"""A folder's new files become pictures; a file that moved is found by its content."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.actions import picture_folder
from logbook.records import Picture
from logbook.store import Store, journal, reading


def saved(path: Path, shade: int = 90) -> Path:
    Image.fromarray(np.full((20, 30, 3), shade, np.uint8)).save(path)
    return path


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "to print"
    made.mkdir()
    saved(made / "Ebb at Low Stair 40x50.tif")
    saved(made / "signal_mast.png", 120)
    (made / "notes.txt").write_text("not a picture")
    (made / "broken.jpg").write_text("no picture either")
    return made


def test_new_files_are_pictures_and_broken_ones_are_told(store: Store, folder: Path) -> None:
    taken = picture_folder.take(store, folder)
    assert sorted(picture.title for picture in taken.new) == ["Ebb at Low Stair", "signal mast"]
    assert len(taken.left) == 1 and "broken.jpg" in taken.left[0]
    assert {(one.width_px, one.height_px, one.bits) for one in reading.every(store, Picture)} == {(30, 20, 8)}


def test_a_file_is_taken_once_and_undone_at_once(store: Store, folder: Path) -> None:
    picture_folder.take(store, folder)
    assert picture_folder.take(store, folder).new == ()
    journal.undo(store)
    assert reading.every(store, Picture) == []


def test_a_moved_file_is_found_by_its_content_and_a_copy_is_not_taken_again(store: Store, folder: Path, tmp_path: Path) -> None:
    picture_folder.take(store, folder)
    elsewhere = tmp_path / "moved"
    elsewhere.mkdir()
    shutil.move(folder / "signal_mast.png", elsewhere / "mast, final.png")
    shutil.copy(folder / "Ebb at Low Stair 40x50.tif", elsewhere / "copy.tif")
    taken = picture_folder.take(store, elsewhere)
    assert (taken.new, [one.title for one in taken.moved]) == ((), ["signal mast"])
    files = {picture.title: picture.file for picture in reading.every(store, Picture)}
    assert files["signal mast"] == str(elsewhere / "mast, final.png")
    assert files["Ebb at Low Stair"] == str(folder / "Ebb at Low Stair 40x50.tif")
