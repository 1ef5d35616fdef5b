"""What a picture file says of itself, read without decoding it."""

import logging
import os
import stat
import warnings
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

from PIL import Image, UnidentifiedImageError

from logbook.picture.file import MOST_PIXELS, Encoding, Mode, PictureFile, plausible_ppi, refuse_forged_size, turned
from logbook.picture.refusal import PictureRefused, reason, shown
from logbook.picture.tiff import is_tiff, read_tiff_header

Image.MAX_IMAGE_PIXELS = MOST_PIXELS  # Pillow's own limit lies below an ordinary 100-megapixel file
logging.getLogger("PIL").addHandler(logging.NullHandler())  # else its remarks on broken files reach standard error

_SUFFIXES = {".tif": "TIFF", ".tiff": "TIFF", ".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG", ".jpe": "JPEG", ".jfif": "JPEG"}
_ORIENTATION, _X_RESOLUTION, _INTEROPERABILITY, _INDEX = 274, 282, 40965, 1
_PNG_KIND_AT, _PNG_PALETTE = 25, 3  # a palette's bits number its colours, which have 8 themselves
# DCF 2.0's option file: RGB numbers under IEC 61966-2-5 (opRGB), whose primaries and gamma these are.
_OPTION_FILE = "R03"
OP_RGB = Encoding("opRGB (IEC 61966-2-5), as its EXIF block says", 563 / 256, (0.64, 0.33, 0.21, 0.71, 0.15, 0.06))


def read_header(path: str | os.PathLike[str]) -> PictureFile:
    """What the file at ``path`` says of itself. Raises ``PictureRefused`` with the reason where it is no picture we read."""
    place = Path(path)
    _refuse_what_is_no_file(place)
    if is_tiff(place):
        _refuse_a_wrong_name(place, "TIFF")
        return read_tiff_header(place)
    with open_image(place) as image, quietly():
        format = "JPEG" if image.format == "MPO" else str(image.format)
        exif = _exif(image)
        orientation = exif.get(_ORIENTATION, 1) if exif.get(_ORIENTATION, 1) in range(1, 9) else 1
        profile = image.info["icc_profile"] or b"" if "icc_profile" in image.info else None
        upright = image.size[::-1] if turned(orientation) else image.size
        mode, alpha, bits = _channels(image, place)
        return PictureFile(
            place, format, mode, *upright, bits, orientation, _ppi(image, exif, turned(orientation)), profile, alpha,
            _encoding(image, exif) if profile is None and mode == "RGB" else None,
        )  # fmt: skip


def open_image(path: Path, formats: tuple[str, ...] = ("PNG", "JPEG")) -> Image.Image:
    """The file at ``path`` opened by Pillow and not yet decoded, or ``PictureRefused`` in one line."""
    _refuse_what_is_no_file(path)
    try:
        with quietly():
            image = Image.open(path, formats=formats)
    except UnidentifiedImageError:
        raise PictureRefused(f"{shown(path)}: not a TIFF, PNG or JPEG that can be read") from None
    except Image.DecompressionBombError:
        raise PictureRefused(f"{shown(path)}: claims more than {MOST_PIXELS // 1_000_000} million pixels") from None
    except Exception as failure:  # Pillow's parsers raise nearly anything on a forged header
        raise PictureRefused(f"{shown(path)}: broken file ({reason(failure)})") from None
    try:
        _refuse_a_wrong_name(path, "JPEG" if image.format == "MPO" else str(image.format))
        refuse_forged_size(path, *image.size)
    except PictureRefused:
        image.close()
        raise
    return image


@contextmanager
def quietly() -> Iterator[None]:
    """Without Pillow's warnings: what is wrong with a file is said once, by us."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


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


def _refuse_a_wrong_name(path: Path, found: str) -> None:
    said = _SUFFIXES.get(path.suffix.lower())
    if said is not None and said != found:
        raise PictureRefused(f"{shown(path)}: named as a {said} but a {found} inside; give it its right name")


def _exif(image: Image.Image) -> Any:
    """The EXIF block, empty where there is none (asking a PNG for one would decode it) or a broken one."""
    try:
        return image.getexif() if "exif" in image.info else Image.Exif()
    except Exception:  # a broken EXIF block does not make the picture unreadable
        return Image.Exif()


def _channels(image: Image.Image, path: Path) -> tuple[Mode, bool, int]:
    """Mode, alpha and bits. Of a PNG as its own header has them: Pillow's mode tells neither 16 bits nor grey with alpha."""
    if image.format != "PNG":
        return ("CMYK" if image.mode == "CMYK" else "L" if image.mode == "L" else "RGB"), False, 8
    with path.open("rb") as file:
        bits, kind = file.read(_PNG_KIND_AT + 1)[_PNG_KIND_AT - 1 :]
    alpha = kind in (4, 6) or "transparency" in image.info
    return ("L" if kind in (0, 4) else "RGB"), alpha, 8 if kind == _PNG_PALETTE else bits


def _ppi(image: Image.Image, exif: Any, turned: bool) -> float | None:
    dpi = image.info.get("dpi")
    # Pillow says 72 for a JPEG that names none.
    if not dpi or not (image.format == "PNG" or image.info.get("jfif_unit") or _X_RESOLUTION in exif):
        return None
    try:
        return plausible_ppi(float(dpi[1] if turned else dpi[0]))
    except (TypeError, ValueError, ArithmeticError, LookupError):  # a forged tag: the picture has no resolution of its own
        return None


def _encoding(image: Image.Image, exif: Any) -> Encoding | None:
    """What the file says of its RGB numbers where it has no profile: the EXIF block's, or a PNG's gAMA and cHRM."""
    with suppress(Exception):  # as for a broken EXIF block
        if exif.get_ifd(_INTEROPERABILITY).get(_INDEX) == _OPTION_FILE:
            return OP_RGB
    gamma, chromaticity = image.info.get("gamma"), image.info.get("chromaticity")
    if not gamma or "srgb" in image.info or not 0.1 < 1 / gamma < 10:
        return None
    found = Encoding(f"gamma {1 / gamma:.2f}, as its header says", 1 / gamma)
    return replace(found, primaries=chromaticity[2:], white=chromaticity[:2]) if chromaticity else found
