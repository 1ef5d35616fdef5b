"""What changed and when, as the log tells it: the likely causes beside a drift."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from logbook.records import Cartridge, Changeover, Cleaning, Paper, Screen, Stock
from logbook.reports.month.model import Change
from logbook.snapshot import Snapshot
from logbook.store import columns

__all__ = ["changes", "first_uses", "near"]

#: How long before a drift began a change still counts as just before it.
JUST_BEFORE = dt.timedelta(days=14)


def changes(log: Snapshot, papers: dict[str, Paper]) -> tuple[Change, ...]:
    """Every change that the log holds, in time order."""
    return tuple(sorted(_logged(log, papers), key=lambda change: change.at))


def near(logged: tuple[Change, ...], began: dt.datetime, seen: dt.datetime, paper: str | None) -> tuple[Change, ...]:
    """The changes from just before a drift ``began`` until it was ``seen``; stock of other papers left out."""
    return tuple(
        change
        for change in logged
        if began - JUST_BEFORE <= change.at <= seen and not (paper and change.kind == "stock" and change.paper != paper)
    )


def _logged(log: Snapshot, papers: dict[str, Paper]) -> Iterator[Change]:
    for cartridge in log.all(Cartridge):
        name = cartridge.ink.replace("_", " ")
        yield Change(at=cartridge.installed, kind="cartridge", id=cartridge.id, what=f"new cartridge of {name}")
    for stock in log.all(Stock):
        paper = papers[stock.paper]
        form = "roll" if paper.form == "roll" and stock.sheets is None else "box"
        what = f"new {form} of {paper.name}"
        yield Change(at=stock.opened, kind="stock", id=stock.id, what=what, paper=stock.paper)
    calibrations = _calibrations(log)
    for screen in log.all(Screen):
        for calibrated in sorted(calibrations[screen.id]):
            yield Change(at=calibrated, kind="screen", id=screen.id, what=f"screen calibrated: {screen.name}")
    for changeover in log.all(Changeover):
        what = f"{changeover.to_black} black loaded"
        yield Change(at=changeover.at, kind="changeover", id=changeover.id, what=what)
    for cleaning in log.all(Cleaning):
        what = f"{cleaning.strength} head cleaning" if cleaning.strength else "head cleaning"
        yield Change(at=cleaning.at, kind="cleaning", id=cleaning.id, what=what)


def _calibrations(log: Snapshot) -> dict[str, set[dt.datetime]]:
    """Every calibration of each screen: the records hold the last one only, the journal those that it replaced."""
    times: dict[str, set[dt.datetime]] = defaultdict(set)
    for screen in (*log.all(Screen), *log.calibrations):
        times[screen.id] |= {screen.calibrated} if screen.calibrated is not None else set()
    return times


def first_uses(prints: columns.Prints, paper: str, first: int, last: int) -> tuple[Change, ...]:
    """Settings that prints ``first`` to ``last`` (rows) of a paper had and none before did, each at its first print.

    A setting that was never noted before is new in the log, not in the print, and is left out.
    """
    rows = np.flatnonzero(prints.paper == paper)
    seen = {pair for row in rows[rows < first] for pair in prints.settings[row].items()}
    noted = {name for name, _ in seen}
    found = []
    for row in rows[(rows >= first) & (rows <= last)]:
        for name, value in prints.settings[row].items():
            if name in noted and (name, value) not in seen:
                seen.add((name, value))
                found.append(_first_use(prints, row, paper, name, value))
    return tuple(found)


def _first_use(prints: columns.Prints, row: int, paper: str, name: str, value: str | bool | float) -> Change:
    said = {True: "on", False: "off"}[value] if isinstance(value, bool) else str(value)
    what = f"{name.replace('_', ' ')} {said}, the first time"
    return Change(at=prints.time_of(row), kind="setting", id=str(prints.id[row]), what=what, paper=paper)
