"""The first start: what an empty logbook needs before a print can be logged. Every step can be skipped."""

from logbook.records import Ink
from logbook.snapshot.setup import LEFT
from logbook.store import Store, preferences

# A starting list to correct, in the order of a common display; 80 ml is a placeholder, not any printer's volume.
EIGHT_INKS = (
    "matte_black",
    "photo_black",
    "cyan",
    "magenta",
    "yellow",
    "light_cyan",
    "light_magenta",
    "grey",
)
NOMINAL_ML = 80.0
WIDTH_MM = 610.0
GAUGE_STEP_PERCENT = 1.0


def starting_inks(nominal_ml: float = NOMINAL_ML, price: float | None = None) -> tuple[Ink, ...]:
    """Eight inks, two of them the blacks that share a slot, all with the same volume and price.

    >>> [ink.ink for ink in starting_inks()][:3]
    ['matte_black', 'photo_black', 'cyan']
    """
    return tuple(Ink(ink=name, nominal_ml=nominal_ml, price=price) for name in EIGHT_INKS)


def leave(store: Store) -> None:
    """From now on the set-up waits until it is asked for."""
    preferences.write(store, LEFT, True)
