"""Looking at a picture from a print's page and from the form of a print."""

from __future__ import annotations

from pathlib import Path

import msgspec
import numpy as np
import pytest
from PIL import Image

from logbook.actions.pictures import sha256_of
from logbook.records import Paper, Picture, Print
from logbook.store import journal, open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.forms.print.form import PrintFormScreen
from logbook.tui.places.prints.page import PrintPage
from logbook.tui.places.prints.picture_check import PictureCheck
from tests.picture.files import landscape, saved
from tests.studio import furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill
from tests.tui.screens import app_of, press, settled, shown

PROFILE = Path(__file__).parents[3] / "outside" / "data" / "synthetic_black_L16.icc"


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """A logbook with one print, whose picture has a file."""
    saved(tmp_path / "ebb.png", landscape(300, 200))
    path = tmp_path / "studio.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("one"))
        printed = reading.every(store, Print)[0]
        picture = reading.get(store, Picture, printed.picture)
        assert picture is not None
        journal.write(store, "file", save=[msgspec.structs.replace(picture, file=str(tmp_path / "ebb.png"))])
    return path


def without_file(path: Path) -> None:
    with open_store(path) as store:
        journal.write(store, "no file", save=[msgspec.structs.replace(one, file=None) for one in reading.every(store, Picture)])


