"""Small images of a picture for the screen, and them read back."""

import io
import os

from PIL import Image, ImageCms

from logbook.picture.file import PictureFile
from logbook.picture.header import read_header
from logbook.picture.icc import Profile, profile_of, srgb
from logbook.picture.reading import eight_bit_image
from logbook.picture.refusal import PictureRefused

_LARGEST_KEPT = 4_000_000  # bytes of a kept thumbnail; anything larger was not made here
_OVERSAMPLED = 3


def thumbnail(path: str | os.PathLike[str], max_px: int) -> bytes:
    """A PNG of the picture, upright, in sRGB, its long side at most ``max_px``. Raises ``PictureRefused``."""
    kept = io.BytesIO()
    small_picture(read_header(path), max_px).save(kept, "PNG", optimize=True)
    return kept.getvalue()


def decoded(data: bytes) -> Image.Image:
    """The image that ``thumbnail`` made. Raises ``PictureRefused`` for anything else."""
    if len(data) > _LARGEST_KEPT:
        raise PictureRefused("too large for a thumbnail")
    try:
        image = Image.open(io.BytesIO(data), formats=("PNG", "JPEG"))
        image.load()
    except Exception:
        raise PictureRefused("the kept thumbnail is broken") from None
    return image.convert("RGB")


def small_picture(picture: PictureFile, max_px: int) -> Image.Image:
    """The picture as sRGB, upright, transparent parts on white, its long side at most ``max_px``."""
    long = max(picture.width_px, picture.height_px)
    image = eight_bit_image(picture, max(1, long // (_OVERSAMPLED * max_px)))
    scale = min(1.0, max_px / max(image.size))
    size = (max(1, round(image.width * scale)), max(1, round(image.height * scale)))
    return to_srgb(image.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0), profile_of(picture))


def to_srgb(flat: Image.Image, profile: Profile | None) -> Image.Image:
    """L, RGB, CMYK or LAB seen through its profile, as sRGB; without one its numbers are taken at face value."""
    if profile is None or profile is srgb():
        return flat.convert("RGB")
    if flat.mode == "L" and profile.mode == "RGB":
        flat = flat.convert("RGB")
    found = ImageCms.profileToProfile(flat, profile.handle, srgb().handle, ImageCms.Intent.RELATIVE_COLORIMETRIC, "RGB")
    assert found is not None  # only in place does it return nothing
    return found
