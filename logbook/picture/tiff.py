"""TIFF files by tifffile, at their true depth: whatever is packed, in tiles, strips or planes, as rows from the top."""

import logging
import math
import operator
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from itertools import groupby
from pathlib import Path
from typing import Any

import imagecodecs
import numpy as np
from tifffile import TiffFile, TiffPage

from logbook.picture.file import (
    COLOURS,
    Band,
    Mode,
    PictureFile,
    Pixels,
    native,
    plausible_ppi,
    refuse_forged_size,
    turned,
)
from logbook.picture.refusal import PictureRefused, reason, shown

logging.getLogger("tifffile").setLevel(logging.CRITICAL + 1)  # what is wrong with a file is said once, by us

_PALETTE, _YCBCR, _LAB, _ICC_LAB = 3, 6, 8, 9
_MODES: dict[int, Mode] = {0: "L", 1: "L", 2: "RGB", _PALETTE: "RGB", 5: "CMYK", _YCBCR: "RGB", _LAB: "LAB", _ICC_LAB: "LAB"}
_PLAIN, _LZW, _JPEG_COMPRESSIONS = (1, 2, 5), 5, (6, 7)
_MULTIPLIED, _STRAIGHT = 1, 2  # what an extra sample says of itself (TIFF 6.0)
_UNSIGNED, _IN_PLANES = 1, 2
_ORIENTATION, _X_RESOLUTION, _Y_RESOLUTION, _RESOLUTION_UNIT, _PROFILE = 274, 282, 283, 296, 34675
_PPI_OF_UNIT = {2: 1.0, 3: 2.54}
_READ_AT_ONCE = 4_000_000
_WHITE_ICC_LAB_16 = 65280  # L* 100 in 16 bits of ICC's older encoding
_STARTS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")


def is_tiff(path: Path) -> bool:
    """Whether the file begins as one."""
    with path.open("rb") as file:
        return file.read(4) in _STARTS


def read_tiff_header(path: Path) -> PictureFile:
    """What the TIFF at ``path`` says of its first picture."""
    with _page(path) as page:
        width, height = int(page.imagewidth), int(page.imagelength)
        refuse_forged_size(path, width, height)
        mode, bits = _mode(page, path), _bits(page, path)
        orientation = _whole(page, _ORIENTATION, 1)
        orientation = orientation if orientation in range(1, 9) else 1
        upright = (height, width) if turned(orientation) else (width, height)
        alpha = _alpha(page, mode) != 0
        return PictureFile(path, "TIFF", mode, *upright, bits, orientation, _ppi(page, orientation), _profile(page), alpha)


def tiff_bands(picture: PictureFile) -> Iterator[Band]:
    """The picture's rows as stored, from the top down. ``PictureRefused`` where the file ends before they do."""
    with _page(picture.path) as page:
        _refuse_what_is_cut_short(page, picture.path)
        for top, rows in _rows(page, picture):
            yield Band(top, len(rows), partial(_some_of, rows, page, picture))


@contextmanager
def _page(path: Path) -> Iterator[TiffPage]:
    try:
        with TiffFile(path) as file:
            page = file.pages[0]
            assert isinstance(page, TiffPage)
            yield page
    except PictureRefused:
        raise
    except MemoryError:
        raise PictureRefused(f"{shown(path)}: asks for more memory than there is") from None
    except Exception as failure:  # tifffile and its decoders raise nearly anything on a forged file
        raise PictureRefused(f"{shown(path)}: a TIFF that is broken or cut short ({reason(failure)})") from None


def _mode(page: TiffPage, path: Path) -> Mode:
    found = _MODES.get(int(page.photometric))
    subsampled = page.photometric == _YCBCR and page.compression not in _JPEG_COMPRESSIONS
    samples = 1 if page.photometric == _PALETTE or found is None else COLOURS[found]
    if found is None or subsampled or page.imagedepth != 1 or page.samplesperpixel < samples:
        raise PictureRefused(
            f"{shown(path)}: a TIFF of a form not read here; save it as RGB, grey, CMYK or Lab with 8 or 16 bits"
        )
    return found


def _bits(page: TiffPage, path: Path) -> int:
    bits = 8 if page.photometric == _PALETTE and page.bitspersample <= 8 else int(page.bitspersample)
    if bits > 16 or (page.sampleformat != _UNSIGNED and page.photometric not in (_LAB, _ICC_LAB)):
        raise PictureRefused(f"{shown(path)}: {bits} bits a channel, not whole numbers of 8 or 16; save it with 16 or 8")
    if bits not in (1, 2, 4, 8, 16):
        raise PictureRefused(f"{shown(path)}: {bits} bits a channel; save it with 16 or 8")
    return bits


def _alpha(page: TiffPage, mode: Mode) -> int:
    """0: none, else what it says of itself."""
    kind = int(page.extrasamples[0]) if page.extrasamples else 0
    return kind if kind in (_MULTIPLIED, _STRAIGHT) and page.samplesperpixel > COLOURS[mode] else 0


