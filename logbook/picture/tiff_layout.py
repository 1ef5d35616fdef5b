"""The layout of a TIFF (TIFF 6.0): its header and one directory, and uncompressed files of 8 or 16 bits written with them."""

import struct
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from logbook.records.new_file import MAKER, NewFile

Pixels = NDArray[Any]  # np.uint8 or np.uint16

WIDTH, HEIGHT, BITS, COMPRESSION, PHOTOMETRIC = 256, 257, 258, 259, 262
FILL_ORDER, OFFSETS, ORIENTATION, CHANNELS, ROWS, BYTES = 266, 273, 274, 277, 278, 279
X_PPI, Y_PPI, PLANAR, PPI_UNIT, PREDICTOR, TILED, EXTRA, FORMAT, PROFILE = 282, 283, 284, 296, 317, 322, 338, 339, 34675
SOFTWARE = 305
SHORT, LONG, RATIONAL, BYTE, ASCII = "H", "I", "R", "B", "A"

_KINDS = {SHORT: 3, LONG: 4, RATIONAL: 5, BYTE: 7, ASCII: 2}
_INCH = 2
_PHOTOMETRIC_OF = {1: 1, 3: 2, 4: 5}  # channels of colour → grey (black is zero), RGB, inks
MOST_BYTES = 2**32 - 1

Field = tuple[int, str, tuple[float, ...] | bytes]


def head(fields: list[Field], order: str = "<") -> bytes:
    """Header, directory and the values that do not fit into it, for ``fields`` of (tag, kind, values).

    >>> len(head([(WIDTH, LONG, (640,))])), head([], ">")[:4]
    (26, b'MM\\x00*')
    """
    packed = [(tag, kind, *_packed(kind, values, order)) for tag, kind, values in sorted(fields, key=lambda field: field[0])]
    beyond_at = 8 + 2 + 12 * len(packed) + 4
    entries, beyond = [], b""
    for tag, kind, count, data in packed:
        if len(data) > 4:
            place = struct.pack(f"{order}I", beyond_at + len(beyond))
            beyond += data + b"\0" * (len(data) % 2)
        else:
            place = data.ljust(4, b"\0")
        entries.append(struct.pack(f"{order}HHI", tag, _KINDS[kind], count) + place)
    start = struct.pack(f"{order}2sHIH", b"II" if order == "<" else b"MM", 42, 8, len(packed))
    return b"".join([start, *entries, b"\0\0\0\0", beyond])


def file_head(fields: Callable[[int], list[Field]], order: str = "<") -> bytes:
    """The head of a file whose fields depend on where the head ends (the strips begin there)."""
    return head(fields(len(head(fields(0), order))), order)


def _packed(kind: str, values: tuple[float, ...] | bytes, order: str) -> tuple[int, bytes]:
    if isinstance(values, bytes):
        return len(values), values
    if kind == RATIONAL:
        parts = [part for value in values for part in (round(value * 1_000), 1_000)]
        return len(values), struct.pack(f"{order}{len(parts)}I", *parts)
    return len(values), struct.pack(f"{order}{len(values)}{kind}", *(int(value) for value in values))


class TiffWriter:
    """Writes an uncompressed TIFF, a band of rows at a time; never over a file that is there (``FileExistsError``),
    with ``replace`` never over one that the program did not make.

    ``shape`` is (height, width, channels), ``bits`` 8 or 16. A file left unfinished is removed.
    """

    def __init__(
        self, path: Path, shape: tuple[int, int, int], *, bits: int, ppi: float | None = None, profile: bytes | None = None,
        alpha: bool = False, orientation: int = 1, replace: bool = False,
    ) -> None:  # fmt: skip
        height, width, channels = shape
        size = height * width * channels * bits // 8
        if size > MOST_BYTES - 10_000_000:
            raise ValueError("larger than a TIFF can be (4 GB)")
        self._dtype = np.dtype("<u2" if bits == 16 else "u1")

        def fields(data_at: int) -> list[Field]:
            entries: list[Field] = [
                (WIDTH, LONG, (width,)),
                (HEIGHT, LONG, (height,)),
                (BITS, SHORT, (bits,) * channels),
                (COMPRESSION, SHORT, (1,)),
                (PHOTOMETRIC, SHORT, (_PHOTOMETRIC_OF[channels - alpha],)),
                (OFFSETS, LONG, (data_at,)),
                (CHANNELS, SHORT, (channels,)),
                (ROWS, LONG, (height,)),
                (BYTES, LONG, (size,)),
                (SOFTWARE, ASCII, MAKER.encode() + b"\0"),
            ]
            if orientation != 1:
                entries.append((ORIENTATION, SHORT, (orientation,)))
            if ppi is not None:
                entries += [(X_PPI, RATIONAL, (ppi,)), (Y_PPI, RATIONAL, (ppi,)), (PPI_UNIT, SHORT, (_INCH,))]
            if alpha:
                entries.append((EXTRA, SHORT, (2,)))
            if profile is not None:
                entries.append((PROFILE, BYTE, profile))
            return entries

        self._new = NewFile(path, replace=replace)
        self._file = self._new.file
        self._file.write(file_head(fields))

    def write(self, rows: Pixels) -> None:
        """Adds the next rows, an array (rows, width, channels)."""
        self._file.write(np.ascontiguousarray(rows, self._dtype).data)

    def close(self) -> None:
        """The file is whole."""
        self._new.close()

    def abandon(self) -> None:
        """Takes away what was written so far."""
        self._new.abandon()

    def __enter__(self) -> "TiffWriter":
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        if kind is None:
            self.close()
        else:
            self.abandon()
