"""Lightness against CIE 15, IEC 61966-2-1 and a second implementation (colour-science)."""

from pathlib import Path

import colour
import numpy as np
import pytest
from PIL import Image

from logbook.picture.header import read_header
from logbook.picture.icc import L_PER_16_BIT, profile_of, srgb
from logbook.picture.lightness import (
    EPSILON,
    KAPPA,
    lightness_histogram,
    lightness_of_colours,
    lightness_of_luminance,
    luminance_of_lightness,
)
from logbook.picture.reading import read_sample

STEP = 0.003  # 16 bits of L*, and LittleCMS's own rounding of its curves


def test_constants_are_those_of_cie_15() -> None:
    assert pytest.approx(24389 / 27, rel=1e-12) == KAPPA
    assert pytest.approx(216 / 24389, rel=1e-12) == EPSILON
    assert float(lightness_of_luminance(EPSILON)) == pytest.approx(8.0, abs=1e-9)


def test_lightness_of_luminance_as_colour_science_has_it() -> None:
    luminances = np.concatenate([np.linspace(0, 0.02, 101), np.linspace(0.02, 1, 99)])
    theirs = colour.lightness(100 * luminances, method="CIE 1976")
    assert np.abs(lightness_of_luminance(luminances) - theirs).max() < 1e-6


def test_lightness_and_luminance_undo_each_other() -> None:
    levels = np.linspace(0, 100, 401)
    assert np.abs(lightness_of_luminance(luminance_of_lightness(levels)) - levels).max() < 1e-9


def test_a_middle_grey_and_a_matte_black() -> None:
    """CIE 15: Y 0.18 is L* 49.49611; L* 16 is Y 0.020993, a reflection density of 1.67792."""
    assert float(lightness_of_luminance(0.18)) == pytest.approx(49.49611, abs=1e-5)
    assert float(-np.log10(luminance_of_lightness(16.0))) == pytest.approx(1.67792, abs=1e-5)


def test_srgb_greys() -> None:
    """IEC 61966-2-1 with CIE 1976 L*."""
    published = {255: 100.0, 128: 53.58501, 119: 50.0344, 64: 27.0934, 16: 4.6804, 0: 0.0}
    greys = np.array(list(published), np.uint8)[:, None].repeat(3, axis=1)
    ours = lightness_of_colours(greys, "RGB", srgb()) * L_PER_16_BIT
    assert np.abs(ours - list(published.values())).max() < STEP


def test_srgb_primaries_adapted_to_d50() -> None:
    """L* of the sRGB primaries under D50 (Bradford): 54.29, 87.82, 29.57, to the hundredth that is printed."""
    ours = lightness_of_colours(255 * np.eye(3, dtype=np.uint8), "RGB", srgb()) * L_PER_16_BIT
    assert np.abs(ours - [54.29, 87.82, 29.57]).max() < 0.01


def test_any_colour_as_colour_science_has_it() -> None:
    """sRGB through a Bradford adaptation to D50 (ICC.1 annex E) to L*, on 2,000 colours."""
    colours = np.random.default_rng(5).integers(0, 256, (2000, 3), dtype=np.uint8)
    space = colour.RGB_COLOURSPACES["sRGB"]
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    xyz = colour.RGB_to_XYZ(colours / 255, space, white, "Bradford", apply_cctf_decoding=True)
    theirs = colour.XYZ_to_Lab(xyz, white)[:, 0]
    ours = lightness_of_colours(colours, "RGB", srgb()) * L_PER_16_BIT
    assert np.abs(ours - theirs).max() < 0.01  # the profile's own curves and matrix are rounded to 1/65536


def test_a_whole_picture_as_its_pixels_one_by_one(tmp_path: Path) -> None:
    """Mean and percentiles of the histogram against colour-science on every pixel."""
    pixels = np.random.default_rng(6).integers(0, 256, (80, 90, 3), dtype=np.uint8) // 2
    Image.fromarray(pixels).save(tmp_path / "a.png")
    picture = read_header(tmp_path / "a.png")
    sample = read_sample(picture)
    ours = lightness_histogram(sample, profile_of(picture))
    space = colour.RGB_COLOURSPACES["sRGB"]
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]
    theirs = colour.XYZ_to_Lab(colour.RGB_to_XYZ(pixels / 255, space, white, "Bradford", apply_cctf_decoding=True), white)[..., 0]
    assert ours.mean == pytest.approx(theirs.mean(), abs=0.005)
    for percent in (1, 5, 50, 95, 99):
        assert ours.percentile(percent) == pytest.approx(np.percentile(theirs, percent, method="inverted_cdf"), abs=0.02)
    assert ours.share_at_or_under(16) == pytest.approx(np.mean(theirs <= 16), abs=0.001)
