"""The pixels of a picture file, for counting: every one of them, or of a very large file an even, seeded selection.

A selection takes one pixel out of each block of k×k, at places that change at random from row to row, so that no
regular texture can hide from it. Pixels are never averaged: an average would lighten the deepest shadows.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

import imagecodecs
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.file import COLOURS, Band, Mode, PictureFile, Pixels, band_of
from logbook.picture.header import open_image, quietly
from logbook.picture.refusal import PictureRefused, reason, shown
from logbook.picture.tiff import tiff_bands
from logbook.picture.upright import upright_rows

EVERY_PIXEL_UP_TO = 2**24  # counting all of a larger file would take longer than decoding it
SELECTED = 2_000_000  # a share counted on as many is known to 0.06 % or better (90 %)
ROWS_AT_ONCE = 64

Progress = Callable[[float], None]


@dataclass(frozen=True)
class Sample:
    """Pixels of a picture: ``values`` is (n, channels) in 8 or 16 bits, out of ``total``; alpha is laid on white.

    They come in ``rows`` rows of equal length as the file stores them, under ``orientation``: a picture in small.
    """

    mode: Mode
    values: Pixels
    total: int
    rows: int = 1
    orientation: int = 1

    @property
    def every(self) -> bool:
        """Whether these are all the pixels there are."""
        return len(self.values) == self.total

    @property
    def uncertainty(self) -> float:
        """Half the central 90 % interval of a share near one half; of any other share it is narrower.

        >>> Sample("L", np.zeros((2_000_000, 1), np.uint8), 100_000_000).uncertainty < 0.0006
        True
        """
        return 0.0 if self.every else 1.645 * 0.5 / math.sqrt(len(self.values))


def read_sample(picture: PictureFile, *, most: int = EVERY_PIXEL_UP_TO, progress: Progress | None = None) -> Sample:
    """Reads ``picture``: every pixel up to ``most`` of them, else about ``SELECTED``; the file is decoded once.

    ``progress`` is called with the share that is done. Raises ``PictureRefused`` for a broken or truncated file.
    """
    step = 1 if picture.pixels <= most else math.ceil(math.sqrt(picture.pixels / SELECTED))
    height = picture.stored_px[1]
    parts = (on_white(found, picture) for found in _chosen(picture, step, progress))
    together = _one_above_another(parts, height if step == 1 else None)
    values = together.reshape(-1, together.shape[-1])
    return Sample(picture.mode, values, picture.pixels, len(together), picture.orientation)


def eight_bit_image(picture: PictureFile, step: int = 1) -> Image.Image:
    """The picture upright on white in 8 bits, rounded; of every ``step`` rows and columns one."""
    parts = [on_white(rows, picture)[::step, ::step] for _, rows in pieces(picture, ROWS_AT_ONCE * step)]
    stored = eight_bits(np.concatenate(parts), picture.mode)
    upright = np.ascontiguousarray(upright_rows(stored, picture.orientation))
    return Image.frombytes(picture.mode, (upright.shape[1], upright.shape[0]), upright.tobytes())


def pieces(picture: PictureFile, at_once: int = ROWS_AT_ONCE, progress: Progress | None = None) -> Iterator[tuple[int, Pixels]]:
    """The picture from the top down: the first row's number and ``at_once`` rows, or what is left of a band."""
    for band in bands(picture, progress):
        for first in range(0, band.height, at_once):
            yield band.top + first, band.read(first, min(first + at_once, band.height))
        if progress:
            progress(min(1.0, (band.top + band.height) / picture.stored_px[1]))


def bands(picture: PictureFile, progress: Progress | None = None) -> Iterator[Band]:
    """The picture's rows as stored, at their full depth: of a TIFF as they are decoded, else all at once."""
    if picture.format == "TIFF":
        yield from tiff_bands(picture)
    elif picture.format == "PNG" and picture.bits == 16:
        yield band_of(0, _deep_png(picture))
    else:
        with open_image(picture.path) as image:
            _load(image, picture, progress)
            yield Band(0, image.height, partial(_plain_rows, image))


def _deep_png(picture: PictureFile) -> Pixels:
    """A PNG of 16 bits, of which Pillow keeps the upper 8."""
    try:
        found: Pixels = imagecodecs.png_decode(picture.path.read_bytes())
    except Exception as failure:  # as Pillow's decoders
        raise PictureRefused(f"{shown(picture.path)}: broken or cut short ({reason(failure)})") from None
    found = found if found.ndim == 3 else found[..., None]
    if found.shape[2] != COLOURS[picture.mode] + picture.alpha:
        raise PictureRefused(f"{shown(picture.path)}: broken, its channels are not those it names")
    return found


