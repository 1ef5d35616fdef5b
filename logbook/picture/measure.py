"""A print's tone curve, read off a scan of its wedge or strip."""

import math
import os
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from logbook.picture.chart import HEIGHT, MIDDLE_LEVELS, WIDTH, gaps, inner, patches
from logbook.picture.curve import fall_terms
from logbook.picture.header import read_header
from logbook.picture.icc import L_PER_16_BIT, Profile, srgb
from logbook.picture.lightness import APART_L, grey_ramp, lightness_of_colours, lightness_of_luminance, luminance_of_lightness
from logbook.picture.new_tiff import metadata
from logbook.picture.refusal import PictureRefused
from logbook.picture.sheet_code import Sheet, read_sheet
from logbook.picture.shot import Reading, Shot, named, open_shots, refuse_cut_off_blacks

_NINETY = 1.645
_PATCHIEST_LIGHT = 0.05  # what the fitted light may miss of the whites it was fitted to
_EXIF, _EXPOSURE = 34665, (33434, 33437, 34855)  # exposure time, f-number, sensitivity: a scanner has none of them
_MOST_SLANT, _MOST_UNEVEN = 0.015, 1.08  # of a scan: common practice, no source


@dataclass(frozen=True)
class Tone:
    """One step as printed: L* relative to the paper's white, with its central 90 % interval and how many pixels tell it."""

    level: int
    lightness: float
    low: float
    high: float
    pixels: int


@dataclass(frozen=True)
class Measured:
    """What a shot tells: the tone curve, the first dark level kept apart (None: none is) and the deepest black's L*.

    ``middle_stops`` is how the middle tones came out against the file's, in its own space: negative is darker.
    ``unevenness`` is the light's brightest over its darkest place on the chart, before it was corrected; ``sheet`` is what
    its code says.
    """

    tones: tuple[Tone, ...]
    first_step: int | None
    black: Tone
    middle_stops: tuple[float, float, float]
    unevenness: float
    sheet: Sheet | None = None


def measure(path: str | os.PathLike[str], space: Profile | None = None) -> Measured:
    """Measures the chart in the scan at ``path``; ``PictureRefused`` gives the reason where it would mislead.

    ``space`` is the one that the chart's levels were printed from; sRGB if not given.
    """
    printed, shown = open_shots(path)
    with named(Path(path)):
        if shown is not None:
            raise PictureRefused("a screen's chart is in this shot: a print beside the screen is measured with --beside")
        if len(printed) > 1:
            raise PictureRefused("two charts are in it: scan one at a time; a shot of a scanned one and another wants --scan")
        refuse_cut_off_blacks(printed[0])
        sheet = read_sheet(printed[0].pixels)
        if space is None and sheet is not None and sheet.space != srgb().name:
            raise PictureRefused(f"printed from {sheet.space}, its code says: name that profile's file with --space")
        found = measured(printed[0], space or srgb())
        if why := _of_a_camera(Path(path), printed[0], found.unevenness):
            raise PictureRefused(
                f"a photograph, by {why}: a camera's own contrast curve is not known. Scan the sheet with the scanner's "
                "automatic off, or shoot it beside the screen (logbook measure --beside)"
            )
        return replace(found, sheet=sheet)


def measured(shot: Shot, space: Profile) -> Measured:
    """Measures a shot whose values mean what its profile says."""
    light = _Light(tuple(shot.read(gap) for gap in gaps()))
    if light.missed > _PATCHIEST_LIGHT:
        raise PictureRefused("a shadow or a reflection lies on the chart: light it evenly from both sides")
    dark = [(patch, shot.read(inner(patch.box)), shot.read(inner(patch.black))) for patch in patches() if patch.black]
    tones = [_tone(patch.level, shot.read(inner(patch.box)), light) for patch in patches()]
    blacks = [light.share(black) for _, _, black in dark]
    apart = [(patch.level, _apart(light.share(step), light.share(black))) for patch, step, black in dark]
    return Measured(
        tones=tuple(tones),
        first_step=_first_apart(apart),
        black=_tone(0, _mean_of(blacks), light, done=True),
        middle_stops=_middle(tones, light, space),
        unevenness=light.unevenness,
    )