def _ppi(page: TiffPage, orientation: int) -> float | None:
    tag = page.tags.get(_Y_RESOLUTION if turned(orientation) else _X_RESOLUTION)
    if tag is None:
        return None
    try:
        over, under = tag.value
        return plausible_ppi(over / under * _PPI_OF_UNIT[_whole(page, _RESOLUTION_UNIT, 2)])
    except (TypeError, ValueError, ArithmeticError, LookupError):  # forged: the picture has no resolution of its own
        return None


def _profile(page: TiffPage) -> bytes | None:
    tag = page.tags.get(_PROFILE)
    if tag is None:
        return None
    return bytes(tag.value) if isinstance(tag.value, bytes) else b""


def _whole(page: TiffPage, code: int, usual: int) -> int:
    tag = page.tags.get(code)
    try:
        return usual if tag is None else operator.index(tag.value)
    except TypeError:
        return usual


def _refuse_what_is_cut_short(page: TiffPage, path: Path) -> None:
    size = path.stat().st_size
    places = list(zip(page.dataoffsets, page.databytecounts, strict=False))
    if len(places) < math.prod(page.chunked) or any(at <= 0 or count <= 0 or at + count > size for at, count in places):
        raise PictureRefused(f"{shown(path)}: cut short, the file ends before the picture does")


def _rows(page: TiffPage, picture: PictureFile) -> Iterator[tuple[int, Pixels]]:
    """(top, rows) as decoded: (rows, width, samples)."""
    if page.is_contiguous and page.is_memmappable:
        depth = np.dtype(page.dtype).newbyteorder(page.parent.byteorder)
        mapped: Pixels = np.memmap(picture.path, depth, "r", page.dataoffsets[0], page.shape)
        yield 0, _samples_last(mapped, page)
    elif page.planarconfig == _IN_PLANES and page.samplesperpixel > 1:
        yield 0, _samples_last(page.asarray(), page)
    elif page.compression == _LZW and page.photometric in _PLAIN and not page.is_tiled:
        # Of LZW in strips libtiff makes in two thirds of the time what tifffile does, and the same.
        yield 0, _samples_last(imagecodecs.tiff_decode(picture.path.read_bytes(), index=0), page)
    else:
        for top, pieces in groupby(page.segments(buffersize=_READ_AT_ONCE), key=lambda piece: piece[1][2]):
            yield top, _side_by_side(pieces, page, top)


def _samples_last(pixels: Pixels, page: TiffPage) -> Pixels:
    if pixels.ndim == 2:
        return pixels[..., None]
    return np.moveaxis(pixels, 0, -1) if page.planarconfig == _IN_PLANES else pixels


def _side_by_side(pieces: Iterator[Any], page: TiffPage, top: int) -> Pixels:
    """A strip, or a row of tiles without what these have beyond the edges."""
    found = [piece[0] for piece, _, _ in pieces]
    row: Pixels = found[0] if len(found) == 1 else np.concatenate(found, axis=1)
    return row[: page.imagelength - top, : page.imagewidth]


def _some_of(rows: Pixels, page: TiffPage, picture: PictureFile, first: int, last: int) -> Pixels:
    """Rows from ``first`` up to ``last`` as plain channels of 8 or 16 bits."""
    rows = native(rows[first:last])
    if page.photometric == _PALETTE:
        return (np.moveaxis(np.asarray(page.colormap), 0, -1)[rows[..., 0]] >> 8).astype(np.uint8)
    if rows.dtype == np.bool_ or picture.bits < 8:
        rows = rows.astype(np.uint8) * np.uint8(255 // (2**picture.bits - 1))
    if page.photometric == 0:
        rows = np.iinfo(rows.dtype).max - rows
    if picture.mode == "LAB":
        return _signed_lab(rows[..., :3], icc=page.photometric == _ICC_LAB)
    kept = rows[..., : COLOURS[picture.mode] + picture.alpha]
    return straight(kept) if picture.alpha and _alpha(page, picture.mode) == _MULTIPLIED else kept


def _signed_lab(rows: Pixels, *, icc: bool) -> Pixels:
    """L* from 0 to the top, a* and b* signed with 1 or 256 a step, as CIELab has them in a TIFF (TIFF 6.0, section 23)."""
    if rows.dtype.kind == "i":
        rows = rows.view(rows.dtype.str.replace("i", "u"))
    if not icc:
        return rows
    found: Pixels = rows ^ np.array([0, 1, 1], rows.dtype) * rows.dtype.type(np.iinfo(rows.dtype).max // 2 + 1)
    if rows.dtype == np.uint16:
        found[..., 0] = np.minimum(rows[..., 0].astype(np.uint32) * 65535 // _WHITE_ICC_LAB_16, 65535)
    return found


def straight(pixels: Pixels) -> Pixels:
    """Pixels whose colours are multiplied by their alpha, the last channel, without it.

    >>> straight(np.array([[64, 128], [9, 0]], np.uint8)).tolist()
    [[128, 128], [0, 0]]
    """
    top = np.iinfo(pixels.dtype).max
    cover = pixels[..., -1:].astype(np.float64) / top
    colour = np.divide(pixels[..., :-1], cover, out=np.zeros(pixels[..., :-1].shape), where=cover > 0)
    found: Pixels = np.concatenate([np.clip(np.floor(colour + 0.5), 0, top).astype(pixels.dtype), pixels[..., -1:]], axis=-1)
    return found
