"""What a picture file says of itself, read without decoding it."""

import logging
import os
import stat
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, TiffImagePlugin, UnidentifiedImageError
from PIL.PngImagePlugin import PngInfo

from logbook.picture.quiet_libtiff import silence_libtiff
from logbook.picture.refusal import PictureRefused
from logbook.records.new_file import MAKER
from logbook.records.text import plain

# Pillow's own limit lies below an ordinary 100-megapixel file. Ours leaves room for stitched pictures and still
# bounds what a forged header can make us allocate (500 million pixels decode to 2 GB).
MOST_PIXELS = 500_000_000
_LARGE, _MOST_PIXELS_A_BYTE = 150_000_000, 200  # no photograph packs so tightly; a bomb does
Image.MAX_IMAGE_PIXELS = MOST_PIXELS
logging.getLogger("PIL").addHandler(logging.NullHandler())  # else its remarks on broken files reach standard error

# Pillow knows no TIFF of grey with alpha in 16 bits. Named here, it opens one; its rows we read ourselves (see tiff.py).
for _extra in (0, 1, 2):
    for _order, _raw in ((TiffImagePlugin.II, "LA;16L"), (TiffImagePlugin.MM, "LA;16B")):
        TiffImagePlugin.OPEN_INFO.setdefault((_order, 1, (1,), 1, (16, 16), (_extra,)), ("LA", _raw))

FORMATS = ("TIFF", "PNG", "JPEG")
_SUFFIXES = {".tif": "TIFF", ".tiff": "TIFF", ".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG", ".jpe": "JPEG", ".jfif": "JPEG"}
_TURNED = (5, 6, 7, 8)  # EXIF orientations that exchange width and height
_TIFF_STARTS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
_PNG_DEPTH_AT = 24
_MM_PER_INCH = 25.4
_SAMPLE_BITS, _PHOTOMETRIC, _ORIENTATION, _X_RESOLUTION = 258, 262, 274, 282


@dataclass(frozen=True)
class PictureFile:
    """A picture file: upright ``width_px`` and ``height_px``, its true ``bits`` a channel, and what else it says.

    ``mode`` is Pillow's; ``ppi`` is ``None`` where the file names none; ``profile`` is the embedded ICC profile.
    """

    path: Path
    format: str
    mode: str
    width_px: int
    height_px: int
    bits: int
    orientation: int
    ppi: float | None
    profile: bytes | None

    @property
    def pixels(self) -> int:
        return self.width_px * self.height_px


def read_header(path: str | os.PathLike[str]) -> PictureFile:
    """What the file at ``path`` says of itself. Raises ``PictureRefused`` with the reason where it is no picture we read."""
    place = Path(path)
    with open_image(place) as image, quietly():
        orientation = _orientation(image)
        width, height = _upright(image, orientation)
        return PictureFile(
            path=place,
            format="JPEG" if image.format == "MPO" else str(image.format),
            mode=image.mode,
            width_px=width,
            height_px=height,
            bits=_true_bits(image, place),
            orientation=orientation,
            ppi=_own_ppi(image, turned=orientation in _TURNED),
            profile=image.info.get("icc_profile") or None,
        )


def open_image(path: Path) -> Image.Image:
    """The file at ``path`` opened by Pillow and not yet decoded, or ``PictureRefused`` in one line."""
    _refuse_what_is_no_file(path)
    silence_libtiff()
    try:
        with quietly():
            image = Image.open(path, formats=FORMATS)
    except UnidentifiedImageError:
        raise PictureRefused(f"{shown(path)}: {_why_unknown(path)}") from None
    except Image.DecompressionBombError:
        raise PictureRefused(f"{shown(path)}: claims more than {MOST_PIXELS // 1_000_000} million pixels") from None
    except PermissionError:
        raise PictureRefused(f"{shown(path)}: may not be read") from None
    except Exception as failure:  # Pillow's parsers raise nearly anything on a forged header
        raise PictureRefused(f"{shown(path)}: broken file ({reason(failure)})") from None
    try:
        _refuse_what_we_do_not_print(image, path)
    except PictureRefused:
        image.close()
        raise
    return image


def _why_unknown(path: Path) -> str:
    with path.open("rb") as file:
        is_tiff = file.read(4) in _TIFF_STARTS
    if is_tiff:
        return "a TIFF that is broken, or of a form not read here; save it as RGB, grey or CMYK with 8 or 16 bits a channel"
    return "not a TIFF, PNG or JPEG that can be read"


