"""Which settings print darker than the screen: the answer out of the log."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

import numpy as np

from logbook.analysis.darkness.answer import Darkness
from logbook.analysis.darkness.consistency import consistency, steadiest
from logbook.analysis.darkness.looks import Looks, dry_down, look_spread
from logbook.analysis.darkness.next_test import NextTest
from logbook.analysis.darkness.sheets import sheets_for
from logbook.records.wording import counted as number_with
from logbook.reports.darkness.advice import Advised, NoAdvice, advice_for, after_print
from logbook.reports.darkness.advice_words import advice_in_words
from logbook.reports.darkness.columns import counted, names, surroundings
from logbook.reports.darkness.fitted import fitted, foretold
from logbook.reports.darkness.lights import light_answer, now_answer, unmeasured
from logbook.reports.darkness.model import (
    AdviceAnswer,
    ContrastAnswer,
    DarknessAnswer,
    DependsAnswer,
    DryDownAnswer,
    Entangled,
    LookAnswer,
    NarrowedAnswer,
    NextPlannedAnswer,
    PaperConsistencyAnswer,
    ScoreAnswer,
    SettingAnswer,
    SheetsAnswer,
    SlopeAnswer,
    Value,
)
from logbook.reports.darkness.tested import tests_of
from logbook.snapshot import Snapshot, answered
from logbook.store import columns

#: A planned test has so many sheets unless another number is asked for.
SHEETS = 4


@answered
def answer(
    log: Snapshot,
    *,
    since: dt.date | None = None,
    until: dt.date | None = None,
    paper: str | None = None,
    printer: str | None = None,
    set_values: Mapping[str, Value] | None = None,
    after: str | None = None,
    sheets: int = SHEETS,
) -> DarknessAnswer:
    """The darkness answer over some days, for a paper and a printer (ids) where given.

    With a paper it holds advice for a next print on it, with its usual settings changed to ``set_values``, and with
    ``after`` (a print's id) for the next attempt at that print; the advice learns from all papers, the rest from that paper
    alone. ``sheets``, 4 or 8, is how many prints the planned test has.
    """
    seen, found = fitted(log, since, until, paper, printer)
    prints, place, known = log.prints(since, until, paper, printer), surroundings(log), names(log)
    advice, advice_missing = _advice(log, (since, until, None, printer), paper, set_values or {}, after)
    missing = found.missing
    if not found.prints and any(one is not None for one in (since, until, paper, printer)):
        missing = _none_of_these(log) or missing
    real = prints.where(np.asarray(prints.purpose != "strip"))
    papers = consistency(found.model, real.paper, real.verdict, real.attempt_of)
    looks = _looks(log, real)
    return DarknessAnswer(
        prints_judged=found.prints,
        share_darker=found.share_darker if found.prints else None,
        average_stops=found.average_stops,
        spread_stops=found.spread_stops,
        settings=_settings(found),
        slopes=_slopes(found),
        light=light_answer(found, seen, place),
        follows={"paper": found.terms.follows} if found.terms and found.terms.follows else {},
        spreads=found.model.spreads if found.model else None,
        contrasts=_contrasts(found),
        depends=_depends(found),
        now=now_answer(log, found, seen, known),
        entangled=tuple(Entangled(settings=(pair.a, pair.b), overlap=pair.overlap) for pair in found.pairs),
        next_test=_next_test(found.next_test),
        test_sheets=_sheets(found, sheets),
        advice=advice,
        advice_missing=advice_missing,
        paper=paper,
        unvaried=found.terms.unvaried if found.terms else (),
        set_aside=found.terms.set_aside if found.terms else (),
        consistency=tuple(
            PaperConsistencyAnswer(
                paper=one.paper,
                prints=one.prints,
                spread_stops=one.spread_stops,
                first_attempts=one.first_attempts,
                kept_first=one.kept_first if one.first_attempts else None,
            )
            for one in papers
            if one.prints or one.first_attempts
        ),
        steadiest=steadiest(papers),
        dry_down=_dry_down(looks),
        look=_look(looks),
        tests=tests_of(log, found) if paper is None and since is None and until is None and printer is None else (),
        unmeasured=unmeasured(seen, place),
        score=_score(log, paper),
        missing=missing,
        names=known,
    )


def _none_of_these(log: Snapshot) -> str | None:
    """Where none of the prints asked for is judged, how many others are."""
    others = int(counted(log.prints()).sum())
    if not others:
        return None
    have = "has" if others == 1 else "have"
    return f"None of these prints has a judgement with a darkness; {number_with(others, 'other print')} in the log {have} one."


def advise(log: Snapshot, asked: Advised) -> list[str]:
    """What to expect of a print like this, in sentences; or why the log cannot say."""
    try:
        return advice_in_words(advice_for(log, asked), names(log))
    except NoAdvice as reason:
        return [str(reason)]


def _advice(
    log: Snapshot,
    among: tuple[dt.date | None, dt.date | None, str | None, str | None],
    paper: str | None,
    values: Mapping[str, Value],
    after: str | None,
) -> tuple[AdviceAnswer | None, str | None]:
    if paper is None and after is None:
        return None, None
    try:
        asked = after_print(log, after) if after is not None else Advised(str(paper))
        return advice_for(log, asked.changed(paper, values), among), None
    except NoAdvice as reason:
        return None, str(reason)


def _settings(found: Darkness) -> tuple[SettingAnswer, ...]:
    return tuple(
        SettingAnswer(
            setting=one.setting,
            level=one.level,
            prints=one.prints,
            darker=one.darker,
            effect_stops=one.effect_stops,
            chance_darker=one.chance_darker,
            standing=one.standing,
        )
        for one in found.levels
    )


def _slopes(found: Darkness) -> tuple[SlopeAnswer, ...]:
    return tuple(
        SlopeAnswer(setting=one.setting, stops_per_unit=one.stops_per_unit, prints=one.prints, standing=one.standing)
        for one in found.slopes
    )


def _contrasts(found: Darkness) -> tuple[ContrastAnswer, ...]:
    return tuple(
        ContrastAnswer(
            setting=one.setting,
            level=one.level,
            against=one.against,
            stops=one.stops,
            prints=one.prints,
            standing=one.standing,
        )
        for one in found.contrasts
    )


def _depends(found: Darkness) -> tuple[DependsAnswer, ...]:
    return tuple(
        DependsAnswer(setting=one.setting, level=one.level, against=one.against, on={one.by: one.on}, stops=one.stops)
        for one in found.depends
    )


def _sheets(found: Darkness, count: int) -> SheetsAnswer | None:
    made = sheets_for(found.model, found.pairs, count) if found.model is not None else None
    if made is None:
        return None
    narrows = tuple(
        NarrowedAnswer(
            setting=one.setting,
            level=one.value,
            against=one.against,
            interval_now=one.interval_now,
            interval_then=one.interval_then,
        )
        for one in made.narrows
    )
    return SheetsAnswer(sheets=made.sheets, narrows=narrows)


def _next_test(found: NextTest | None) -> NextPlannedAnswer | None:
    if found is None:
        return None
    return NextPlannedAnswer(
        change=found.change,
        against=found.against,
        separates=found.separates,
        interval_now=found.interval_now,
        interval_then=found.interval_then,
        prints_to_halve=found.prints_to_halve,
    )


def drying(log: Snapshot, paper: str) -> DryDownAnswer | None:
    """What drying does to prints on a paper; None where none was judged wet and dry."""
    return _dry_down(_looks(log, log.prints(paper=paper)))


def _looks(log: Snapshot, prints: columns.Prints) -> Looks:
    """All judgements of these prints."""
    all_seen = log.judgements
    day_of = dict(zip(prints.id, prints.day, strict=True))
    mask = np.array([one in day_of for one in all_seen.print], dtype=np.bool_)
    day = np.array([day_of[one] for one in all_seen.print[mask]], dtype=object)
    return Looks(all_seen.print[mask], all_seen.light[mask], day, all_seen.hours_dry[mask], all_seen.darkness[mask])


def _dry_down(looks: Looks) -> DryDownAnswer | None:
    found = dry_down(looks)
    if found is None:
        return None
    return DryDownAnswer(
        prints=found.prints, change_stops=found.change_stops, wet_hours=found.wet_hours, dry_hours=found.dry_hours
    )


def _look(looks: Looks) -> LookAnswer | None:
    found = look_spread(looks)
    return None if found is None else LookAnswer(spread_stops=found[0], prints=found[1])


def _score(log: Snapshot, paper: str | None) -> ScoreAnswer | None:
    found = foretold(log, paper)
    if found is None:
        return None
    return ScoreAnswer(prints=found.prints, held=found.held, miss_stops=found.miss_stops, paper_miss_stops=found.paper_miss_stops)
