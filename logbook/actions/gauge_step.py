"""The gauge's step, learnt from what the printer reports: the smallest difference between two levels of one ink.

It is what the rounding error of the ink account follows from, so a wrong one widens or narrows every interval there.
"""

from collections.abc import Mapping, Sequence
from itertools import pairwise

import msgspec

from logbook.records import Printer
from logbook.store import Store, preferences

SEEN = "levels_reported"
ENOUGH_STEPS = 6  # differences to see before the smallest is believed: fewer are mostly the jumps of whole prints
ENOUGH_FOR_COARSER = 20
MOST_KEPT = 200  # levels kept for each ink: at 0.5 % every one there is
FINEST_PERCENT = 0.01  # below it a difference is how a number was written, not a step


def levels_seen(store: Store, printer: str) -> dict[str, list[float]]:
    """Every distinct level that the printer has reported of each ink, rising."""
    try:
        return msgspec.convert(preferences.read(store, f"{SEEN}:{printer}", {}), dict[str, list[float]])
    except msgspec.ValidationError:
        return {}


def keep_seen(store: Store, printer: str, seen: Mapping[str, Sequence[float]]) -> None:
    """Keep the levels seen, for the next reading."""
    preferences.write(store, f"{SEEN}:{printer}", {ink: list(levels) for ink, levels in seen.items()})


def seen_with(seen: Mapping[str, Sequence[float]], levels: Mapping[str, float]) -> dict[str, list[float]]:
    """The levels seen so far and those of one more reading.

    >>> seen_with({"cyan": [40.0]}, {"cyan": 38.0, "grey": 90.0})
    {'cyan': [38.0, 40.0], 'grey': [90.0]}
    """
    known = {ink: set(levels) for ink, levels in seen.items()}
    for ink, level in levels.items():
        there = known.setdefault(ink, set())
        if len(there) < MOST_KEPT:
            there.add(level)
    return {ink: sorted(there) for ink, there in known.items()}


def smallest_step(seen: Mapping[str, Sequence[float]]) -> float | None:
    """The smallest difference between levels of one ink, in percent; None before enough of them were seen.

    >>> smallest_step({"cyan": [36, 38, 40, 41.5, 60], "grey": [80, 82, 90]})
    1.5
    """
    steps = [later - earlier for levels in seen.values() for earlier, later in pairwise(levels)]
    steps = [step for step in steps if step >= FINEST_PERCENT]
    return round(min(steps), 3) if len(steps) >= ENOUGH_STEPS else None


def is_grid(seen: Mapping[str, Sequence[float]], step: float) -> bool:
    """Whether many levels were seen, and every one is a whole number of steps.

    >>> is_grid({"cyan": [float(level) for level in range(0, 100, 5)]}, 5.0)
    True
    """
    levels = [level for of_ink in seen.values() for level in of_ink]
    return len(levels) >= ENOUGH_FOR_COARSER and all(abs(level / step - round(level / step)) < 0.02 for level in levels)


def learnt(printer: Printer, seen: Mapping[str, Sequence[float]]) -> Printer | None:
    """The printer with the step that was seen; None where too little was, or it is the one known already.

    A step finer than the known one is a fact as soon as it is seen. A coarser one may only mean that much was printed
    between two readings, so it takes many levels that all lie on its grid.
    """
    step, known = smallest_step(seen), printer.gauge_step_percent
    if step is None or abs(step - known) <= 0.01 * known or (step > known and not is_grid(seen, step)):
        return None
    return msgspec.structs.replace(printer, gauge_step_percent=step)
