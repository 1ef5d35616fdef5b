"""How a sheet is cut down: the cuts in order, each with where to put the blade."""

from dataclasses import dataclass

from logbook.picture.size import OnRoll
from logbook.records.units import Borders, number_text

CAUTION = (
    "Blades: cut away from the body, fingers behind the rule's guard, the blade shut between cuts; "
    "the cutter's own instructions and the rules of your place come first."
)
SIDES = ("top", "right", "bottom", "left")
_LEAST_OFFCUT_MM = 0.5  # less than a blade can follow


@dataclass(frozen=True)
class Cut:
    """One cut: ``at_mm`` from the edge named in ``what``."""

    what: str
    at_mm: float

    def __str__(self) -> str:
        return f"{self.what}: {number_text(self.at_mm)} mm"


def cuts(image_mm: tuple[float, float], borders_mm: Borders, roll: OnRoll | None, roll_mm: float | None) -> tuple[Cut, ...]:
    """The cuts from roll to sheet, and from sheet to the bare image where it is to lose its border.

    >>> [str(cut) for cut in cuts((520, 390), (25, 25, 25, 25), OnRoll(570, 440, turned=False), 609.6)]
    ['off the roll, from its front edge: 440 mm', 'side strip, from the printed edge: 570 mm', \
'to the image, off each side: 25 mm']
    """
    found = []
    if roll is not None and roll_mm is not None:
        found.append(Cut("off the roll, from its front edge", roll.length_mm))
        if roll_mm - roll.across_mm > _LEAST_OFFCUT_MM:
            found.append(Cut("side strip, from the printed edge", roll.across_mm))
    if len({*borders_mm}) == 1:
        found += [Cut("to the image, off each side", mm) for mm in borders_mm[:1] if mm > 0]
    else:
        found += [Cut(f"to the image, off the {side}", mm) for side, mm in zip(SIDES, borders_mm, strict=True) if mm > 0]
    return tuple(found)
