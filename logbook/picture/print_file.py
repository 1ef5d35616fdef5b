"""The print file: a picture lifted, brightened, as large and as fine as the print, sharpened, with its borders, in 16 bits."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.brighten import brightening
from logbook.picture.file import COLOURS, PictureFile, Pixels
from logbook.picture.header import read_header
from logbook.picture.icc import profile_of, srgb
from logbook.picture.lift import Lift
from logbook.picture.new_tiff import Told, metadata, new_tiff
from logbook.picture.reading import Progress, on_white, pieces
from logbook.picture.refusal import PictureRefused, shown
from logbook.picture.size import ARCMINUTE, MM_PER_INCH
from logbook.picture.upright import upright_rows
from logbook.records.new_file import refuse_what_is_there

TOP = 65535
MOST_PIXELS = 400_000_000
_AMOUNT = 0.7  # of what a pixel differs from those around it: common practice, no source
_ROWS_AT_ONCE = 256
_LUMINANCE = np.array([0.2126, 0.7152, 0.0722], np.float32)


@dataclass(frozen=True)
class Recipe:
    """How a picture is printed: the image in mm, ppi, borders (top, right, bottom, left) in mm.

    ``viewing_mm`` is the distance that it is sharpened for; ``None``: not at all.
    """

    image_mm: tuple[float, float]
    ppi: float
    lift: Lift | None = None
    brighten_stops: float = 0.0
    borders_mm: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    viewing_mm: float | None = None

    def px(self, mm: float) -> int:
        """A length in whole pixels of the print."""
        return round(mm * self.ppi / MM_PER_INCH)


def write_print_file(path: Path, recipe: Recipe, to: Path, progress: Progress | None = None) -> None:
    """Writes the picture at ``path`` as ``recipe`` says, upright, as a TIFF of 16 bits with the picture's profile and words.

    ``WriteRefused`` where ``to`` is there already, ``PictureRefused`` where it is no .tif or the picture is neither RGB nor grey.
    """
    picture = read_header(path)
    refuse_what_is_there(to)
    if picture.mode not in ("L", "RGB"):
        raise PictureRefused(f"{shown(path)}: a print file is made of RGB and grey, not of {picture.mode}")
    across, down = (recipe.px(mm) for mm in recipe.image_mm)
    top, right, bottom, left = (recipe.px(mm) for mm in recipe.borders_mm)
    width, height = across + left + right, down + top + bottom
    if min(across, down) < 1 or width * height > MOST_PIXELS:
        raise PictureRefused(f"{shown(path)}: {width}×{height} pixels are no print; change the size or the ppi")
    pixels = sharpened(_resized(_toned(picture, recipe, progress), (across, down)), recipe)
    profile = profile_of(picture)
    told = Told(recipe.ppi, picture.profile or (profile or srgb()).handle.tobytes(), kept=metadata(picture))
    with new_tiff(to, (height, width, COLOURS[picture.mode]), 16, told) as file:
        white = np.full((1, width, pixels.shape[2]), TOP, np.uint16)
        for _ in range(top):
            file.write(white)
        for first in range(0, down, _ROWS_AT_ONCE):
            rows = pixels[first : first + _ROWS_AT_ONCE]
            file.write(np.pad(rows, ((0, 0), (left, right), (0, 0)), constant_values=TOP))
        for _ in range(bottom):
            file.write(white)


def sharpened(pixels: Pixels, recipe: Recipe) -> Pixels:
    """Pixels (rows, columns, channels) of 16 bits sharpened for the recipe's distance.

    An unsharp mask of luminance: to every channel is added 0.7 of what the luminance differs from its average around, a
    Gaussian of half an arcminute at that distance; finer than that the eye sees nothing.
    """
    if recipe.viewing_mm is None:
        return pixels
    sigma = recipe.viewing_mm * np.tan(ARCMINUTE) / 2 * recipe.ppi / MM_PER_INCH
    weights = _LUMINANCE if pixels.shape[2] == 3 else np.ones(1, np.float32)
    light = pixels @ weights
    detail = _AMOUNT * (light - _averaged(light, float(sigma)))
    for first in range(0, len(pixels), _ROWS_AT_ONCE):
        rows = slice(first, first + _ROWS_AT_ONCE)
        pixels[rows] = np.clip(np.round(pixels[rows] + detail[rows, :, None]), 0, TOP).astype(np.uint16)
    return pixels


def _averaged(light: NDArray[np.float32], sigma: float) -> NDArray[np.float32]:
    """A Gaussian average, edges continued; out to three sigma."""
    reach = max(1, round(3 * sigma))
    kernel = np.exp(-(np.arange(-reach, reach + 1) ** 2) / (2 * sigma**2)).astype(np.float32)
    kernel /= kernel.sum()
    for axis in (0, 1):
        turned = light.T if axis else light
        padded = np.pad(turned, ((reach, reach), (0, 0)), mode="edge")
        total = np.zeros_like(turned)
        for step, share in enumerate(kernel):
            total += share * padded[step : step + len(turned)]
        light = total.T if axis else total
    return light


def _toned(picture: PictureFile, recipe: Recipe, progress: Progress | None) -> Pixels:
    """The picture upright on white in 16 bits, lifted and brightened."""
    table: Pixels = recipe.lift.table(16) if recipe.lift else np.arange(TOP + 1, dtype=np.uint16)
    if recipe.brighten_stops:
        table = brightening(16, recipe.brighten_stops, profile_of(picture) or srgb())[table]
    width, height = picture.stored_px
    found: Pixels = np.empty((height, width, COLOURS[picture.mode]), np.uint16)
    for top, rows in pieces(picture, progress=progress):
        plain = on_white(rows, picture)
        wide = plain.astype(np.uint16) * np.uint16(257) if plain.dtype == np.uint8 else plain
        found[top : top + len(wide)] = table[wide]
    return np.ascontiguousarray(upright_rows(found, picture.orientation))


def _resized(pixels: Pixels, size: tuple[int, int]) -> Pixels:
    """Pixels resampled to ``size`` (Lanczos, a channel at a time in full depth)."""
    if pixels.shape[1::-1] == size:
        return pixels
    found: Pixels = np.empty((size[1], size[0], pixels.shape[2]), np.uint16)
    for channel in range(pixels.shape[2]):
        plane = Image.fromarray(pixels[..., channel].astype(np.float32)).resize(size, Image.Resampling.LANCZOS)
        found[..., channel] = np.clip(np.round(np.asarray(plane)), 0, TOP)
    return found
