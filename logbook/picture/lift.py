"""The shadow lift: a monotone curve that opens the shadows by what a paper's wedge asks for and leaves the rest alone."""

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from logbook.picture.file import COLOURS, Mode, Pixels
from logbook.picture.icc import L_PER_16_BIT, Profile, same_profile, srgb
from logbook.picture.lightness import grey_ramp, lightness_of_colours
from logbook.picture.proof import INTENTS, Way, proof_lightness
from logbook.picture.reading import Sample
from logbook.picture.refusal import PictureRefused
from logbook.picture.spline import natural_spline
from logbook.records import Wedge
from logbook.records.text import plain

# L* from which on the curve is straight again, and where a second point holds the lights (62 and 191 of sRGB): common
# practice, no source.
PIN_L, HIGH_PIN_L = 26.22, 77.34
MOST_LIFT = 64
# Input 0 to the first pin is a parabola; below this ratio of pin to lift its start would be too flat to keep tones apart.
_LEAST_PIN_PER_LIFT = 2.5
_CLOSE_ENOUGH = 0.05  # levels by which a solved lift may miss before the next whole one is taken
HALF_A_LEVEL = 0.5


@dataclass(frozen=True)
class WedgeStep:
    """What a wedge says: the first ``level`` of the space of ``profile`` that stood apart, printed going its ``way``."""

    level: int
    profile: Profile
    way: Way


@dataclass(frozen=True)
class Lift:
    """A lift of input 0 to ``output`` (8-bit levels of the file's own space); unchanged from the first of ``pins`` up."""

    output: int
    pins: tuple[tuple[int, int], ...]

    def at(self, level: NDArray[np.float64] | float) -> NDArray[np.float64]:
        """The lifted value of ``level`` (0 to 255, fractions allowed): x + o·(1 − x/p)² below the first pin p, else x."""
        x = np.asarray(level, np.float64)
        room = np.clip(1 - x / self.pins[0][0], 0, None)
        return x + self.output * room**2

    def curve(self) -> tuple[int, ...]:
        """Output for each of the 256 inputs, rounded."""
        return tuple(int(value) for value in np.floor(self.at(np.arange(256.0)) + 0.5))

    def table(self, bits: int) -> Pixels:
        """Output for every input of 8 or 16 ``bits``, at that depth."""
        top = 2**bits - 1
        values = self.at(np.arange(top + 1) * (255 / top)) * (top / 255)
        whole: Pixels = np.floor(values + 0.5).astype(np.uint16 if bits == 16 else np.uint8)
        return whole

    def applied(self, pixels: Pixels, mode: Mode) -> Pixels:
        """Pixels (…, channels) of 8 or 16 bits, lifted: of RGB and grey every colour, of Lab the lightness; alpha stays."""
        lifted = pixels.copy()
        toned = 1 if mode == "LAB" else COLOURS[mode]
        lifted[..., :toned] = self.table(pixels.dtype.itemsize * 8)[pixels[..., :toned]]
        return lifted

    @cached_property
    def points(self) -> tuple[tuple[int, int], ...]:
        """The numbers to type where a curve is drawn as a natural spline: through them it stays within half a level."""
        chosen = {0: self.output, **dict(self.pins), 255: 255}
        while True:
            off = np.abs(natural_spline(chosen, np.arange(256.0)) - self.at(np.arange(256.0)))
            worst = int(off.argmax())
            if off[worst] <= HALF_A_LEVEL:
                return tuple(sorted(chosen.items()))
            near = [x for x in range(max(1, worst - 3), min(255, worst + 4)) if x not in chosen]
            best = min(near, key=lambda x: abs(float(self.at(x)) - round(float(self.at(x)))))
            chosen[best] = round(float(self.at(best)))


