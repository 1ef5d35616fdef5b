"""Forms of TIFF that editors write: tiles, planes, packing, alpha multiplied in or not, Lab, palettes, few bits."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import tifffile
from PIL import Image

from logbook.picture.file import Pixels
from logbook.picture.header import read_header
from logbook.picture.icc import profile_of
from logbook.picture.lift import lift_to
from logbook.picture.lifted_copy import write_lifted_copy
from logbook.picture.lightness import lightness_histogram
from logbook.picture.reading import read_sample
from logbook.picture.refusal import PictureRefused
from logbook.picture.thumbnail import decoded, thumbnail
from tests.picture.files import FORMS, landscape, saved, write_tiff


@pytest.mark.parametrize("form", FORMS, ids=str)
@pytest.mark.parametrize("bits", [8, 16])
def test_every_form_is_read_at_its_depth(tmp_path: Path, bits: int, form: dict[str, Any]) -> None:
    pixels = landscape(bits=bits)
    picture = read_header(write_tiff(tmp_path / "a.tif", pixels, ppi=300, orientation=6, **form))
    assert (picture.bits, picture.mode, picture.ppi, picture.width_px) == (bits, "RGB", 300, 80)
    assert np.array_equal(read_sample(picture).values, pixels.reshape(-1, 3))
    small = np.asarray(decoded(thumbnail(tmp_path / "a.tif", 120))).astype(int)
    assert np.abs(small - np.rot90(pixels, -1) / (2**bits - 1) * 255).max() <= 0.51


@pytest.mark.parametrize("form", FORMS[:14], ids=str)
def test_every_form_cut_short_is_refused(tmp_path: Path, form: dict[str, Any]) -> None:
    path = write_tiff(tmp_path / "a.tif", landscape(bits=16), **form)
    path.write_bytes(path.read_bytes()[:-100])
    with pytest.raises(PictureRefused, match="cut short"):
        read_sample(read_header(path))


@pytest.mark.parametrize("bits", [8, 16])
def test_colours_multiplied_by_their_alpha_are_not_multiplied_again(tmp_path: Path, bits: int) -> None:
    top = 2**bits - 1
    straight = np.array([[[top, 0, 0, top], [top, 0, 0, 0], [0, 0, 0, top // 2]]], np.uint16 if bits == 16 else np.uint8)
    multiplied = straight.copy()
    multiplied[..., :3] = np.round(straight[..., :3] * (straight[..., 3:] / top))
    on_paper = []
    for name, pixels, alpha in (("straight", straight, "unassalpha"), ("multiplied", multiplied, "assocalpha")):
        path = write_tiff(tmp_path / f"{name}.tif", pixels, alpha=alpha)
        on_paper.append(read_sample(read_header(path)).values.astype(int))
    assert np.abs(on_paper[0] - on_paper[1]).max() <= 1
    assert on_paper[1][1].tolist() == [top] * 3


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize("alpha", ["unspecified", "assocalpha", "unassalpha"])
def test_grey_with_alpha_in_16_bits(tmp_path: Path, order: str, alpha: str) -> None:
    pixels = np.array([[[0, 65535], [0, 0], [40000, 65535]]], np.uint16)
    path = write_tiff(tmp_path / "grey.tif", pixels, alpha=alpha, byteorder=order)
    picture = read_header(path)
    assert picture.bits == 16
    paper = 0 if alpha == "unspecified" else 65535  # an extra channel that is no alpha covers nothing
    assert read_sample(picture).values.tolist() == [[0], [paper], [40000]]
    small = np.asarray(decoded(thumbnail(path, 3)))[0, :, 0]
    assert small.tolist() == [0, paper // 257, round(40000 / 257)]


def test_alpha_multiplied_in_is_taken_out_before_a_lift(tmp_path: Path) -> None:
    multiplied = np.array([[[0, 0, 0, 255], [100, 50, 5, 128], [0, 0, 0, 0]]], np.uint8)
    path = write_tiff(tmp_path / "a.tif", multiplied, alpha="assocalpha")
    lift = lift_to(8)
    write_lifted_copy(path, lift, tmp_path / "b.tif")
    with Image.open(tmp_path / "b.tif") as copy:
        assert copy.mode == "RGBA"
        found = np.asarray(copy)[0].tolist()
    assert found[0] == [8, 8, 8, 255]
    assert found[1] == [199, 100, lift.curve()[10], 128]


@pytest.mark.parametrize("bits", [8, 16])
@pytest.mark.parametrize("photometric", ["cielab", "icclab"])
def test_lab_is_its_own_lightness(tmp_path: Path, photometric: str, bits: int) -> None:
    """L* 50, 100 and 0 with a* 20, b* −30 (TIFF 6.0, section 23; ICC's L*a*b* in a TIFF: from memory)."""
    top, step = (255, 1) if bits == 8 else (65535, 256)
    white = 65280 if (bits, photometric) == (16, "icclab") else top
    offset = (128 if photometric == "icclab" else 0) * step
    whole = np.uint8 if bits == 8 else np.uint16
    lab = np.array([[[white // 2, 20 * step + offset, -30 * step + offset], [white, offset, offset], [0, offset, offset]]])
    path = write_tiff(tmp_path / "lab.tif", (lab % (top + 1)).astype(whole), photometric=photometric)
    picture = read_header(path)
    sample = read_sample(picture)
    found = lightness_histogram(sample, profile_of(picture))
    assert (picture.mode, picture.bits, sample.values.dtype) == ("LAB", bits, np.dtype(whole))
    assert found.mean == pytest.approx(50, abs=0.1)
    assert (found.percentile(1), found.percentile(99)) == pytest.approx((0, 100), abs=0.01)
    red, green, blue = (int(value) for value in np.asarray(decoded(thumbnail(path, 3)))[0, 0])
    assert blue > red > green  # a violet


def test_few_bits_palettes_and_white_as_zero(tmp_path: Path) -> None:
    few = (landscape() // 86) * 86
    Image.fromarray(few).quantize(64).save(tmp_path / "palette.tif")
    assert np.array_equal(read_sample(read_header(tmp_path / "palette.tif")).values, few.reshape(-1, 3))
    assert read_header(tmp_path / "palette.tif").bits == 8
    line = Image.fromarray(landscape()[..., 0] > 100)
    line.save(tmp_path / "line.tif", compression="group4")
    assert np.array_equal(read_sample(read_header(tmp_path / "line.tif")).values[:, 0], np.asarray(line.convert("L")).ravel())
    negative = write_tiff(tmp_path / "negative.tif", landscape(bits=16)[..., :1], photometric="miniswhite")
    assert np.array_equal(read_sample(read_header(negative)).values, 65535 - landscape(bits=16)[..., :1].reshape(-1, 1))


def test_jpeg_inside_a_tiff(tmp_path: Path) -> None:
    pixels = landscape()
    found = read_sample(read_header(saved(tmp_path / "a.tif", pixels, compression="jpeg", quality=95))).values
    assert np.abs(found.astype(int) - pixels.reshape(-1, 3)).mean() < 3


def _wide(bits: int) -> Pixels:
    return landscape(64, 8, bits=16)[..., 0] >> (16 - bits)


@pytest.mark.parametrize("bits", [10, 12])
def test_odd_depths_are_refused_before_they_are_taken_for_dark_16(tmp_path: Path, bits: int) -> None:
    tifffile.imwrite(tmp_path / "a.tif", _wide(bits), bitspersample=bits, photometric="minisblack")
    with pytest.raises(PictureRefused, match=f"{bits} bits a channel; save it with 16 or 8"):
        read_header(tmp_path / "a.tif")
