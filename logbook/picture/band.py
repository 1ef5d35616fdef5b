"""Rows of a picture where they are: in a mapped file, in a decoded run of strips, or in Pillow's memory."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from PIL import Image

from logbook.picture.tiff_layout import Pixels


class Band(Protocol):
    """Some rows of a picture, ``top`` being the number of the first one and ``height`` how many there are."""

    @property
    def top(self) -> int: ...

    @property
    def height(self) -> int: ...

    def rows(self, first: int, last: int) -> Pixels:
        """The rows from ``first`` up to ``last``, counted within the band: an array (rows, width, channels)."""
        ...


@dataclass(frozen=True)
class MappedBand:
    """Rows in a file mapped into memory: only what is asked for is read."""

    top: int
    height: int
    array: Pixels

    def rows(self, first: int, last: int) -> Pixels:
        return self.array[first:last]


@dataclass(frozen=True)
class PlanesBand:
    """Rows in a mapped file that keeps its channels apart, one plane after the other."""

    top: int
    height: int
    planes: tuple[Pixels, ...]

    def rows(self, first: int, last: int) -> Pixels:
        return np.stack([plane[first:last] for plane in self.planes], axis=-1)


@dataclass(frozen=True)
class WideGreyBand:
    """Rows decoded as 16-bit grey, ``channels`` times as wide; TIFF's predictor 2 is undone for the rows asked for."""

    top: int
    height: int
    image: Image.Image
    channels: int
    predictor: int

    def rows(self, first: int, last: int) -> Pixels:
        grey = np.asarray(self.image.crop((0, first, self.image.width, last)))
        found = grey.reshape(last - first, -1, self.channels)
        return np.add.accumulate(found, axis=1, dtype=np.uint16) if self.predictor == 2 else found


@dataclass(frozen=True)
class DecodedBand:
    """The whole picture as Pillow decoded it, brought to plain channels only for the rows asked for."""

    image: Image.Image
    top: int = 0

    @property
    def height(self) -> int:
        return self.image.height

    def rows(self, first: int, last: int) -> Pixels:
        found = np.asarray(plain_channels(self.image.crop((0, first, self.image.width, last))))
        return found.astype(np.uint8) * np.uint8(255) if found.dtype == bool else _three_dimensional(found)


def plain_channels(image: Image.Image) -> Image.Image:
    """The picture as L, LA, I;16, RGB, RGBA, CMYK or LAB: palettes, premultiplied alpha and the rest are resolved."""
    if "transparency" in image.info and image.mode in ("L", "RGB", "P"):
        return image.convert("RGBA")
    wanted = {"1": "L", "P": "RGB", "PA": "RGBA", "La": "LA", "RGBa": "RGBA", "RGBX": "RGB", "YCbCr": "RGB", "HSV": "RGB"}
    return image.convert(wanted[image.mode]) if image.mode in wanted else image


def _three_dimensional(array: Pixels) -> Pixels:
    return array if array.ndim == 3 else array[..., None]
