"""What the planned tests that were accepted have taught so far."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from logbook.analysis.darkness.answer import Darkness
from logbook.analysis.numeric.interval import Interval
from logbook.reports.darkness.columns import counted
from logbook.reports.darkness.model import LearntAnswer, PlannedAnswer
from logbook.snapshot import Snapshot
from logbook.snapshot.planned import Planned, ToLearn, planned
from logbook.store import queued


def tests_of(log: Snapshot, found: Darkness) -> tuple[PlannedAnswer, ...]:
    """The tests accepted last, the newest first, each with what is known now of what it was to tell."""
    return tuple(_test(log, found, one) for one in planned(log))


def _test(log: Snapshot, found: Darkness, test: Planned) -> PlannedAnswer:
    prints = log.prints()
    judged = counted(prints) & np.isin(prints.id, log.ask(queued.printed, test.jobs))
    return PlannedAnswer(
        accepted=test.at.date(), sheets=len(test.jobs), judged=int(judged.sum()), learnt=tuple(_learnt(found, test.to_learn))
    )


def _learnt(found: Darkness, to_learn: tuple[ToLearn, ...]) -> Iterator[LearntAnswer]:
    for one in to_learn:
        now = _known(found, one)
        if now is not None:
            yield LearntAnswer(setting=one.setting, level=one.level, against=one.against, width_before=one.width_stops, now=now)


def _known(found: Darkness, one: ToLearn) -> Interval | None:
    """The difference as it is known now; None where the log does not tell it any more."""
    for slope in found.slopes:
        if slope.setting == one.setting and isinstance(one.level, int | float) and isinstance(one.against, int | float):
            return slope.stops_per_unit.scaled(one.level - one.against)
    for contrast in found.contrasts:
        if contrast.setting == one.setting:
            if (contrast.level, contrast.against) == (one.level, one.against):
                return contrast.stops
            if (contrast.against, contrast.level) == (one.level, one.against):
                return contrast.stops.scaled(-1)
    return None