@contextmanager
def quietly() -> Iterator[None]:
    """Without Pillow's warnings: what is wrong with a file is said once, by us."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def made_here() -> PngInfo:
    """What a PNG that the program writes says of its origin."""
    info = PngInfo()
    info.add_text("Software", MAKER)
    return info


def shown(path: Path) -> str:
    """The path as it may stand in a message."""
    return plain(str(path))


def reason(failure: BaseException) -> str:
    """One line of what went wrong inside a library."""
    text = plain(str(failure) or type(failure).__name__)
    return text if len(text) <= 120 else text[:117] + "..."


def _refuse_what_is_no_file(path: Path) -> None:
    try:
        found = path.stat()
    except (OSError, ValueError) as failure:
        why = "no such file" if isinstance(failure, FileNotFoundError) else reason(failure)
        raise PictureRefused(f"{shown(path)}: {why}") from None
    if stat.S_ISDIR(found.st_mode):
        raise PictureRefused(f"{shown(path)}: a folder, not a picture")
    if not stat.S_ISREG(found.st_mode):
        raise PictureRefused(f"{shown(path)}: not an ordinary file")
    if found.st_size == 0:
        raise PictureRefused(f"{shown(path)}: empty")
    if not os.access(path, os.R_OK):
        raise PictureRefused(f"{shown(path)}: may not be read")


def _refuse_what_we_do_not_print(image: Image.Image, path: Path) -> None:
    said, found = _SUFFIXES.get(path.suffix.lower()), "JPEG" if image.format == "MPO" else image.format
    if said is not None and said != found:
        raise PictureRefused(f"{shown(path)}: named as a {said} but a {found} inside; give it its right name")
    pixels = image.width * image.height
    if pixels > MOST_PIXELS:
        raise PictureRefused(f"{shown(path)}: claims {image.width}×{image.height} pixels, more than {MOST_PIXELS:,}")
    if pixels > _LARGE and pixels > _MOST_PIXELS_A_BYTE * path.stat().st_size:
        raise PictureRefused(f"{shown(path)}: claims {image.width}×{image.height} pixels in a file too small to hold a picture")
    if image.mode in ("F", "I"):
        raise PictureRefused(f"{shown(path)}: 32 bits a channel; save it with 16 or 8")
    if image.format == "TIFF" and (odd := [bits for bits in _tiff_bits(image) if bits > 8 and bits != 16]):
        raise PictureRefused(f"{shown(path)}: {odd[0]} bits a channel; save it with 16 or 8")  # Pillow would read 12 as dark 16


def _orientation(image: Image.Image) -> int:
    if image.format == "TIFF":
        value = image.tag_v2.get(_ORIENTATION, 1)  # type: ignore[attr-defined]
    elif "exif" not in image.info:  # asking a PNG without EXIF for it would decode the picture
        value = 1
    else:
        try:
            value = image.getexif().get(_ORIENTATION, 1)
        except Exception:  # a broken EXIF block does not make the picture unreadable
            value = 1
    return value if value in range(1, 9) else 1


def _upright(image: Image.Image, orientation: int) -> tuple[int, int]:
    # Pillow gives the size of a TIFF upright already, that of a JPEG or PNG as stored.
    if image.format != "TIFF" and orientation in _TURNED:
        return image.height, image.width
    return image.width, image.height


def _true_bits(image: Image.Image, path: Path) -> int:
    if image.mode in ("P", "PA"):  # the file's bits number the palette's colours, which have 8 a channel themselves
        return 8
    if image.format == "TIFF":  # Pillow's mode tells 8 for a 16-bit RGB TIFF; the tag tells the truth
        return max(_tiff_bits(image))
    if image.format == "PNG":
        with path.open("rb") as file:
            return file.read(_PNG_DEPTH_AT + 1)[_PNG_DEPTH_AT]
    return 8


def _tiff_bits(image: Image.Image) -> list[int]:
    return [int(bits) for bits in image.tag_v2.get(_SAMPLE_BITS, (1,))]  # type: ignore[attr-defined]


def _names_resolution(image: Image.Image) -> bool:
    """Whether the file does: Pillow says 72 where EXIF says nothing."""
    if image.format == "TIFF":
        return _X_RESOLUTION in image.tag_v2  # type: ignore[attr-defined]
    if image.format == "PNG" or image.info.get("jfif_unit"):
        return True
    try:
        return _X_RESOLUTION in image.getexif()
    except Exception:  # as for the orientation
        return False


def _own_ppi(image: Image.Image, *, turned: bool) -> float | None:
    dpi = image.info.get("dpi")
    if not dpi or not _names_resolution(image):
        return None
    try:
        across = float(dpi[1] if turned else dpi[0])
    except (TypeError, ValueError, ArithmeticError, LookupError):  # a forged tag: the picture has no resolution of its own
        return None
    return round(across, 3) if 1 < across < 100_000 else None
