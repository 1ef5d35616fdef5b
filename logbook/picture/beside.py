"""A print measured beside the screen, in one shot: the screen's chart tells the camera's curve, the print's is read by it.

Cameras also raise contrast in places: a value is pushed away from those around it. By how much, and how far around, nobody
says; so the whole is worked out under several assumptions, each of them weighed by how well the screen's patches then lie on
one curve, and the answer is their mean (Bayesian model averaging; Hoeting et al. 1999).
"""

import math
import os
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from logbook.picture.chart import BESIDE_ANCHOR, HEIGHT, MIDDLE_LEVELS, WIDTH, gaps, inner, patches
from logbook.picture.curve import CameraCurve, fit_curve
from logbook.picture.page import Page
from logbook.picture.refusal import PictureRefused
from logbook.picture.shot import Shot, named, open_shots
from logbook.picture.size import MM_PER_INCH
from logbook.picture.wedge import draw_chart

_NINETY = 1.645
_DARKEST_LEVEL = 16  # below it a screen's own black and the room in it say more than the file
_ROOM, _ROOM_SPREAD = 0.004, 0.003  # of its white, what the room adds to all a screen shows: common practice, no source
_LENS = 0.04  # stops by which a lens may dim the one chart more than the other: spread, common practice, no source
_PATCHIEST_LIGHT, _PATCHIEST_BLACK, _WORST_CURVE, _CUT_OFF_AT = 0.06, 0.012, 0.25, 3
_AROUND = ((0.0, 0.0), *((share, reach) for reach in (0.01, 0.025, 0.06) for share in (0.05, 0.1, 0.15, 0.2, 0.25, 0.3)))
_ANY_PPI = 96.0  # a page is measured in mm; of the screen's only the pixels count
_PATCHES_THAT_TELL = 17  # neighbours miss alike: as many independent patches, roughly

_CHOSEN = [patch for patch in patches() if patch.level >= _DARKEST_LEVEL]
_BLACKS = [inner(patch.black) for patch in patches() if patch.black]
_BOXES = [*(inner(patch.box) for patch in _CHOSEN), *gaps(), *_BLACKS]
_LEVELS = np.array([*(patch.level for patch in _CHOSEN), *([255] * len(gaps())), *([0] * len(_BLACKS))])
_PLACES = np.array([((left + right) / 2, (top + bottom) / 2) for left, top, right, bottom in _BOXES])
_WHITE, _BLACK, _MIDDLE = _LEVELS == 255, _LEVELS == 0, np.isin(_LEVELS, MIDDLE_LEVELS)


@dataclass(frozen=True)
class Beside:
    """What the shot tells: print against screen in stops, each with its central 90 % interval; negative: the print is darker.

    ``middle_stops`` are the middle tones, ``white_stops`` paper against screen white; ``unevenness`` is the light's brightest
    over its darkest place on the print, ``curve_missed`` what the camera's curve leaves of the screen's patches, in stops.
    """

    middle_stops: tuple[float, float, float]
    white_stops: tuple[float, float, float]
    unevenness: float
    curve_missed: float


@dataclass(frozen=True)
class _Found:
    """What one assumption gives: stops of the middle tones and the white, the light's and the curve's misses.

    ``black_spread`` is by how much of the white one black is lighter than the others: what a reflection adds to it.
    """

    middle: float
    white: float
    unevenness: float
    light_missed: float
    curve_missed: float
    black_spread: float


def measure_beside(path: str | os.PathLike[str]) -> Beside:
    """Measures the print in the shot at ``path`` against the screen beside it; ``PictureRefused`` says why it would mislead."""
    printed, shown = open_shots(path)
    with named(Path(path)):
        if printed is None or shown is None:
            seen, missing = ("screen", "print") if printed is None else ("print", "screen")
            raise PictureRefused(f"the {seen}'s chart is to be seen, the {missing}'s is not: cropped, covered or too blurred")
        return compared(printed, shown)


def compared(printed: Shot, shown: Shot) -> Beside:
    """The two charts of one shot against each other."""
    ours, theirs = _readings(printed), _readings(shown)
    found = [_under(share, ours[0], theirs[0], ours[reach], theirs[reach]) for share, reach in _AROUND]
    likely = np.array([one.curve_missed for one in found]) ** -_PATCHES_THAT_TELL
    likely *= np.array([len(found) - 1, *([1] * (len(found) - 1))])  # half of what is believed before: no raising at all
    weights = likely / likely.sum()
    best = found[int(weights.argmax())]
    if best.curve_missed > _WORST_CURVE:
        raise PictureRefused("the screen's patches do not lie on one curve: a reflection in the screen, or its picture moved")
    if best.light_missed > _PATCHIEST_LIGHT or best.black_spread > _PATCHIEST_BLACK:
        flaw = "a reflection" if best.black_spread > _PATCHIEST_BLACK else "a shadow or a reflection"
        raise PictureRefused(f"{flaw} lies on the print: light it evenly from both sides")
    if math.isnan(best.middle):
        raise PictureRefused("the print is lighter or darker than anything the screen's chart tells: change the light")
    missed = best.curve_missed, best.light_missed / 2, _LENS
    return Beside(
        _averaged([one.middle for one in found], weights, (*missed, _room(best.middle))),
        _averaged([one.white for one in found], weights, missed),
        best.unevenness,
        best.curve_missed,
    )


