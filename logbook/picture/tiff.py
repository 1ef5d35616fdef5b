"""TIFF strips (TIFF 6.0): read where they lie, or decoded a few at a time at their true depth.

Pillow opens 16 bits a channel as 8. An uncompressed file needs no decoder: its strips are mapped. Compressed strips
are handed to Pillow's libtiff as a grey TIFF that is as many times wider as there are channels; the bytes are the same.
"""

import io
from collections.abc import Iterator
from itertools import accumulate
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from logbook.picture.band import Band, MappedBand, PlanesBand, WideGreyBand
from logbook.picture.header import reason, shown
from logbook.picture.refusal import PictureRefused
from logbook.picture.tiff_layout import (
    BITS,
    BYTES,
    CHANNELS,
    COMPRESSION,
    EXTRA,
    FILL_ORDER,
    FORMAT,
    HEIGHT,
    LONG,
    OFFSETS,
    PHOTOMETRIC,
    PLANAR,
    PREDICTOR,
    ROWS,
    SHORT,
    TILED,
    WIDTH,
    Field,
    file_head,
)

_NONE, _LZW, _DEFLATE, _OLD_DEFLATE = 1, 5, 8, 32946
_INK_CHANNELS = {0: 1, 1: 1, 2: 3, 5: 4}  # photometric interpretation → channels of colour
_BATCH_BYTES = 8_000_000
_IN_PLANES, _PREMULTIPLIED = 2, 1  # of the planar configuration and of the extra sample