def _of_a_camera(path: Path, shot: Shot, unevenness: float) -> str:
    """What betrays a photograph; empty for what may be a scan."""
    exif = metadata(read_header(path)).get(_EXIF, {})
    if any(tag in exif for tag in _EXPOSURE):
        return "the exposure in its EXIF block"
    if shot.plane.slant > _MOST_SLANT:
        return f"its slant: one side of the chart is {100 * shot.plane.slant:.0f} % longer than the other"
    if unevenness > _MOST_UNEVEN:
        return f"its light, {unevenness:.2f} times as strong at one place as at another"
    return ""


class _Light:
    """The light on the chart: log luminance of the paper's white, a polynomial of second degree over the chart."""

    def __init__(self, whites: tuple[Reading, ...]) -> None:
        places = np.array([(white.x, white.y) for white in whites])
        values = np.log([max(white.mean, 1e-6) for white in whites])
        self._factors, *_ = np.linalg.lstsq(fall_terms(places), values, rcond=None)
        self.missed = float(np.std(values - fall_terms(places) @ self._factors, ddof=6))
        fitted = np.exp(fall_terms(places) @ self._factors)
        self.unevenness = float(fitted.max() / fitted.min())

    def share(self, reading: Reading) -> Reading:
        """The reading as a share of the paper's white at its place."""
        white = float(np.exp(fall_terms(np.array([(reading.x, reading.y)])) @ self._factors)[0])
        return Reading(reading.mean / white, reading.error / white, reading.samples, reading.x, reading.y)


def _tone(level: int, reading: Reading, light: _Light, *, done: bool = False) -> Tone:
    share = reading if done else light.share(reading)
    half = _NINETY * math.hypot(share.error, share.mean * light.missed)
    low, middle, high = (_lightness(share.mean + way * half) for way in (-1, 0, 1))
    return Tone(level, middle, low, high, share.samples)


def _lightness(share: float) -> float:
    return min(100.0, float(lightness_of_luminance(max(0.0, share))))


def _mean_of(shares: list[Reading]) -> Reading:
    values = np.array([share.mean for share in shares])
    error = float(values.std(ddof=1)) / math.sqrt(len(values))
    return Reading(float(values.mean()), error, sum(share.samples for share in shares), WIDTH / 2, HEIGHT / 2)


def _apart(step: Reading, black: Reading) -> bool:
    """Whether a step stands apart from its own black: by what an eye needs, and by more than the shot's noise."""
    difference = _lightness(step.mean) - _lightness(black.mean)
    noise = step.mean - black.mean > _NINETY * math.hypot(step.error, black.error)
    return difference >= APART_L and noise


def _first_apart(apart: list[tuple[int, bool]]) -> int | None:
    """The lowest level from which on every step stands apart."""
    first = None
    for level, stands in reversed(apart):
        if not stands:
            break
        first = level
    return first


def _middle(tones: list[Tone], light: _Light, space: Profile) -> tuple[float, float, float]:
    """Mean of the middle tones' stops against the file, and its central 90 % interval."""
    middle = [tone for tone in tones if tone.level in MIDDLE_LEVELS]
    asked = luminance_of_levels(np.array(MIDDLE_LEVELS), space)
    printed, ends = (np.array([values(tone) for tone in middle]) for values in (_luminance, _luminance_ends))
    stops = float(np.mean(np.log2(printed / asked)))
    noise = np.log2(ends[:, 1] / ends[:, 0]) / 2 / math.sqrt(len(middle))
    half = math.hypot(float(noise.mean()), _NINETY * light.missed / math.log(2))
    return stops, stops - half, stops + half


def luminance_of_levels(levels: NDArray[np.int_], space: Profile) -> NDArray[np.float64]:
    """Luminance (0 to 1) of greys of 8-bit ``levels`` (n,) in a space."""
    greys = grey_ramp(space)[levels]
    return luminance_of_lightness(lightness_of_colours(greys, space.mode, space) * np.float64(L_PER_16_BIT))


def _luminance(tone: Tone) -> float:
    return max(1e-6, float(luminance_of_lightness(tone.lightness)))


def _luminance_ends(tone: Tone) -> tuple[float, float]:
    low, high = (max(1e-6, float(luminance_of_lightness(end))) for end in (tone.low, tone.high))
    return low, high
