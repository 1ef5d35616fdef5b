"""Every kind of picture file is read at its true depth, upright, and counted as it is."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.header import read_header
from logbook.picture.icc import srgb
from logbook.picture.reading import read_sample
from tests.picture.files import landscape, saved, write_tiff, write_wide_png


@pytest.mark.parametrize(
    "options", [{}, {"compression": "tiff_lzw"}, {"compression": "tiff_adobe_deflate"}, {"compression": "packbits"}]
)
def test_8_bit_tiff_in_any_compression(tmp_path: Path, options: dict[str, str]) -> None:
    pixels = landscape()
    picture = read_header(saved(tmp_path / "a.tif", pixels, **options))
    sample = read_sample(picture)
    assert (picture.bits, picture.width_px, picture.height_px) == (8, 120, 80)
    assert sample.every
    assert np.array_equal(sample.values, pixels.reshape(-1, 3))


def test_uncompressed_16_bits_are_read_whole(tmp_path: Path) -> None:
    pixels = landscape(bits=16)
    picture = read_header(write_tiff(tmp_path / "a.tif", pixels, ppi=300, profile=srgb().handle.tobytes()))
    assert picture.bits == 16
    assert picture.ppi == 300
    assert picture.profile == srgb().handle.tobytes()
    assert np.array_equal(read_sample(picture).values, pixels.reshape(-1, 3))


def test_png_and_jpeg(tmp_path: Path) -> None:
    pixels = landscape()
    png = read_sample(read_header(saved(tmp_path / "a.png", pixels)))
    jpeg = read_sample(read_header(saved(tmp_path / "a.jpg", pixels, quality=95, subsampling=0)))
    assert np.array_equal(png.values, pixels.reshape(-1, 3))
    assert np.abs(jpeg.values.astype(int) - pixels.reshape(-1, 3)).mean() < 3


@pytest.mark.parametrize("channels", [1, 2, 3, 4])
def test_16_bit_png_keeps_its_depth(tmp_path: Path, channels: int) -> None:
    pixels = np.dstack([landscape(bits=16), np.full((80, 120), 65535, np.uint16)])[
        ..., [[0], [0, 3], [0, 1, 2], [0, 1, 2, 3]][channels - 1]
    ]
    picture = read_header(write_wide_png(tmp_path / "a.png", pixels))
    assert (picture.bits, picture.alpha) == (16, channels in (2, 4))
    assert np.array_equal(read_sample(picture).values, pixels.reshape(-1, channels)[:, : 3 if channels > 2 else 1])


def test_16_bit_grey_png_keeps_its_depth(tmp_path: Path) -> None:
    grey = landscape(bits=16)[..., 0]
    picture = read_header(saved(tmp_path / "a.png", grey))
    assert picture.bits == 16
    assert np.array_equal(read_sample(picture).values[:, 0], grey.ravel())


@pytest.mark.parametrize("compression", ["raw", "tiff_lzw", "tiff_adobe_deflate"])
def test_16_bit_grey_tiff_keeps_its_depth(tmp_path: Path, compression: str) -> None:
    grey = landscape(bits=16)[..., 0]
    picture = read_header(saved(tmp_path / "a.tif", grey, compression=compression))
    assert picture.bits == 16
    assert np.array_equal(read_sample(picture).values[:, 0], grey.ravel())


def test_8_bit_grey_and_line_art(tmp_path: Path) -> None:
    grey = landscape()[..., 0]
    assert read_sample(read_header(saved(tmp_path / "a.png", grey))).mode == "L"
    Image.fromarray(grey > 100).save(tmp_path / "b.png")
    line = read_header(tmp_path / "b.png")
    assert line.bits == 1
    assert set(read_sample(line).values.ravel().tolist()) == {0, 255}


def test_palette_pictures_are_resolved(tmp_path: Path) -> None:
    few = (landscape() // 86) * 86
    Image.fromarray(few).quantize(64).save(tmp_path / "a.png")
    assert np.array_equal(read_sample(read_header(tmp_path / "a.png")).values, few.reshape(-1, 3))


def test_transparent_parts_are_paper_white(tmp_path: Path) -> None:
    pixels = np.dstack([landscape(), np.full((80, 120), 255, np.uint8)])
    pixels[:40, :, 3] = 0
    pixels[40, 0] = (100, 100, 100, 128)
    values = read_sample(read_header(saved(tmp_path / "a.png", pixels))).values.reshape(80, 120, 3)
    assert (values[:40] == 255).all()
    assert np.array_equal(values[41:], pixels[41:, :, :3])
    assert values[40, 0].tolist() == [177, 177, 177]  # 100 · 128/255 + 255 · 127/255


def test_transparent_16_bit_tiff(tmp_path: Path) -> None:
    pixels = np.dstack([landscape(bits=16), np.full((80, 120), 65535, np.uint16)])
    pixels[:40, :, 3] = 0
    values = read_sample(read_header(write_tiff(tmp_path / "a.tif", pixels, alpha="unassalpha"))).values.reshape(80, 120, 3)
    assert (values[:40] == 65535).all()
    assert np.array_equal(values[40:], pixels[40:, :, :3])


def test_ink_channels(tmp_path: Path) -> None:
    inks = Image.fromarray(landscape()).convert("CMYK")
    inks.save(tmp_path / "a.tif")
    sample = read_sample(read_header(tmp_path / "a.tif"))
    assert sample.mode == "CMYK"
    assert np.array_equal(sample.values, np.asarray(inks).reshape(-1, 4))


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("suffix", ["jpg", "png", "tif"])
def test_orientation_gives_the_upright_size(tmp_path: Path, suffix: str, orientation: int) -> None:
    exif = Image.Exif()
    exif[274] = orientation
    path = saved(tmp_path / f"a.{suffix}", landscape(), exif=exif)
    picture = read_header(path)
    assert (picture.width_px, picture.height_px) == ((120, 80) if orientation < 5 else (80, 120))
    assert read_sample(picture).every


def test_a_large_file_is_sampled_evenly_and_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.picture.reading.SELECTED", 5_000)
    pixels = np.random.default_rng(1).integers(0, 256, (400, 500, 3), dtype=np.uint8)
    pixels[:, ::7] = 0  # a regular texture that a fixed grid of 7 would always or never hit
    for path in (saved(tmp_path / "a.png", pixels), saved(tmp_path / "a.tif", pixels)):
        sample = read_sample(read_header(path), most=100_000)
        black = (sample.values == 0).all(axis=1).mean()
        assert not sample.every
        assert 3_000 < len(sample.values) < 6_000
        assert black == pytest.approx(72 / 500, abs=2.5 * sample.uncertainty)


def test_a_16_bit_sample_takes_the_pixels_that_an_8_bit_one_takes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.picture.reading.SELECTED", 900)
    wide = landscape(width=200, height=160).astype(np.uint16) * 257
    small = read_sample(read_header(saved(tmp_path / "a.png", (wide // 257).astype(np.uint8))), most=1_000)
    for name, path in (
        ("mapped", write_tiff(tmp_path / "a.tif", wide)),
        ("strips", write_tiff(tmp_path / "b.tif", wide, rowsperstrip=7, compression="zlib", predictor=2)),
    ):
        assert np.array_equal(read_sample(read_header(path), most=1_000).values // 257, small.values), name


@pytest.mark.parametrize("suffix", ["png", "jpg", "tif"])
def test_progress_goes_from_little_to_all(tmp_path: Path, suffix: str) -> None:
    told: list[float] = []
    pixels = np.random.default_rng(1).integers(0, 256, (400, 500, 3), dtype=np.uint8)
    picture = read_header(saved(tmp_path / f"a.{suffix}", pixels))
    assert np.array_equal(read_sample(picture, progress=told.append).values, read_sample(picture).values)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_no_picture_is_decoded_twice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    exif = Image.Exif()
    exif[274] = 6
    paths = [saved(tmp_path / f"a.{suffix}", landscape(), exif=exif) for suffix in ("png", "jpg")]
    paths += [saved(tmp_path / "b.png", landscape())]
    decoders: list[str] = []
    getdecoder = Image._getdecoder

    def counting(mode: str, name: str, *rest: object, **named: object) -> object:
        decoders.append(name)
        return getdecoder(mode, name, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr("PIL.Image._getdecoder", counting)
    for path in paths:
        decoders.clear()
        read_sample(read_header(path))
        assert len(decoders) == 1, path


def test_a_palettes_colours_have_8_bits_however_few_there_are(tmp_path: Path) -> None:
    few = Image.fromarray(landscape()).quantize(4)
    few.save(tmp_path / "few.png", bits=2)
    assert read_header(tmp_path / "few.png").bits == 8


def test_no_resolution_is_made_up_for_a_jpeg_that_names_none(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[274] = 6
    image = Image.fromarray(landscape())
    image.save(tmp_path / "none.jpg", exif=exif)
    assert read_header(tmp_path / "none.jpg").ppi is None
    exif[282], exif[296] = 240.0, 2
    image.save(tmp_path / "exif.jpg", exif=exif)
    image.save(tmp_path / "jfif.jpg", dpi=(300, 300))
    assert (read_header(tmp_path / "exif.jpg").ppi, read_header(tmp_path / "jfif.jpg").ppi) == (240, 300)


def test_a_picture_narrower_than_the_blocks_of_a_selection(tmp_path: Path) -> None:
    path = saved(tmp_path / "line.png", np.full((1, 4000, 3), 90, np.uint8))
    found = read_sample(read_header(path), most=3000)
    assert set(found.values.ravel().tolist()) == {90}
