"""Picture files and profiles: read whole, or refused in one plain line; never more."""

import io
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["logbook", "tifffile", "PIL.PngImagePlugin", "PIL.JpegImagePlugin"]):
    from logbook.picture import header, icc, lightness, reading, shot, thumbnail
    from logbook.records.refusal import Refusal
    from logbook.records.text import plain

import numpy as np
from PIL import Image, ImageCms

from tests.bench.fuzzing.run import fuzz
from tests.picture.files import FORMS, landscape, write_tiff, write_wide_png

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
    profile = icc.profile_of(found)
    assert np.isfinite(lightness.lightness_histogram(sample, profile).mean)
    thumbnail.thumbnail(FILE, 64)
    shot.open_shots(FILE)


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
    wide = landscape(24, 16, 16)
    found += [write_tiff(FOLDER / "seed", wide, **form).read_bytes() for form in FORMS]
    found += [write_tiff(FOLDER / "seed", wide[..., :2], alpha=alpha).read_bytes() for alpha in ("assocalpha", "unassalpha")]
    found.append(write_wide_png(FOLDER / "seed", wide).read_bytes())
    return found


if __name__ == "__main__":
    fuzz(read, seeds(), LONGEST)
