"""The pixels of a picture file, for counting: every one of them, or of a very large file an even, seeded selection.

A selection takes one pixel out of each block of k×k, at places that change at random from row to row, so that no
regular texture can hide from it. Pixels are never averaged: an average would lighten the deepest shadows.
"""

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.band import Band, DecodedBand, plain_channels
from logbook.picture.header import PictureFile, open_image, quietly, reason, shown
from logbook.picture.refusal import PictureRefused
from logbook.picture.tiff import Strips
from logbook.picture.tiff_layout import PLANAR, Pixels
from logbook.picture.upright import upright_rows

EVERY_PIXEL_UP_TO = 2**24  # counting all of a larger file would take longer than decoding it
SELECTED = 2_000_000  # a share counted on as many is known to 0.06 % or better (90 %)
_ROWS_AT_ONCE = 64

Mode = Literal["L", "RGB", "CMYK", "LAB"]
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
    with opened(picture, progress) as rows:
        parts = (on_white(found, rows) for found in _chosen(rows.bands, step, rows.height, progress))
        together = _one_above_another(parts, rows.height if step == 1 else None)
        values = together.reshape(-1, together.shape[-1])
        return Sample(rows.mode, values, picture.pixels, len(together), rows.orientation)


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


@dataclass(frozen=True)
class Rows:
    """A picture's rows as stored: its ``bands`` from the top, of ``height`` rows in all, and what their channels are."""

    bands: Iterator[Band]
    height: int
    mode: Mode
    alpha: bool
    inverted: bool
    orientation: int
    premultiplied: bool = False

    @property
    def colours(self) -> int:
        return {"L": 1, "RGB": 3, "LAB": 3, "CMYK": 4}[self.mode]


@contextmanager
def opened(picture: PictureFile, progress: Progress | None = None) -> Iterator[Rows]:
    """The picture's rows at the best depth we can have them, decoded as they are asked for or once by Pillow."""
    with open_image(picture.path) as image:
        with quietly():
            strips = Strips.of(picture.path, image) if picture.format == "TIFF" else None
        if strips is not None:
            yield _rows_of(strips, picture)
        else:
            _load(image, picture, progress)
            band = DecodedBand(image)
            mode, alpha = _decoded_mode(band)
            turn = 1 if picture.format == "TIFF" else picture.orientation  # a TIFF Pillow has turned upright already
            yield Rows(iter([band]), image.height, mode, alpha, False, turn)


def decode(image: Image.Image, picture: PictureFile, *, rounded: bool = False) -> Image.Image:
    """The opened file decoded, by Pillow wherever it reads it rightly; a TIFF is upright. Says in one line where it cannot.

    Pillow cuts colours of 16 bits down to the upper 8; ``rounded`` has them rounded where we can read them ourselves.
    """
    with quietly():
        strips = Strips.of(picture.path, image) if picture.format == "TIFF" else None
    if strips is not None and strips.bits == 16 and (rounded or strips.misread_by_pillow):
        return _decoded_strips(strips, picture)
    _load(image, picture)
    return image


def _decoded_strips(strips: Strips, picture: PictureFile) -> Image.Image:
    """The whole picture in 8 bits, as Pillow would have it."""
    kept = strips.colours + strips.alpha
    eight = np.empty((strips.height, strips.width, kept), np.uint8)
    for band in strips.bands():
        for first in range(0, band.height, _ROWS_AT_ONCE):
            rows = band.rows(first, min(first + _ROWS_AT_ONCE, band.height))[..., :kept]
            eight[band.top + first : band.top + first + len(rows)] = (rows.astype(np.uint32) + 128) // 257
    if strips.photometric == 0:
        eight[..., 0] = 255 - eight[..., 0]
    upright = np.ascontiguousarray(upright_rows(eight, picture.orientation))
    mode = f"{_mode_of(strips)}{('a' if strips.premultiplied else 'A') if strips.alpha else ''}"
    return Image.frombytes(mode, (upright.shape[1], upright.shape[0]), upright.tobytes())


