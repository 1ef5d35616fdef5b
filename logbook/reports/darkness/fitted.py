"""The analysis of the judged prints of some days: fitted once for everything that is asked of them."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from logbook.analysis.darkness.answer import Darkness, analyse
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.score import Score, score
from logbook.reports.darkness.columns import blacks, counted, judged, looks_again, picture_figures, surroundings
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
    mask = counted(prints)
    seen = replace(judged(prints, mask, blacks(log), picture_figures(log)), again=looks_again(log, prints, mask))
    return seen, analyse(seen, surroundings(log))


@answered
def foretold(log: Snapshot, paper: str | None = None) -> Score | None:
    """The answer's own score on the newest prints of the whole log, on a paper (id) where given."""
    seen, found = fitted(log, None, None, paper)
    try:
        return score(seen, surroundings(log)) if found.model is not None else None
    except ArithmeticError:
        return None
