"""A copy of a picture with its shadows lifted, at the depth of the original, which stays as it is."""

from pathlib import Path

import numpy as np

from logbook.picture.header import read_header, reason, shown
from logbook.picture.lift import Lift
from logbook.picture.reading import Progress, Rows, opened
from logbook.picture.refusal import PictureRefused
from logbook.picture.tiff_layout import Pixels, TiffWriter

_ROWS_AT_ONCE = 64


def write_lifted_copy(path: Path, lift: Lift, to: Path, progress: Progress | None = None) -> None:
    """Writes the picture at ``path``, lifted, as an uncompressed TIFF at ``to``; 16 bits stay 16 bits.

    Alpha, profile and orientation are kept. ``PictureRefused`` where ``to`` is there already or is no .tif, and for
    pictures in ink channels, whose numbers a lift does not understand.
    """
    picture = read_header(path)
    if to.suffix.lower() not in (".tif", ".tiff"):
        raise PictureRefused(f"{shown(to)}: a lifted copy is a TIFF; name it .tif")
    if to.exists():
        raise PictureRefused(f"{shown(to)}: is there already")
    with opened(picture, progress) as rows:
        if rows.mode not in ("L", "RGB"):
            raise PictureRefused(f"{shown(path)}: a lift is for RGB and grey, not for {rows.mode}")
        _write(rows, picture.profile, picture.ppi, lift, to, progress)


def _write(rows: Rows, profile: bytes | None, ppi: float | None, lift: Lift, to: Path, progress: Progress | None) -> None:
    writer: TiffWriter | None = None
    try:
        for band in rows.bands:
            for first in range(0, band.height, _ROWS_AT_ONCE):
                found = band.rows(first, min(first + _ROWS_AT_ONCE, band.height))
                if writer is None:
                    shape = (rows.height, found.shape[1], rows.colours + rows.alpha)
                    bits = found.dtype.itemsize * 8
                    writer = TiffWriter(
                        to, shape, bits=bits, ppi=ppi, profile=profile, alpha=rows.alpha, orientation=rows.orientation
                    )
                writer.write(lifted(found, lift, rows))
                if progress:
                    progress((band.top + first) / rows.height)
    except BaseException as failure:
        if writer is not None:
            writer.abandon()
        if isinstance(failure, OSError | ValueError) and not isinstance(failure, PictureRefused):
            raise PictureRefused(f"{shown(to)}: cannot be written ({reason(failure)})") from None
        raise
    if writer is not None:
        writer.close()


def lifted(pixels: Pixels, lift: Lift, rows: Rows) -> Pixels:
    """Pixels (rows, width, channels) with the lift in their colour channels; alpha is kept, other extra channels go."""
    table = _table(lift, pixels.dtype.itemsize * 8)
    native = pixels.astype(pixels.dtype.newbyteorder("="), copy=False)[..., : rows.colours + rows.alpha]
    found: Pixels = np.array(native)
    colour = found[..., : rows.colours]
    if rows.inverted:
        colour = np.iinfo(found.dtype).max - colour
    found[..., : rows.colours] = table[colour]
    return found


def _table(lift: Lift, bits: int) -> Pixels:
    top = 2**bits - 1
    values = lift.at(np.arange(top + 1) * (255 / top)) * (top / 255)
    whole: Pixels = np.floor(values + 0.5).astype(np.uint16 if bits == 16 else np.uint8)
    return whole
