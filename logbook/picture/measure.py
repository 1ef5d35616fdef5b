"""A print's tone curve, read off a scan or a photograph of its wedge."""

import math
import os
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from logbook.picture.chart import HEIGHT, WIDTH, gaps, inner, patches
from logbook.picture.lightness import APART_L, lightness_of_luminance
from logbook.picture.refusal import PictureRefused
from logbook.picture.shot import Reading, Shot, open_shot

_NINETY = 1.645
_PATCHIEST_LIGHT = 0.05  # what the fitted light may miss of the whites it was fitted to
_MIDDLE = (96, 160)


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

    ``middle_stops`` is how the middle tones came out against the file's, read as sRGB: negative is darker.
    ``unevenness`` is the light's brightest over its darkest place on the chart, before it was corrected.
    """

    tones: tuple[Tone, ...]
    first_step: int | None
    black: Tone
    middle_stops: tuple[float, float, float]
    unevenness: float


def measure(path: str | os.PathLike[str]) -> Measured:
    """Measures the chart in the shot at ``path``; ``PictureRefused`` gives the reason where it would mislead."""
    return measured(open_shot(path))


def measured(shot: Shot) -> Measured:
    """Measures a shot that has been found fit."""
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
        middle_stops=_middle(tones),
        unevenness=light.unevenness,
    )


class _Light:
    """The light on the chart: log luminance of the paper's white, a polynomial of second degree over the chart."""

    def __init__(self, whites: tuple[Reading, ...]) -> None:
        places = np.array([(white.x, white.y) for white in whites])
        values = np.log([max(white.mean, 1e-6) for white in whites])
        self._factors, *_ = np.linalg.lstsq(_terms(places), values, rcond=None)
        self.missed = float(np.std(values - _terms(places) @ self._factors, ddof=6))
        fitted = np.exp(_terms(places) @ self._factors)
        self.unevenness = float(fitted.max() / fitted.min())

    def share(self, reading: Reading) -> Reading:
        """The reading as a share of the paper's white at its place."""
        white = float(np.exp(_terms(np.array([(reading.x, reading.y)])) @ self._factors)[0])
        return Reading(reading.mean / white, reading.error / white, reading.samples, reading.x, reading.y)


def _terms(places: NDArray[np.float64]) -> NDArray[np.float64]:
    x, y = places[:, 0] / WIDTH - 0.5, places[:, 1] / HEIGHT - 0.5
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


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


def _middle(tones: list[Tone]) -> tuple[float, float, float]:
    """Mean of the middle tones' stops against the file, and its central 90 % interval."""
    stops = []
    for tone in tones:
        if _MIDDLE[0] <= tone.level <= _MIDDLE[1]:
            printed = max(1e-6, _luminance(tone.lightness))
            stops.append(math.log2(printed / (((tone.level / 255 + 0.055) / 1.055) ** 2.4)))  # IEC 61966-2-1
    mean = sum(stops) / len(stops)
    half = _NINETY * float(np.std(stops, ddof=1)) / math.sqrt(len(stops))
    return mean, mean - half, mean + half


def _luminance(lightness: float) -> float:
    return ((lightness + 16) / 116) ** 3