class Strips:
    """The strips of one TIFF as rows of pixels; ``None`` of ``of`` where only Pillow can read the file."""

    def __init__(self, path: Path, tags: Any, big_endian: bool) -> None:
        self.path = path
        self.width, self.height = int(tags[WIDTH]), int(tags[HEIGHT])
        self.bits = int(tags[BITS][0])
        self.channels = int(tags.get(CHANNELS, 1))
        self.photometric = int(tags[PHOTOMETRIC])
        self.compression = int(tags.get(COMPRESSION, _NONE))
        self.predictor = int(tags.get(PREDICTOR, 1))
        self.planes = self.channels if tags.get(PLANAR, 1) == _IN_PLANES else 1
        self.rows_per_strip = min(int(tags.get(ROWS, self.height)), self.height)
        self.offsets = [int(value) for value in tags[OFFSETS]]
        self.byte_counts = [int(value) for value in tags[BYTES]]
        self.dtype = np.dtype(np.uint8 if self.bits == 8 else (">u2" if big_endian else "<u2"))
        self.big_endian = big_endian
        self.extra = tuple(int(value) for value in tags.get(EXTRA, ()))

    @classmethod
    def of(cls, path: Path, image: Image.Image) -> "Strips | None":
        """The strips of ``image`` (opened from ``path``), where they can be read without Pillow's cut to 8 bits."""
        tags = image.tag_v2  # type: ignore[attr-defined]
        big_endian = image.tag_v2.prefix[:2] == b"MM"  # type: ignore[attr-defined]
        try:
            found = cls(path, tags, big_endian) if _plain_strips(tags) else None
        except (ValueError, TypeError, KeyError, IndexError):  # forged tags: Pillow says what it makes of them
            return None
        return found if found is not None and found._can_be_read() else None

    @property
    def colours(self) -> int:
        return _INK_CHANNELS[self.photometric]

    @property
    def alpha(self) -> bool:
        return self.channels == self.colours + 1 and self.extra[:1] in ((_PREMULTIPLIED,), (2,))

    @property
    def premultiplied(self) -> bool:
        """Whether the colours are multiplied by alpha already (TIFF 6.0: associated alpha)."""
        return self.alpha and self.extra[0] == _PREMULTIPLIED

    @property
    def row_bytes(self) -> int:
        """Bytes of a row in one strip: of all its channels, or of one where each channel has strips of its own."""
        return self.width * (self.channels // self.planes) * self.bits // 8

    @property
    def misread_by_pillow(self) -> bool:
        """Whether Pillow would show another picture, or none: 16 bits in planes, or grey with alpha in 16 bits."""
        return self.bits == 16 and (self.planes > 1 or (self.colours == 1 and self.channels > 1))

    def _can_be_read(self) -> bool:
        if min(self.width, self.height, self.channels, self.rows_per_strip) < 1:
            return False
        strips = -(-self.height // self.rows_per_strip) * self.planes
        if self.channels < self.colours or len(self.offsets) != strips or len(self.byte_counts) != strips:
            return False
        if self.compression == _NONE:
            return True
        if self.planes > 1:
            return False
        # For 8 bits a channel Pillow's own decoding is exact and as fast.
        return self.bits == 16 and self.compression in (_LZW, _DEFLATE, _OLD_DEFLATE) and self.predictor in (1, 2)

    def bands(self) -> Iterator[Band]:
        """The picture's rows as stored, from the top down, a band at a time."""
        if self.planes > 1:
            yield from self._mapped_planes()
        elif self.compression == _NONE:
            yield from self._mapped()
        else:
            yield from self._decoded()

    def _mapped(self) -> Iterator[Band]:
        needed = self._bytes_in_file()
        follows = all(self.offsets[i] + needed[i] == self.offsets[i + 1] for i in range(len(needed) - 1))
        runs = [(self.offsets[0], 0, self.height)] if follows else self._single_strips()
        for offset, top, rows in runs:
            shape = (rows, self.width, self.channels)
            yield MappedBand(top, rows, np.memmap(self.path, self.dtype, "r", offset=offset, shape=shape))

    def _mapped_planes(self) -> Iterator[Band]:
        """Each channel has strips of its own, all of the first channel's before the next one's."""
        self._bytes_in_file()
        heights = self._heights()
        for number, (top, rows) in enumerate(heights):
            places = self.offsets[number :: len(heights)][: self.colours + self.alpha]
            yield PlanesBand(
                top, rows, tuple(np.memmap(self.path, self.dtype, "r", offset=at, shape=(rows, self.width)) for at in places)
            )

    def _bytes_in_file(self) -> list[int]:
        """The bytes that every strip takes; refused where the file ends before them."""
        size = self.path.stat().st_size
        needed = [rows * self.row_bytes for _, rows in self._heights()] * self.planes
        if any(at < 0 or at + count > size for at, count in zip(self.offsets, needed, strict=True)):
            raise PictureRefused(f"{shown(self.path)}: cut short, the file ends before the picture does")
        return needed

    def _single_strips(self) -> list[tuple[int, int, int]]:
        return [(offset, top, rows) for offset, (top, rows) in zip(self.offsets, self._heights(), strict=True)]

    def _heights(self) -> list[tuple[int, int]]:
        tops = range(0, self.height, self.rows_per_strip)
        return [(top, min(self.rows_per_strip, self.height - top)) for top in tops]

    def _decoded(self) -> Iterator[Band]:
        strip_bytes = self.rows_per_strip * self.row_bytes
        batch = max(1, _BATCH_BYTES // max(1, strip_bytes))
        with self.path.open("rb") as file:
            for first in range(0, len(self.offsets), batch):
                strips = [_strip(file, at, count, self.path) for at, count in self._places(first, first + batch)]
                top = first * self.rows_per_strip
                rows = min(batch * self.rows_per_strip, self.height - top)
                yield WideGreyBand(top, rows, self._decode(strips, rows), self.channels, self.predictor)

    def _places(self, first: int, last: int) -> list[tuple[int, int]]:
        return list(zip(self.offsets[first:last], self.byte_counts[first:last], strict=True))

    def _decode(self, strips: list[bytes], rows: int) -> Image.Image:
        wide = self.width * self.channels
        file = io.BytesIO(_grey_tiff(strips, wide, rows, self.rows_per_strip, self.compression, self.big_endian))
        strips.clear()  # one strip may be the whole file: do not hold it twice
        try:
            image = Image.open(file, formats=("TIFF",))
            image.load()
        except Exception as failure:  # libtiff's complaints arrive as several types
            raise PictureRefused(f"{shown(self.path)}: broken or cut short ({reason(failure)})") from None
        return image


def _plain_strips(tags: Any) -> bool:
    bits = tags.get(BITS, (1,))
    return (
        set(bits) in ({8}, {16})
        and tags.get(PHOTOMETRIC) in _INK_CHANNELS
        and tags.get(PLANAR, 1) in (1, _IN_PLANES)
        and tags.get(FILL_ORDER, 1) == 1
        and set(tags.get(FORMAT, (1,))) == {1}
        and TILED not in tags
        and OFFSETS in tags
        and BYTES in tags
    )


def _strip(file: io.BufferedReader, at: int, count: int, path: Path) -> bytes:
    if min(at, count) < 0 or at + count > path.stat().st_size:
        raise PictureRefused(f"{shown(path)}: cut short, the file ends before the picture does")
    file.seek(at)
    return file.read(count)


def _grey_tiff(strips: list[bytes], wide: int, rows: int, rows_per_strip: int, compression: int, big_endian: bool) -> bytes:
    counts = tuple(len(strip) for strip in strips)

    def fields(data_at: int) -> list[Field]:
        return [
            (WIDTH, LONG, (wide,)),
            (HEIGHT, LONG, (rows,)),
            (BITS, SHORT, (16,)),
            (COMPRESSION, SHORT, (compression,)),
            (PHOTOMETRIC, SHORT, (1,)),
            (OFFSETS, LONG, tuple(accumulate(counts[:-1], initial=data_at))),
            (CHANNELS, SHORT, (1,)),
            (ROWS, LONG, (min(rows_per_strip, rows),)),
            (BYTES, LONG, counts),
        ]

    return b"".join([file_head(fields, ">" if big_endian else "<"), *strips])
