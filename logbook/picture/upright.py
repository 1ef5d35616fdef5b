"""Pictures turned as their orientation tag says (EXIF 2.32, tag 274)."""

from logbook.picture.file import Pixels


def upright_rows(rows: Pixels, orientation: int) -> Pixels:
    """An array (rows, columns, channels) as stored, turned upright.

    >>> import numpy as np
    >>> upright_rows(np.array([[[1], [2]]], np.uint8), 6)[..., 0].tolist()
    [[1], [2]]
    """
    turned = {
        1: lambda a: a,
        2: lambda a: a[:, ::-1],
        3: lambda a: a[::-1, ::-1],
        4: lambda a: a[::-1],
        5: lambda a: a.swapaxes(0, 1),
        6: lambda a: a[::-1].swapaxes(0, 1),
        7: lambda a: a[::-1, ::-1].swapaxes(0, 1),
        8: lambda a: a[:, ::-1].swapaxes(0, 1),
    }
    found: Pixels = turned[orientation](rows)
    return found
