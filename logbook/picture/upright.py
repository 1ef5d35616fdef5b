"""Pictures turned as their orientation tag says (EXIF 2.32, tag 274)."""

from PIL import Image

from logbook.picture.header import PictureFile
from logbook.picture.tiff_layout import Pixels

_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def upright(image: Image.Image, picture: PictureFile) -> Image.Image:
    """``image``, any scale of the picture as Pillow decoded it, turned upright. A TIFF Pillow has turned already."""
    if picture.format == "TIFF" or picture.orientation == 1:
        return image
    return image.transpose(_TURNS[picture.orientation])


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