def lift_to(output: int, pin: int = 62, high: int = 191) -> Lift:
    """The lift that gives input 0 the ``output`` (0 to 64), straight from ``pin`` on.

    Two pins hold the middle and the lights; the lower one moves up for a lift too large to reach it.

    >>> lift_to(8).pins, lift_to(8).curve()[0], lift_to(8).curve()[62], lift_to(8).curve()[191]
    (((62, 62), (191, 191)), 8, 62, 191)
    """
    if not 0 <= output <= MOST_LIFT:
        raise ValueError(f"a lift is 0 to {MOST_LIFT}, not {output}")
    low = max(pin, math.ceil(output * _LEAST_PIN_PER_LIFT))
    return Lift(output, ((low, low), (max(high, low + 1), max(high, low + 1))))


def lift_for(step: WedgeStep, profile: Profile, output: Profile | None, way: Way) -> Lift | None:
    """The lift that prints a file's black as light as the wedge's first step was; ``None`` where more than 64 would be.

    The step is a lightness on that paper, through ``output`` and the wedge's own way; the file's black is brought to it
    through the file's ``profile`` and the ``way`` it is to be printed. Without ``output`` both are compared unproofed.
    """
    asked = float(_greys(step.profile, output, step.way)[step.level])
    own = np.maximum.accumulate(_greys(profile, output, way))
    plain = np.maximum.accumulate(_greys(profile, None, way))
    level = float(np.interp(asked, own + np.arange(256) * 1e-9, np.arange(256.0)))
    whole = math.ceil(level - _CLOSE_ENOUGH)
    pin, high = (int(np.abs(plain - lightness).argmin()) for lightness in (PIN_L, HIGH_PIN_L))
    return lift_to(whole, max(pin, 1), min(high, 254)) if whole <= MOST_LIFT else None


def lift_of_wedge(
    wedge: Wedge, profile: Profile, output: Profile | None, intent: str | None, compensated: bool | None
) -> tuple[Lift, Way]:
    """The lift that a wedge asks of pictures in ``profile``, and the way it is for; ``PictureRefused`` says why there is none.

    ``intent`` and ``compensated`` (black point compensation) are the wedge's where they are not said.
    """
    space = _space(wedge.space, profile, output)
    if space is None:
        raise PictureRefused(f"The wedge was printed in {plain(wedge.space or '')}: neither file nor profile is of that space.")
    intended = _way(intent or wedge.intent, compensated, wedge.black_point_compensation)
    printed = _way(wedge.intent or intent, wedge.black_point_compensation, compensated)
    lift = lift_for(WedgeStep(wedge.first_step, space, printed), profile, output, intended)
    if lift is None:
        raise PictureRefused(f"The wedge's first step is {wedge.first_step}: more than a lift can mend.")
    return lift, intended


def _way(intent: str | None, *compensated: bool | None) -> Way:
    """A way out of what is said; an intent that is not proofed here is taken as relative."""
    said = next((one for one in compensated if one is not None), True)
    return Way(intent if intent in INTENTS else "relative", said)


def _space(name: str | None, profile: Profile, output: Profile | None) -> Profile | None:
    """The profile of the space that a wedge's level is one of."""
    known = {srgb().name.casefold(): srgb(), profile.name.casefold(): profile}
    if output is not None:
        known.setdefault(output.name.casefold(), output)
    return srgb() if name is None else known.get(name.strip().casefold())


def _greys(profile: Profile, output: Profile | None, way: Way) -> NDArray[np.float64]:
    """L* of the 256 greys of a space, proofed unless they are the output's own numbers."""
    ramp = grey_ramp(profile)
    if output is None or same_profile(profile, output):
        return lightness_of_colours(ramp, profile.mode, profile) * np.float64(L_PER_16_BIT)
    return proof_lightness(ramp, profile, output, way)


def lifted(lift: Lift, sample: Sample) -> Sample:
    """The sample as a lifted copy has it; its pixels must be RGB, grey or Lab."""
    return replace(sample, values=lift.applied(sample.values, sample.mode))
