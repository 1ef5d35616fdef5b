"""How light a picture is: L* (CIE 1976, D50) of its pixels through its profile, as a histogram."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from logbook.picture.colours import different_colours
from logbook.picture.icc import L_PER_16_BIT, Profile, lightness_16, lightness_profile, srgb, transform
from logbook.picture.reading import Sample

# CIE 15: the constants of L*.
EPSILON, KAPPA = 216 / 24389, 24389 / 27
APART_L = 0.5  # what an eye tells apart in the darks with the two side by side: common practice, no source
_CHUNK = 1_000_000
_BINS = 65536


def lightness_of_luminance(y: NDArray[Any] | float) -> NDArray[np.float64]:
    """L* (0 to 100) of a luminance factor ``y`` (0 to 1; CIE 15).

    >>> lightness_of_luminance(0.18).round(5).item(), lightness_of_luminance(1).item()
    (49.49611, 100.0)
    """
    share = np.asarray(y, np.float64)
    return np.where(share > EPSILON, 116 * np.cbrt(share) - 16, KAPPA * share)


def luminance_of_lightness(lightness: NDArray[Any] | float) -> NDArray[np.float64]:
    """Luminance factor (0 to 1) of an L* (0 to 100; CIE 15).

    >>> luminance_of_lightness(16.0).round(6).item()
    0.020993
    """
    level = np.asarray(lightness, np.float64)
    return np.where(level > KAPPA * EPSILON, ((level + 16) / 116) ** 3, level / KAPPA)


@dataclass(frozen=True)
class LightnessHistogram:
    """How many pixels have which L*: ``counts`` (65536,), the last bin being L* 100."""

    counts: NDArray[np.int64]

    @property
    def pixels(self) -> int:
        return int(self.counts.sum())

    @property
    def mean(self) -> float:
        """The mean L*."""
        return float(self.counts @ _levels()) / self.pixels

    def percentile(self, percent: float) -> float:
        """The L* that ``percent`` of the pixels are at or under."""
        at = np.searchsorted(self.counts.cumsum(), percent / 100 * self.pixels, side="left")
        return float(_levels()[min(int(at), _BINS - 1)])

    def share_at_or_under(self, lightness: float) -> float:
        """The share (0 to 1) of pixels at or under an L*; a hundredth of an L* is allowed for rounding."""
        last = int(np.searchsorted(_levels(), lightness + 0.01, side="right"))
        return float(self.counts[:last].sum()) / self.pixels

    def columns(self, number: int) -> NDArray[np.int64]:
        """The histogram in ``number`` equal steps of L*, for drawing."""
        edges = np.linspace(0, _BINS, number + 1).round().astype(int)
        return np.add.reduceat(self.counts, edges[:-1])


def lightness_histogram(sample: Sample, profile: Profile | None) -> LightnessHistogram:
    """The L* histogram of a sample through its profile (``None``: inks taken at face value, shown in sRGB)."""
    tables = _luminance_tables(profile) if profile and sample.mode in ("RGB", "L") else None
    if tables is None:
        return _by_colour(sample, profile)
    if sample.mode == "L":  # grey under an RGB profile is R = G = B
        tables = [tables[0] + tables[1] + tables[2]]
    wide = [_for_depth(table, sample.values.dtype) for table in tables]
    found = np.zeros(_BINS, np.int64)
    for first in range(0, len(sample.values), _CHUNK):
        part = sample.values[first : first + _CHUNK]
        luminance = wide[0][part[:, 0]]
        for channel in range(1, part.shape[1]):
            luminance += wide[channel][part[:, channel]]
        np.clip(luminance, 0, _BINS - 1, out=luminance)
        found += np.bincount((luminance + np.float32(0.5)).astype(np.uint16), minlength=_BINS)
    return LightnessHistogram(_from_luminance(found))


def _by_colour(sample: Sample, profile: Profile | None) -> LightnessHistogram:
    colours = different_colours(sample)
    found = lightness_of_colours(colours.values, colours.mode, profile)
    return LightnessHistogram(np.bincount(found, weights=colours.counts, minlength=_BINS).astype(np.int64))


def lightness_of_colours(values: NDArray[np.uint8], mode: str, profile: Profile | None) -> NDArray[np.uint16]:
    """L* in 16 bits of 8-bit colours (n, channels), by LittleCMS."""
    usable, plain = for_profile(values, mode, profile)
    return lightness_16(transform(usable, lightness_profile()), plain, usable.mode)


def grey_ramp(profile: Profile) -> NDArray[np.uint8]:
    """The 256 greys of a profile's channels, from black: (256, channels); of Lab those without colour."""
    levels = np.arange(256, dtype=np.uint8)[:, None]
    if profile.mode == "LAB":
        return np.pad(levels, ((0, 0), (0, 2)))
    return np.repeat(levels, 1 if profile.mode == "L" else 3, axis=1)


