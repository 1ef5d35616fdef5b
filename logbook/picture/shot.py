"""A scan or photograph of a chart: luminance read out of it, and whether it can be trusted."""

import math
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from logbook.picture.chart import Box, edges, gaps, patches
from logbook.picture.file import Mode
from logbook.picture.header import read_header
from logbook.picture.icc import L_PER_16_BIT, Profile, profile_of
from logbook.picture.lightness import lightness_of_colours, luminance_of_lightness
from logbook.picture.marks import Plane, find_planes
from logbook.picture.reading import eight_bit_image
from logbook.picture.refusal import PictureRefused, shown

_MOST_SAMPLES_ALONG = 48
_LEAST_PX_PER_UNIT = 3.0
_SOFTEST_EDGE_UNITS = 0.6  # wider, and the ink's dark reaches the middle of the gaps
_CLIPPED_FROM, _MOST_CLIPPED = 254, 0.05
_CUT_OFF_AT, _DIMMEST_WHITE = 1, 90


@dataclass(frozen=True)
class Reading:
    """Luminance of one box: its ``mean`` (0 to 1 of the shot's own range), the mean's standard error, and the box's middle."""

    mean: float
    error: float
    samples: int
    x: float
    y: float


@dataclass(frozen=True)
class Shot:
    """A shot whose chart was found."""

    pixels: NDArray[np.uint8]
    mode: Mode
    profile: Profile | None
    plane: Plane

    def values(self, box: Box) -> NDArray[np.uint8]:
        """The shot's own values (n, channels) inside a box in chart units."""
        left, top, right, bottom = box
        scale = self.plane.pixels_per_unit
        across = max(2, min(_MOST_SAMPLES_ALONG, math.floor((right - left) * scale)))
        down = max(2, min(_MOST_SAMPLES_ALONG, math.floor((bottom - top) * scale)))
        x, y = np.meshgrid(np.linspace(left, right, across), np.linspace(top, bottom, down))
        columns, rows = self.plane.pixels(x.ravel(), y.ravel())
        inside = (columns >= 0) & (rows >= 0) & (columns <= self.pixels.shape[1] - 1) & (rows <= self.pixels.shape[0] - 1)
        if not inside.all():
            raise PictureRefused("part of the chart is outside the shot: cropped")
        found: NDArray[np.uint8] = self.pixels[np.round(rows).astype(int), np.round(columns).astype(int)]
        return found

    def luminance(self, values: NDArray[np.uint8]) -> NDArray[np.float64]:
        """Luminance (0 to 1) of the shot's values, through its profile."""
        return luminance_of_lightness(lightness_of_colours(values, self.mode, self.profile) * L_PER_16_BIT)

    def colours(self, boxes: list[Box]) -> NDArray[np.float64]:
        """The mean of the shot's own values in each box, as RGB: (n, 3)."""
        means = np.array([self.values(box).mean(axis=0) for box in boxes])
        return means if means.shape[1] == 3 else np.repeat(means[:, :1], 3, axis=1)

    def read(self, box: Box) -> Reading:
        """The luminance of a box in chart units."""
        found = self.luminance(self.values(box))
        error = float(found.std(ddof=1)) / math.sqrt(len(found))
        return Reading(float(found.mean()), error, len(found), (box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def open_shots(path: str | os.PathLike[str]) -> tuple[list[Shot], Shot | None]:
    """The printed charts in the shot at ``path`` (one or two, from the left) and the one that a screen shows, each found fit.

    ``PictureRefused`` gives the reason against the shot.
    """
    picture = read_header(path)
    flat = eight_bit_image(picture)
    grey = flat if flat.mode == "L" else flat.convert("RGB").convert("L")
    with named(picture.path):
        planes, shown = find_planes(grey)
        pixels, profile = _channels(flat), profile_of(picture)
        found = [Shot(pixels, picture.mode, profile, plane) for plane in [*planes, *([shown] if shown else [])]]
        for shot in found:
            _refuse_what_would_mislead(shot)
    return found[: len(planes)], found[-1] if shown else None


@contextmanager
def named(path: Path) -> Iterator[None]:
    """With the file's name before what is said against it."""
    try:
        yield
    except PictureRefused as refused:
        said = str(refused)
        raise (refused if said.startswith(shown(path)) else PictureRefused(f"{shown(path)}: {said}")) from None


def edge_width_units(shot: Shot) -> float:
    """How wide the shot draws an edge from white to black (10 to 90 %, ISO 12233's rise distance), in chart units."""
    along = np.linspace(-1.2, 1.8, 121)
    widths = []
    for x, top, bottom in edges():
        lines = np.linspace(top, bottom, 24)
        across, down = np.meshgrid(x + along, lines)
        columns, rows = shot.plane.pixels(across.ravel(), down.ravel())
        columns = np.clip(np.round(columns), 0, shot.pixels.shape[1] - 1).astype(int)
        rows = np.clip(np.round(rows), 0, shot.pixels.shape[0] - 1).astype(int)
        profile = shot.pixels[rows, columns].reshape(len(lines), len(along), -1).mean(axis=(0, 2))
        high, low = profile[:10].mean(), profile[-10:].mean()
        if high - low > 10:
            step = (profile - low) / (high - low)
            widths.append(float(np.sum((step > 0.1) & (step < 0.9))) * (along[1] - along[0]))
    return float(np.median(widths)) if widths else math.inf


def _channels(image: Image.Image) -> NDArray[np.uint8]:
    found = np.asarray(image)
    return found if found.ndim == 3 else found[..., None]


def _refuse_what_would_mislead(shot: Shot) -> None:
    scale = shot.plane.pixels_per_unit
    if scale < _LEAST_PX_PER_UNIT:
        raise PictureRefused(f"too small: the chart is {120 * scale:.0f} pixels wide, {120 * _LEAST_PX_PER_UNIT:.0f} are needed")
    width = edge_width_units(shot)
    if width > _SOFTEST_EDGE_UNITS + 1.5 / scale:
        raise PictureRefused(f"blurred: an edge is spread over {width * scale:.0f} pixels; focus, hold still, and shoot again")
    white = np.concatenate([shot.values(gap) for gap in gaps()])
    if np.mean(white.max(axis=1) >= _CLIPPED_FROM) > _MOST_CLIPPED:
        raise PictureRefused(
            "clipped: the paper's white is at the top of the range; expose less, or switch the scanner's automatic off"
        )
    if np.median(white.max(axis=1)) < _DIMMEST_WHITE:
        raise PictureRefused("too dark: the paper's white is not half way up the range; expose more")


def refuse_cut_off_blacks(shot: Shot) -> None:
    """``PictureRefused`` where the blacks lie at the bottom of the range: nothing is to be read from them."""
    black = np.concatenate([shot.values(patch.black) for patch in patches() if patch.black])
    if np.mean(black.max(axis=1) <= _CUT_OFF_AT) > _MOST_CLIPPED:
        raise PictureRefused("clipped: the blacks are cut off at 0; expose more, or switch the scanner's automatic off")
