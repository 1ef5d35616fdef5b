"""The shadow lift: monotone, straight above its pins, and applied without touching the original."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from logbook.picture.header import read_header
from logbook.picture.icc import profile_of, srgb
from logbook.picture.lift import MOST_LIFT, cube_text, lift_to, mean_shift
from logbook.picture.lifted_copy import write_lifted_copy
from logbook.picture.lightness import lightness_histogram, lightness_of_colours
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
    assert lift.points()[0] == (0, output)
    assert all(pin in lift.points() for pin in lift.pins)


def test_a_lift_beyond_reason_is_refused() -> None:
    with pytest.raises(ValueError, match="0 to 64"):
        lift_to(65)


def test_the_table_says_what_the_curve_says() -> None:
    lift = lift_to(12)
    lines = cube_text(lift).splitlines()
    assert lines[2] == "LUT_1D_SIZE 1024"
    rows = [[float(word) for word in line.split()] for line in lines[5:]]
    assert len(rows) == 1024
    assert all(len(set(row)) == 1 for row in rows)
    table = np.interp(np.arange(256) / 255, np.linspace(0, 1, 1024), [row[0] for row in rows]) * 255
    assert np.abs(table - lift.at(np.arange(256.0))).max() < 0.01


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


def test_the_shift_told_is_the_one_the_copy_has(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", landscape() * np.array([1, 1, 0], np.uint8))  # blue alone is at 0: no grey's lift
    write_lifted_copy(path, lift_to(20), tmp_path / "b.tif")
    before, after = (lightness_histogram(read_sample(read_header(file)), srgb()).mean for file in (path, tmp_path / "b.tif"))
    told = mean_shift(lift_to(20), read_sample(read_header(path)), srgb())
    assert told == pytest.approx(after - before, abs=0.01)
    assert told is not None and told > 0.3


def test_inks_have_no_shift(tmp_path: Path) -> None:
    Image.fromarray(landscape()).convert("CMYK").save(tmp_path / "a.tif")
    assert mean_shift(lift_to(8), read_sample(read_header(tmp_path / "a.tif")), None) is None


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
    with pytest.raises(PictureRefused, match="not for CMYK"):
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
