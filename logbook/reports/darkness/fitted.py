"""The analysis of the judged prints of some days: fitted once for everything that is asked of them."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.darkness.answer import Darkness, analyse
from logbook.analysis.darkness.judged import Judged
from logbook.reports.darkness.columns import blacks, counted, judged, picture_figures, surroundings
from logbook.snapshot import Snapshot, answered


@answered
def fitted(
    log: Snapshot,
    since: dt.date | None = None,
    until: dt.date | None = None,
    paper: str | None = None,
    printer: str | None = None,
) -> tuple[Judged, Darkness]:
    """The judged prints of these days, on a paper and a printer (ids) where given, and what they tell."""
    prints = log.prints(since, until, paper, printer)
    seen = judged(prints, counted(prints), blacks(log), picture_figures(log))
    return seen, analyse(seen, surroundings(log))
