"""Size of a print: image, borders, sheet and roll; pixels an inch, and what the eye makes of them."""

import math
from dataclasses import dataclass
from fractions import Fraction

from logbook.records.units import MM_PER_INCH, Borders, length_text

ARCMINUTE = math.radians(1 / 60)  # what an eye of ordinary acuity (20/20) separates
LARGEST_IN_A_SHAPE = 20
SHAPES_DIFFER = 0.02  # of the picture; less goes with rounding a size to whole millimetres
_CLOSE = 0.01  # a shape within 1 % of the picture's is the picture's


def ppi_at(pixels: int, mm: float) -> float:
    """Pixels an inch of ``pixels`` spread over ``mm``.

    >>> round(ppi_at(6000, 508))
    300
    """
    return pixels * MM_PER_INCH / mm


def viewing_distance_mm(ppi: float) -> float:
    """The distance from which one pixel is an arcminute wide; closer by, pixels can be told apart.

    >>> round(viewing_distance_mm(300)), round(3437.747 / 24)
    (291, 143)
    """
    return MM_PER_INCH / ppi / math.tan(ARCMINUTE)


def cut_off(size_mm: tuple[float, float], width_px: int, height_px: int) -> tuple[float, str] | None:
    """The share of a picture that a print of that size leaves out to be filled, and the picture's shape.

    None where the shapes differ by no more than whole millimetres do.

    >>> cut_off((500, 400), 6000, 4000), cut_off((400, 267), 6000, 4000)
    ((0.16666666666666663, '3:2'), None)
    """
    file, image = width_px / height_px, size_mm[0] / size_mm[1]
    cut = 1 - min(file, image) / max(file, image)
    shape = Fraction(file).limit_denominator(LARGEST_IN_A_SHAPE)
    return (cut, f"{shape.numerator}:{shape.denominator}") if cut >= SHAPES_DIFFER else None


@dataclass(frozen=True)
class Wish:
    """How large the print is wanted: at most one of ``size_mm``, ``width_mm`` and ``long_mm``."""

    size_mm: tuple[float, float] | None = None
    width_mm: float | None = None
    long_mm: float | None = None

    def __post_init__(self) -> None:
        if sum(value is not None for value in (self.size_mm, self.width_mm, self.long_mm)) > 1:
            raise ValueError("give a size, a width or a long side, not two of them")

    def image_mm(self, width_px: int, height_px: int, own_ppi: float | None) -> tuple[float, float] | None:
        """Width and height of the printed image; ``None`` where neither the wish nor the file says.

        A size of another shape than the picture's holds the picture whole: nothing is cut off.

        >>> Wish(long_mm=520).image_mm(4000, 3000, None), Wish(size_mm=(300, 400)).image_mm(4000, 3000, None)
        ((520.0, 390.0), (300.0, 225.0))
        """
        if self.size_mm is not None:
            across, down = self.size_mm
            if abs(across / down / (width_px / height_px) - 1) <= _CLOSE:
                return float(across), float(down)
            scale = min(across / width_px, down / height_px)
        elif self.width_mm is not None:
            scale = self.width_mm / width_px
        elif self.long_mm is not None:
            scale = self.long_mm / max(width_px, height_px)
        elif own_ppi:
            scale = MM_PER_INCH / own_ppi
        else:
            return None
        return float(width_px * scale), float(height_px * scale)


def sheet_mm(image_mm: tuple[float, float], borders_mm: Borders) -> tuple[float, float]:
    """The image with its borders (top, right, bottom, left)."""
    top, right, bottom, left = borders_mm
    return image_mm[0] + left + right, image_mm[1] + top + bottom


@dataclass(frozen=True)
class OnRoll:
    """How a sheet lies on a roll: its side ``across_mm``, the ``length_mm`` it uses, and whether it is ``turned``."""

    across_mm: float
    length_mm: float
    turned: bool


def lay_on_roll(sheet: tuple[float, float], roll_mm: float) -> OnRoll | None:
    """The way to lay a sheet on a roll that uses least length; ``None`` where it does not fit at all.

    >>> lay_on_roll((440, 570), 609.6)
    OnRoll(across_mm=570, length_mm=440, turned=True)
    >>> lay_on_roll((700, 650), 609.6) is None
    True
    """
    width, height = sheet
    ways = [OnRoll(width, height, turned=False), OnRoll(height, width, turned=True)]
    fitting = [way for way in ways if way.across_mm <= roll_mm + 1e-6]
    return min(fitting, key=lambda way: way.length_mm, default=None)


def what_the_eye_makes_of_it(ppi: float, viewing_mm: float) -> str:
    """A plain hint: whether the file's detail misses or exceeds the eye at the distance meant.

    >>> what_the_eye_makes_of_it(100, 400)
    'Pixels are 2.2 times as coarse as the eye at 40 cm: edges look soft or stepped; go further off or print smaller.'
    """
    ratio = viewing_distance_mm(ppi) / viewing_mm
    at = length_text(viewing_mm)
    if ratio > 1.05:
        coarse = f"Pixels are {ratio:.1f} times as coarse as the eye at {at}"
        return f"{coarse}: edges look soft or stepped; go further off or print smaller."
    if ratio < 0.5:
        fine = f"Detail is {1 / ratio:.1f} times as fine as the eye at {at}"
        return f"{fine}: sharpen for the distance, the finest of it will not be seen."
    return f"Detail and the eye match at {at}."
