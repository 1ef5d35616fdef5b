"""What the log holds about ink, as plain columns: prints, cartridges, readings, changeovers and cleanings."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from logbook.analysis.ink.content import Content
from logbook.analysis.ink.unlogged import Unlogged
from logbook.analysis.numeric.arrays import NDArray

__all__ = ["CartridgeUse", "CleaningDone", "Exchange", "InkLog", "Reading", "black_of"]

Floats = NDArray[np.float64]

#: Seconds put between two readings that were noted for the same time.
APART = 0.01


@dataclass(frozen=True)
class CartridgeUse:
    """A cartridge put in at ``installed`` (Unix s), with ``start_percent`` of ``nominal_ml`` in it.

    ``start_percent`` is None where its start does not count: the account then begins with its first reading.
    """

    id: str
    ink: str
    installed: float
    nominal_ml: float
    removed: float | None = None
    start_percent: float | None = 100.0


@dataclass(frozen=True)
class Reading:
    """One round of levels, in percent by ink."""

    id: str
    at: float
    levels: dict[str, float]


@dataclass(frozen=True)
class Exchange:
    """A changeover from one black to the other; ``before`` and ``after`` are ids of readings."""

    id: str
    at: float
    from_black: str
    to_black: str
    before: str | None = None
    after: str | None = None
    minutes: float | None = None
    cleanings: int | None = None

    @property
    def direction(self) -> tuple[str, str]:
        """The black taken out and the black put in."""
        return self.from_black, self.to_black


@dataclass(frozen=True)
class CleaningDone:
    """A head cleaning; a strength that was not noted counts as one of its own."""

    at: float
    strength: str | None = None


@dataclass(frozen=True)
class InkLog:
    """Everything about one printer's inks, in any order.

    ``print_at`` (n,) Unix s, ``print_m2`` (n,) area of the image, ``print_black`` (n,) the black that each used;
    ``print_ml`` (n,) the ink noted with it, all inks together, nan where none was (empty: with no print);
    ``unlogged`` is what is known of the prints that are not in it, ``content`` how the volumes of its cartridges are known:
    they are what these really give.
    """

    inks: tuple[str, ...]
    step_percent: float
    print_at: Floats
    print_m2: Floats
    print_black: NDArray[np.object_]
    cartridges: tuple[CartridgeUse, ...] = ()
    readings: tuple[Reading, ...] = ()
    exchanges: tuple[Exchange, ...] = ()
    cleanings: tuple[CleaningDone, ...] = ()
    shared_black_slot: bool = True
    black_at_start: str | None = None
    unlogged: Unlogged | None = None
    content: Content | None = None
    print_ml: Floats = field(default_factory=lambda: np.zeros(0))
    reading_by_id: dict[str, Reading] = field(init=False)

    def __post_init__(self) -> None:
        if not len(self.print_ml):
            object.__setattr__(self, "print_ml", np.full(len(self.print_at), np.nan))
        for name in ("cartridges", "readings", "exchanges", "cleanings"):
            ordered = sorted(getattr(self, name), key=_moment)
            object.__setattr__(self, name, tuple(ordered))
        afters = {(exchange.before, exchange.after) for exchange in self.exchanges}
        by_id = {reading.id: reading for reading in self.readings}
        for before, after in afters:
            # Two readings of one time, told apart by what the changeover between them says.
            if before and after and before != after and {before, after} <= set(by_id) and by_id[before].at == by_id[after].at:
                by_id[after] = replace(by_id[after], at=by_id[after].at + APART)
        object.__setattr__(self, "reading_by_id", by_id)
        object.__setattr__(self, "readings", tuple(sorted(by_id.values(), key=_moment)))


def black_of(ink: str) -> str | None:
    """The black that an ink is, if it is one.

    >>> black_of("matte_black"), black_of("light_grey")
    ('matte', None)
    """
    return {"matte_black": "matte", "photo_black": "photo"}.get(ink)


def _moment(thing: CartridgeUse | Reading | Exchange | CleaningDone) -> float:
    return thing.installed if isinstance(thing, CartridgeUse) else thing.at
