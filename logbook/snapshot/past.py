"""The logbook as it was at a moment of the past: what had been logged by then, as it stood then."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Concatenate, NoReturn, TypeVar

import msgspec
import numpy as np

from logbook.records import Cartridge, Judgement, Order, Print, Record, Screen, Stock
from logbook.snapshot.snapshot import Asked, Kept, Snapshot, Told
from logbook.store import lately
from logbook.store.lately import MadeForOrder, OrderCount, SheetCount
from logbook.store.rows import time_field

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from logbook.store import Store
    from logbook.store.columns import Prints
    from logbook.store.judgement_columns import Judgements
    from logbook.store.lately import Numbered, PictureLine

R = TypeVar("R", bound=Record)

#: Fields that are empty until something has happened.
LATER: dict[type[Record], tuple[str, ...]] = {
    Stock: ("closed",),
    Cartridge: ("removed",),
    Screen: ("calibrated",),
    Order: ("done", "cancelled"),
}


def as_of(log: Snapshot, moment: dt.date | dt.datetime) -> Snapshot:
    """The logbook as it was at the end of a day, or just before a time of day.

    Papers, printers, lights and bench times bear no date: they are as they are now. A day on which an order was closed counts
    whole: before its end the order was open.
    """
    if isinstance(moment, dt.datetime):
        return _Past(log, _Moment(moment.date(), moment.timestamp()))
    return _Past(log, _Moment(moment, None))


@dataclass(frozen=True)
class _Moment:
    """The end of ``day``, or just before ``at`` (seconds of UTC since 1970) on it."""

    day: dt.date
    at: float | None

    def has(self, when: dt.date | dt.datetime) -> bool:
        """Whether ``when`` had come by then. Where a whole day is meant, a time counts by the date written in it."""
        if isinstance(when, dt.datetime):
            return when.date() <= self.day if self.at is None else when.timestamp() < self.at
        return when <= self.day if self.at is None else when < self.day

    def mask(self, days: NDArray[np.datetime64], at: NDArray[np.float64]) -> NDArray[np.bool_]:
        """``has`` for whole columns."""
        return days <= np.datetime64(self.day) if self.at is None else at < self.at


class _Past(Snapshot):
    """Made from the present snapshot; keeps its own answers."""

    def __init__(self, present: Snapshot, moment: _Moment) -> None:
        super().__init__(present._store, Kept(present._kept.position, present._kept.preferences), moment.day)
        self._present = present
        self._moment = moment

    def _follow(self) -> None:
        before = self._present._kept
        self._present._follow()
        if self._present._kept is not before:
            self._kept = Kept(self._present._kept.position, self._present._kept.preferences)

    def ask(self, question: Callable[Concatenate[Store, Asked], Told], *args: Asked.args, **kwargs: Asked.kwargs) -> NoReturn:
        raise LookupError("the file tells how things are, not how they were")

    def all(self, kind: type[R]) -> list[R]:
        def then() -> list[R]:
            return [was for record in self._present.all(kind) if (was := self._as_it_was(record)) is not None]

        return self._kept.table(kind, [kind], then)

    def get(self, kind: type[R], id: str | None) -> R | None:
        record = self._present.get(kind, id)
        return self._as_it_was(record) if record is not None else None

    def _as_it_was(self, record: R) -> R | None:
        began = "taken" if isinstance(record, Order) else time_field(type(record))
        if began is not None and not self._began(getattr(record, began)):
            return None
        later = {
            name: None
            for name in LATER.get(type(record), ())
            if (when := getattr(record, name)) is not None and not self._moment.has(when)
        }
        return msgspec.structs.replace(record, **later) if later else record

    def _began(self, when: dt.date | dt.datetime) -> bool:
        return self._moment.has(when) if isinstance(when, dt.datetime) else when <= self.day

    def _prints_since(self, since: dt.date | None) -> Prints:
        return self._kept.table("prints", [Print, Judgement], self._prints)

    def _prints(self) -> Prints:
        everything = self._present.prints()
        prints = everything.where(self._moment.mask(everything.day, everything.at))
        if len(self.judgements.print) == len(self._present.judgements.print):
            return prints
        seen, rows = self.judgements, {id: row for row, id in enumerate(prints.id)}
        verdict, light = np.full(len(prints), None, dtype=object), np.full(len(prints), None, dtype=object)
        darkness, hours_dry, judged_at = (np.full(len(prints), np.nan) for _ in range(3))
        for place, id in enumerate(seen.print):
            row = rows.get(id)
            if row is not None and seen.verdict[place] is not None:
                verdict[row] = seen.verdict[place]
            if row is not None and not np.isnan(seen.darkness[place]):
                darkness[row], light[row] = seen.darkness[place], seen.light[place]
                hours_dry[row], judged_at[row] = seen.hours_dry[place], seen.at[place]
        return replace(prints, verdict=verdict, darkness=darkness, light=light, hours_dry=hours_dry, judged_at=judged_at)

    @property
    def judgements(self) -> Judgements:
        def then() -> Judgements:
            seen = self._present.judgements
            there = self._moment.mask(seen.day, seen.at)
            return type(seen)(**{field.name: getattr(seen, field.name)[there] for field in fields(seen)})

        return self._kept.table("judgements", [Judgement], then)

    @property
    def pictures(self) -> dict[str, PictureLine]:
        return self._present.pictures

    @property
    def first_day(self) -> dt.date | None:
        prints = self.prints()
        return prints.day[0].item() if len(prints) else None

    def newest_print(self, printer: str | None = None) -> Print | None:
        prints = self.prints(printer=printer)
        return self._present.get(Print, str(prints.id[-1])) if len(prints) else None

    @property
    def made_for_orders(self) -> dict[str, list[MadeForOrder]]:
        return self._present.made_for_orders

    def order_count(self, order: str) -> OrderCount:
        made = [print for print in self.made_for_orders.get(order, []) if self._then(print.day, print.at)]
        counts = Counter(
            next((verdict for day, at, verdict in reversed(print.verdicts) if self._then(day, at)), None) for print in made
        )
        return OrderCount(counts["keep"], counts["redo"] + counts["scrap"], counts[None])

    def _then(self, day: dt.date, at: int) -> bool:
        there = day <= self.day if self._moment.at is None else at / 1e6 < self._moment.at
        return there and (not isinstance(self._present, _Past) or self._present._then(day, at))

    def taken_from(self, stock: str) -> list[SheetCount]:
        prints = self.prints()
        own = prints.where(prints.stock == stock)
        sizes = Counter(zip(own.width_mm, own.height_mm, np.nan_to_num(own.border_mm), strict=True))
        return [SheetCount(float(wide), float(high), float(border), count) for (wide, high, border), count in sizes.items()]

    @property
    def numbered(self) -> list[Numbered]:
        prints = self.prints()
        verdicts = dict(zip(prints.id, prints.verdict, strict=True))
        return [
            msgspec.structs.replace(print, verdict=verdicts[print.print])
            for print in self._present.numbered
            if print.print in verdicts
        ]

    @property
    def usual_profiles(self) -> dict[str, str]:
        return self.ask(lately.usual_profiles)

    @property
    def calibrations(self) -> list[Screen]:
        return [was for screen in self._present.calibrations if (was := self._as_it_was(screen)) is not None]