def for_profile(values: NDArray[np.uint8], mode: str, profile: Profile | None) -> tuple[Profile, NDArray[np.uint8]]:
    """The colours in the channels of the profile: grey under RGB is R = G = B; inks without a profile become sRGB."""
    if profile is None:
        ink = values.astype(np.uint32)
        return srgb(), ((255 - ink[:, :3]) * (255 - ink[:, 3:]) // 255).astype(np.uint8)
    if mode == "L" and profile.mode == "RGB":
        return profile, np.repeat(values, 3, axis=1)
    return profile, values


def _luminance_tables(profile: Profile) -> list[NDArray[np.float64]] | None:
    """Luminance of each channel alone, ×65535, (256,) each; ``None`` where the channels do not simply add.

    In a profile of curves and a matrix (ICC.1, annex F) luminance is the sum of the three channels'; whether this
    profile is one is tried, not believed.
    """
    if profile.mode == "L":
        return None
    ramp = np.zeros((3, 256, 3), np.uint8)
    for channel in range(3):
        ramp[channel, :, channel] = np.arange(256)
    alone = _luminance_of_colours(ramp.reshape(-1, 3), profile).reshape(3, 256)
    steps = np.array([0, 20, 64, 128, 200, 255], np.uint8)
    mixed = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    black = alone[0, 0]
    summed = alone[0][mixed[:, 0]] + alone[1][mixed[:, 1]] + alone[2][mixed[:, 2]] - 2 * black
    off = np.abs(lightness_of_luminance(summed) - lightness_of_luminance(_luminance_of_colours(mixed, profile)))
    if off.max() > 0.02:
        return None
    return [65535 * (alone[channel] - (black if channel else 0)) for channel in range(3)]


def _luminance_of_colours(colours: NDArray[np.uint8], profile: Profile) -> NDArray[np.float64]:
    found = lightness_16(transform(profile, lightness_profile()), colours, "RGB")
    return luminance_of_lightness(found * L_PER_16_BIT)


def _for_depth(table: NDArray[np.float64], dtype: np.dtype[np.uint8] | np.dtype[np.uint16]) -> NDArray[np.float32]:
    """The table for every value of a depth; between 8-bit steps luminance is a straight line to within 0.01 L*."""
    if dtype == np.uint8:
        return table.astype(np.float32)
    return np.interp(np.arange(65536) / 257, np.arange(256), table).astype(np.float32)


def _from_luminance(counts: NDArray[np.int64]) -> NDArray[np.int64]:
    bins = np.round(lightness_of_luminance(np.arange(_BINS) / (_BINS - 1)) / L_PER_16_BIT).astype(np.int64)
    return np.bincount(bins, weights=counts, minlength=_BINS).astype(np.int64)


def _levels() -> NDArray[np.float64]:
    return np.arange(_BINS, dtype=np.float64) * np.float64(L_PER_16_BIT)
