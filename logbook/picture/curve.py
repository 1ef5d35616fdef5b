"""A camera's own tone curve, told by a chart of known light in the same shot: from its values back to light.

Every channel has a curve of its own, a chain of straight pieces from value to log light, fitted together with the fall of
light over the chart (least squares); so the colour of a light and the camera's white balance do not matter.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from logbook.picture.chart import HEIGHT, WIDTH

_KNOTS = 10
_STIFFNESS = 0.15  # how little the chain may bend against what the patches say
_BEYOND = 4.0  # values by which a reading may lie outside what the chart showed
CHANNELS = np.array([0.2126, 0.7152, 0.0722])  # of luminance (IEC 61966-2-1)


@dataclass(frozen=True)
class CameraCurve:
    """``knots`` (3, k) in values, ``log_light`` (3, k) in stops under the chart's white, ``missed`` is the fit's, in stops."""

    knots: NDArray[np.float64]
    log_light: NDArray[np.float64]
    missed: float

    def knows(self, values: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Whether values (n, 3) lie where the chart told the curve."""
        low, high = self.knots[:, 0] - _BEYOND, self.knots[:, -1] + _BEYOND
        return np.asarray(((values >= low) & (values <= high)).all(axis=1))

    def light(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """Luminance of values (n, 3), in shares of the white of the chart that told the curve."""
        logs = [_hats(values[:, channel], self.knots[channel]) @ self.log_light[channel] for channel in range(3)]
        return np.asarray(2.0 ** np.stack(logs, axis=1) @ CHANNELS)


def fit_curve(values: NDArray[np.float64], light: NDArray[np.float64], places: NDArray[np.float64]) -> CameraCurve:
    """The curve out of readings of a chart: ``values`` (n, 3), known ``light`` (n,) and ``places`` (n, 2) in chart units."""
    fall = _fall(places)
    knots, logs, missed = [], [], []
    for channel in range(3):
        own = values[:, channel]
        at = np.unique(np.quantile(np.unique(own.round(1)), np.linspace(0, 1, _KNOTS)))
        hats = _hats(own, at)
        bend = np.diff(np.eye(len(at)), 2, axis=0) * _STIFFNESS
        system = np.block([[hats, -fall], [bend, np.zeros((len(bend), fall.shape[1]))]])
        found, *_ = np.linalg.lstsq(system, np.concatenate([np.log2(light), np.zeros(len(bend))]), rcond=None)
        left = np.log2(light) - (hats @ found[: len(at)] - fall @ found[len(at) :])
        knots.append(np.interp(np.linspace(0, 1, _KNOTS), np.linspace(0, 1, len(at)), at))
        logs.append(np.interp(knots[-1], at, found[: len(at)]))
        missed.append(float(np.sqrt(np.mean(left**2))))
    return CameraCurve(np.array(knots), np.array(logs), float(CHANNELS @ missed))


def fall_terms(places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Terms (n, 6) of a light over the chart, a polynomial of second degree; ``places`` (n, 2) are in chart units."""
    x, y = places[:, 0] / WIDTH - 0.5, places[:, 1] / HEIGHT - 0.5
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


def _fall(places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Terms of a fall of light over the chart, none of them constant."""
    return fall_terms(places)[:, 1:] - (0, 0, 1 / 12, 0, 1 / 12)


def _hats(values: NDArray[np.float64], knots: NDArray[np.float64]) -> NDArray[np.float64]:
    """Shares of the knots (n, k) in a chain of straight pieces; the end pieces go on beyond the ends."""
    piece = np.clip(np.searchsorted(knots, values, side="right") - 1, 0, len(knots) - 2)
    along = (values - knots[piece]) / (knots[piece + 1] - knots[piece])
    found = np.zeros((len(values), len(knots)))
    rows = np.arange(len(values))
    found[rows, piece], found[rows, piece + 1] = 1 - along, along
    return found
