"""A picture file as the rest of the room sees it, and what is too large to be one."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from logbook.picture.refusal import PictureRefused, shown

Pixels = NDArray[Any]  # np.uint8 or np.uint16
Mode = Literal["L", "RGB", "CMYK", "LAB"]
COLOURS: dict[Mode, int] = {"L": 1, "RGB": 3, "CMYK": 4, "LAB": 3}

# Room for stitched pictures, and a bound on what a forged header can make us allocate (500 million pixels decode to 2 GB).
MOST_PIXELS = 500_000_000
_LARGE, _MOST_PIXELS_A_BYTE = 150_000_000, 200  # no photograph packs so tightly; a bomb does
_LEAST_PPI, _MOST_PPI = 1, 100_000


@dataclass(frozen=True)
class Encoding:
    """What a file without a profile says its RGB numbers mean: ``gamma`` and the chromaticities (x, y) of R, G, B and white."""

    name: str
    gamma: float
    primaries: tuple[float, ...] = (0.64, 0.33, 0.30, 0.60, 0.15, 0.06)
    white: tuple[float, float] = (0.3127, 0.3290)


@dataclass(frozen=True)
class PictureFile:
    """A picture file: upright ``width_px`` and ``height_px``, its true ``bits`` a channel, and what else it says.

    ``mode`` is what its channels are, ``alpha`` whether one more covers them; ``ppi`` is ``None`` where the file names
    none; ``profile`` is the embedded ICC profile (empty: there is one, broken), ``encoding`` what is said instead of one.
    """

    path: Path
    format: str
    mode: Mode
    width_px: int
    height_px: int
    bits: int
    orientation: int
    ppi: float | None
    profile: bytes | None
    alpha: bool = False
    encoding: Encoding | None = None

    @property
    def pixels(self) -> int:
        return self.width_px * self.height_px

    @property
    def stored_px(self) -> tuple[int, int]:
        """Width and height of the rows as they are stored."""
        return (self.height_px, self.width_px) if turned(self.orientation) else (self.width_px, self.height_px)


@dataclass(frozen=True)
class Band:
    """Some rows of a picture from the row ``top`` on.

    ``read`` gives those from one number up to another, counted within the band: (rows, width, channels), the colours
    first and then an alpha that is not multiplied in.
    """

    top: int
    height: int
    read: Callable[[int, int], Pixels]


def band_of(top: int, pixels: Pixels) -> Band:
    """Rows that are at hand, or in a mapped file of which only what is asked for is read."""
    return Band(top, len(pixels), lambda first, last: native(pixels[first:last]))


def native(pixels: Pixels) -> Pixels:
    """In the machine's byte order."""
    return np.asarray(pixels, pixels.dtype.newbyteorder("="))


def turned(orientation: int) -> bool:
    """Whether an EXIF orientation exchanges width and height."""
    return orientation in (5, 6, 7, 8)


def plausible_ppi(ppi: float) -> float | None:
    """Pixels an inch as a file names them; ``None`` where no picture has so many or so few."""
    return round(ppi, 3) if _LEAST_PPI < ppi < _MOST_PPI else None


def refuse_forged_size(path: Path, width: int, height: int) -> None:
    """``PictureRefused`` for sizes that no picture has, or that so small a file cannot hold."""
    if width < 1 or height < 1:
        raise PictureRefused(f"{shown(path)}: broken, it names no size")
    if width * height > MOST_PIXELS:
        raise PictureRefused(f"{shown(path)}: claims {width}×{height} pixels, more than {MOST_PIXELS:,}")
    if width * height > _LARGE and width * height > _MOST_PIXELS_A_BYTE * path.stat().st_size:
        raise PictureRefused(f"{shown(path)}: claims {width}×{height} pixels in a file too small to hold a picture")
