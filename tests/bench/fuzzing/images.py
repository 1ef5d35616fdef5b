"""Picture files and profiles: read whole, or refused in one plain line; never more."""

import io
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["logbook", "PIL.TiffImagePlugin", "PIL.PngImagePlugin", "PIL.JpegImagePlugin"]):
    from logbook.picture import header, icc, lightness, reading, shot, thumbnail
    from logbook.records.refusal import Refusal
    from logbook.records.text import plain

import numpy as np
from PIL import Image, ImageCms

from tests.bench.fuzzing.run import fuzz
from tests.picture.files import landscape, tiff_fields, write_deflated_tiff, write_raw_tiff

LONGEST = 16_384
FOLDER = Path(tempfile.mkdtemp(prefix="fuzz-"))
FILE = FOLDER / "picture"


def read(data: bytes) -> None:
    """A picture's file through everything that reads one; what starts with a P is a profile."""
    FILE.write_bytes(data)
    try:
        if data.startswith(b"P"):
            icc.open_profile(data[1:], "the profile")
        else:
            _read_picture()
    except Refusal as refusal:
        assert str(refusal) == plain(str(refusal)), repr(str(refusal))


def _read_picture() -> None:
    found = header.read_header(FILE)
    if found.pixels > 2**20:
        return
    sample = reading.read_sample(found, most=2**14)
    assert sample.values.size
    profile = icc.profile_of(found, sample.mode)
    assert np.isfinite(lightness.lightness_histogram(sample, profile).mean)
    thumbnail.thumbnail(FILE, 64)
    shot.open_shot(FILE)


def seeds() -> list[bytes]:
    """Small pictures of each kind that is read, and a profile."""
    pixels = landscape(24, 16)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    image = Image.fromarray(pixels)
    found = [b"P" + profile]
    for format, options in (
        ("TIFF", {}),
        ("TIFF", {"compression": "tiff_lzw", "icc_profile": profile}),
        ("TIFF", {"compression": "tiff_adobe_deflate", "dpi": (300, 300)}),
        ("JPEG", {"icc_profile": profile}),
        ("PNG", {"icc_profile": profile}),
        ("PNG", {"dpi": (300, 300)}),
    ):
        for one in (image, image.convert("L")):
            out = io.BytesIO()
            one.save(out, format, **options)
            found.append(out.getvalue())
    for bits in (8, 16):
        for predictor in (1, 2):
            path = write_deflated_tiff(FOLDER / "seed", landscape(24, 16, bits), predictor=predictor, big_endian=predictor == 1)
            found.append(path.read_bytes())
    wide = landscape(24, 16, 16)
    planes = [wide[top : top + 5, :, channel].tobytes() for channel in range(3) for top in range(0, 16, 5)]
    found.append(write_raw_tiff(FOLDER / "seed", tiff_fields(wide, 2, 5, planes=1), planes).read_bytes())
    for extra in (1, 2):
        grey = [wide[..., :2].tobytes()]
        found.append(write_raw_tiff(FOLDER / "seed", tiff_fields(wide[..., :2], 1, 16, extra=extra), grey).read_bytes())
    return found


if __name__ == "__main__":
    fuzz(read, seeds(), LONGEST)
