"""What a wedge or a strip says of itself is read back from a scan of it, and leads to its record."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from logbook.actions.wedges import keep_measured
from logbook.picture.header import read_header
from logbook.picture.icc import srgb
from logbook.picture.measure import measure
from logbook.picture.refusal import PictureRefused
from logbook.picture.sheet_code import Sheet, code_of, read_sheet
from logbook.picture.strip import plan_strip, strip_page
from logbook.picture.wedge import wedge_page
from logbook.records import Paper, Wedge
from logbook.records.refusal import Refused
from logbook.store import Store, journal, reading
from tests.picture.files import landscape, saved

SHEET = Sheet(
    kind="wedge", id="5" * 32, made=date(2026, 11, 27), paper="Tideway Rag 310", profile="Tideway Rag, own", intent="relative",
    compensated=False,
)  # fmt: skip


def scan(folder: Path, pixels: np.ndarray) -> Path:
    """A page as a scanner sees it: neither end of the range is reached."""
    return saved(folder / "scan.png", np.round(pixels * 0.7 + 40).astype(np.uint8))


SHEETS = st.builds(
    Sheet, kind=st.just("wedge"), id=st.text("0123456789abcdef", min_size=1, max_size=64), made=st.dates(),
    paper=st.none() | st.text("äöü写真Tideway 310", min_size=1, max_size=40).map(str.strip).filter(bool),
    intent=st.none() | st.sampled_from(["relative", "perceptual"]), compensated=st.none() | st.booleans(),
)  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(SHEETS)
def test_any_sheet_is_read_back_from_its_code(sheet: Sheet) -> None:
    dark = np.kron(code_of(sheet), np.ones((4, 4), bool))
    assert read_sheet(np.where(dark, 0, 255).astype(np.uint8)[..., None]) == sheet


def test_a_scanned_wedge_says_what_it_is_and_is_logged_as_that(tmp_path: Path, store: Store) -> None:
    journal.write(store, "paper", save=[Paper(id="rag", name="Tideway Rag 310", finish="rag", black="matte")])
    found = measure(scan(tmp_path, wedge_page(200, sheet=SHEET).pixels))
    assert found.sheet == SHEET
    assert keep_measured(store, found.sheet, found.first_step) is not None
    kept = reading.get(store, Wedge, SHEET.id)
    assert kept is not None
    assert (kept.paper, kept.first_step, kept.space, kept.intent, kept.black_point_compensation) == (
        "rag", found.first_step, "sRGB", "relative", False,
    )  # fmt: skip
    assert keep_measured(store, found.sheet, found.first_step) is None  # it says so already


def test_what_leads_to_no_record_is_said(store: Store) -> None:
    for sheet, step, why in (
        (None, 8, "the code on this sheet can.t be read"),
        (SHEET, None, "no dark step"),
        (SHEET, 8, "is not one in the logbook"),
    ):
        with pytest.raises(Refused, match=why):
            keep_measured(store, sheet, step)


def test_a_strip_carries_its_code_too(tmp_path: Path) -> None:
    picture = read_header(saved(tmp_path / "a.png", landscape(900, 600)))
    sheet = Sheet(kind="strip", id="ab", made=date(2026, 11, 27), picture="a.png")
    page = strip_page(picture, plan_strip(picture, 200), srgb(), sheet)
    assert measure(scan(tmp_path, page.pixels)).sheet == sheet


def test_a_sheet_of_another_space_wants_its_profile(tmp_path: Path) -> None:
    sheet = Sheet(kind="wedge", id="ab", made=date(2026, 11, 27), space="Tideway Wide")
    with pytest.raises(PictureRefused, match="printed from Tideway Wide"):
        measure(scan(tmp_path, wedge_page(200, sheet=sheet).pixels))


def test_a_code_of_somebody_else_is_none_of_ours(tmp_path: Path) -> None:
    import segno

    segno.make("https://example.invalid/?kind=wedge").save(str(tmp_path / "other.png"), scale=6, border=4)
    assert read_sheet(np.asarray(Image.open(tmp_path / "other.png").convert("RGB"))) is None
