"""Picture files made for the tests, among them forms that Pillow cannot write."""

import struct
import zlib
from pathlib import Path
from typing import Any, Literal

import numpy as np
from PIL import Image

from logbook.picture.tiff_layout import (
    BITS,
    BYTES,
    CHANNELS,
    COMPRESSION,
    EXTRA,
    HEIGHT,
    LONG,
    OFFSETS,
    ORIENTATION,
    PHOTOMETRIC,
    PLANAR,
    PREDICTOR,
    ROWS,
    SHORT,
    WIDTH,
    Field,
    Pixels,
    file_head,
)

_DEFLATE = 8


def landscape(width: int = 120, height: int = 80, bits: int = 8, seed: int = 3) -> Pixels:
    """A made-up picture, dark below and bright above, with grain: (height, width, 3)."""
    rng = np.random.default_rng(seed)
    light = np.linspace(0.9, 0.02, height)[:, None, None] * np.linspace(0.8, 1.0, width)[None, :, None]
    light = light * np.array([1.0, 0.95, 0.85]) + rng.normal(0, 0.01, (height, width, 3))
    top = 2**bits - 1
    found: Pixels = np.round(np.clip(light, 0, 1) * top).astype(np.uint16 if bits == 16 else np.uint8)
    return found


def write_deflated_tiff(
    path: Path, pixels: Pixels, *, rows_per_strip: int = 7, predictor: int = 1, big_endian: bool = False, orientation: int = 1
) -> Path:
    """A TIFF of deflated strips (TIFF 6.0, technical note 2), with or without horizontal differencing, either byte order."""
    height, width, channels = pixels.shape
    order: Literal["<", ">"] = ">" if big_endian else "<"
    kept = pixels.copy()
    if predictor == 2:
        kept[:, 1:] = pixels[:, 1:] - pixels[:, :-1]  # wraps, as the format means it to
    data = kept.astype(kept.dtype.newbyteorder(order))
    strips = [zlib.compress(data[top : top + rows_per_strip].tobytes()) for top in range(0, height, rows_per_strip)]

    def fields(data_at: int) -> list[Field]:
        places = np.cumsum([data_at, *(len(strip) for strip in strips)])[:-1]
        return [
            (WIDTH, LONG, (width,)),
            (HEIGHT, LONG, (height,)),
            (BITS, SHORT, (pixels.dtype.itemsize * 8,) * channels),
            (COMPRESSION, SHORT, (_DEFLATE,)),
            (PHOTOMETRIC, SHORT, (2 if channels >= 3 else 1,)),
            (OFFSETS, LONG, tuple(int(place) for place in places)),
            (ORIENTATION, SHORT, (orientation,)),
            (CHANNELS, SHORT, (channels,)),
            (ROWS, LONG, (rows_per_strip,)),
            (BYTES, LONG, tuple(len(strip) for strip in strips)),
            (PREDICTOR, SHORT, (predictor,)),
        ]

    path.write_bytes(b"".join([file_head(fields, order), *strips]))
    return path


def write_raw_tiff(path: Path, fields: list[Field], strips: list[bytes], order: Literal["<", ">"] = "<") -> Path:
    """A TIFF of raw strips with whatever fields, each of ``fields`` but where the strips lie."""

    def whole(data_at: int) -> list[Field]:
        places = np.cumsum([data_at, *(len(strip) for strip in strips)])[:-1]
        return [
            *fields,
            (COMPRESSION, SHORT, (1,)),
            (OFFSETS, LONG, tuple(int(place) for place in places)),
            (BYTES, LONG, tuple(len(strip) for strip in strips)),
        ]

    path.write_bytes(file_head(whole, order) + b"".join(strips))
    return path


def tiff_fields(pixels: Pixels, photometric: int, rows: int, **more: int) -> list[Field]:
    """What such a file says of ``pixels``; ``more`` are ``extra`` (what the extra sample is), ``planes`` and ``orientation``."""
    height, width, channels = pixels.shape
    extra: list[Field] = [(EXTRA, SHORT, (more["extra"],))] if "extra" in more else []
    planes: list[Field] = [(PLANAR, SHORT, (2,))] if more.get("planes") else []
    turned: list[Field] = [(ORIENTATION, SHORT, (more["orientation"],))] if "orientation" in more else []
    return [
        (WIDTH, LONG, (width,)),
        (HEIGHT, LONG, (height,)),
        (BITS, SHORT, (pixels.dtype.itemsize * 8,) * channels),
        (PHOTOMETRIC, SHORT, (photometric,)),
        (CHANNELS, SHORT, (channels,)),
        (ROWS, LONG, (rows,)),
        *extra,
        *planes,
        *turned,
    ]


def write_png_header(path: Path, width: int, height: int) -> Path:
    """A PNG that claims a size and holds next to nothing."""
    return _png(path, (width, height, 8), b"\0" * 1000)


def write_wide_png(path: Path, pixels: Pixels) -> Path:
    """A PNG of 16-bit colours (height, width, 3)."""
    rows = pixels.astype(">u2")
    return _png(path, (pixels.shape[1], pixels.shape[0], 16), b"".join(b"\0" + row.tobytes() for row in rows))


def _png(path: Path, shape: tuple[int, int, int], data: bytes) -> Path:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", *shape, 2, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(data)) + chunk(b"IEND", b""))
    return path


def saved(path: Path, pixels: Pixels, **options: Any) -> Path:
    """Pixels saved by Pillow."""
    Image.fromarray(pixels).save(path, **options)
    return path
