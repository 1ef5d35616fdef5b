"""The shadow lift: monotone, straight above its pins, and applied without touching the original."""

import dataclasses
from pathlib import Path

import numpy as np
import pytest
import tifffile
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from logbook.picture.file import Encoding
from logbook.picture.header import read_header
from logbook.picture.icc import Profile, profile_of, read_profile, srgb
from logbook.picture.lift import MOST_LIFT, WedgeStep, lift_for, lift_to
from logbook.picture.lift_table import write_lift_table
from logbook.picture.lifted_copy import write_lifted_copy
from logbook.picture.lightness import lightness_of_colours
from logbook.picture.proof import Way, proof_lightness
from logbook.picture.reading import read_sample
from logbook.picture.refusal import PictureRefused
from logbook.records.refusal import Refusal
from tests.picture.files import landscape, saved, write_tiff


@given(st.integers(0, MOST_LIFT))
def test_any_lift_is_monotone_and_straight_above_its_pins(output: int) -> None:
    lift = lift_to(output)
    curve, first = lift.curve(), lift.pins[0][0]
    assert curve[0] == output
    assert list(curve) == sorted(curve)
    assert curve[first:] == tuple(range(first, 256))
    assert all(y >= x for x, y in enumerate(curve))
    assert len(set(curve[: first + 1])) > first * 0.4  # tones stay apart: no part of the shadows becomes flat
    assert lift.points[0] == (0, output)
    assert all(pin in lift.points for pin in lift.pins)


def test_a_lift_beyond_reason_is_refused() -> None:
    with pytest.raises(ValueError, match="0 to 64"):
        lift_to(65)


def test_the_table_says_what_the_curve_says(tmp_path: Path) -> None:
    lift = lift_to(12)
    write_lift_table(lift, "RGB", tmp_path / "a.csv")
    lines = (tmp_path / "a.csv").read_text().splitlines()
    pairs = np.array([[int(word) for word in line.split(",")] for line in lines[1:]])
    assert (lines[0], tuple(pairs[0]), tuple(pairs[-1])) == ("input,output", (0, 12 * 257), (65535, 65535))
    assert np.abs(pairs[:, 1] - lift.at(pairs[:, 0] / 257) * 257).max() <= 0.5
    with pytest.raises(PictureRefused, match=r"name it \.icc or \.csv"):
        write_lift_table(lift, "RGB", tmp_path / "a.txt")


WIDE = Encoding("wide", 1.8, (0.7347, 0.2653, 0.1596, 0.8404, 0.0366, 0.0001), (0.3457, 0.3585))
BLACK_16 = Path(__file__).parents[1] / "outside" / "data" / "synthetic_black_L16.icc"


@pytest.fixture
def wide(tmp_path: Path) -> Profile:
    """A wide space of gamma 1.8."""
    picture = dataclasses.replace(read_header(saved(tmp_path / "wide.png", landscape())), encoding=WIDE)
    found = profile_of(picture)
    assert found is not None
    return found


def lightness_of(level: int, profile: Profile) -> float:
    return float(lightness_of_colours(np.full((1, 3), level, np.uint8), "RGB", profile)[0]) / 655.35


@pytest.mark.parametrize("step", [4, 10, 20])
def test_the_step_is_as_light_in_a_wide_space_as_it_was_in_the_wedges(wide: Profile, step: int) -> None:
    """Step 10 of sRGB is L* 2.74 and 0.73 in such a space: a lift to 10 there would stay invisible."""
    way = Way("relative", compensated=True)
    same, other = (lift_for(WedgeStep(step, srgb(), way), profile, None, way) for profile in (srgb(), wide))
    assert same is not None and other is not None
    assert same.output == step
    asked = lightness_of(step, srgb())
    assert lightness_of(other.output - 1, wide) < asked + 0.05 and lightness_of(other.output, wide) > asked - 0.05
    assert lightness_of(other.pins[0][0], wide) == pytest.approx(26.26, abs=0.3)  # the same tones stay as they are


def test_a_wedge_printed_without_compensation_asks_for_less_of_a_picture_printed_with_it() -> None:
    """L* 16 is the paper's black: without compensation sRGB 48 (L* 19.9) is the first grey well above it, with it 12 is."""
    paper = read_profile(BLACK_16)
    plain, compensated = (Way("relative", compensated=one) for one in (False, True))
    step = WedgeStep(48, srgb(), plain)
    same, less = (lift_for(step, srgb(), paper, way) for way in (plain, compensated))
    assert same is not None and less is not None
    assert same.output == 48
    greys = np.full((1, 3), less.output, np.uint8)
    assert float(proof_lightness(greys, srgb(), paper, compensated)[0]) == pytest.approx(lightness_of(48, srgb()), abs=0.4)
    assert less.output < 30


def test_a_step_beyond_any_lift_has_none() -> None:
    way = Way("relative", compensated=True)
    assert lift_for(WedgeStep(70, srgb(), way), srgb(), None, way) is None


def test_a_16_bit_copy_keeps_its_depth_and_the_original(tmp_path: Path) -> None:
    pixels = landscape(bits=16)
    path, to = tmp_path / "a.tif", tmp_path / "b.tif"
    write_tiff(path, pixels, ppi=360, profile=srgb().handle.tobytes())
    before = path.read_bytes()
    lift = lift_to(10)
    write_lifted_copy(path, lift, to)
    assert path.read_bytes() == before
    copy = read_header(to)
    assert (copy.bits, copy.ppi, copy.profile) == (16, 360, srgb().handle.tobytes())
    expected = lift.at(pixels.reshape(-1, 3) / 257) * 257
    assert np.abs(read_sample(copy).values - expected).max() <= 0.51
    with Image.open(to) as opened:  # an ordinary reader opens it too
        opened.load()
        assert opened.size == (120, 80)


