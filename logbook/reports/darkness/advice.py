"""Advice for a next print: how dark it will come out, and what would bring it to the screen."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

import numpy as np

from logbook.analysis.darkness import advice as analysis
from logbook.analysis.darkness.answer import what_is_missing
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import fit_model
from logbook.analysis.darkness.prediction import UnknownLevelError
from logbook.analysis.darkness.terms import Terms, read_terms
from logbook.records import Paper, Wedge
from logbook.reports.darkness.columns import blacks, counted, judged
from logbook.reports.darkness.model import AdviceAnswer, Value
from logbook.snapshot import Snapshot
from logbook.store import columns

#: From this share of prints with blocked shadows on, the shadows are what wants lifting.
BLOCKED_FROM = 0.5
#: So many of the newest prints on a paper say where it is judged now.
LATELY = 20


class NoAdvice(ValueError):
    """The log does not support advice; the message says why."""


def advice_for(
    log: Snapshot, prints: columns.Prints, place: Surroundings, paper: str, values: Mapping[str, Value]
) -> AdviceAnswer:
    """Advice for a print on ``paper`` (an id) with its usual settings changed to ``values``, from the prints given.

    Raises ``NoAdvice`` with the reason where the log does not support any.
    """
    seen = judged(prints, counted(prints), blacks(log))
    missing = what_is_missing(seen)
    if missing:
        raise NoAdvice(missing)
    terms = read_terms(seen.settings, seen.paper, seen.screen, seen.light)
    _refuse_unknown(terms, seen, paper, values)
    try:
        found = analysis.advise(fit_model(seen, terms, place), paper, {**_places_of_late(seen, paper), **values})
    except UnknownLevelError as unknown:
        raise NoAdvice(f"The log cannot say: {unknown}.") from unknown
    except ArithmeticError as error:
        raise NoAdvice(f"The log cannot say: {error}.") from error
    lift = _shadow_lift(log, prints, paper) if _as_on_screen(found) else None
    return AdviceAnswer(
        expected_stops=found.expected_stops,
        chance_darker=found.chance_darker,
        brighten_stops=None if found.brighten_stops is None else found.brighten_stops.value,
        brighten_interval=found.brighten_stops,
        shadow_lift=lift,
        limited=found.limited,
        prints=found.prints_on_paper,
        why=found.why,
        assumes=found.assumes,
    )


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
