"""A print measured in one shot with a chart of known light: that one tells the camera's curve, the print's is read by it.

The light is known of the chart that a screen shows, or of a printed one that was scanned before.

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

from logbook.picture.chart import MIDDLE_LEVELS, gaps, inner, patches
from logbook.picture.curve import CameraCurve, fall_terms, fit_curve
from logbook.picture.icc import Profile, srgb
from logbook.picture.lightness import luminance_of_lightness
from logbook.picture.measure import Measured, luminance_of_levels, measure
from logbook.picture.refusal import PictureRefused
from logbook.picture.sheet_code import Sheet, read_sheet, sheets_in
from logbook.picture.shot import Shot, named, open_shots

_NINETY = 1.645
_DARKEST_LEVEL = 16  # below it a screen's own black and the room in it say more than the file
_ROOM, _ROOM_SPREAD = 0.004, 0.003  # of its white, what the room adds to all a screen shows: common practice, no source
_LENS = 0.04  # stops by which a lens may dim the one chart more than the other: spread, common practice, no source
_BETWEEN = 0.03  # stops by which light and lens may differ between a patch and its white: spread, common practice, no source
_PATCHIEST_LIGHT, _PATCHIEST_BLACK, _WORST_CURVE, _CUT_OFF_AT = 0.06, 0.012, 0.25, 3
_AROUND = ((0.0, 0.0), *((share, reach) for reach in (0.01, 0.025, 0.06) for share in (0.05, 0.1, 0.15, 0.2, 0.25, 0.3)))
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
    ``sheet`` is what the print's code says.
    """

    middle_stops: tuple[float, float, float]
    white_stops: tuple[float, float, float]
    unevenness: float
    curve_missed: float
    sheet: Sheet | None = None


@dataclass(frozen=True)
class ByScan:
    """What a shot of two sheets tells of the one that was not scanned, in stops with central 90 % intervals.

    ``middle_stops`` are its middle tones against the file's, ``against_scanned`` against the scanned sheet's, both of their own
    paper's white; negative: darker. ``side`` is where the scanned one lies, ``by_code`` whether its code says so.
    """

    middle_stops: tuple[float, float, float]
    against_scanned: tuple[float, float, float]
    unevenness: float
    curve_missed: float
    side: str
    by_code: bool
    sheet: Sheet | None = None


@dataclass(frozen=True)
class _Known:
    """Of the chart that tells the curve: ``light`` of every box in shares of its white (NaN: not told by), and its ``name``.

    ``asked`` is what the middle tones are held against; ``lit`` whether it shows the room's light, as a printed one does.
    """

    name: str
    light: NDArray[np.float64]
    asked: NDArray[np.float64]
    lit: bool


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
        if not printed or shown is None:
            seen, missing = ("print", "screen") if printed else ("screen", "print")
            raise PictureRefused(f"the {seen}'s chart is to be seen, the {missing}'s is not: cropped, covered or too blurred")
        if len(printed) > 1:
            raise PictureRefused("two printed charts are in this shot: take one beside the screen")
        found, weights = _compared(printed[0], shown, _screen_known())
        middle, white = ([getattr(one, name) for one in found] for name in ("middle", "white"))
        best = found[int(weights.argmax())]
        missed = best.curve_missed, best.light_missed / 2, _LENS
        return Beside(
            _averaged(middle, weights, (*missed, _room(best.middle))),
            _averaged(white, weights, missed),
            best.unevenness,
            best.curve_missed,
            read_sheet(printed[0].pixels),
        )


def measure_by_scan(path: str | os.PathLike[str], scan: str | os.PathLike[str], space: Profile | None = None) -> ByScan:
    """Measures the one of two printed charts in a shot that is not the scanned one; ``PictureRefused`` says why it would mislead.

    The scanned one tells the camera's curve; it lies at the left where no code tells which it is. Both were printed from
    ``space`` (sRGB).
    """
    scanned = measure(scan, space)
    printed, shown = open_shots(path)
    with named(Path(path)):
        if len(printed) < 2:
            raise PictureRefused(
                "only one printed chart is to be seen; the scanned sheet and the other one must both be in the shot"
            )
        if shown is not None:
            raise PictureRefused("a screen's chart is in this shot too: take the two sheets without it")
        codes = _codes(printed)
        which, by_code = _scanned_one(codes, scanned.sheet)
        found, weights = _compared(printed[1 - which], printed[which], _scan_known(scanned, space or srgb()))
        best = found[int(weights.argmax())]
        missed = best.curve_missed, best.light_missed / 2, _BETWEEN, _scan_missed(scanned)
        own = _averaged([one.middle - one.white for one in found], weights, missed)
        of_scanned = scanned.middle_stops[0]
        return ByScan(
            own,
            (own[0] - of_scanned, own[1] - of_scanned, own[2] - of_scanned),
            best.unevenness,
            best.curve_missed,
            ("left", "right")[which],
            by_code,
            codes[1 - which],
        )


