"""Picture files made for the tests, among them forms that Pillow cannot write."""

import struct
import zlib
from pathlib import Path
from typing import Any

import imagecodecs
import numpy as np
import tifffile
from PIL import Image

from logbook.picture.file import Pixels

TILES = {"tile": (32, 48)}
PLANES = {"planarconfig": "separate"}
# What tifffile is asked for to write each.
FORMS: tuple[dict[str, Any], ...] = (
    {},
    {"rowsperstrip": 7},
    {"rowsperstrip": 7, "byteorder": ">"},
    *({"rowsperstrip": 7, "compression": packing} for packing in ("lzw", "zlib", "packbits", "zstd", "lzma")),
    {"compression": "zlib", "predictor": 2, "byteorder": ">"},
    {"compression": "lzw", "predictor": 2},
    TILES,
    {**TILES, "compression": "lzw", "predictor": 2},
    {**TILES, "byteorder": ">", "compression": "zstd"},
    PLANES,
    {**PLANES, "byteorder": ">", "rowsperstrip": 7},
    {**PLANES, **TILES, "compression": "zlib"},
    {"bigtiff": True, "compression": "zlib"},
)


def landscape(width: int = 120, height: int = 80, bits: int = 8, seed: int = 3) -> Pixels:
    """A made-up picture, dark below and bright above, with grain: (height, width, 3)."""
    rng = np.random.default_rng(seed)
    light = np.linspace(0.9, 0.02, height)[:, None, None] * np.linspace(0.8, 1.0, width)[None, :, None]
    light = light * np.array([1.0, 0.95, 0.85]) + rng.normal(0, 0.01, (height, width, 3))
    top = 2**bits - 1
    found: Pixels = np.round(np.clip(light, 0, 1) * top).astype(np.uint16 if bits == 16 else np.uint8)
    return found


def write_tiff(
    path: Path, pixels: Pixels, *, ppi: float | None = None, profile: bytes | None = None, alpha: str | None = None,
    orientation: int = 1, **options: Any,
) -> Path:  # fmt: skip
    """A TIFF by tifffile, pixels (height, width, channels); ``options`` are its own: tile, compression, planarconfig …"""
    grey = pixels.shape[2] < 3
    usual = {"photometric": "minisblack" if grey else "rgb", "planarconfig": None if pixels.shape[2] == 1 else "contig"}
    stored = np.moveaxis(pixels, -1, 0) if options.get("planarconfig") == "separate" else pixels
    stored = stored[..., 0] if pixels.shape[2] == 1 else stored
    tifffile.imwrite(
        path, np.ascontiguousarray(stored), **{**usual, **options}, metadata=None, iccprofile=profile,
        extrasamples=None if alpha is None else [alpha],
        resolution=(ppi, ppi) if ppi else None, resolutionunit=2, extratags=[(274, "H", 1, orientation, True)],
    )  # fmt: skip
    return path


def write_png_header(path: Path, width: int, height: int) -> Path:
    """A PNG that claims a size and holds next to nothing."""
    return write_png(path, (width, height, 8), b"\0" * 1000)


def write_wide_png(path: Path, pixels: Pixels) -> Path:
    """A PNG of 16-bit colours (height, width, channels)."""
    path.write_bytes(imagecodecs.png_encode(np.ascontiguousarray(pixels[..., 0] if pixels.shape[2] == 1 else pixels)))
    return path


def write_png(path: Path, shape: tuple[int, int, int], data: bytes, *chunks: tuple[bytes, bytes]) -> Path:
    """A PNG of RGB, (width, height, bits), with filtered ``data`` and further ``chunks`` before it."""
    head = struct.pack(">IIBBBBB", *shape, 2, 0, 0, 0)
    parts = [(b"IHDR", head), *chunks, (b"IDAT", zlib.compress(data)), (b"IEND", b"")]
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, part) for kind, part in parts))
    return path


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def saved(path: Path, pixels: Pixels, **options: Any) -> Path:
    """Pixels saved by Pillow."""
    Image.fromarray(pixels).save(path, **options)
    return path
