"""The shadow lift: a monotone curve that opens the shadows by what a paper's wedge asks for and leaves the rest alone."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from logbook.picture.file import Pixels
from logbook.picture.icc import Profile
from logbook.picture.lightness import lightness_histogram
from logbook.picture.reading import Sample
from logbook.records.new_file import MAKER

# Where the curve is straight again, and where a second point holds the lights: common practice, no source.
LOW_PIN, HIGH_PIN = 62, 191
MOST_LIFT = 64
_ASKED_FOR_THE_SHIFT = 1_000_000
# Input 0 to the first pin is a parabola; below this ratio of pin to lift its start would be too flat to keep tones apart.
_LEAST_PIN_PER_LIFT = 2.5


@dataclass(frozen=True)
class Lift:
    """A lift of input 0 to ``output`` (8-bit); unchanged from the first of ``pins`` up."""

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

    def points(self) -> tuple[tuple[int, int], ...]:
        """The numbers to type into an editor's curve dialog: input and output, the pins among them."""
        pin = self.pins[0][0]
        inputs = sorted({0, round(pin / 4), round(pin / 2), round(pin * 3 / 4)})
        curve = self.curve()
        return (*((x, curve[x]) for x in inputs), *self.pins, (255, 255))


def lift_to(output: int) -> Lift:
    """The lift that gives input 0 the ``output`` (0 to 64).

    Two pins hold the middle and the lights; the lower one moves up for a lift too large to reach it.

    >>> lift_to(8).pins, lift_to(8).curve()[0], lift_to(8).curve()[62], lift_to(8).curve()[191]
    (((62, 62), (191, 191)), 8, 62, 191)
    """
    if not 0 <= output <= MOST_LIFT:
        raise ValueError(f"a lift is 0 to {MOST_LIFT}, not {output}")
    low = max(LOW_PIN, math.ceil(output * _LEAST_PIN_PER_LIFT))
    return Lift(output, ((low, low), (HIGH_PIN, HIGH_PIN)))


def mean_shift(lift: Lift, sample: Sample, profile: Profile | None) -> float | None:
    """How far the lift moves a picture's mean L*, put into its own numbers; ``None`` where it has no RGB or grey ones.

    A seeded selection of up to a million pixels is asked.

    >>> from logbook.picture.icc import srgb
    >>> round(mean_shift(lift_to(16), Sample("L", np.zeros((9, 1), np.uint8), 9), srgb()), 1)
    4.7
    """
    if sample.mode not in ("L", "RGB"):
        return None
    values = sample.values
    if len(values) > _ASKED_FOR_THE_SHIFT:
        values = values[np.random.default_rng(1).integers(0, len(values), _ASKED_FOR_THE_SHIFT)]
    few = Sample(sample.mode, values, len(values))
    lifted = Sample(sample.mode, lift.table(values.dtype.itemsize * 8)[values], len(values))
    return lightness_histogram(lifted, profile).mean - lightness_histogram(few, profile).mean


def cube_text(lift: Lift, size: int = 1024) -> str:
    """The lift as a one-dimensional look-up table in the open .cube text form, ``size`` rows of red, green and blue."""
    values = lift.at(np.arange(size) * 255.0 / (size - 1)) / 255
    rows = "\n".join(f"{value:.6f} {value:.6f} {value:.6f}" for value in values)
    return f'# {MAKER}\nTITLE "shadow lift {lift.output}"\nLUT_1D_SIZE {size}\nDOMAIN_MIN 0 0 0\nDOMAIN_MAX 1 1 1\n{rows}\n'