def test_compressed_strips_and_orientation_are_kept(tmp_path: Path) -> None:
    pixels = landscape(bits=16)
    path = write_tiff(tmp_path / "a.tif", pixels, compression="zlib", predictor=2, orientation=6)
    write_lifted_copy(path, lift_to(10), tmp_path / "b.tif")
    copy = read_header(tmp_path / "b.tif")
    assert (copy.width_px, copy.height_px, copy.orientation) == (80, 120, 6)
    assert np.array_equal(read_sample(copy).values[pixels.reshape(-1, 3) > 62 * 257], pixels[pixels > 62 * 257])


def test_alpha_is_left_alone(tmp_path: Path) -> None:
    pixels = np.dstack([np.zeros((4, 5, 3), np.uint8), np.arange(20, dtype=np.uint8).reshape(4, 5)])
    write_lifted_copy(saved(tmp_path / "a.png", pixels), lift_to(9), tmp_path / "b.tif")
    with Image.open(tmp_path / "b.tif") as copy:
        assert copy.mode == "RGBA"
        found = np.asarray(copy)
    assert (found[..., :3] == 9).all()
    assert np.array_equal(found[..., 3], pixels[..., 3])


def test_nothing_is_written_over_or_left_half_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = saved(tmp_path / "a.png", landscape())
    saved(tmp_path / "b.tif", landscape())
    for to, why in (
        (tmp_path / "b.tif", "is there already"),
        (tmp_path / "b.jpg", "is a TIFF"),
        (tmp_path / "no" / "b.tif", r"b\.tif: cannot be written \(No such file or directory\)$"),
    ):
        with pytest.raises(Refusal, match=why):
            write_lifted_copy(path, lift_to(8), to)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("logbook.picture.new_tiff.NewTiff.write", full)
    with pytest.raises(Refusal, match="No space"):
        write_lifted_copy(path, lift_to(8), tmp_path / "c.tif")
    assert not (tmp_path / "c.tif").exists()


def test_inks_are_not_lifted(tmp_path: Path) -> None:
    Image.fromarray(landscape()).convert("CMYK").save(tmp_path / "a.tif")
    with pytest.raises(PictureRefused, match="inks are not lifted as they are"):
        write_lifted_copy(tmp_path / "a.tif", lift_to(8), tmp_path / "b.tif")


@pytest.mark.parametrize("suffix", ["tif", "jpg", "png"])
def test_a_copy_keeps_what_the_file_says_of_its_picture(tmp_path: Path, suffix: str) -> None:
    exif = Image.Exif()
    exif[315], exif[33432] = "A. N. Other", "all rights"
    exif[34665] = {33434: 0.004, 36867: "2026:11:27 10:00:00", 37500: b"maker's own"}
    exif[34853] = {1: "N", 2: (54.0, 30.0, 0.0)}
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'/>"
    text = PngInfo()
    text.add_itxt("XML:com.adobe.xmp", xmp.decode())
    more: dict[str, dict[str, object]] = {"tif": {}, "jpg": {"xmp": xmp}, "png": {"pnginfo": text}}
    path = saved(tmp_path / f"a.{suffix}", landscape(), exif=exif.tobytes(), **more[suffix])
    write_lifted_copy(path, lift_to(9), tmp_path / "b.tif")
    with Image.open(tmp_path / "b.tif") as copy:
        kept = copy.getexif()
        assert (kept[315], kept[33432]) == ("A. N. Other", "all rights")
        assert kept.get_ifd(34665)[36867] == "2026:11:27 10:00:00"
        assert float(kept.get_ifd(34665)[33434]) == pytest.approx(0.004)
        assert kept.get_ifd(34853)[1] == "N"
        assert suffix == "tif" or kept[700] == xmp


def test_a_copy_of_what_names_its_space_elsewhere_carries_a_profile_for_it(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[34665] = {40965: {1: "R03"}}
    write_lifted_copy(saved(tmp_path / "a.jpg", landscape(), exif=exif), lift_to(9), tmp_path / "b.tif")
    one, other = (profile_of(read_header(tmp_path / name)) for name in ("a.jpg", "b.tif"))
    assert one is not None and other is not None
    green = np.array([[0, 255, 0]], np.uint8)
    assert lightness_of_colours(green, "RGB", one) == lightness_of_colours(green, "RGB", other)


@pytest.mark.parametrize("bits", [8, 16])
def test_of_lab_the_lightness_is_lifted(tmp_path: Path, bits: int) -> None:
    pixels = landscape(bits=bits)
    path = write_tiff(tmp_path / "a.tif", pixels, photometric="cielab")
    write_lifted_copy(path, lift_to(9), tmp_path / "b.tif")
    with tifffile.TiffFile(tmp_path / "b.tif") as file:
        page = file.pages[0]
        assert isinstance(page, tifffile.TiffPage)
        found = page.asarray()
        assert page.photometric == tifffile.PHOTOMETRIC.CIELAB
    assert np.array_equal(found[..., 0], lift_to(9).table(bits)[pixels[..., 0]])
    assert np.array_equal(found[..., 1:], pixels[..., 1:])
