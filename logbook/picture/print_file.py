"""The print file: a picture lifted, brightened, as large and as fine as the print, sharpened, with its borders, in 16 bits.

A picture in inks becomes one in Lab: curves of lightness mean nothing to inks.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.brighten import brightening
from logbook.picture.file import PictureFile, Pixels
from logbook.picture.header import read_header
from logbook.picture.icc import Profile, in_lab, lab, profile_of
from logbook.picture.lift import Lift
from logbook.picture.new_tiff import Told, metadata, new_tiff
from logbook.picture.reading import Progress, on_white, pieces
from logbook.picture.refusal import PictureRefused, shown
from logbook.picture.size import ARCMINUTE
from logbook.picture.upright import upright_rows
from logbook.records.new_file import refuse_what_is_there
from logbook.records.units import MM_PER_INCH

TOP = 65535
_NEUTRAL_LAB = (0, 32768, 32768)
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

    ``WriteRefused`` where ``to`` is there already, ``PictureRefused`` where it is no .tif, or inks have no profile.
    """
    picture = read_header(path)
    refuse_what_is_there(to)
    profile = printed_in(picture)
    across, down = (recipe.px(mm) for mm in recipe.image_mm)
    top, right, bottom, left = (recipe.px(mm) for mm in recipe.borders_mm)
    width, height = across + left + right, down + top + bottom
    if min(across, down) < 1 or width * height > MOST_PIXELS:
        raise PictureRefused(f"{shown(path)}: {width}×{height} pixels are no print; change the size or the ppi")
    is_lab = profile.mode == "LAB"
    pixels = sharpened(_resized(_toned(picture, profile, recipe, progress), (across, down)), recipe, lab=is_lab)
    embedded = None if is_lab else picture.profile or profile.handle.tobytes()
    sign = np.array(_NEUTRAL_LAB if is_lab else (0,) * pixels.shape[2], np.uint16)
    white = np.full((1, width, pixels.shape[2]), TOP, np.uint16)
    white[..., sign > 0] = 0
    with new_tiff(
        to, (height, width, pixels.shape[2]), 16, Told(recipe.ppi, embedded, kept=metadata(picture), lab=is_lab)
    ) as file:
        for _ in range(top):
            file.write(white)
        for first in range(0, down, _ROWS_AT_ONCE):
            rows = pixels[first : first + _ROWS_AT_ONCE] ^ sign  # in a file a* and b* are signed
            sides = (np.repeat(white[:, :wide], len(rows), axis=0) for wide in (left, right))
            file.write(np.concatenate([next(sides), rows, next(sides)], axis=1))
        for _ in range(bottom):
            file.write(white)


def printed_in(picture: PictureFile) -> Profile:
    """The profile of a print file's numbers: the picture's own, of inks Lab. ``PictureRefused`` for inks without one."""
    profile = profile_of(picture)
    if profile is None:
        raise PictureRefused(f"{shown(picture.path)}: its inks have no profile, so nobody knows their colours")
    return lab() if picture.mode == "CMYK" else profile


def sharpened(pixels: Pixels, recipe: Recipe, *, lab: bool = False) -> Pixels:
    """Pixels (rows, columns, channels) of 16 bits sharpened for the recipe's distance; of ``lab`` only the lightness is.

    An unsharp mask of luminance: to every channel is added 0.7 of what the luminance differs from its average around, a
    Gaussian of half an arcminute at that distance; finer than that the eye sees nothing.
    """
    if recipe.viewing_mm is None:
        return pixels
    sigma = recipe.viewing_mm * np.tan(ARCMINUTE) / 2 * recipe.ppi / MM_PER_INCH
    toned = pixels[..., :1] if lab else pixels
    light = toned @ (_LUMINANCE if toned.shape[2] == 3 else np.ones(1, np.float32))
    detail = _AMOUNT * (light - _averaged(light, float(sigma)))
    for first in range(0, len(pixels), _ROWS_AT_ONCE):
        rows = slice(first, first + _ROWS_AT_ONCE)
        toned[rows] = np.clip(np.round(toned[rows] + detail[rows, :, None]), 0, TOP).astype(np.uint16)
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


def _toned(picture: PictureFile, profile: Profile, recipe: Recipe, progress: Progress | None) -> Pixels:
    """The picture upright on white in 16 bits, lifted and brightened; a* and b* begin at 0."""
    table: Pixels = recipe.lift.table(16) if recipe.lift else np.arange(TOP + 1, dtype=np.uint16)
    if recipe.brighten_stops:
        table = brightening(16, recipe.brighten_stops, profile)[table]
    width, height = picture.stored_px
    toned = 1 if profile.mode == "LAB" else 3
    found: Pixels = np.empty((height, width, 1 if picture.mode == "L" else 3), np.uint16)
    for top, rows in pieces(picture, progress=progress):
        wide = _wide(on_white(rows, picture), picture)
        found[top : top + len(wide)] = wide
        found[top : top + len(wide), :, :toned] = table[wide[..., :toned]]
    return np.ascontiguousarray(upright_rows(found, picture.orientation))


def _wide(plain: Pixels, picture: PictureFile) -> Pixels:
    """16 bits a channel: RGB and grey as they are, Lab with 256 a step of a* and b* from 32,768 on."""
    if picture.mode == "CMYK":
        profile = profile_of(picture)
        assert profile is not None  # as ``printed_in`` says
        found = in_lab(np.ascontiguousarray(plain), profile).astype(np.uint32)
        found[..., 1:] = (found[..., 1:] * 256 + 128) // 257
        return found.astype(np.uint16)
    wide = plain.astype(np.uint16) * np.uint16(257) if plain.dtype == np.uint8 else plain
    if picture.mode != "LAB":
        return wide
    signed = plain[..., 1:].astype(np.uint16) << (8 if plain.dtype == np.uint8 else 0)
    return np.concatenate([wide[..., :1], signed ^ np.uint16(_NEUTRAL_LAB[1])], axis=-1)


def _resized(pixels: Pixels, size: tuple[int, int]) -> Pixels:
    """Pixels resampled to ``size`` (Lanczos, a channel at a time in full depth)."""
    if pixels.shape[1::-1] == size:
        return pixels
    found: Pixels = np.empty((size[1], size[0], pixels.shape[2]), np.uint16)
    for channel in range(pixels.shape[2]):
        plane = Image.fromarray(pixels[..., channel].astype(np.float32)).resize(size, Image.Resampling.LANCZOS)
        found[..., channel] = np.clip(np.round(np.asarray(plane)), 0, TOP)
    return found
