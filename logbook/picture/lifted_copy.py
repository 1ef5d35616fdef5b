"""A copy of a picture with its shadows lifted, at the depth of the original, which stays as it is."""

from pathlib import Path

import numpy as np

from logbook.picture.header import read_header, reason, shown
from logbook.picture.lift import Lift
from logbook.picture.reading import Progress, Rows, opened
from logbook.picture.refusal import PictureRefused
from logbook.picture.tiff_layout import Pixels, TiffWriter
from logbook.records.new_file import refuse_what_is_there, refused_in_one_line

_ROWS_AT_ONCE = 64


def write_lifted_copy(path: Path, lift: Lift, to: Path, progress: Progress | None = None) -> int:
    """Writes the picture at ``path``, lifted, as an uncompressed TIFF at ``to``; gives the copy's bits a channel.

    They are the original's, but 8 where only the upper 8 of its 16 can be had (a PNG in colour, a TIFF in tiles). Alpha,
    profile and orientation are kept. ``WriteRefused`` where ``to`` is there already, ``PictureRefused`` where it is no
    .tif, and for pictures in ink channels, whose numbers a lift does not understand.
    """
    picture = read_header(path)
    if to.suffix.lower() not in (".tif", ".tiff"):
        raise PictureRefused(f"{shown(to)}: a lifted copy is a TIFF; name it .tif")
    refuse_what_is_there(to)
    with opened(picture, progress) as rows:
        if rows.mode not in ("L", "RGB"):
            raise PictureRefused(f"{shown(path)}: a lift is for RGB and grey, not for {rows.mode}")
        return _write(rows, picture.profile, picture.ppi, lift, to, progress)


def _write(rows: Rows, profile: bytes | None, ppi: float | None, lift: Lift, to: Path, progress: Progress | None) -> int:
    writer: TiffWriter | None = None
    bits = 8
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
            why = getattr(failure, "strerror", None) or reason(failure)
            raise PictureRefused(f"{shown(to)}: cannot be written ({why})") from None
        raise
    if writer is not None:
        with refused_in_one_line(to):
            writer.close()
    return bits


def lifted(pixels: Pixels, lift: Lift, rows: Rows) -> Pixels:
    """Pixels (rows, width, channels) with the lift in their colour channels; alpha is kept, other extra channels go."""
    table = lift.table(pixels.dtype.itemsize * 8)
    native = pixels.astype(pixels.dtype.newbyteorder("="), copy=False)[..., : rows.colours + rows.alpha]
    found: Pixels = straight(native) if rows.premultiplied else np.array(native)
    colour = found[..., : rows.colours]
    if rows.inverted:
        colour = np.iinfo(found.dtype).max - colour
    found[..., : rows.colours] = table[colour]
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
