"""Small images of a picture for the screen, and them read back."""

import io
import os

from PIL import Image, ImageCms

from logbook.picture.band import plain_channels
from logbook.picture.header import PictureFile, open_image, read_header
from logbook.picture.icc import Profile, profile_of, srgb
from logbook.picture.reading import Mode, decode
from logbook.picture.refusal import PictureRefused
from logbook.picture.upright import upright

_LARGEST_KEPT = 4_000_000  # bytes of a kept thumbnail; anything larger was not made here


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
    with open_image(picture.path) as image:
        if picture.format == "JPEG":
            image.draft(None, (2 * max_px, 2 * max_px))
        return in_srgb(upright(reduced(decode(image, picture), max_px), picture), picture)


def reduced(image: Image.Image, max_px: int) -> Image.Image:
    """The image made smaller: whole pixels averaged as far as that goes, then resampled."""
    scale = max_px / max(image.size)
    if scale >= 1:
        return image.copy()
    size = (max(1, round(image.width * scale)), max(1, round(image.height * scale)))
    if image.mode in ("1", "P", "PA") or image.mode.startswith("I;16"):
        step = max(1, int(1 / scale))
        near = image.resize((max(1, image.width // step), max(1, image.height // step)), Image.Resampling.NEAREST)
        return near if near.mode.startswith("I;16") else near.convert("RGBA").resize(size, Image.Resampling.BOX)
    return image.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0)


def in_srgb(image: Image.Image, picture: PictureFile) -> Image.Image:
    """``image``, a (smaller) version of the picture, as 8-bit sRGB for the screen."""
    flat = on_white(image)
    mode: Mode = flat.mode  # type: ignore[assignment]
    return to_srgb(flat, profile_of(picture, mode))


def to_srgb(flat: Image.Image, profile: Profile | None) -> Image.Image:
    """L, RGB, CMYK or LAB seen through its profile, as sRGB; without one its numbers are taken at face value."""
    if profile is None or profile is srgb():
        return flat.convert("RGB")
    if flat.mode == "L" and profile.mode == "RGB":
        flat = flat.convert("RGB")
    found = ImageCms.profileToProfile(flat, profile.handle, srgb().handle, ImageCms.Intent.RELATIVE_COLORIMETRIC, "RGB")
    assert found is not None  # only in place does it return nothing
    return found


def on_white(image: Image.Image) -> Image.Image:
    """The image in 8 bits without alpha: L, RGB, CMYK or LAB."""
    plain = plain_channels(image)
    if plain.mode.startswith("I;16"):
        return plain.convert("I").point(lambda level: level * (1 / 257), "I").convert("L")
    if plain.mode not in ("LA", "RGBA"):
        return plain
    white = Image.new(plain.mode, plain.size, (255,) * len(plain.getbands()))
    return Image.alpha_composite(white.convert("RGBA"), plain.convert("RGBA")).convert(plain.mode.removesuffix("A"))
