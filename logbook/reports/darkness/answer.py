"""Which settings print darker than the screen: the answer out of the log."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

import numpy as np

from logbook.analysis.darkness import light as light_of
from logbook.analysis.darkness.answer import Darkness, analyse
from logbook.analysis.darkness.consistency import consistency
from logbook.analysis.darkness.dry_down import dry_down
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.next_test import NextTest
from logbook.analysis.numeric.arrays import NDArray
from logbook.records.wording import counted as number_with
from logbook.reports.darkness.advice import NoAdvice, advice_for
from logbook.reports.darkness.columns import blacks, counted, judged, names, picture_figures, surroundings
from logbook.reports.darkness.model import (
    AdviceAnswer,
    DarknessAnswer,
    DryDownAnswer,
    Entangled,
    LightAnswer,
    NextTestAnswer,
    PaperConsistencyAnswer,
    SettingAnswer,
    SlopeAnswer,
    Value,
)
from logbook.reports.darkness.words import advice_in_words
from logbook.snapshot import Snapshot, answered
from logbook.store import columns

Mask = NDArray[np.bool_]


@answered
def answer(
    log: Snapshot,
    *,
    since: dt.date | None = None,
    until: dt.date | None = None,
    paper: str | None = None,
    printer: str | None = None,
    set_values: Mapping[str, Value] | None = None,
) -> DarknessAnswer:
    """The darkness answer over some days, for a paper and a printer (ids) where given.

    With a paper it holds advice for a next print on it, with its usual settings changed to
    ``set_values``; the advice learns from all papers, the rest from that paper alone.
    """
    everything = log.prints(since, until, None, printer)
    prints = everything if paper is None else everything.where(everything.paper == paper)
    mask, place = counted(prints), surroundings(log)
    found = analyse(judged(prints, mask, blacks(log), picture_figures(log)), place)
    advice, advice_missing = _advice(log, everything, place, paper, set_values or {})
    missing = found.missing
    if not found.prints and any(one is not None for one in (since, until, paper, printer)):
        missing = _none_of_these(log) or missing
    return DarknessAnswer(
        prints_judged=found.prints,
        share_darker=found.share_darker if found.prints else None,
        average_stops=found.average_stops,
        spread_stops=found.spread_stops,
        settings=_settings(found),
        slopes=_slopes(found),
        light=_light(found, prints, mask, place),
        follows={"paper": found.terms.follows} if found.terms and found.terms.follows else {},
        entangled=tuple(Entangled(settings=(pair.a, pair.b), overlap=pair.overlap) for pair in found.pairs),
        next_test=_next_test(found.next_test),
        advice=advice,
        advice_missing=advice_missing,
        paper=paper,
        unvaried=found.terms.unvaried if found.terms else (),
        set_aside=found.terms.set_aside if found.terms else (),
        consistency=_consistency(prints),
        dry_down=_dry_down(log, prints),
        missing=missing,
        names=names(log),
    )


def _none_of_these(log: Snapshot) -> str | None:
    """Where none of the prints asked for is judged, how many others are."""
    others = int(counted(log.prints()).sum())
    if not others:
        return None
    have = "has" if others == 1 else "have"
    return f"None of these prints has a judgement with a darkness; {number_with(others, 'other print')} in the log {have} one."


def advise(log: Snapshot, paper: str, settings: Mapping[str, Value]) -> list[str]:
    """What to expect of a print on ``paper`` (an id) with these settings, in sentences; or why the log cannot say.

    Settings that no judged print has noted are left out, for nothing is known of them.
    """
    prints = log.prints()
    noted = {name for one, kept in zip(prints.settings, counted(prints), strict=True) if kept for name in one}
    known = {name: value for name, value in settings.items() if name in noted}
    try:
        return advice_in_words(advice_for(log, prints, surroundings(log), paper, known))
    except NoAdvice as reason:
        return [str(reason)]


def _advice(
    log: Snapshot, everything: columns.Prints, place: Surroundings, paper: str | None, values: Mapping[str, Value]
) -> tuple[AdviceAnswer | None, str | None]:
    if paper is None:
        return None, None
    try:
        return advice_for(log, everything, place, paper, values), None
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


def _light(found: Darkness, prints: columns.Prints, mask: Mask, place: Surroundings) -> LightAnswer | None:
    seen = light_of.match(place, prints.light[mask], prints.screen[mask], prints.paper[mask])
    if seen is None:
        return None
    model = found.model
    known = model is not None and model.light_column is not None
    slope = float(model.fit.theta[model.light_column]) if model is not None and known else 1.0
    return LightAnswer(
        offset_stops=seen.offset_stops,
        paper_cd_m2=seen.paper_cd_m2,
        screen_cd_m2=seen.screen_cd_m2,
        match_screen_cd_m2=seen.match_screen_cd_m2,
        match_illuminance_lx=seen.match_illuminance_lx,
        accounts_for_stops=slope * seen.offset_stops,
        illuminance_lx=seen.illuminance_lx,
    )


def _next_test(found: NextTest | None) -> NextTestAnswer | None:
    if found is None:
        return None
    return NextTestAnswer(
        change=found.change,
        against=found.against,
        separates=found.separates,
        interval_now=found.interval_now,
        interval_then=found.interval_then,
        prints_to_halve=found.prints_to_halve,
    )


def _consistency(prints: columns.Prints) -> tuple[PaperConsistencyAnswer, ...]:
    real = prints.purpose != "strip"
    found = consistency(prints.paper[real], prints.darkness[real], prints.verdict[real], prints.attempt_of[real])
    return tuple(
        PaperConsistencyAnswer(
            paper=one.paper,
            prints=one.prints,
            spread_stops=one.spread_stops,
            first_attempts=one.first_attempts,
            kept_first=one.kept_first if one.first_attempts else None,
        )
        for one in found
        if one.prints or one.first_attempts
    )


def _dry_down(log: Snapshot, prints: columns.Prints) -> DryDownAnswer | None:
    all_seen = log.judgements
    asked = set(prints.id[prints.purpose != "strip"])
    mask = np.array([one in asked for one in all_seen.print], dtype=np.bool_)
    found = dry_down(all_seen.print[mask], all_seen.darkness[mask], all_seen.hours_dry[mask], all_seen.light[mask])
    if found is None:
        return None
    return DryDownAnswer(
        prints=found.prints, change_stops=found.change_stops, wet_hours=found.wet_hours, dry_hours=found.dry_hours
    )