def _load(image: Image.Image, picture: PictureFile, progress: Progress | None = None) -> None:
    if picture.format == "TIFF" and picture.bits == 16 and image.tag_v2.get(PLANAR) == 2 and _is_raw(image):  # type: ignore[attr-defined]
        raise PictureRefused(f"{shown(picture.path)}: 16 bits in planes of tiles; save it with its channels together")
    if progress and picture.format in ("JPEG", "PNG"):  # a TIFF is read by libtiff itself, in one call
        image.fp = _Told(image.fp, picture.path.stat().st_size, progress)  # type: ignore[attr-defined]
    try:
        with quietly():
            image.load()
    except Exception as failure:  # Pillow's decoders raise nearly anything on a broken file
        raise PictureRefused(f"{shown(picture.path)}: broken or cut short ({reason(failure)})") from None


def _is_raw(image: Image.Image) -> bool:
    return all(tile[0] == "raw" for tile in image.tile)  # type: ignore[attr-defined]


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


def _rows_of(strips: Strips, picture: PictureFile) -> Rows:
    return Rows(
        strips.bands(),
        strips.height,
        _mode_of(strips),
        strips.alpha,
        inverted=strips.photometric == 0,
        orientation=picture.orientation,
        premultiplied=strips.premultiplied,
    )


def _mode_of(strips: Strips) -> Mode:
    return {1: "L", 3: "RGB", 4: "CMYK"}[strips.colours]  # type: ignore[return-value]


def _decoded_mode(band: DecodedBand) -> tuple[Mode, bool]:
    mode = plain_channels(band.image.crop((0, 0, 1, 1))).mode
    if mode.startswith("I;16"):
        return "L", False
    return mode.removesuffix("A") if mode in ("LA", "RGBA") else mode, mode in ("LA", "RGBA")  # type: ignore[return-value]


def _chosen(bands: Iterator[Band], step: int, height: int, progress: Progress | None) -> Iterator[Pixels]:
    for band in bands:
        if step == 1:
            for first in range(0, band.height, _ROWS_AT_ONCE):
                yield band.rows(first, min(first + _ROWS_AT_ONCE, band.height))
        else:
            yield from _lattice(band, step, height)
        if progress:
            progress(min(1.0, (band.top + band.height) / height))


def _lattice(band: Band, step: int, height: int) -> Iterator[Pixels]:
    """One row out of each ``step`` of the picture, and of it every ``step``-th pixel from a place drawn anew.

    The blocks stretch a little where ``step`` does not divide a side, so that no edge is left out.
    """
    blocks = max(1, height // step)
    starts = np.arange(blocks + 1) * height // blocks
    drawn = np.random.default_rng(step).random((blocks, 2))
    rows = starts[:-1] + (drawn[:, 0] * np.diff(starts)).astype(int) - band.top
    for block in np.flatnonzero((rows >= 0) & (rows < band.height)):
        found = band.rows(int(rows[block]), int(rows[block]) + 1)
        width = found.shape[1]
        places = max(1, width // step)
        across = np.arange(places) * width // places
        yield found[:, across + int(drawn[block, 1] * min(step, width))]


def on_white(pixels: Pixels, rows: Rows) -> Pixels:
    """Plain channels in native byte order, (…, channels), transparent parts laid on paper white as editors do it."""
    native: Pixels = pixels[..., : rows.colours].astype(pixels.dtype.newbyteorder("="), copy=False)
    if rows.inverted:
        native = np.iinfo(native.dtype).max - native
    if not rows.alpha:
        return np.array(native)
    top = np.iinfo(native.dtype).max
    white = 0 if rows.mode == "CMYK" else top
    cover = pixels[..., rows.colours : rows.colours + 1].astype(np.float32) / np.float32(top)
    seen = native if rows.premultiplied else native * cover
    mixed: NDArray[np.float32] = np.minimum(seen + white * (1 - cover), top)
    return np.round(mixed).astype(native.dtype)
