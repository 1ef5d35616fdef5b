"""Columns of the log as arrays, for the analyses."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import UTC, datetime, time, timedelta, timezone
from functools import cache
from itertools import chain
from typing import TYPE_CHECKING, Any

import msgspec
import numpy as np

from logbook.records.long_work import step
from logbook.store.rows import instant

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
    ``day`` is the date written in the print's time, ``east_s`` that time's offset from UTC in seconds.
    """

    id: NDArray[np.object_]
    number: NDArray[np.int64]
    at: NDArray[np.float64]
    day: NDArray[np.datetime64]
    east_s: NDArray[np.int32]
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

    def time_of(self, row: int) -> datetime:
        """When a print was made, in the offset it was logged with."""
        return datetime.fromtimestamp(float(self.at[row]), timezone(timedelta(seconds=int(self.east_s[row]))))

    def where(self, mask: NDArray[np.bool_]) -> Prints:
        """The prints for which ``mask`` holds."""
        chosen: dict[str, Any] = {field.name: getattr(self, field.name) for field in fields(self)}
        for name, column in chosen.items():
            if isinstance(column, np.ndarray):
                chosen[name] = column[mask]
            else:
                chosen[name] = [one for one, kept in zip(column, mask, strict=True) if kept]
        return Prints(**chosen)


_TEXTS = ("printer", "paper", "picture", "stock", "purpose", "attempt_of", "order", "screen", "verdict", "light")
_NUMBERS = (
    "width_mm",
    "height_mm",
    "border_mm",
    "edition_number",
    "edition_size",
    "ink_ml",
    "darkness",
    "hours_dry",
)

_PRINTS = """
SELECT p.id, p.settings, substr(p.at, 1, 10), substr(p.at, -6), l.number, p.instant, d.instant,
    p.printer, p.paper, p.picture, p.stock, p.purpose, p.attempt_of, p."order", p.screen, l.verdict, d.light,
    p.width_mm, p.height_mm, p.border_mm, p.edition_number, p.edition_size, p.ink_ml, d.darkness, d.hours_dry
FROM print AS p JOIN print_line AS l ON l.print = p.id
LEFT JOIN judgement AS d ON d.entered = (
    SELECT entered FROM judgement WHERE print = p.id AND darkness IS NOT NULL ORDER BY instant DESC, entered DESC LIMIT 1)
WHERE p.instant >= ? AND substr(p.at, 1, 10) >= ? ORDER BY p.instant, p.entered
"""

A_DAY = 86_400_000_000  # in microseconds: no place is farther than that from UTC
CHUNK = 1_000  # rows held as Python objects at a time: a hundred thousand prints stay small


def prints(store: Store, since: date | None = None) -> Prints:
    """The prints (of the days from ``since`` on). The columns can't be written to: all who ask share them."""
    rows = store.connection.execute(_PRINTS, _from(since))
    chunks = []
    known: dict[str | None, Any] = {}  # texts recur by the thousand, and so do whole settings: one object serves
    read: dict[str, Settings] = {}
    (count,) = store.connection.execute("SELECT count(*) FROM print").fetchone() if since is None else (0,)
    while chunk := rows.fetchmany(CHUNK):
        chunks.append(_chunk(chunk, known, read))
        step(f"reading {count:,} prints, {CHUNK * len(chunks) / count:.0%}" if count > CHUNK * len(chunks) else "")
    return _joined(chunks or [_chunk([], known, read)])


def _from(since: date | None) -> tuple[int, str]:
    """The instant before which no day of that date began anywhere, and the date as it is written."""
    if since is None:
        return -(2**63), ""
    return instant(datetime.combine(since, time(), UTC)) - A_DAY, since.isoformat()


def _chunk(rows: list[tuple[Any, ...]], known: dict[str | None, Any], read: dict[str, Settings]) -> Prints:
    columns: list[Any] = list(zip(*rows, strict=True)) if rows else [()] * (7 + len(_TEXTS) + len(_NUMBERS))
    ids, settings, days, zones, numbers, instants, judged, *others = columns
    texts: dict[str, Any] = {
        name: _texts([*map(known.setdefault, others[place], others[place])]) for place, name in enumerate(_TEXTS)
    }
    values: dict[str, Any] = {name: _numbers(others[len(_TEXTS) + place]) for place, name in enumerate(_NUMBERS)}
    return Prints(
        id=_texts(ids),
        settings=[_settings(one, read) for one in settings],
        day=np.array(days, dtype="datetime64[D]"),
        east_s=np.array([*map(_east_s, zones)], dtype=np.int32),
        number=np.array(numbers, dtype=np.int64),
        at=np.array(instants, dtype=np.float64) / 1e6,
        judged_at=_numbers(judged) / 1e6,
        **texts,
        **values,
    )


@cache
def _east_s(zone: str) -> int:
    """Seconds east of UTC.

    >>> _east_s("+01:00"), _east_s("-03:30")
    (3600, -12600)
    """
    seconds = int(zone[1:3]) * 3600 + int(zone[4:6]) * 60
    return -seconds if zone[0] == "-" else seconds


def _settings(text: str, read: dict[str, Settings]) -> Settings:
    if text not in read:
        read[text] = msgspec.json.decode(text)
    return read[text]


def _joined(chunks: list[Prints]) -> Prints:
    columns: dict[str, Any] = {}
    for field in fields(Prints):
        parts = [getattr(chunk, field.name) for chunk in chunks]
        if field.name == "settings":
            columns[field.name] = list(chain.from_iterable(parts))
        else:
            columns[field.name] = np.concatenate(parts)
            columns[field.name].setflags(write=False)
    return Prints(**columns)


def _texts(values: Any) -> NDArray[np.object_]:
    column = np.empty(len(values), dtype=object)
    column[:] = values
    return column


def _numbers(values: Any) -> NDArray[np.float64]:
    return np.array(values, dtype=np.float64)  # None becomes NaN
