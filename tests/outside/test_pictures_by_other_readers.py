"""What is read and written here, against libtiff, libpng and pypng, and meanings of numbers against colour-science."""

import struct
import zlib
from pathlib import Path
from typing import Any

import colour
import imagecodecs
import numpy as np
import png
import pytest
from PIL import Image

from logbook.picture.header import read_header
from logbook.picture.icc import L_PER_16_BIT, profile_of, srgb
from logbook.picture.lift import lift_to
from logbook.picture.lifted_copy import write_lifted_copy
from logbook.picture.lightness import lightness_of_colours
from logbook.picture.page import Page
from logbook.picture.reading import read_sample
from tests.picture.files import FORMS, landscape, saved, write_png, write_tiff

D50 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D50"]


@pytest.mark.parametrize("form", FORMS, ids=str)
@pytest.mark.parametrize("bits", [8, 16])
def test_libtiff_reads_the_same(tmp_path: Path, bits: int, form: dict[str, Any]) -> None:
    path = write_tiff(tmp_path / "a.tif", landscape(bits=bits), **form)
    theirs = imagecodecs.tiff_decode(path.read_bytes())
    theirs = np.moveaxis(theirs, 0, -1) if theirs.shape[0] == 3 else theirs
    assert np.array_equal(read_sample(read_header(path)).values, theirs.reshape(-1, 3))


@pytest.mark.parametrize("bits", [8, 16])
def test_libtiff_reads_a_lifted_copy(tmp_path: Path, bits: int) -> None:
    pixels = np.dstack([landscape(bits=bits), landscape(bits=bits)[..., :1]])
    lift = lift_to(9)
    write_lifted_copy(write_tiff(tmp_path / "a.tif", pixels, alpha="unassalpha"), lift, tmp_path / "b.tif")
    found = imagecodecs.tiff_decode((tmp_path / "b.tif").read_bytes())
    assert np.array_equal(found[..., :3], lift.table(bits)[pixels[..., :3]])
    assert np.array_equal(found[..., 3], pixels[..., 3])


@pytest.mark.parametrize("bits", [8, 16])
def test_pypng_reads_a_page_at_its_depth(tmp_path: Path, bits: int) -> None:
    page = Page((30, 20), 300, bits)
    detail = landscape(bits=bits)
    page.place(detail, (5, 5))
    page.write(tmp_path / "page.png", srgb().handle.tobytes())
    width, height, rows, told = png.Reader(filename=str(tmp_path / "page.png")).read()
    assert np.array_equal(np.vstack([*rows]).reshape(height, width, 3), page.pixels)
    assert told["bitdepth"] == bits
    chunks = dict(png.Reader(filename=str(tmp_path / "page.png")).chunks())
    assert zlib.decompress(chunks[b"iCCP"].split(b"\0\0", 1)[1]) == srgb().handle.tobytes()
    assert struct.unpack(">IIB", chunks[b"pHYs"]) == (11811, 11811, 1)  # 300 pixels an inch; a metre has 39.37
    ours = read_header(tmp_path / "page.png")
    assert ours.bits == bits
    assert ours.ppi == pytest.approx(300, abs=0.01)


def test_pypngs_16_bits_are_read_whole(tmp_path: Path) -> None:
    pixels = landscape(bits=16)
    with (tmp_path / "a.png").open("wb") as file:
        png.Writer(pixels.shape[1], pixels.shape[0], greyscale=False, bitdepth=16).write(file, pixels.reshape(len(pixels), -1))
    assert np.array_equal(read_sample(read_header(tmp_path / "a.png")).values, pixels.reshape(-1, 3))


def _lightness(colours: np.ndarray, primaries: list[float], gamma: float) -> np.ndarray:
    white = np.array([0.3127, 0.3290])
    space = colour.RGB_Colourspace("named by numbers", np.reshape(primaries, (3, 2)), white)
    xyz = colour.RGB_to_XYZ((colours / 255) ** gamma, space, D50, "Bradford")
    found: np.ndarray = colour.XYZ_to_Lab(xyz, D50)[:, 0]
    return found


def test_a_jpeg_whose_exif_names_op_rgb(tmp_path: Path) -> None:
    """IEC 61966-2-5 (primaries and gamma of 563/256), named by an EXIF block's interoperability index R03 (DCF 2.0)."""
    exif = Image.Exif()
    exif[34665] = {40961: 65535, 40965: {1: "R03"}}
    path = saved(tmp_path / "a.jpg", landscape(), exif=exif)
    colours = np.random.default_rng(4).integers(0, 256, (500, 3), dtype=np.uint8)
    profile = profile_of(read_header(path))
    assert profile is not None
    assert "IEC 61966-2-5" in profile.name
    ours = lightness_of_colours(colours, "RGB", profile) * L_PER_16_BIT
    assert np.abs(ours - _lightness(colours, [0.64, 0.33, 0.21, 0.71, 0.15, 0.06], 563 / 256)).max() < 0.02


@pytest.mark.parametrize("wide", [False, True])
def test_a_png_that_names_its_gamma(tmp_path: Path, wide: bool) -> None:
    """gAMA and cHRM (W3C PNG, third edition, 11.3.2): 1/1.8, and primaries where they are named."""
    primaries = [0.7, 0.3, 0.2, 0.7, 0.14, 0.05] if wide else [0.64, 0.33, 0.3, 0.6, 0.15, 0.06]
    named = [(b"gAMA", struct.pack(">I", round(100_000 / 1.8)))]
    if wide:
        named.append((b"cHRM", struct.pack(">8I", *(round(100_000 * value) for value in [0.3127, 0.3290, *primaries]))))
    path = write_png(tmp_path / "a.png", (2, 1, 8), b"\0" * 7, *named)
    colours = np.random.default_rng(4).integers(0, 256, (500, 3), dtype=np.uint8)
    ours = lightness_of_colours(colours, "RGB", profile_of(read_header(path))) * L_PER_16_BIT
    assert np.abs(ours - _lightness(colours, primaries, 1.8)).max() < 0.02


def test_a_png_that_says_srgb_is_srgb_whatever_its_gamma(tmp_path: Path) -> None:
    path = write_png(tmp_path / "a.png", (2, 1, 8), b"\0" * 7, (b"sRGB", b"\0"), (b"gAMA", struct.pack(">I", 45455)))
    assert read_header(path).encoding is None
