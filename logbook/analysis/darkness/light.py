"""What the light alone does: the white of the lit paper against the white of the screen."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

FloatArray = NDArray[np.float64]
TextArray = NDArray[np.object_]

#: Luminance factor of a paper whose own is not known; ordinary for an inkjet paper (common practice, no source).
USUAL_LUMINANCE_FACTOR = 0.9

#: Illuminances of ISO 3664:2009, for marks on a scale: P1 to compare critically, P2 to appraise. From memory.
CRITICAL_LX, PRACTICAL_LX = 2000.0, 500.0


def luminance_of_lit_paper(illuminance: float, luminance_factor: float) -> float:
    """Luminance of a matte paper under even light, in cd/m².

    ``illuminance`` is in lx (>= 0), ``luminance_factor`` is the paper's Y as a share (0 to 1).
    A Lambertian surface: L = E * Y / pi (CIE 15).

    >>> round(luminance_of_lit_paper(500, 0.89), 1)
    141.6
    """
    return illuminance * luminance_factor / math.pi


def matching_illuminance(screen_cd_m2: float, luminance_factor: float) -> float:
    """Illuminance in lx under which the paper's white shines as the screen's, in cd/m².

    >>> round(matching_illuminance(120, 0.9), 1)
    418.9
    """
    return screen_cd_m2 * math.pi / luminance_factor


@dataclass(frozen=True)
class Surroundings:
    """What is known of the places of comparison, by id; ids that are not in a map are not known."""

    illuminance_lx: Mapping[str, float]
    white_cd_m2: Mapping[str, float]
    luminance_factor: Mapping[str, float]

    def factor_of(self, paper: str | None) -> float:
        """Luminance factor of a paper, the usual one where its own is not known."""
        known = self.luminance_factor.get(paper or "")
        return known if known else USUAL_LUMINANCE_FACTOR

    def offset(self, light: str | None, screen: str | None, paper: str | None) -> float:
        """log2 of lit paper over screen in stops; NaN where light or screen is not known.

        >>> place = Surroundings({"wall": 500.0}, {"desk": 120.0}, {})
        >>> round(place.offset("wall", "desk", None), 3)
        0.255
        """
        lux, white = self.illuminance_lx.get(light or ""), self.white_cd_m2.get(screen or "")
        if not lux or not white:
            return math.nan
        return math.log2(luminance_of_lit_paper(lux, self.factor_of(paper)) / white)


def offsets(place: Surroundings, light: TextArray, screen: TextArray, paper: TextArray) -> FloatArray:
    """The offset of every print, (prints,), in stops; NaN where not known."""
    known: dict[tuple[str | None, str | None, str | None], float] = {}
    out = np.empty(len(paper))
    for row, key in enumerate(zip(light, screen, paper, strict=True)):
        if key not in known:
            known[key] = place.offset(*key)
        out[row] = known[key]
    return out


@dataclass(frozen=True)
class Match:
    """The average white of the lit papers and of the screens, and what would make them equal."""

    offset_stops: float
    paper_cd_m2: float
    screen_cd_m2: float
    match_screen_cd_m2: float
    match_illuminance_lx: float
    illuminance_lx: float


def match(place: Surroundings, light: TextArray, screen: TextArray, paper: TextArray) -> Match | None:
    """Averages over the prints whose offset is known (geometric, so that they agree with the mean offset).

    >>> place = Surroundings({"wall": 500.0}, {"desk": 120.0}, {})
    >>> one = np.array(["wall"], dtype=object), np.array(["desk"], dtype=object), np.array(["p"], dtype=object)
    >>> found = match(place, *one)
    >>> round(found.match_screen_cd_m2, 2), round(found.match_illuminance_lx, 1)
    (143.24, 418.9)
    """
    seen = offsets(place, light, screen, paper)
    known = np.isfinite(seen)
    if not known.any():
        return None
    lux = _mean_log([place.illuminance_lx[one] for one in light[known]])
    white = _mean_log([place.white_cd_m2[one] for one in screen[known]])
    factor = _mean_log([place.factor_of(one) for one in paper[known]])
    shine = luminance_of_lit_paper(lux, factor)
    return Match(float(seen[known].mean()), shine, white, shine, matching_illuminance(white, factor), lux)


def _mean_log(values: list[float]) -> float:
    return float(np.exp(np.mean(np.log(values))))
