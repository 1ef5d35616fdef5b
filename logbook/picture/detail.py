"""One part of a picture at its full depth, upright, as RGB."""

import numpy as np

from logbook.picture.file import PictureFile, Pixels
from logbook.picture.reading import Progress, bands, on_white
from logbook.picture.refusal import PictureRefused, shown
from logbook.picture.upright import upright_rows

Box = tuple[int, int, int, int]


def read_detail(picture: PictureFile, box: Box, progress: Progress | None = None) -> Pixels:
    """The pixels of ``box`` (left, top, right, bottom, in the upright picture): (rows, width, 3), 8 or 16 bits.

    Only RGB and grey pictures; ``PictureRefused`` for others.
    """
    if picture.mode not in ("L", "RGB"):
        raise PictureRefused(f"{shown(picture.path)}: only RGB and grey pictures can be brightened, not {picture.mode}")
    left, top, right, bottom = stored_box(box, picture.orientation, picture.width_px, picture.height_px)
    parts = []
    for band in bands(picture, progress):
        first, last = max(top - band.top, 0), min(bottom - band.top, band.height)
        if first < last:
            parts.append(on_white(band.read(first, last)[:, left:right], picture))
    found = upright_rows(np.concatenate(parts), picture.orientation)
    return np.repeat(found, 3, axis=2) if found.shape[2] == 1 else np.ascontiguousarray(found)


def stored_box(box: Box, orientation: int, width: int, height: int) -> Box:
    """Where an upright picture's box lies in the file of that EXIF orientation; ``width`` and ``height`` are upright.

    >>> stored_box((0, 0, 10, 20), 6, 100, 200), stored_box((0, 0, 10, 20), 3, 100, 200)
    ((0, 90, 20, 100), (90, 180, 100, 200))
    """
    left, top, right, bottom = box
    mirrored = width - right, top, width - left, bottom
    flipped = left, height - bottom, right, height - top
    both = width - right, height - bottom, width - left, height - top
    found = {1: box, 2: mirrored, 3: both, 4: flipped, 5: box, 6: mirrored, 7: both, 8: flipped}[orientation]
    return found if orientation < 5 else (found[1], found[0], found[3], found[2])