def _load(image: Image.Image, picture: PictureFile, progress: Progress | None = None) -> None:
    if progress:
        image.fp = _Told(image.fp, picture.path.stat().st_size, progress)  # type: ignore[attr-defined]
    try:
        with quietly():
            image.load()
    except Exception as failure:  # Pillow's decoders raise nearly anything on a broken file
        raise PictureRefused(f"{shown(picture.path)}: broken or cut short ({reason(failure)})") from None


def _plain_rows(image: Image.Image, first: int, last: int) -> Pixels:
    """Rows of a decoded picture in 8 bits a channel: palettes and the rest are resolved."""
    rows = image.crop((0, first, image.width, last))
    if "transparency" in image.info or image.mode == "PA":
        rows.info.update(image.info)
        rows = rows.convert("LA" if image.mode == "L" else "RGBA")
    elif image.mode not in ("1", "L", "LA", "RGB", "RGBA", "CMYK"):
        rows = rows.convert("RGB")
    found = np.asarray(rows)
    found = found.astype(np.uint8) * np.uint8(255) if found.dtype == bool else found
    return found if found.ndim == 3 else found[..., None]


class _Told:
    """A file that says how much of it has been read."""

    def __init__(self, file: Any, size: int, progress: Progress) -> None:
        self._file, self._size, self._progress, self._read = file, size, progress, 0

    def read(self, count: int = -1) -> bytes:
        data: bytes = self._file.read(count)
        self._read += len(data)
        self._progress(min(1.0, self._read / self._size))
        return data

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


def _one_above_another(parts: Iterator[Pixels], height: int | None) -> Pixels:
    """Parts (rows, width, channels) as one; where the ``height`` is known they are never held twice."""
    if height is None:
        return np.concatenate(list(parts))
    first = next(parts)
    found: Pixels = np.empty((height, *first.shape[1:]), first.dtype)
    found[: len(first)] = first
    top = len(first)
    for part in parts:
        found[top : top + len(part)] = part
        top += len(part)
    return found[:top]


def _chosen(picture: PictureFile, step: int, progress: Progress | None) -> Iterator[Pixels]:
    """All rows; or one out of each ``step``, and of it every ``step``-th pixel from a place drawn anew.

    The blocks stretch a little where ``step`` does not divide a side, so that no edge is left out.
    """
    if step == 1:
        yield from (rows for _, rows in pieces(picture, progress=progress))
        return
    width, height = picture.stored_px
    starts = np.arange(max(1, height // step) + 1) * height // max(1, height // step)
    drawn = np.random.default_rng(step).random((len(starts) - 1, 2))
    rows = starts[:-1] + (drawn[:, 0] * np.diff(starts)).astype(int)
    across = np.arange(max(1, width // step)) * width // max(1, width // step)
    shifts = (drawn[:, 1] * min(step, width)).astype(int)
    for band in bands(picture, progress):
        for block in range(*np.searchsorted(rows, (band.top, band.top + band.height))):
            row = int(rows[block]) - band.top
            yield band.read(row, row + 1)[:, across + shifts[block]]
        if progress:
            progress(min(1.0, (band.top + band.height) / height))


def on_white(pixels: Pixels, picture: PictureFile) -> Pixels:
    """Pixels (…, channels) without alpha: transparent parts are laid on paper white, as editors do it."""
    if not picture.alpha:
        return pixels
    top = np.iinfo(pixels.dtype).max
    white = 0 if picture.mode == "CMYK" else top
    cover = pixels[..., -1:].astype(np.float32) / np.float32(top)
    mixed: NDArray[np.float32] = pixels[..., :-1] * cover + white * (1 - cover)
    return np.round(mixed).astype(pixels.dtype)


def eight_bits(values: Pixels, mode: Mode = "RGB") -> NDArray[np.uint8]:
    """8-bit values, 16 bits rounded to the nearest; a* and b* are signed.

    >>> eight_bits(np.array([0, 128, 129, 65535], np.uint16)).tolist()
    [0, 0, 1, 255]
    """
    if values.dtype == np.uint8:
        return values.astype(np.uint8, copy=False)
    found = ((values.astype(np.uint32) + 128) // 257).astype(np.uint8)
    if mode == "LAB":
        found[..., 1:] = np.clip((values[..., 1:].view(np.int16).astype(np.int32) + 128) >> 8, -128, 127).astype(np.uint8)
    return found
