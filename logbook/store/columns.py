"""Columns of the log as arrays, for the analyses."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

import msgspec
import numpy as np

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import NDArray  # a part of numpy that the first screen need not load

    from logbook.records.settings import Settings
    from logbook.store.opening import Store


@dataclass(frozen=True)
class Prints:
    """Prints in time order; all columns of one length. Text columns hold None, number columns NaN where nothing is known.

    ``verdict`` is that of the last judgement with one; ``darkness`` (thirds of a stop), ``light``, ``hours_dry`` and
    ``judged_at`` are those of the last judgement with a darkness. ``at`` and ``judged_at`` are seconds of UTC since 1970,
    ``day`` is the date written in the print's time.
    """

    id: NDArray[np.object_]
    number: NDArray[np.int64]
    at: NDArray[np.float64]
    day: NDArray[np.datetime64]
    printer: NDArray[np.object_]
    paper: NDArray[np.object_]
    picture: NDArray[np.object_]
    stock: NDArray[np.object_]
    purpose: NDArray[np.object_]
    attempt_of: NDArray[np.object_]
    order: NDArray[np.object_]
    screen: NDArray[np.object_]
    width_mm: NDArray[np.float64]
    height_mm: NDArray[np.float64]
    border_mm: NDArray[np.float64]
    edition_number: NDArray[np.float64]
    edition_size: NDArray[np.float64]
    ink_ml: NDArray[np.float64]
    settings: list[Settings]
    verdict: NDArray[np.object_]
    darkness: NDArray[np.float64]
    light: NDArray[np.object_]
    hours_dry: NDArray[np.float64]
    judged_at: NDArray[np.float64]

    def __len__(self) -> int:
        return len(self.id)

    @property
    def area_m2(self) -> NDArray[np.float64]:
        """Area of each image without its borders, in m²."""
        return self.width_mm * self.height_mm / 1e6

    def where(self, mask: NDArray[np.bool_]) -> Prints:
        """The prints for which ``mask`` holds."""
        chosen: dict[str, Any] = {field.name: getattr(self, field.name) for field in fields(self)}
        for name, column in chosen.items():
            if isinstance(column, np.ndarray):
                chosen[name] = column[mask]
            else:
                chosen[name] = [one for one, kept in zip(column, mask, strict=True) if kept]
        return Prints(**chosen)


_PRINTS = """
SELECT p.id, n.number, p.instant, substr(p.at, 1, 10), p.printer, p.paper, p.picture, p.stock, p.purpose, p.attempt_of, p."order",
    p.screen, p.width_mm, p.height_mm, p.border_mm, p.edition_number, p.edition_size, p.ink_ml, p.settings
FROM print AS p JOIN print_number AS n ON n.print = p.id
WHERE {where} ORDER BY p.instant, p.entered
"""

_JUDGEMENTS = "SELECT print, instant, verdict, darkness, light, hours_dry FROM judgement ORDER BY instant, entered"

_Judged = dict[str, tuple[Any, ...]]


def prints(
    store: Store, since: date | None = None, until: date | None = None, paper: str | None = None, printer: str | None = None
) -> Prints:
    """The prints of the days ``since`` to ``until`` (both included), of a paper and of a printer where given."""
    conditions, values = ["1"], []
    for condition, value in (
        ("substr(p.at, 1, 10) >= ?", since and since.isoformat()),
        ("substr(p.at, 1, 10) <= ?", until and until.isoformat()),
        ("p.paper = ?", paper),
        ("p.printer = ?", printer),
    ):
        if value is not None:
            conditions.append(condition)
            values.append(value)
    rows = store.connection.execute(_PRINTS.format(where=" AND ".join(conditions)), values).fetchall()
    return _prints(rows, *_last_judgements(store))


def _last_judgements(store: Store) -> tuple[_Judged, _Judged]:
    verdicts: _Judged = {}
    seen: _Judged = {}
    for row in store.connection.execute(_JUDGEMENTS):
        if row[2] is not None:
            verdicts[row[0]] = row
        if row[3] is not None:
            seen[row[0]] = row
    return verdicts, seen


def _prints(rows: list[tuple[Any, ...]], verdicts: _Judged, seen: _Judged) -> Prints:
    columns: list[Any] = list(zip(*rows, strict=True)) if rows else [()] * 19
    nothing = (None,) * 6
    seen_rows = [seen.get(id, nothing) for id in columns[0]]
    texts: dict[str, Any] = {name: _texts(columns[4 + place]) for place, name in enumerate(_TEXTS)}
    numbers: dict[str, Any] = {name: _numbers(columns[12 + place]) for place, name in enumerate(_NUMBERS)}
    return Prints(
        id=_texts(columns[0]),
        number=np.array(columns[1], dtype=np.int64),
        at=np.array(columns[2], dtype=np.float64) / 1e6,
        day=np.array(columns[3], dtype="datetime64[D]"),
        **texts,
        **numbers,
        settings=[msgspec.json.decode(one) for one in columns[18]],
        verdict=_texts([verdicts.get(id, nothing)[2] for id in columns[0]]),
        darkness=_numbers([row[3] for row in seen_rows]),
        light=_texts([row[4] for row in seen_rows]),
        hours_dry=_numbers([row[5] for row in seen_rows]),
        judged_at=_numbers([row[1] for row in seen_rows]) / 1e6,
    )


_TEXTS = ("printer", "paper", "picture", "stock", "purpose", "attempt_of", "order", "screen")
_NUMBERS = ("width_mm", "height_mm", "border_mm", "edition_number", "edition_size", "ink_ml")


def _texts(values: Any) -> NDArray[np.object_]:
    column = np.empty(len(values), dtype=object)
    column[:] = values
    return column


def _numbers(values: Any) -> NDArray[np.float64]:
    return np.array([np.nan if value is None else value for value in values], dtype=np.float64)
