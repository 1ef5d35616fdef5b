"""Brightening by stops: light doubled or halved through the picture's own tone curve, white staying white."""

import numpy as np
from numpy.typing import NDArray

from logbook.picture.file import Pixels
from logbook.picture.icc import L_PER_16_BIT, Profile, lightness_16, lightness_profile, transform
from logbook.picture.lightness import grey_ramp, luminance_of_lightness

_SHOULDER = 3  # the higher, the nearer to white the shoulder begins


def brightened(pixels: Pixels, stops: float, profile: Profile) -> Pixels:
    """RGB or grey pixels of 8 or 16 bits, brighter by ``stops``.

    >>> from logbook.picture.icc import srgb
    >>> brightened(np.array([[128, 128, 128]], np.uint8), 1.0, srgb()).tolist()
    [[174, 174, 174]]
    """
    if stops == 0:
        return pixels
    found: Pixels = brightening(pixels.dtype.itemsize * 8, stops, profile)[pixels]
    return found


def brightening(bits: int, stops: float, profile: Profile) -> Pixels:
    """The output for every input of ``bits``: light y times g = 2^stops below a shoulder that never clips.

    y' = g·y / (1 + (g³ − 1)·y³)^(1/3): of slope g in the shadows and middle tones, rising everywhere, white at white.
    """
    top = 2**bits - 1
    curve = _light_of_greys(profile)
    light = np.interp(np.arange(top + 1) / top, np.linspace(0, 1, len(curve)), curve)
    gain = 2.0**stops
    brighter = gain * light / (1 + (gain**_SHOULDER - 1) * light**_SHOULDER) ** (1 / _SHOULDER)
    back = np.interp(np.clip(brighter, 0, 1), curve, np.linspace(0, 1, len(curve)))
    table: Pixels = np.floor(back * top + 0.5).astype(np.uint16 if bits == 16 else np.uint8)
    return table


def greys_in_srgb(pixels: Pixels, profile: Profile) -> Pixels:
    """Grey pixels under a grey profile as the sRGB values (IEC 61966-2-1) that give the same light."""
    top = int(np.iinfo(pixels.dtype).max)
    light = np.interp(np.arange(top + 1) / top, np.linspace(0, 1, 256), _light_of_greys(profile))
    encoded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    table = np.floor(np.clip(encoded, 0, 1) * top + 0.5).astype(pixels.dtype)
    found: Pixels = table[pixels]
    return found


def _light_of_greys(profile: Profile) -> NDArray[np.float64]:
    """The light (0 to 1) of the profile's 256 greys, without its black."""
    greys = lightness_16(transform(profile, lightness_profile()), grey_ramp(profile), profile.mode)
    light = luminance_of_lightness(greys * L_PER_16_BIT)
    rising: NDArray[np.float64] = np.maximum.accumulate((light - light[0]) / max(float(light[-1] - light[0]), 1e-9))
    return rising + np.arange(256) * 1e-12  # strictly rising, so that it can be read backwards
