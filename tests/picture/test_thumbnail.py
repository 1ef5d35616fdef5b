"""Thumbnails are small, upright, in sRGB, and anything else kept in their place is refused."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from logbook.picture.icc import read_profile
from logbook.picture.refusal import PictureRefused
from logbook.picture.thumbnail import decoded, thumbnail
from tests.picture.files import landscape, saved, write_tiff

SYNTHETIC = Path(__file__).parents[1] / "outside" / "data" / "synthetic_black_L16.icc"


@pytest.mark.parametrize("suffix", ["png", "jpg", "tif"])
@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_small_and_upright(tmp_path: Path, suffix: str, orientation: int) -> None:
    exif = Image.Exif()
    exif[274] = orientation
    small = decoded(thumbnail(saved(tmp_path / f"a.{suffix}", landscape(), exif=exif), 40))
    assert small.size == ((40, 27) if orientation < 5 else (27, 40))
    light = np.asarray(small.convert("L"), float)
    bright = {1: light[:5], 3: light[-5:], 6: light[:, -5:], 8: light[:, :5]}[orientation]
    assert bright.mean() > 1.5 * light.mean()  # the sky, wherever the orientation puts it


def test_every_kind_of_picture_has_one(tmp_path: Path) -> None:
    grey = landscape(bits=16)[..., 0]
    paths = [
        saved(tmp_path / "grey16.png", grey),
        saved(tmp_path / "grey16.tif", grey),
        write_tiff(tmp_path / "rgb16.tif", landscape(bits=16)),
        saved(tmp_path / "alpha.png", np.dstack([landscape(), np.full((80, 120), 90, np.uint8)])),
    ]
    Image.fromarray(landscape()).convert("CMYK").save(tmp_path / "inks.tif")
    Image.fromarray(landscape()).quantize(16).save(tmp_path / "palette.png")
    Image.fromarray(grey > 30_000).save(tmp_path / "line.png")
    for path in (*paths, tmp_path / "inks.tif", tmp_path / "palette.png", tmp_path / "line.png"):
        small = decoded(thumbnail(path, 30))
        assert small.size == (30, 20), path
        light = np.asarray(small.convert("L"), float)
        assert light[:5].mean() > light[-5:].mean(), path


def test_colours_are_brought_to_srgb(tmp_path: Path) -> None:
    """Device black under a profile whose black is L* 16 is sRGB 40 (CIE 1976 and IEC 61966-2-1)."""
    black = np.zeros((20, 30, 3), np.uint8)
    path = saved(tmp_path / "a.png", black, icc_profile=SYNTHETIC.read_bytes())
    assert read_profile(SYNTHETIC).mode == "RGB"
    assert np.abs(np.asarray(decoded(thumbnail(path, 30))).astype(int) - 40).max() <= 1


def test_what_is_no_thumbnail_is_refused() -> None:
    for data in (b"", b"\x89PNG\r\n\x1a\n", b"GIF89a", b"\0" * 5_000_000):
        with pytest.raises(PictureRefused):
            decoded(data)
