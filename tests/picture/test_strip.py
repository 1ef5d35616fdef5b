"""Strips show the same detail, brighter step by step, at the print's own resolution."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageOps

from logbook.picture.brighten import brightened
from logbook.picture.detail import read_detail
from logbook.picture.header import read_header
from logbook.picture.icc import profile_of, srgb
from logbook.picture.refusal import PictureRefused
from logbook.picture.strip import THIRDS, plan_strip, strip_page
from logbook.records.darkness import darkness_of_match
from tests.picture.files import landscape, saved, write_tiff


def linear(values: np.ndarray) -> np.ndarray:
    """IEC 61966-2-1."""
    share = values / np.iinfo(values.dtype).max
    found: np.ndarray = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return found


@pytest.mark.parametrize("bits", [8, 16])
@pytest.mark.parametrize("thirds", THIRDS)
def test_a_stop_is_twice_the_light(bits: int, thirds: int) -> None:
    greys = np.linspace(0.05, 0.6, 50) * (2**bits - 1)
    pixels = greys.astype(np.uint16 if bits == 16 else np.uint8)[:, None].repeat(3, axis=1)
    ratio = linear(brightened(pixels, thirds / 3, srgb())) / linear(pixels)
    assert np.median(ratio) == pytest.approx(2 ** (thirds / 3), rel=0.01)


def test_the_log_says_darker_where_a_brighter_detail_matches() -> None:
    assert [darkness_of_match(thirds) for thirds in THIRDS] == [3, 2, 1, 0, -1, -2, -3]
    with pytest.raises(ValueError, match="from -3 to 3"):
        darkness_of_match(4)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_the_detail_is_upright_whatever_the_orientation(tmp_path: Path, orientation: int) -> None:
    exif = Image.Exif()
    exif[274] = orientation
    pixels = landscape()
    png = read_header(saved(tmp_path / "a.png", pixels, exif=exif))
    wide = read_header(write_tiff(tmp_path / "a.tif", pixels.astype(np.uint16) * 257, orientation=orientation))
    with Image.open(tmp_path / "a.png") as opened:
        upright = np.asarray(ImageOps.exif_transpose(opened))
    box = (10, 20, 50, 70)
    assert np.array_equal(read_detail(png, box), upright[20:70, 10:50])
    assert np.array_equal(read_detail(wide, box) // 257, upright[20:70, 10:50])


def test_a_strip_holds_seven_details_at_print_resolution(tmp_path: Path) -> None:
    picture = read_header(saved(tmp_path / "a.png", landscape(600, 400)))
    profile = profile_of(picture)
    assert profile is not None
    plan = plan_strip(picture, 100, roll_mm=300, at=(0.2, 0.9))
    page = strip_page(picture, plan, profile)
    left, top, right, bottom = plan.box
    assert plan.page_mm[0] <= 300
    assert (right - left, bottom - top) == (round(plan.detail_mm[0] * 100 / 25.4), round(plan.detail_mm[1] * 100 / 25.4))
    original = landscape(600, 400)[top:bottom, left:right]
    places = [
        at
        for at in range(page.pixels.shape[1] - original.shape[1])
        if np.array_equal(original[40], page.pixels[page.px(16) + 40, at : at + original.shape[1]])
    ]
    assert len(places) == 1  # as it is, once, pixel for pixel
    page.write(tmp_path / "s.tif", srgb().handle.tobytes())
    with Image.open(tmp_path / "s.tif") as written:
        assert written.info["dpi"] == (100, 100)
        assert written.info["icc_profile"] == srgb().handle.tobytes()


def test_a_16_bit_picture_gives_a_16_bit_strip(tmp_path: Path) -> None:
    picture = read_header(write_tiff(tmp_path / "a.tif", landscape(600, 400, bits=16)))
    strip_page(picture, plan_strip(picture, 100), srgb()).write(tmp_path / "s.tif", b"")
    assert read_header(tmp_path / "s.tif").bits == 16
    strip_page(picture, plan_strip(picture, 100), srgb()).write(tmp_path / "s.png", b"")
    assert read_header(tmp_path / "s.png").bits == 16


def test_rolls_too_narrow_and_sheets_too_large_are_refused(tmp_path: Path) -> None:
    picture = read_header(saved(tmp_path / "a.png", landscape(600, 400)))
    with pytest.raises(PictureRefused, match="too narrow"):
        plan_strip(picture, 100, roll_mm=80)
    with pytest.raises(PictureRefused, match="no print resolution"):
        strip_page(picture, plan_strip(picture, 5), srgb())