async def test_from_a_prints_page_and_back(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        screen = shown(pilot)
        assert "of this picture is no lighter than" in screen
        assert "▲ deepest" in screen
        assert "white surround, nothing marked" in screen
        await press(pilot, "s", "k")
        assert "dark surround, lines: the deepest black" in shown(pilot)
        await press(pilot, "k")
        assert "nothing marked" in shown(pilot)  # without a profile the gamut is not known
        await press(pilot, "escape")
        assert isinstance(app_of(pilot).screen, PrintPage)


async def test_what_was_found_is_kept_and_can_be_undone(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        with open_store(studio) as store:
            kept = next(one for one in reading.every(store, Picture) if one.file)
        assert (kept.width_px, kept.height_px, kept.bits) == (300, 200, 8)
        assert kept.mean_l is not None
        assert kept.sha256 is not None
        await press(pilot, "u")
        with open_store(studio) as store:
            assert next(one for one in reading.every(store, Picture) if one.file).mean_l is None


async def test_from_the_form_of_a_print(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "l")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        await press(pilot, "f8")
        assert isinstance(app_of(pilot).screen, PictureCheck)
        await press(pilot, "escape")
        assert app_of(pilot).screen is form


async def test_a_picture_without_a_file_is_asked_for_it(opened: Opened, studio: Path, tmp_path: Path) -> None:
    without_file(studio)
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        form.field("file").restore(str(tmp_path / "none.png"))
        await press(pilot, "enter")
        assert "no such file" in shown(pilot)
        form.field("file").restore(str(tmp_path / "ebb.png"))
        await press(pilot, "enter")
        assert isinstance(app_of(pilot).screen, PictureCheck)
        assert "of this picture is no lighter than" in shown(pilot)


async def test_a_broken_file_is_said_where_the_sentence_stands(opened: Opened, studio: Path, tmp_path: Path) -> None:
    (tmp_path / "ebb.png").write_bytes(b"no picture")
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        assert "not a TIFF, PNG or JPEG" in " ".join(shown(pilot).split())


@pytest.mark.parametrize("size", [(80, 24), (130, 40)])
async def test_marks_are_patterns_of_black_and_white(opened: Opened, tmp_path: Path, size: tuple[int, int]) -> None:
    from logbook.picture.preview import drawn
    from logbook.reports.picture.inspection import Options

    path = saved(tmp_path / "ebb.png", landscape(300, 200))
    async with opened(size=size) as pilot:
        check = PictureCheck(path, None, Options(profile=PROFILE))
        await app_of(pilot).push_screen(check)
        await settled(pilot)
        found = check._checked
        assert found is not None
        plain = np.asarray(drawn(found.preview, (120, 90), "white", "none"))
        dark = np.asarray(drawn(found.preview, (120, 90), "dark", "none"))
        assert (plain[0] == 255).all()
        assert (dark[0] == 26).all()
        for mark in ("blocked", "beyond"):
            marked = np.asarray(drawn(found.preview, (120, 90), "white", mark))
            changed = marked[(marked != plain).any(axis=2)]
            assert len(changed) > 50
            assert set(map(tuple, changed.tolist())) <= {(0, 0, 0), (255, 255, 255)}


async def test_the_print_file_is_written_with_one_key_and_what_it_was_made_with_goes_into_the_form(
    opened: Opened, studio: Path, tmp_path: Path
) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "l")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        form.field("brighten_stops").restore("0.33")
        form.field("sharpening").restore("for 60 cm")
        form.field("size").restore("30x20cm")
        await press(pilot, "f8")
        await press(pilot, "f")
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        made = tmp_path / "ebb-print.tif"
        assert f"Wrote {made.name}" in shown(pilot).replace(f"{tmp_path}/", "") or made.exists()
        await press(pilot, "escape")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        assert form.value("brighten_stops") == pytest.approx(0.33)
        assert form.value("image_ppi") == pytest.approx(25.4)
        assert form.value("sharpening") == "for 60 cm"
        assert sha256_of(made) in form.value("note")


async def test_unequal_borders_are_typed_in_the_form_and_printed(opened: Opened, studio: Path, tmp_path: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "l")
        form = app_of(pilot).screen
        assert isinstance(form, PrintFormScreen)
        form.field("size").restore("30x20cm")
        form.field("border_mm").restore("30 30 45 20")
        await press(pilot, "f8")
        await app_of(pilot).workers.wait_for_complete()
        await press(pilot, "f")
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        with Image.open(tmp_path / "ebb-print.tif") as made:
            assert made.size == (300 + 20 + 30, 200 + 30 + 45)  # at the picture's own 25.4 ppi a millimetre is a pixel
        await press(pilot, "escape")
        printed = form.as_typed(strict=True)
        assert printed.border_mm == (30 + 30 + 45 + 20) / 4
        assert (printed.note or "").endswith("borders 30 30 45 20 mm (top, right, bottom, left)")


async def test_a_strip_written_from_the_form_leaves_its_mark_in_the_note(opened: Opened, studio: Path, tmp_path: Path) -> None:
    saved(tmp_path / "ebb.png", landscape(3000, 2000))
    async with opened(studio) as pilot:
        await press(pilot, "l")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        form.field("size").restore("30x20cm")
        await press(pilot, "f8")
        await app_of(pilot).workers.wait_for_complete()
        await press(pilot, "t")
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        await press(pilot, "escape")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        (made,) = tmp_path.glob("ebb-strip-*.tif")
        assert form.value("purpose") == "strip"
        assert form.value("note") == f"strip {made.stem.removeprefix('ebb-strip-')}"


@pytest.mark.parametrize(("key", "name"), [("f", "ebb-print.tif"), ("t", "ebb-strip-*.tif"), ("w", "ebb-wedge.tif")])
async def test_files_are_written_from_a_prints_page(opened: Opened, studio: Path, tmp_path: Path, key: str, name: str) -> None:
    resized = landscape(3000, 2000)
    saved(tmp_path / "ebb.png", resized)
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        await app_of(pilot).workers.wait_for_complete()
        await press(pilot, key)
        await app_of(pilot).workers.wait_for_complete()
        await settled(pilot)
        assert [*tmp_path.glob(name)], app_of(pilot).said


async def test_what_cannot_be_written_is_said(opened: Opened, studio: Path, tmp_path: Path) -> None:
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        await app_of(pilot).workers.wait_for_complete()
        tmp_path.chmod(0o755)
        (tmp_path / "ebb.png").unlink()
        await press(pilot, "f")
        await app_of(pilot).workers.wait_for_complete()
        assert "no such file" in app_of(pilot).said


async def test_a_file_that_moved_is_found_in_the_folder_that_is_named(opened: Opened, studio: Path, tmp_path: Path) -> None:
    with open_store(studio) as store:
        (picture,) = (one for one in reading.every(store, Picture) if one.file)
        journal.write(store, "hash", save=[msgspec.structs.replace(picture, sha256=sha256_of(tmp_path / "ebb.png"))])
    elsewhere = tmp_path / "archive" / "2026"
    elsewhere.mkdir(parents=True)
    (elsewhere / "broken.png").write_text("no picture")
    saved(elsewhere / "another.png", landscape(300, 200, seed=9))
    (tmp_path / "ebb.png").rename(elsewhere / "ebb, final.png")
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        assert "Its file is no longer at" in shown(pilot)
        await fill(pilot, "file", str(tmp_path / "archive"))
        await press(pilot, "enter")
        await app_of(pilot).workers.wait_for_complete()
        assert isinstance(app_of(pilot).screen, PictureCheck)
    with open_store(studio) as store:
        assert [one.file for one in reading.every(store, Picture) if one.file] == [str(elsewhere / "ebb, final.png")]


async def test_a_folder_without_it_changes_nothing(opened: Opened, studio: Path, tmp_path: Path) -> None:
    (tmp_path / "ebb.png").unlink()
    (tmp_path / "empty").mkdir()
    async with opened(studio) as pilot:
        await app_of(pilot).push_screen(PrintPage("one"))
        await settled(pilot)
        await press(pilot, "P")
        await fill(pilot, "file", str(tmp_path / "empty"))
        await press(pilot, "enter")
        assert isinstance(app_of(pilot).screen, Form)
    with open_store(studio) as store:
        assert [one.file for one in reading.every(store, Picture) if one.file] == [str(tmp_path / "ebb.png")]


async def test_the_shadows_that_are_kept_are_the_same_for_every_paper(opened: Opened, studio: Path) -> None:
    shares: set[float | None] = set()
    for black in (2.0, 16.0, 40.0):
        with open_store(studio) as store:
            paper = reading.get(store, Paper, "rag")
            assert paper is not None
            journal.write(store, "black", save=[msgspec.structs.replace(paper, black_l=black)])
        async with opened(studio) as pilot:
            await app_of(pilot).push_screen(PrintPage("one"))
            await settled(pilot)
            await press(pilot, "P")
            await app_of(pilot).workers.wait_for_complete()
            await settled(pilot)
            assert "Kept with Ebb at Low Stair: mean L*" in shown(pilot) or shares
        with open_store(studio) as store:
            shares |= {one.shadow_share for one in reading.every(store, Picture) if one.file}
    assert len(shares) == 1
