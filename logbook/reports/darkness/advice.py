"""Advice for a next print: how dark it will come out, and what would bring it to the screen."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping

import msgspec
import numpy as np

from logbook.analysis.darkness import advice as analysis
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.prediction import UnknownLevelError
from logbook.analysis.darkness.terms import Terms
from logbook.records import Paper, Print, Wedge
from logbook.reports.darkness.fitted import fitted
from logbook.reports.darkness.model import AdviceAnswer, Value
from logbook.snapshot import Snapshot
from logbook.store import columns

#: From this share of prints with blocked shadows on, the shadows are what wants lifting.
BLOCKED_FROM = 0.5
#: So many of the newest prints on a paper say where it is judged now.
LATELY = 20


class NoAdvice(ValueError):
    """The log does not support advice; the message says why."""


class Advised(msgspec.Struct, frozen=True):
    """The print that advice is asked for: its paper (id), the settings that are known of it, and where it comes from.

    ``after`` is the print (id) whose next attempt it is, ``picture`` its picture (id) and ``day`` the bench day it is made on.
    """

    paper: str
    settings: dict[str, Value] = {}
    picture: str | None = None
    day: dt.date | None = None
    after: str | None = None

    def changed(self, paper: str | None, values: Mapping[str, Value]) -> Advised:
        """The same with other values, and on another paper where given."""
        return msgspec.structs.replace(self, paper=paper or self.paper, settings={**self.settings, **values})


def after_print(log: Snapshot, after: str) -> Advised:
    """The next attempt at a print (its id): its paper, its settings and its screen, made today.

    Settings that no judged print has noted are left out, for nothing is known of them. Raises ``NoAdvice``.
    """
    last = log.get(Print, after)
    if last is None:
        raise NoAdvice("There is no such print.")
    settings = known_settings(log, last.settings) | ({"screen": last.screen} if last.screen else {})
    return Advised(last.paper, settings, last.picture, log.day, after)


def known_settings(log: Snapshot, settings: Mapping[str, Value]) -> dict[str, Value]:
    """Those of the settings that some judged print has noted."""
    seen, _ = fitted(log)
    noted = {name for one in seen.settings for name in one}
    return {name: value for name, value in settings.items() if name in noted}


def advice_for(
    log: Snapshot, asked: Advised, among: tuple[dt.date | None, dt.date | None, str | None, str | None] = (None,) * 4
) -> AdviceAnswer:
    """Advice for a print, with the usual settings of its paper changed to its own, from prints ``among`` (see ``fitted``).

    Raises ``NoAdvice`` with the reason where the log does not support any.
    """
    seen, fit = fitted(log, *among)
    if fit.model is None:
        raise NoAdvice(fit.missing or "The log cannot say.")
    _refuse_unknown(fit.model.terms, seen, asked.paper, asked.settings)
    values = {**_places_of_late(seen, asked.paper), **asked.settings}
    day = np.datetime64(asked.day) if asked.day is not None else None
    try:
        found = analysis.advise(fit.model, asked.paper, values, asked.picture, day)
    except UnknownLevelError as unknown:
        raise NoAdvice(f"The log cannot say: {unknown}.") from unknown
    lift = _shadow_lift(log, log.prints(), asked.paper) if _as_on_screen(found) else None
    brighten = None if found.brighten_stops is None else round(found.brighten_stops.value, 2)
    return AdviceAnswer(
        expected_stops=found.expected_stops,
        print_stops=found.print_stops,
        chance_darker=found.chance_darker,
        light=_place(found, values, "light"),
        screen=_place(found, values, "screen"),
        set={} if brighten is None else {analysis.BRIGHTEN: brighten},
        now={analysis.BRIGHTEN: found.current},
        brighten_stops=None if found.brighten_stops is None else found.brighten_stops.value,
        brighten_interval=found.brighten_stops,
        shadow_lift=lift,
        limited=found.limited,
        prints=found.prints_on_paper,
        why=found.why,
        assumes=found.assumes,
        after=asked.after,
        picture_stops=found.picture_stops,
    )


def _place(found: analysis.Advice, values: Mapping[str, Value], name: str) -> str | None:
    """The light or screen that the advice is for; one that never varied is in use all the same."""
    place = found.assumes.get(name, values.get(name))
    return None if place is None else str(place)


def _places_of_late(seen: Judged, paper: str) -> dict[str, Value]:
    """Screen and light of most of the newest prints on the paper: a next print is compared where the last were."""
    newest = np.flatnonzero(seen.paper == paper)[-LATELY:]
    out: dict[str, Value] = {}
    for name, column in (("screen", seen.screen), ("light", seen.light)):
        [(most, _)] = Counter(column[newest]).most_common(1) or [(None, 0)]
        if most is not None:
            out[name] = most
    return out


def _refuse_unknown(terms: Terms, seen: Judged, paper: str, values: Mapping[str, Value]) -> None:
    """A setting that follows the paper is known with the paper's own value only."""
    own = [settings for settings, on in zip(seen.settings, seen.paper == paper, strict=True) if on]
    for name in set(terms.follows) | set(terms.unvaried) | set(terms.set_aside):
        if name in values and own and values[name] not in {settings.get(name) for settings in own}:
            raise NoAdvice(f"The log cannot say: no judged print on this paper has {name} = {values[name]}.")


def _as_on_screen(found: analysis.Advice) -> bool:
    """Whether the print as a whole is expected within half a rating of the screen."""
    return abs(found.expected_stops.value) < 0.5 / 3


def _shadow_lift(log: Snapshot, prints: columns.Prints, paper: str) -> int | None:
    """The paper's last wedge reading where the shadows of most of its prints were blocked."""
    if log.get(Paper, paper) is None:
        return None
    own = set(prints.id[(prints.paper == paper) & (prints.purpose != "strip")])
    seen = log.judgements
    last = {one: said for one, said in zip(seen.print, seen.shadows, strict=True) if said is not None and one in own}
    blocked = np.array([said == "blocked" for said in last.values()])
    wedges = [one for one in log.all(Wedge) if one.paper == paper]
    if not len(blocked) or blocked.mean() < BLOCKED_FROM or not wedges:
        return None
    return wedges[-1].first_step