def screen_page(size_px: tuple[int, int]) -> Page:
    """The chart for the screen, as large as it goes on ``size_px``."""
    across, down = (px * MM_PER_INCH / _ANY_PPI for px in size_px)
    page = Page((across, down), _ANY_PPI)
    unit = min(across / (WIDTH + 8), down / (HEIGHT + 8))
    draw_chart(page, ((across - WIDTH * unit) / 2, (down - HEIGHT * unit) / 2), unit, "as on the screen", BESIDE_ANCHOR)
    return page


def _readings(shot: Shot) -> dict[float, NDArray[np.float64]]:
    """Means (n, 3) of the boxes, by how far around a value was averaged (0: not at all)."""
    found = {0.0: shot.colours(_BOXES)}
    for reach in {reach for _, reach in _AROUND if reach}:
        found[reach] = replace(shot, pixels=_blurred(shot.pixels, reach)).colours(_BOXES)
    return found


def _blurred(pixels: NDArray[np.uint8], reach: float) -> NDArray[np.uint8]:
    """The shot with everything within ``reach`` (of its long side) averaged."""
    image = Image.fromarray(pixels if pixels.shape[2] == 3 else pixels[..., 0])
    small = image.reduce(8)
    soft = small.filter(ImageFilter.GaussianBlur(reach * max(small.size))).resize(image.size, Image.Resampling.BILINEAR)
    found = np.asarray(soft)
    return found if found.ndim == 3 else found[..., None]


def _under(share: float, *readings: NDArray[np.float64]) -> _Found:
    """The print against the screen if contrast was raised by ``share`` of what a value differs from those around it."""
    ours, theirs, our_around, their_around = readings
    told = (theirs.min(axis=1) > _CUT_OFF_AT) & ~_BLACK
    ours, theirs = (ours + share * our_around) / (1 + share), (theirs + share * their_around) / (1 + share)
    curve = fit_curve(theirs[told], _screen_light(_LEVELS[told]), _PLACES[told])
    white, left = _light(curve, ours)
    known = bool(curve.knows(ours[_MIDDLE]).all() and curve.knows(ours[_WHITE]).mean() > 0.9)
    average = float(white[_WHITE].mean())
    tones = np.log2(curve.light(ours[_MIDDLE])) - white[_MIDDLE] + average - np.log2(_screen_light(_LEVELS[_MIDDLE]))
    uneven = float(2.0 ** (white[_WHITE].max() - white[_WHITE].min()))
    blacks = curve.light(np.maximum(ours[_BLACK], curve.knots[:, 0])) / 2.0**average
    spread = float(blacks.max() - np.median(blacks))
    return _Found(float(tones.mean()) if known else math.nan, average, uneven, left, curve.missed, spread)


def _light(curve: CameraCurve, values: NDArray[np.float64]) -> tuple[NDArray[np.float64], float]:
    """The light on the print at every box, from its bare paper: stops against the screen's white, and what the fit leaves."""
    x, y = _PLACES[:, 0] / WIDTH - 0.5, _PLACES[:, 1] / HEIGHT - 0.5
    terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)
    stops = np.log2(curve.light(values[_WHITE]))
    factors, *_ = np.linalg.lstsq(terms[_WHITE], stops, rcond=None)
    return terms @ factors, float(np.std(stops - terms[_WHITE] @ factors, ddof=6))


def _screen_light(levels: NDArray[np.int_]) -> NDArray[np.float64]:
    """What the screen's patches shine with, in shares of its white (IEC 61966-2-1, and the room in it)."""
    share = levels / 255
    light = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return np.asarray((light + _ROOM) / (1 + _ROOM))


def _room(stops: float) -> float:
    """Stops by which the middle tones may miss because what the room adds to the screen is not known."""
    own = _screen_light(np.array(MIDDLE_LEVELS))
    return float(abs(np.mean(_ROOM_SPREAD * (1 / (own * 2.0**stops) - 1 / own))) / math.log(2))


def _averaged(values: list[float], weights: NDArray[np.float64], spreads: tuple[float, ...]) -> tuple[float, float, float]:
    usable = np.isfinite(values)
    own, share = np.array(values)[usable], weights[usable] / weights[usable].sum()
    mean = float(share @ own)
    half = _NINETY * math.hypot(float(np.sqrt(share @ (own - mean) ** 2)), *spreads)
    return mean, mean - half, mean + half