def _compared(printed: Shot, telling: Shot, known: _Known) -> tuple[list["_Found"], NDArray[np.float64]]:
    """The two charts of one shot against each other: what each assumption gives, and how much it is believed."""
    ours, theirs = _readings(printed), _readings(telling)
    found = [_under(share, known, (ours[0], theirs[0]), (ours[reach], theirs[reach])) for share, reach in _AROUND]
    likely = np.array([one.curve_missed for one in found]) ** -_PATCHES_THAT_TELL
    likely *= np.array([len(found) - 1, *([1] * (len(found) - 1))])  # half of what is believed before: no raising at all
    weights = likely / likely.sum()
    best = found[int(weights.argmax())]
    if best.curve_missed > _WORST_CURVE:
        raise PictureRefused(f"the patches of the {known.name} do not lie on one curve: a reflection on it, or it moved")
    if best.light_missed > _PATCHIEST_LIGHT or best.black_spread > _PATCHIEST_BLACK:
        flaw = "a reflection" if best.black_spread > _PATCHIEST_BLACK else "a shadow or a reflection"
        raise PictureRefused(f"{flaw} lies on {'a sheet' if known.lit else 'the print'}: light it evenly from both sides")
    if math.isnan(best.middle):
        raise PictureRefused(f"the print is lighter or darker than anything the {known.name} tells: change the light")
    return found, weights


def _screen_known() -> _Known:
    light = _screen_light(_LEVELS)
    return _Known("screen's chart", np.where(_BLACK, np.nan, light), light[_MIDDLE], lit=False)


def _scan_known(scanned: Measured, space: Profile) -> _Known:
    """What the scan says of every box, and what the file's own middle tones are."""
    by_level = {tone.level: tone.lightness for tone in scanned.tones} | {0: scanned.black.lightness, 255: 100.0}
    light = np.asarray(luminance_of_lightness(np.array([by_level[int(level)] for level in _LEVELS])))
    return _Known("scanned sheet", light, luminance_of_levels(_LEVELS[_MIDDLE], space), lit=True)


def _scan_missed(scanned: Measured) -> float:
    """Standard deviation of what the scan says of the middle tones, in stops."""
    return (scanned.middle_stops[2] - scanned.middle_stops[1]) / 2 / _NINETY


def _codes(printed: list[Shot]) -> list[Sheet | None]:
    """What the codes in a shot say of its charts: each is of the chart nearest to it."""
    found: list[Sheet | None] = [None] * len(printed)
    for sheet, (x, y) in sheets_in(printed[0].pixels):
        off = [math.dist((x, y), shot.plane.middle) for shot in printed]
        found[off.index(min(off))] = sheet
    return found


def _scanned_one(codes: list[Sheet | None], scanned: Sheet | None) -> tuple[int, bool]:
    """Which chart is the scanned one, and whether its code says so; else the left."""
    named = [number for number, code in enumerate(codes) if scanned is not None and code == scanned]
    return (named[0], True) if len(named) == 1 else (0, False)


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


def _under(
    share: float, known: _Known, values: tuple[NDArray[np.float64], ...], around: tuple[NDArray[np.float64], ...]
) -> _Found:
    """The print against the other chart if contrast was raised by ``share`` of what a value differs from those around it."""
    told = (values[1].min(axis=1) > _CUT_OFF_AT) & np.isfinite(known.light)
    ours, theirs = ((own + share * near) / (1 + share) for own, near in zip(values, around, strict=True))
    curve = fit_curve(theirs[told], known.light[told], _PLACES[told])
    white, left = _light(curve, ours)
    left = max(left, _light(curve, theirs)[1]) if known.lit else left
    within = bool(curve.knows(ours[_MIDDLE]).all() and curve.knows(ours[_WHITE]).mean() > 0.9)
    average = float(white[_WHITE].mean())
    tones = np.log2(curve.light(ours[_MIDDLE])) - white[_MIDDLE] + average - np.log2(known.asked)
    uneven = float(2.0 ** (white[_WHITE].max() - white[_WHITE].min()))
    blacks = curve.light(np.maximum(ours[_BLACK], curve.knots[:, 0])) / 2.0**average
    spread = float(blacks.max() - np.median(blacks))
    return _Found(float(tones.mean()) if within else math.nan, average, uneven, left, curve.missed, spread)


def _light(curve: CameraCurve, values: NDArray[np.float64]) -> tuple[NDArray[np.float64], float]:
    """The light on the print at every box, from its bare paper: stops against the screen's white, and what the fit leaves."""
    terms = fall_terms(_PLACES)
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
